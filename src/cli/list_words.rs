//! `words`: every word that a layout file and a result may hold.

use super::args::Words;
use super::{Outcome, json, text};
use crate::catalogue::Catalogue;

/// The same answer for every layout, so it needs none.
pub(super) fn words(asked: &Words) -> Outcome {
    let catalogue = Catalogue::builtin();
    let out = if asked.json {
        json::print(&json::words_json(catalogue))
    } else {
        text::words_text(catalogue)
    };
    Outcome {
        out,
        ..Outcome::default()
    }
}
