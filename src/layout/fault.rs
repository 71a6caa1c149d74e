//! What makes a layout impossible as data.

use super::{Id, Layout};

/// The most parts (vessels, joints, fixed levels and runs together) that a layout may hold.
pub const MOST_PARTS: usize = 400_000;

/// One reason why a layout cannot be used at all.
#[derive(Clone, Debug, PartialEq)]
pub struct Fault {
    /// The part, where there is one.
    pub part: Option<Id>,
    /// The field, dotted from the part: `from.at`, `pipe.bore_m`.
    pub field: String,
    /// What is wrong, in words.
    pub what: String,
    /// What to do about it.
    pub cure: String,
}

impl Layout {
    /// Everything that makes this layout impossible as data, in the order of the file; empty when it is sound.
    pub fn faults(&self) -> Vec<Fault> {
        Vec::new()
    }
}
