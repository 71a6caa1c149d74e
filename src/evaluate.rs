//! Layout in, evaluation out: lower, solve, check. One pure function.
//!
//! Invariant: knows no thread, no clock, no file and no randomness.

use crate::finding::{Finding, State};
use crate::layout::Id;
use crate::states::report::StateReport;

/// Everything the program knows about one layout.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Evaluation {
    /// The states that were asked for, in their order, as far as they could be solved.
    pub states: Vec<StateReport>,
    /// What the check has to say, worst first.
    pub findings: Vec<Finding>,
    /// The states that could not be solved, and the parts where the solution failed.
    pub unsolved: Vec<(State, Vec<Id>)>,
    /// The states that were not looked at.
    pub not_checked: Vec<State>,
}

impl Evaluation {
    /// The report of one state.
    pub fn state(&self, state: State) -> Option<&StateReport> {
        self.states.iter().find(|report| report.state == state)
    }
}
