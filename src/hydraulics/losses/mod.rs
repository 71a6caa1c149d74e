//! Losses of a run: wall friction, fittings, equipment.

pub mod equipment;
pub mod fittings;
pub mod friction;
pub mod hazen_williams;
pub mod loss;
pub mod loss_block;
pub mod loss_prepared;
