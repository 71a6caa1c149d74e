//! Layout files: versions, reading and writing; and the pictures that users add.
//!
//! Invariant: knows layouts, text and pixels; never a session, a result or a window. A name that is not in the
//! catalogue is no error here; it becomes a finding.

mod disk;
mod error;
mod explain;
mod fold;
mod nearest;
mod notes;
mod outline;
mod picture;
mod refused;
mod scan;
mod text;
mod version;
mod write;

pub use disk::{MOST_BYTES, Opened, fingerprint, fingerprint_of, open, open_from, read, read_text};
pub use error::{FileError, TextPosition};
pub use nearest::nearest;
pub use notes::noted_lines;
pub use picture::{MOST_PICTURE_BYTES, MOST_PICTURE_DOTS, Raster, decode_picture, read_picture};
pub use text::{parse, to_text};
pub use write::{Disk, PreviousVersion, Written, is_part, save, save_bytes, version_before, write};

use std::path::Path;

/// The format version that this program writes: the number after `fallwright` in a file.
pub const FORMAT_VERSION: u32 = 1;

/// The notation of a layout file. Both represent a layout exactly, bit for bit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Format {
    /// Rusty object notation, `.ron`: for people.
    Ron,
    /// JSON, `.json`: for scripts.
    Json,
}

impl Format {
    /// Returns the format of the extension of `path`, in upper or lower case; none where it is neither.
    pub fn of_path(path: &Path) -> Option<Format> {
        let extension = path.extension()?.to_str()?;
        if extension.eq_ignore_ascii_case("ron") {
            Some(Format::Ron)
        } else if extension.eq_ignore_ascii_case("json") {
            Some(Format::Json)
        } else {
            None
        }
    }

    /// Guesses the format of `text`: JSON where it starts with `{`, else RON.
    pub fn of_text(text: &str) -> Format {
        let start = text.trim_start_matches('\u{feff}').trim_start();
        if start.starts_with('{') {
            Format::Json
        } else {
            Format::Ron
        }
    }
}
