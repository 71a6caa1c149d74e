//! What section and plan share: their input, the page that they are drawn on, and the parts that look the same in both.

pub mod input;
pub(in crate::draw) mod paper;
