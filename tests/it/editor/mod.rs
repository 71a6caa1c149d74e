//! Hands without a window: picking, snapping, dragging, the view.

mod hand;
mod hit;
mod look;
mod snap;
mod underlay;
