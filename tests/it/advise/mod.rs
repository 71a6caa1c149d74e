//! Cures: what they change, that they work, and that a little less does not.

mod apply;
mod crests;
mod layouts;
mod others;
