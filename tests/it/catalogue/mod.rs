//! The catalogue: what it holds, how it is found, what it refuses.

mod data;
mod names;
mod refusals;
pub mod rows;
mod valves;
