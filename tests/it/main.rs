//! The one integration binary: modules in reading order.

mod file;
