//! Every word that a layout file or a result may hold, with its meaning.
//!
//! One list for the command `words` and for the tables in `docs/format.md` and `docs/output.md`.
//!
//! Invariant: words and sentences only; knows no layout and computes nothing.

mod codes;
mod file;
mod results;

pub use codes::codes;
pub use file::file;
pub use results::results;

/// A word and its meaning.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Word {
    /// The word as written.
    pub word: &'static str,
    /// Its meaning, a sentence without a full stop.
    pub meaning: &'static str,
}

/// The words that one field or key may hold.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct List {
    /// The key of the list under `words --json`.
    pub key: &'static str,
    /// The field or key that the words belong to, for people.
    pub of: &'static str,
    /// All its words.
    pub words: Vec<Word>,
}

impl List {
    /// A list from pairs of a word and its meaning.
    fn new(
        key: &'static str,
        of: &'static str,
        words: impl IntoIterator<Item = (&'static str, &'static str)>,
    ) -> List {
        let words = words.into_iter();
        List {
            key,
            of,
            words: words
                .map(|(word, meaning)| Word { word, meaning })
                .collect(),
        }
    }
}
