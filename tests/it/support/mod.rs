//! What several rooms' tests share.

pub mod layouts;
