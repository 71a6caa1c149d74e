//! Fallwright: where every level stands in a gravity-flow water system.
//!
//! The crate is laid out as a house of rooms; `DEVELOPERS.md` has the plan and
//! `tests/it/architecture.rs` holds the rooms to it.

pub mod advise;
pub mod catalogue;
pub mod check;
pub mod cli;
pub mod draw;
pub mod edit;
pub mod editor;
pub mod evaluate;
pub mod file;
pub mod finding;
pub mod geometry;
pub mod hydraulics;
pub mod layout;
pub mod lower;
pub mod network;
pub mod session;
pub mod sheets;
pub mod solve;
pub mod states;
pub mod sweep;
pub mod units;
#[cfg(feature = "window")]
pub mod window;
