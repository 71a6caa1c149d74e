//! Openings: what a mouth, a notch, a hole or a screen lets pass.

pub mod clear_share;
pub mod coefficients;
pub mod edge;
pub mod hole;
pub mod inlet;
pub mod notch;
pub mod screen;
pub mod side_hole;
pub mod siphon_break;
pub mod submerged_weir;
pub mod submergence;
pub mod vortex;
