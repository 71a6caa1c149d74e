//! Things to test with.

pub mod networks;
