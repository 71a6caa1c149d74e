//! Fallwright: computes every water level in a gravity-flow recirculating system.
//!
//! `DEVELOPERS.md` describes the modules; `tests/it/architecture/table.rs` lists which module may use which, and tests
//! check it.

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
pub mod state;
pub mod states;
pub mod sweep;
pub mod units;
#[cfg(feature = "window")]
pub mod window;
