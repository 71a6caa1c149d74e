//! Drawings as plain shapes from a layout and its results, the same for all outputs.
//!
//! Invariant: does not depend on a window or a file; a drawing is the same on a screen, in an SVG and on paper.

mod axes;
pub mod canvas;
pub mod duty;
pub mod grade;
pub mod output;
pub mod page;
mod parts;
pub mod plan;
pub mod results;
pub mod scene;
pub mod section;
pub mod time_plot;
