//! Our own layout, shown where none is named.

use crate::file::{self, FileError, Format};
use crate::layout::Layout;

/// The demo as a file: a glasshouse with perch and watercress.
pub const DEMO: &str = include_str!("../../examples/glasshouse.ron");

/// The demo.
///
/// # Errors
/// None in a program whose tests have passed: the text is compiled in.
pub fn demo() -> Result<Layout, FileError> {
    file::parse(DEMO, Format::Ron)
}
