//! Schedules: what a layout and its states come to, as tables.
//!
//! Invariant: knows no window and no file; numbers stay in SI until they are written.

pub mod table;
