//! The six states, from one system of equations.

pub mod report;
