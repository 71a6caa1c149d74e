//! Cures of a level that is too high: a lower crest, a higher rim, a wider pipe, less flow.

use super::bench::{Bench, level_of};
use super::{less_flow, lower, rim, size};
use crate::check::blame::{Blame, Crest, blame, crests_below};
use crate::finding::{Code, Cure, Finding};
use crate::layout::{Id, Vessel};
use crate::states::report::StateReport;

/// A level that is too high.
pub(super) struct TooHigh<'a> {
    pub found: &'a Finding,
    pub vessel: &'a Vessel,
    /// Its elevation, metres.
    pub level_m: f64,
    /// Highest elevation that is allowed, metres.
    pub goal_m: f64,
}

pub(super) fn cures(bench: &Bench<'_>, found: &Finding) -> Vec<Cure> {
    look(bench, found).unwrap_or_default()
}

fn look(bench: &Bench<'_>, found: &Finding) -> Option<Vec<Cure>> {
    let report = bench.report(found)?;
    let vessel = bench.layout.vessel(found.about.first()?)?;
    let level_m = level_of(report, &vessel.id)?;
    let wanted_m = vessel.rim_m - bench.layout.limits.freeboard_m;
    let goal_m = if found.code == Code::Spills {
        vessel.rim_m
    } else {
        wanted_m
    };
    let high = TooHigh {
        found,
        vessel,
        level_m,
        goal_m,
    };
    let why = blame(bench.layout, report, &vessel.id, level_m - goal_m);
    let crests = crests(bench, report, &vessel.id, &why);
    let mut cures = Vec::new();
    if let Blame::Pipe { run, .. } | Blame::SmallOpening(Crest { run, .. }) = &why {
        cures.extend(size::wider(bench, &high, run));
    }
    if let Blame::Screen { run, .. } = &why {
        cures.push(super::advice(vec![
            "Clean the screen of ".into(),
            run.into(),
            ", or give it a larger area.".into(),
        ]));
    }
    let groups = (1..=crests.len()).filter_map(|count| crests.get(..count));
    cures.extend(
        groups
            .filter_map(|group| lower::together(bench, &high, group))
            .take(1),
    );
    if cures.is_empty() {
        cures.extend(rim::higher(bench, &high));
    }
    if cures.is_empty() {
        let runs = found
            .about
            .iter()
            .filter(|id| bench.layout.run(id).is_some());
        cures.extend(
            runs.filter_map(|run| size::wider(bench, &high, run))
                .take(1),
        );
    }
    if cures.is_empty() {
        cures.extend(less_flow::less(bench, &high));
    }
    Some(cures)
}

/// Returns the crests that may be lowered: the one to blame, then those further down; where none is to blame, all on
/// the path, the furthest down first. Built ones are left out.
fn crests(bench: &Bench<'_>, report: &StateReport, vessel: &Id, why: &Blame) -> Vec<Crest> {
    /// Lowering more than three crests at once amounts to another design.
    const MOST: usize = 3;
    let mut crests = match why {
        Blame::Crest(crest) | Blame::Mouth(crest) | Blame::SmallOpening(crest) => {
            let mut found = vec![crest.clone()];
            found.extend(crests_below(
                bench.layout,
                report,
                &beyond(bench, crest, report),
            ));
            found
        }
        _ => {
            let mut found = crests_below(bench.layout, report, vessel);
            found.reverse();
            found
        }
    };
    crests.retain(|crest| {
        let run = bench.layout.run(&crest.run);
        run.is_some_and(|run| !run.already_built)
    });
    crests.truncate(MOST);
    crests
}

/// Returns the part that water goes to from this crest.
fn beyond(bench: &Bench<'_>, crest: &Crest, report: &StateReport) -> Id {
    let run = report.runs.iter().find(|run| run.id == crest.run);
    match run {
        Some(run) if run.from == crest.at => run.to.clone(),
        Some(run) => run.from.clone(),
        None => bench
            .layout
            .run(&crest.run)
            .map_or_else(|| crest.at.clone(), |run| run.to.at.clone()),
    }
}
