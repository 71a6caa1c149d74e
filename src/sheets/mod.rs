//! Tables of a layout and its states.
//!
//! Invariant: knows no window and no file; numbers stay in SI until they are written.

pub mod table;
