//! Where a figure comes from.

use serde::{Deserialize, Serialize};

/// A source that entries cite by its key.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Source {
    /// Kebab-case, unique among the sources.
    pub key: String,
    /// What it is, for a reader who wants to find it.
    pub citation: String,
    /// How the figures got from there to here.
    pub how: Provenance,
}

/// How a figure got into the catalogue, and so how far to trust it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Provenance {
    /// Read at this place.
    Read(String),
    /// Worked out, with this.
    Computed(String),
    /// Written down from memory; the text says what speaks for it, if anything does.
    Memory(String),
    /// Common practice, no source.
    Practice,
}
