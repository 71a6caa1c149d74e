//! The one integration binary: modules in reading order.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod cli;
mod support;
mod units;
