//! Flow with a free surface in a round pipe: section, normal depth, gradually varied flow.

pub mod circle;
pub mod grade;
pub mod part_full;
