//! One journal entry as text: a layout file with a few comment lines before it, so that it opens like any other.

use super::utc::utc;
use crate::file::{self, FileError, Format};
use crate::layout::Layout;
use std::path::PathBuf;
use std::sync::Arc;

/// The first line.
const HEAD: &str = "// Unsaved work, kept by Fallwright in case it ends without warning.";
const FILE: &str = "// file: ";
const PRINT: &str = "// print: ";
const EDITED: &str = "// edited: ";

/// Unsaved work, and its file.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    /// The file of the layout, if any.
    pub file: Option<PathBuf>,
    /// The fingerprint of that file when it was opened or last saved.
    pub print: Option<u64>,
    /// Time of the last edit, seconds since the beginning of 1970 UTC.
    pub edited_s: u64,
    /// The layout, with the absolute path of its picture.
    pub layout: Arc<Layout>,
}

impl Entry {
    /// The text of the file.
    ///
    /// # Errors
    /// As [`file::to_text`].
    pub fn text(&self) -> Result<String, FileError> {
        let mut text = format!("{HEAD}\n");
        // A path that is not valid text is left out; the work is kept all the same.
        let path = self.file.as_ref().and_then(|path| path.to_str());
        if let Some(path) = path.and_then(|path| serde_json::to_string(path).ok()) {
            text.push_str(&format!("{FILE}{path}\n"));
        }
        if let Some(print) = self.print {
            text.push_str(&format!("{PRINT}{print:016x}\n"));
        }
        text.push_str(&format!(
            "{EDITED}{} ({})\n",
            self.edited_s,
            utc(self.edited_s)
        ));
        text.push_str(&file::to_text(&self.layout, Format::Ron)?);
        Ok(text)
    }

    /// Reads the output of [`Entry::text`]. Missing or unreadable comment lines are ignored: the layout is what
    /// counts.
    ///
    /// # Errors
    /// As [`file::parse`].
    pub fn read(text: &str) -> Result<Entry, FileError> {
        let layout = Arc::new(file::parse(text, Format::Ron)?);
        let heads = || text.lines().take_while(|line| line.starts_with("//"));
        let of = |key: &str| heads().find_map(|line| line.strip_prefix(key));
        let path = of(FILE).and_then(|path| serde_json::from_str::<String>(path).ok());
        let edited = of(EDITED).and_then(|line| line.split(' ').next());
        Ok(Entry {
            file: path.map(PathBuf::from),
            print: of(PRINT).and_then(|print| u64::from_str_radix(print, 16).ok()),
            edited_s: edited
                .and_then(|edited| edited.parse().ok())
                .unwrap_or_default(),
            layout,
        })
    }
}
