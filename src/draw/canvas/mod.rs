//! The canvas on which a drawing is made: marks, touch targets, and labels with the search for their places.

pub(in crate::draw) mod around;
pub(in crate::draw) mod drawing_context;
pub(in crate::draw) mod label_requests;
pub mod labels;
pub(in crate::draw) mod queued_label;
pub(in crate::draw) mod spatial_index;
pub mod touch;
pub(in crate::draw) mod vessel_index;
