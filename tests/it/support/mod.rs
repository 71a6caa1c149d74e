//! Things to test with.
pub mod networks;
//! What several rooms' tests share.
pub mod layouts;
