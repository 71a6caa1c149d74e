//! The one integration binary: modules in reading order.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod catalogue;
mod hydraulics;
mod lower;
mod sources;
mod support;
mod verification;
