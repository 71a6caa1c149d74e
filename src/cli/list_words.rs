//! `words`: lists every word that a layout file and a result may hold.

use super::args::Words;
use super::{Outcome, json, text};
use crate::catalogue::Catalogue;

/// Prints the list, which does not depend on a layout.
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
