//! Parts as text, for copying between layouts.

use crate::edit;
use crate::file::{self, FileError, Format};
use crate::layout::{Id, Layout};

/// The named parts, with the runs between them, as the text of a layout file.
///
/// # Errors
/// As [`file::to_text`].
pub fn text_of_parts(layout: &Layout, parts: &[Id]) -> Result<String, FileError> {
    file::to_text(&edit::excerpt(layout, parts), Format::Ron)
}

/// Reads copied parts.
///
/// # Errors
/// As [`file::parse`], if the text is no layout.
pub fn parts_in_text(text: &str) -> Result<Layout, FileError> {
    file::parse(text, Format::of_text(text))
}
