//! Fallwright: where every level stands in a gravity-flow water system.
//!
//! The crate is laid out as a house of rooms; `DEVELOPERS.md` has the plan and
//! `tests/it/architecture.rs` holds the rooms to it.

pub mod cli;
pub mod evaluate;
pub mod finding;
pub mod geometry;
pub mod layout;
pub mod states;
pub mod units;
