//! The demo layout.

use crate::file::{self, FileError, Format};
use crate::layout::Layout;

/// The demo as a file: a glasshouse with perch and watercress.
pub const DEMO: &str = include_str!("../../examples/glasshouse.ron");

/// Opens the demo.
///
/// # Errors
/// As [`file::parse`]; impossible in a tested build, because the text is compiled in.
pub fn demo() -> Result<Layout, FileError> {
    file::parse(DEMO, Format::Ron)
}
