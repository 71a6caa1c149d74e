//! Things that the tests of several rooms share.

pub mod air;
pub mod drawn;
pub mod fields;
pub mod large;
pub mod layouts;
pub mod networks;
pub mod random;
mod sample;
#[cfg(feature = "window")]
pub mod services;
#[cfg(feature = "window")]
pub mod window;

pub use sample::{finding, layout, sample, vessel};
