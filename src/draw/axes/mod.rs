//! Axes and scales: the staff, charts, steps of rulers and round scales.

pub(in crate::draw) mod chart;
pub(in crate::draw) mod ladder;
pub(in crate::draw) mod scale;
pub(in crate::draw) mod staff;
