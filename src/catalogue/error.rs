//! Errors of a catalogue that a user wrote.

use thiserror::Error;

/// First error in a catalogue, described so that its author can find it.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum CatalogueError {
    /// The text cannot be parsed as a catalogue.
    #[error("line {line}, column {column}: {reason}")]
    Unreadable {
        /// Line, counted from 1.
        line: usize,
        /// Column, counted from 1.
        column: usize,
        /// What the parser expected.
        reason: String,
    },
    /// Two entries of one list share a key.
    #[error("the {list} hold {key:?} twice")]
    Twice {
        /// Name of the list.
        list: &'static str,
        /// The key; in a list of choices, the key of their source.
        key: String,
    },
    /// An entry cites an undeclared source.
    #[error("{entry} cites the source {source_key:?}, which is not declared")]
    UnknownSource {
        /// Key of the entry.
        entry: String,
        /// The undeclared key.
        source_key: String,
    },
    /// The text of a size is not a length in the units of its family.
    #[error("{family}: the size {size:?} is not a length in the family's units")]
    SizeNotUnderstood {
        /// Key of the family.
        family: String,
        /// The size as written.
        size: String,
    },
    /// A size does not have outside diameter > bore > 0, is not larger than the one before it, or has the name of
    /// another.
    #[error("{family}, size {size:?}: {reason}")]
    ImpossibleSize {
        /// Key of the family.
        family: String,
        /// The size as written.
        size: String,
        /// What is impossible.
        reason: &'static str,
    },
    /// An impossible value, or a list that is empty or out of order.
    #[error("{entry}: {reason}")]
    Impossible {
        /// Key of the entry.
        entry: String,
        /// What is impossible.
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
