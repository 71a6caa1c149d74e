//! What there is to show, and how fresh it is.

use crate::evaluate::Variant;
use crate::finding::{Finding, State};
use crate::layout::{Id, Layout};
use crate::states::report::StateReport;
use std::sync::Arc;

/// What there is to show of a session.
///
/// Reports and findings may be of a layout with other parts, while they are stale: look parts up by id.
#[derive(Clone, Copy, Debug)]
pub struct Shown<'a> {
    /// The preview where there is one, else the committed layout.
    pub layout: &'a Arc<Layout>,
    /// Another number whenever anything in here has changed: the layout, a report, a finding.
    pub revision: u64,
    /// The running state; [`Shown::levels`] says of what. None where it is not known or not to be solved.
    pub running: Option<&'a StateReport>,
    /// The state at rest, as fresh as the findings: [`Shown::told`].
    pub rest: Option<&'a StateReport>,
    /// The layout run otherwise than drawn.
    pub variants: &'a [Variant],
    /// What the check has to say, worst first.
    pub findings: &'a [Finding],
    /// The states that could not be solved, and the parts where that failed; as fresh as the findings.
    pub unsolved: &'a [(State, Vec<Id>)],
    /// How fresh the running state is.
    pub levels: Freshness,
    /// How fresh the findings are: solved or stale, never a preview.
    pub told: Freshness,
}

/// How fresh a number or a finding is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Freshness {
    /// Of the layout shown, and followed in time to the end.
    Solved,
    /// Of the layout shown, by the direct jump: exact where no water is lost on the way.
    Preview,
    /// Of a layout that was shown before, or not known yet.
    Stale,
}

impl<'a> Shown<'a> {
    /// The report of a state, and how fresh it is.
    pub fn state(&self, state: State) -> (Option<&'a StateReport>, Freshness) {
        match state {
            State::Rest => (self.rest, self.told),
            State::Running => (self.running, self.levels),
            _ => (None, self.told),
        }
    }
}
