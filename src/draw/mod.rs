//! One drawing for all outputs: a layout and what it came to become plain shapes.
//!
//! Invariant: knows no window and no file; what is drawn is the same on a screen, in an SVG and on paper.

mod around;
mod board;
mod chart;
pub mod course;
mod covers;
pub mod duty;
mod fall;
pub mod frame;
pub mod grade;
mod grid;
pub mod happened;
pub mod labels;
mod ladder;
pub mod outcome;
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
mod staff;
mod stations;
pub mod svg;
pub mod text;
pub mod theme;
pub mod touch;
pub mod under;
pub mod view;
mod wishes;
mod xml;

pub use reports::{by_how_much, filled};
