//! One drawing for all outputs: a layout and what it came to become plain shapes.
//!
//! Invariant: knows no window and no file; what is drawn is the same on a screen, in an SVG and on paper.

mod around;
mod board;
pub mod course;
mod covers;
mod fall;
pub mod frame;
mod grid;
pub mod happened;
pub mod labels;
mod ladder;
pub mod pdf;
pub mod picture;
pub mod plan;
pub mod png;
mod reports;
mod scale;
pub mod section;
pub mod shape;
mod signs;
mod spilling;
pub mod svg;
pub mod text;
pub mod theme;
pub mod touch;
pub mod view;
mod wishes;
mod xml;
