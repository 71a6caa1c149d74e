//! Things to test with.
pub mod networks;
//! What several rooms' tests share.
pub mod layouts;
//! Layouts and evaluations that several tests share.
mod sample;
pub use sample::{finding, layout, sample, vessel};
