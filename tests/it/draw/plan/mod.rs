//! The plan: true to scale, with exact crossings, and nothing that a layout can break.

mod built;
pub mod case;
mod crossings;
mod odd;
mod row;
mod scale;
mod told;
mod touched;
mod vents;
