//! What can be wrong with a catalogue that somebody wrote.

use thiserror::Error;

/// The first thing wrong in a catalogue, said so that its author can find it.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum CatalogueError {
    /// The text does not read as a catalogue.
    #[error("line {line}, column {column}: {reason}")]
    Unreadable {
        /// Counted from 1.
        line: usize,
        /// Counted from 1.
        column: usize,
        /// What the reader expected.
        reason: String,
    },
    /// Two entries of one list share a key.
    #[error("the {list} hold {key:?} twice")]
    Twice {
        /// Name of the list.
        list: &'static str,
        /// The key, or the choice within an entry.
        key: String,
    },
    /// An entry cites a source that is declared nowhere.
    #[error("{entry} cites the source {source_key:?}, which is not declared")]
    UnknownSource {
        /// Key of the entry.
        entry: String,
        /// The key that is missing.
        source_key: String,
    },
    /// A size whose text is not a length in the units of its family.
    #[error("{family}: the size {size:?} is not a length in the family's units")]
    SizeNotUnderstood {
        /// Key of the family.
        family: String,
        /// The size as written.
        size: String,
    },
    /// Not outside diameter > bore > 0, or not larger than the size before it.
    #[error("{family}, size {size:?}: {reason}")]
    ImpossibleSize {
        /// Key of the family.
        family: String,
        /// The size as written.
        size: String,
        /// What cannot be.
        reason: &'static str,
    },
    /// A figure that cannot be, or a list that is empty or out of order.
    #[error("{entry}: {reason}")]
    Impossible {
        /// Key of the entry.
        entry: String,
        /// What cannot be.
        reason: &'static str,
    },
}

impl From<ron::error::SpannedError> for CatalogueError {
    fn from(error: ron::error::SpannedError) -> Self {
        CatalogueError::Unreadable {
            line: error.span.start.line,
            column: error.span.start.col,
            reason: error.code.to_string(),
        }
    }
}
