//! Files made from a finished drawing: SVG, PNG and PDF.

pub mod pdf;
pub mod picture;
pub mod png;
pub mod svg;
pub(in crate::draw) mod xml;
