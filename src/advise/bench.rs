//! Where a change is tried: quickly by a preview, then for good by solving and checking it all.

use crate::catalogue::Catalogue;
use crate::edit;
use crate::evaluate::{Evaluation, evaluate, preview};
use crate::finding::{Change, Code, Finding, Severity, State};
use crate::layout::{Id, Layout};
use crate::states::report::StateReport;
use std::cell::Cell;
use std::collections::HashSet;

/// Most previews per finding.
const MOST_PREVIEWS: usize = 60;
/// Most whole solutions per finding.
const MOST_SOLUTIONS: usize = 12;
/// Heights closer than this are the same, metres.
pub(super) const SAME_HEIGHT_M: f64 = 1e-6;

/// A layout to try changes on.
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

    /// The report that a finding was made from.
    pub fn report(&self, found: &Finding) -> Option<&'a StateReport> {
        self.evaluation.state(found.state)
    }

    /// Running by a preview of a changed layout; none where it cannot be solved or enough was tried.
    pub fn preview(&self, layout: &Layout) -> Option<StateReport> {
        spend(&self.previews)?;
        preview(layout, self.catalogue)
    }

    /// Level of a vessel by a preview of these changes, metres.
    pub fn level_m(&self, changes: &[Change], vessel: &Id) -> Option<f64> {
        let changed = edit::changed(self.layout, changes).ok()?;
        level_of(&self.preview(&changed)?, vessel)
    }

    /// These changes solved and checked as a whole; none where that fails or enough was tried.
    pub fn solve(&self, changes: &[Change]) -> Option<Evaluation> {
        let changed = edit::changed(self.layout, changes).ok()?;
        self.solve_layout(&changed)
    }

    /// A changed layout solved and checked as a whole; none where that fails or enough was tried.
    pub fn solve_layout(&self, changed: &Layout) -> Option<Evaluation> {
        spend(&self.solutions)?;
        let states = [State::Rest, State::Running];
        let solved = evaluate(changed, self.catalogue, &states);
        solved.unsolved.is_empty().then_some(solved)
    }

    /// `solved` is without this finding, and without any problem that was not there before.
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

/// The findings of at least this severity.
fn keys(findings: &[Finding], severity: Severity) -> HashSet<Key<'_>> {
    let loud = findings.iter().filter(|one| one.severity <= severity);
    loud.map(key).collect()
}

fn spend(left: &Cell<usize>) -> Option<()> {
    left.set(left.get().checked_sub(1)?);
    Some(())
}
