//! The one integration binary: modules in reading order.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
mod hydraulics;
mod solve;
mod sources;
mod support;
mod verification;
mod catalogue;
mod lower;
mod file;
mod cli;
mod units;
