//! The one integration binary: modules in reading order.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod support;
mod verification;

mod architecture;
mod docs;
mod sources;
mod units;

mod hydraulics;
mod networks;
mod solve;

mod catalogue;
mod lower;

mod check;

mod edit;

mod evaluate;

mod advise;

mod file;

mod states;

mod session;

mod sweep;

mod examples;

mod draw;

mod sheets;

mod cli;

mod editor;

#[cfg(feature = "window")]
mod window;
