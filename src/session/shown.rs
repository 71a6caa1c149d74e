//! What there is to show, and how fresh it is.

use crate::evaluate::{Evaluation, FillMarks, Previewed, Variant};
use crate::finding::{Finding, State};
use crate::layout::{Id, Layout};
use crate::states::report::StateReport;
use std::sync::Arc;
use std::time::Duration;

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
    /// What the check has to say, worst first; [`Shown::freshness`] of its state says how fresh each is.
    pub findings: &'a [Finding],
    /// The states that could not be solved, and the parts where that failed; as fresh as [`Shown::told`].
    pub unsolved: &'a [(State, Vec<Id>)],
    /// How fresh the running state is.
    pub levels: Freshness,
    /// How fresh the states are that are solved first, rest and running: solved or stale, never a preview.
    pub told: Freshness,
    /// How long ago the drawing went on from what is stale; none where nothing is.
    pub age: Option<Duration>,
    pub(super) known: KnownResults<'a>,
}

/// What is known, the freshest first.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct KnownResults<'a> {
    /// Of the layout shown, by a preview.
    pub quick: Option<&'a Previewed>,
    /// The last evaluation that arrived.
    pub told: Option<&'a Evaluation>,
    /// It is of the layout shown.
    pub tells: bool,
    /// The last one in all states.
    pub whole: Option<&'a Evaluation>,
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
    /// The report of a state, and how fresh it is; none where it is not known or not to be solved.
    pub fn state(&self, state: State) -> (Option<&'a StateReport>, Freshness) {
        (self.known.report(state), self.known.freshness(state))
    }

    /// How fresh a state is, and what is said of it.
    pub fn freshness(&self, state: State) -> Freshness {
        self.known.freshness(state)
    }

    /// The layout run otherwise, and how fresh that is; empty as long as it is not known.
    pub fn variants(&self) -> (&'a [Variant], Freshness) {
        let variants = self.known.whole.map_or(&[][..], |whole| &whole.variants);
        (variants, self.known.of_whole())
    }

    /// How full the lowest vessel may stand, and how fresh that is.
    pub fn marks(&self) -> (Option<&'a FillMarks>, Freshness) {
        let marks = self.known.whole.and_then(|whole| whole.marks.as_ref());
        (marks, self.known.of_whole())
    }
}

impl<'a> KnownResults<'a> {
    pub(super) fn freshness(&self, state: State) -> Freshness {
        let looked_at = self.told.is_some_and(|told| checked(told, state));
        match self.quick {
            _ if self.tells && looked_at => Freshness::Solved,
            Some(_) if state == State::Running => Freshness::Preview,
            _ => Freshness::Stale,
        }
    }

    pub(super) fn report(&self, state: State) -> Option<&'a StateReport> {
        match (self.freshness(state), self.quick) {
            (Freshness::Preview, Some(quick)) => Some(&quick.report),
            _ => self.source(state)?.state(state),
        }
    }

    /// Everything that is said, the worst first, and of what is equally bad the freshest.
    pub(super) fn findings(&self) -> Vec<Finding> {
        let mut all: Vec<Finding> = Vec::new();
        let previewed = self.freshness(State::Running) == Freshness::Preview;
        if let (true, Some(quick)) = (previewed, self.quick) {
            all.extend(quick.findings.iter().cloned());
        }
        let told = self.told.map(|told| &told.findings).into_iter().flatten();
        all.extend(
            told.filter(|one| !(previewed && one.state == State::Running))
                .cloned(),
        );
        let whole = self.whole.map(|whole| &whole.findings).into_iter();
        let missing = |one: &&Finding| self.told.is_some_and(|told| !checked(told, one.state));
        all.extend(whole.flatten().filter(missing).cloned());
        all.sort_by_key(|one| one.severity);
        all
    }

    /// Where a state is read from that is not previewed: what is known last of it.
    fn source(&self, state: State) -> Option<&'a Evaluation> {
        let told = self.told.filter(|told| checked(told, state));
        told.or(self.whole)
    }

    fn of_whole(&self) -> Freshness {
        let told = self.told.filter(|told| self.tells && told.is_whole());
        match told {
            Some(_) => Freshness::Solved,
            None => Freshness::Stale,
        }
    }
}

fn checked(told: &Evaluation, state: State) -> bool {
    !told.not_checked.contains(&state)
}
