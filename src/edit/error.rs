//! Why a change is refused: what, where, what to do.

use super::words;
use crate::layout::{Fault, Id};
use std::fmt;

/// Why an edit cannot be built or made.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct EditError {
    /// What is wrong, as a clause without a full stop.
    pub what: String,
    /// The part that it is about, where there is one.
    pub part: Option<Id>,
    /// What to do, as an order without a full stop.
    pub cure: String,
}

impl EditError {
    pub(super) fn new(what: impl Into<String>, cure: impl Into<String>) -> Self {
        EditError {
            what: what.into(),
            part: None,
            cure: cure.into(),
        }
    }

    /// The same about this part.
    pub(super) fn part(self, id: &Id) -> Self {
        EditError {
            part: Some(id.clone()),
            ..self
        }
    }

    /// One line for a reader, with the part by the name that `name_of` gives.
    pub fn read(&self, name_of: &dyn Fn(&Id) -> String) -> String {
        match &self.part {
            Some(part) => format!("{} ({}): {}", self.what, name_of(part), self.cure),
            None => format!("{}: {}", self.what, self.cure),
        }
    }
}

/// A fault is said of a file, where the names of fields are read; here they become words.
impl From<Fault> for EditError {
    fn from(fault: Fault) -> Self {
        let quoted = format!("`{}`", fault.field);
        EditError {
            what: fault.what.replace(&quoted, &words::of_field(&fault.field)),
            part: fault.part,
            cure: fault.cure,
        }
    }
}

impl fmt::Display for EditError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(&self.read(&|part| part.to_string()))
    }
}

impl std::error::Error for EditError {}
