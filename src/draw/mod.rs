//! Drawings as plain shapes from a layout and its results, the same for all outputs.
//!
//! Invariant: does not depend on a window or a file; a drawing is the same on a screen, in an SVG and on paper.

mod around;
mod chart;
mod drawing_context;
pub mod duty;
pub mod event_sentence;
mod fall;
pub mod frame;
pub mod grade;
mod label_requests;
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
pub mod site_photo;
mod spatial_index;
mod spilling;
mod staff;
mod stations;
pub mod svg;
mod symbols;
pub mod text;
pub mod theme;
pub mod time_plot;
pub mod touch;
mod vessel_index;
pub mod view;
mod xml;

pub use reports::{by_how_much, filled};
