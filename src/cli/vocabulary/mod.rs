//! Every word that a layout file may hold and that a result may hold, each with what it means.
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

/// A word and what it means.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Word {
    /// As it is written.
    pub word: &'static str,
    /// What it means, in a sentence without a full stop.
    pub meaning: &'static str,
}

/// The words that one field or key may hold.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct List {
    /// The key of the list under `words --json`.
    pub key: &'static str,
    /// What the words are of, for people.
    pub of: &'static str,
    /// All of them.
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
