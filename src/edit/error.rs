//! Why an edit is refused: what is wrong, where, and what to do.

use super::words;
use crate::layout::{Fault, FaultText, Id};
use crate::units::UnitSystem;
use std::fmt;

/// Why an edit cannot be built or made.
#[derive(Clone, Debug, PartialEq)]
pub struct EditError {
    /// What is wrong, as a clause without a full stop.
    pub what: FaultText,
    /// The part that it is about, where there is one.
    pub part: Option<Id>,
    /// What to do, as an imperative without a full stop.
    pub cure: FaultText,
}

impl EditError {
    pub(super) fn new(what: impl Into<FaultText>, cure: impl Into<FaultText>) -> Self {
        EditError {
            what: what.into(),
            part: None,
            cure: cure.into(),
        }
    }

    /// The same error for this part.
    pub(super) fn part(self, id: &Id) -> Self {
        EditError {
            part: Some(id.clone()),
            ..self
        }
    }

    /// One sentence for the user, with the part's name from `name_of`, and numbers in the given units.
    pub fn read(&self, name_of: &dyn Fn(&Id) -> String, units: UnitSystem) -> String {
        let (what, cure) = (self.what.read(units), self.cure.read(units));
        let line = self.line((&what, &cure), name_of);
        let mut letters = line.chars();
        let first = letters.next().map(|letter| letter.to_uppercase());
        first.into_iter().flatten().chain(letters).collect()
    }

    fn line(&self, (what, cure): (&str, &str), name_of: &dyn Fn(&Id) -> String) -> String {
        match &self.part {
            Some(part) => format!("{what} ({}): {cure}", name_of(part)),
            None => format!("{what}: {cure}"),
        }
    }
}

/// A fault names a field of the file; here the field gets words.
impl From<Fault> for EditError {
    fn from(fault: Fault) -> Self {
        let quoted = format!("`{}`", fault.field);
        EditError {
            what: fault.what.reworded(&quoted, &words::of_field(&fault.field)),
            part: fault.part,
            cure: fault.cure,
        }
    }
}

/// Numbers in SI, as in a file.
impl fmt::Display for EditError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(&self.line((&self.what, &self.cure), &|part| part.to_string()))
    }
}

impl std::error::Error for EditError {}
