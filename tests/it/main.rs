//! The one integration binary: modules in reading order.

mod hydraulics;
mod sources;
mod verification;
