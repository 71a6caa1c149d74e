//! Drawings: letters, labels, and the files they become.

mod labels;
mod text;
