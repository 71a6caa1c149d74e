//! What to display, and how fresh it is.

use crate::evaluate::{Evaluation, Previewed, Variant};
use crate::finding::Finding;
use crate::layout::{Id, Layout};
use crate::state::State;
use crate::states::FillMarks;
use crate::states::report::StateReport;
use std::sync::Arc;
use std::time::Duration;

/// The data to display.
///
/// Stale reports and findings may belong to a layout with other parts: look parts up by id.
#[derive(Clone, Copy, Debug)]
pub struct Shown<'a> {
    /// The preview if there is one, else the committed layout.
    pub layout: &'a Arc<Layout>,
    /// Changes with the layout, a report or a finding.
    pub revision: u64,
    /// The running state, as fresh as [`Shown::levels`]. None where it is unknown or could not be solved.
    pub running: Option<&'a StateReport>,
    /// The state at rest, as fresh as the findings: [`Shown::reported`].
    pub rest: Option<&'a StateReport>,
    /// The findings, worst first; each is as fresh as the [`Shown::freshness`] of its state.
    pub findings: &'a [Finding],
    /// States that could not be solved, with the parts where the solve failed; as fresh as [`Shown::reported`].
    pub unsolved: &'a [(State, Vec<Id>)],
    /// Freshness of the running state.
    pub levels: Freshness,
    /// Freshness of the states solved first, rest and running: solved or stale, never a preview.
    pub reported: Freshness,
    /// Age of stale data; none where nothing is stale.
    pub age: Option<Duration>,
    pub(super) known: KnownResults<'a>,
}

/// The results, freshest first.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct KnownResults<'a> {
    /// The preview of the displayed layout.
    pub quick: Option<&'a Previewed>,
    /// The last evaluation that arrived.
    pub reported: Option<&'a Evaluation>,
    /// Whether it belongs to the displayed layout.
    pub tells: bool,
    /// The last evaluation in all states.
    pub whole: Option<&'a Evaluation>,
}

/// Freshness of a number or a finding.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Freshness {
    /// Of the displayed layout, simulated to the end.
    Solved,
    /// Of the displayed layout, by the steady-state solve: exact where no water is lost before the steady state.
    Preview,
    /// Of an earlier layout, or not known yet.
    Stale,
}

impl<'a> Shown<'a> {
    /// The report of a state with its freshness; none where it is unknown or could not be solved.
    pub fn state(&self, state: State) -> (Option<&'a StateReport>, Freshness) {
        (self.known.report(state), self.known.freshness(state))
    }

    /// The freshness of a state and its findings.
    pub fn freshness(&self, state: State) -> Freshness {
        self.known.freshness(state)
    }

    /// The operating modes and variants of the layout with their freshness; empty while unknown.
    pub fn variants(&self) -> (&'a [Variant], Freshness) {
        let variants = self.known.whole.map_or(&[][..], |whole| &whole.variants);
        (variants, self.known.of_whole())
    }

    /// The fill marks of the lowest vessel, with their freshness.
    pub fn marks(&self) -> (Option<&'a FillMarks>, Freshness) {
        let marks = self.known.whole.and_then(|whole| whole.marks.as_ref());
        (marks, self.known.of_whole())
    }
}

impl<'a> KnownResults<'a> {
    pub(super) fn freshness(&self, state: State) -> Freshness {
        let looked_at = self
            .reported
            .is_some_and(|reported| checked(reported, state));
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

    /// All findings, worst first, and freshest first among equals.
    pub(super) fn findings(&self) -> Vec<Finding> {
        let mut all: Vec<Finding> = Vec::new();
        let previewed = self.freshness(State::Running) == Freshness::Preview;
        if let (true, Some(quick)) = (previewed, self.quick) {
            all.extend(quick.findings.iter().cloned());
        }
        let reported = self
            .reported
            .map(|reported| &reported.findings)
            .into_iter()
            .flatten();
        all.extend(
            reported
                .filter(|one| !(previewed && one.state == State::Running))
                .cloned(),
        );
        let whole = self.whole.map(|whole| &whole.findings).into_iter();
        let missing = |one: &&Finding| {
            self.reported
                .is_some_and(|reported| !checked(reported, one.state))
        };
        all.extend(whole.flatten().filter(missing).cloned());
        all.sort_by_key(|one| one.severity);
        all
    }

    /// The source of a state that is not previewed: its last known result.
    fn source(&self, state: State) -> Option<&'a Evaluation> {
        let reported = self.reported.filter(|reported| checked(reported, state));
        reported.or(self.whole)
    }

    fn of_whole(&self) -> Freshness {
        let reported = self
            .reported
            .filter(|reported| self.tells && reported.is_whole());
        match reported {
            Some(_) => Freshness::Solved,
            None => Freshness::Stale,
        }
    }
}

fn checked(reported: &Evaluation, state: State) -> bool {
    !reported.not_checked.contains(&state)
}
