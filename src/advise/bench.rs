//! Tries changes: quickly by a preview, then by solving and checking everything.

use crate::catalogue::Catalogue;
use crate::edit;
use crate::evaluate::{Evaluation, evaluate, preview};
use crate::finding::{Change, Code, Finding, Severity};
use crate::layout::{Id, Layout};
use crate::state::State;
use crate::states::report::StateReport;
use std::cell::Cell;
use std::collections::HashSet;

/// Most previews per finding.
const MOST_PREVIEWS: usize = 60;
/// Most full solutions per finding.
const MOST_SOLUTIONS: usize = 12;
/// Heights closer than this are the same, metres.
pub(super) const SAME_HEIGHT_M: f64 = 1e-6;

/// A layout on which changes are tried, with a limit on the work.
pub(super) struct Bench<'a> {
    pub layout: &'a Layout,
    pub catalogue: &'a Catalogue,
    evaluation: &'a Evaluation,
    previews: Cell<usize>,
    solutions: Cell<usize>,
}

impl<'a> Bench<'a> {
    pub fn new(layout: &'a Layout, catalogue: &'a Catalogue, evaluation: &'a Evaluation) -> Self {
        Bench {
            layout,
            catalogue,
            evaluation,
            previews: Cell::new(MOST_PREVIEWS),
            solutions: Cell::new(MOST_SOLUTIONS),
        }
    }

    /// Returns the report that a finding comes from.
    pub fn report(&self, found: &Finding) -> Option<&'a StateReport> {
        self.evaluation.state(found.state)
    }

    /// Previews a changed layout while running; none where it cannot be solved or the previews are used up.
    pub fn preview(&self, layout: &Layout) -> Option<StateReport> {
        spend(&self.previews)?;
        preview(layout, self.catalogue)
    }

    /// Previews the level of a vessel with these changes, metres.
    pub fn level_m(&self, changes: &[Change], vessel: &Id) -> Option<f64> {
        let changed = edit::changed(self.layout, changes).ok()?;
        level_of(&self.preview(&changed)?, vessel)
    }

    /// Solves and checks these changes as a whole; none where that fails or the solutions are used up.
    pub fn solve(&self, changes: &[Change]) -> Option<Evaluation> {
        let changed = edit::changed(self.layout, changes).ok()?;
        self.solve_layout(&changed)
    }

    /// Solves and checks a changed layout as a whole; none where that fails or the solutions are used up.
    pub fn solve_layout(&self, changed: &Layout) -> Option<Evaluation> {
        spend(&self.solutions)?;
        let states = [State::Rest, State::Running];
        let solved = evaluate(changed, self.catalogue, &states);
        solved.unsolved.is_empty().then_some(solved)
    }

    /// Returns whether `solved` lacks this finding and has no problem that was not there before.
    pub fn cures(&self, solved: &Evaluation, found: &Finding) -> bool {
        let gone = !keys(&solved.findings, Severity::Note).contains(&key(found));
        let mut before = keys(&self.evaluation.findings, Severity::Problem);
        before.remove(&key(found));
        gone && keys(&solved.findings, Severity::Problem).is_subset(&before)
    }
}

/// Level of a vessel, metres.
pub(super) fn level_of(report: &StateReport, vessel: &Id) -> Option<f64> {
    let mut vessels = report.vessels.iter();
    vessels.find(|one| one.id == *vessel)?.level_m
}

type Key<'a> = (Code, State, Option<&'a Id>);

fn key(found: &Finding) -> Key<'_> {
    (found.code, found.state, found.about.first())
}

/// Returns the keys of the findings of at least this severity.
fn keys(findings: &[Finding], severity: Severity) -> HashSet<Key<'_>> {
    let loud = findings.iter().filter(|one| one.severity <= severity);
    loud.map(key).collect()
}

fn spend(left: &Cell<usize>) -> Option<()> {
    left.set(left.get().checked_sub(1)?);
    Some(())
}
