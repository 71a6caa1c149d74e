//! Hands without a window: picking, snapping, dragging, the view.

mod corner;
mod curve;
mod drawing;
mod hand;
mod hit;
mod look;
mod snap;
mod underlay;
