//! Sources of figures.

use serde::{Deserialize, Serialize};

/// A source that entries cite by its key.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Source {
    /// Key in kebab-case, unique among the sources.
    pub key: String,
    /// Full citation, by which a reader can find it.
    pub citation: String,
    /// How the figures were taken from it.
    pub how: Provenance,
}

/// How a figure got into the catalogue, and so how far it can be trusted.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Provenance {
    /// Read at this place in the source.
    Read(String),
    /// Computed in this way.
    Computed(String),
    /// Written from memory; the text says what supports it, if anything does.
    Memory(String),
    /// Common practice, no source.
    Practice,
}
