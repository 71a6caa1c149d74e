//! Parts of a layout on a drawing, the same in section, plan and grade line: symbols, their places and their order.

pub(in crate::draw) mod fall;
pub(in crate::draw) mod spilling;
pub(in crate::draw) mod stations;
pub(in crate::draw) mod symbols;
