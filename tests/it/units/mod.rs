//! How quantities are written, and the sizes of units.

mod convert;
mod edges;
mod read;
mod table;
