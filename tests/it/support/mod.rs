//! Layouts and evaluations that several tests share.

mod sample;

pub use sample::{finding, layout, sample, vessel};
