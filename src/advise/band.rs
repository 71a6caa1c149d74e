//! Set-height band of a crest: from the lowest to the highest height at which nothing goes wrong.

use super::step;
use crate::catalogue::Catalogue;
use crate::edit;
use crate::evaluate::evaluate;
use crate::finding::{Finding, Severity};
use crate::layout::{Id, Layout, Opening, RunEnd};
use crate::state::State;
use crate::units::UnitSystem;

/// Number of steps from floor to rim that are sampled before the edges are searched for.
const SAMPLES: u16 = 12;
/// Tolerance of the edges, metres.
const SHARP_M: f64 = 0.0005;
/// Most marks of the tape beyond an edge that are tried to find one where something goes wrong.
const MOST_BEYOND: u8 = 3;
/// Most runs of a layout for which bands are searched: each height takes a full solution.
const MOST_RUNS: usize = 300;

/// Range of heights of a crest, and what goes wrong beyond it.
#[derive(Clone, Debug, PartialEq)]
pub struct Band {
    /// Lowest height as an elevation, metres.
    pub low_m: f64,
    /// Highest height as an elevation, metres.
    pub high_m: f64,
    /// What goes wrong below; none where the floor of the vessel ends it, or nothing goes wrong at the next marks.
    pub below: Option<Beyond>,
    /// What goes wrong above; none where the rim of the vessel ends it, or nothing goes wrong at the next marks.
    pub above: Option<Beyond>,
}

/// What goes wrong beyond an edge, and at which height; its numbers are those of the check with the crest there.
#[derive(Clone, Debug, PartialEq)]
pub struct Beyond {
    /// Elevation, metres: the next height that can be set, or the present one if that is beyond the edge.
    pub height_m: f64,
    /// Problem at that height.
    pub found: Finding,
}

impl Band {
    /// Returns the edges rounded inwards to the marks of a tape, to the millimetre or the sixteenth of an inch;
    /// unrounded where there is no mark between them.
    pub fn on_tape(&self, system: UnitSystem) -> (f64, f64) {
        let (low_m, high_m) = (
            step::up(self.low_m, system),
            step::down(self.high_m, system),
        );
        if low_m <= high_m {
            (low_m, high_m)
        } else {
            (self.low_m, self.high_m)
        }
    }
}

/// A height that was tried, and the problems there.
struct HeightTried {
    height_m: f64,
    problems: Vec<Finding>,
}

/// Returns the band of the crest at one end of a run, found by solving the layout at many heights, at rest and running.
///
/// A problem at every height that was tried is not caused by this crest and does not count. Of several bands, returns
/// the one nearest to the present height. None where no height is good, the end has no height in a vessel, the layout
/// has over 300 runs, or `go_on` returns false. Takes about 32 solutions.
pub fn band(
    layout: &Layout,
    catalogue: &Catalogue,
    crest: (&Id, RunEnd),
    go_on: &dyn Fn() -> bool,
) -> Option<Band> {
    let (run, end) = crest;
    let place = layout.run(run)?.end(end);
    let now_m = place.opening.as_ref().and_then(Opening::crest_m)?;
    let vessel = layout.vessel(&place.at)?;
    if layout.runs.len() > MOST_RUNS || vessel.rim_m <= vessel.floor_m {
        return None;
    }
    let search = Search {
        layout,
        catalogue,
        crest,
        go_on,
    };
    let tried = search.samples((vessel.floor_m, vessel.rim_m), now_m)?;
    let always = standing(&tried);
    let good: Vec<bool> = tried
        .iter()
        .map(|one| own_fault(one, &always).is_none())
        .collect();
    let start = nearest(&tried, &good, now_m)?;
    let is_good = |index: &usize| good.get(*index) == Some(&true);
    let first = (0..=start).rev().take_while(is_good).last()?;
    let last = (start..good.len()).take_while(is_good).last()?;
    let below = first.checked_sub(1).and_then(|index| tried.get(index));
    let (low_m, below) = search.edge(tried.get(first)?, below, &always)?;
    let (high_m, above) = search.edge(tried.get(last)?, tried.get(last + 1), &always)?;
    let now = tried.iter().find(|one| one.height_m == now_m);
    Some(Band {
        low_m,
        high_m,
        below: as_it_stands(below, now),
        above: as_it_stands(above, now),
    })
}

/// The layout, and the crest that is varied.
struct Search<'a> {
    layout: &'a Layout,
    catalogue: &'a Catalogue,
    crest: (&'a Id, RunEnd),
    go_on: &'a dyn Fn() -> bool,
}

impl Search<'_> {
    /// Returns the problems with the crest at a height; none where that is not possible, or `go_on` returns false.
    fn at(&self, height_m: f64) -> Option<HeightTried> {
        if !(self.go_on)() {
            return None;
        }
        let (run, end) = self.crest;
        let there = edit::crest(self.layout, run, end, height_m).ok()?;
        let changed = there.apply(self.layout).ok()?;
        Some(HeightTried {
            height_m,
            problems: problems(&changed, self.catalogue),
        })
    }

    /// Tries heights from floor to rim and the present one, in order.
    fn samples(&self, (floor_m, rim_m): (f64, f64), now_m: f64) -> Option<Vec<HeightTried>> {
        let step_m = (rim_m - floor_m) / f64::from(SAMPLES);
        let steps = (0..=SAMPLES).map(|step| floor_m + step_m * f64::from(step));
        let own = Some(now_m).filter(|now| (floor_m..=rim_m).contains(now));
        let mut heights: Vec<f64> = steps.chain(own).collect();
        heights.sort_by(f64::total_cmp);
        heights.into_iter().map(|height| self.at(height)).collect()
    }

    /// Returns the edge between a good height and a bad one, and what goes wrong beyond it.
    fn edge(
        &self,
        good: &HeightTried,
        bad: Option<&HeightTried>,
        always: &[Finding],
    ) -> Option<(f64, Option<Beyond>)> {
        let Some(bad) = bad else {
            return Some((good.height_m, None));
        };
        let (mut inner, mut outer) = (good.height_m, bad.height_m);
        while (outer - inner).abs() > SHARP_M {
            let half = self.at(f64::midpoint(inner, outer))?;
            match own_fault(&half, always) {
                None => inner = half.height_m,
                Some(_) => outer = half.height_m,
            }
        }
        Some((inner, self.beyond((inner, outer), always)?))
    }

    /// Returns what goes wrong at the first mark of the tape past an edge. Where the search ended, between two marks,
    /// the numbers are others, and nobody who sets the crest to the height shown would find them.
    fn beyond(&self, (inner, outer): (f64, f64), always: &[Finding]) -> Option<Option<Beyond>> {
        let system = self.layout.units;
        let up = outer > inner;
        let first = if up {
            step::up(outer, system)
        } else {
            step::down(outer, system)
        };
        for steps in 0..MOST_BEYOND {
            let off_m = step::step_m(system) * f64::from(steps);
            let height_m = if up {
                step::up(first + off_m, system)
            } else {
                step::down(first - off_m, system)
            };
            let there = self.at(height_m)?;
            if let Some(found) = own_fault(&there, always) {
                let found = found.clone();
                return Some(Some(Beyond { height_m, found }));
            }
        }
        Some(None)
    }
}

/// Returns the problems of a layout, at rest and running.
fn problems(layout: &Layout, catalogue: &Catalogue) -> Vec<Finding> {
    let solved = evaluate(layout, catalogue, &[State::Rest, State::Running]);
    let findings = solved.findings.into_iter();
    findings
        .filter(|one| one.severity == Severity::Problem)
        .collect()
}

/// Returns what goes wrong beyond an edge, taken at the present height if the same goes wrong there.
fn as_it_stands(beyond: Option<Beyond>, now: Option<&HeightTried>) -> Option<Beyond> {
    let beyond = beyond?;
    let now = now.and_then(|now| {
        let mut here = now.problems.iter();
        let found = here.find(|one| same(one, &beyond.found))?.clone();
        Some(Beyond {
            height_m: now.height_m,
            found,
        })
    });
    Some(now.unwrap_or(beyond))
}

/// Returns the problems that occur at every height.
fn standing(tried: &[HeightTried]) -> Vec<Finding> {
    let Some((first, others)) = tried.split_first() else {
        return Vec::new();
    };
    let everywhere = |found: &&Finding| {
        others
            .iter()
            .all(|one| one.problems.iter().any(|other| same(found, other)))
    };
    first.problems.iter().filter(everywhere).cloned().collect()
}

/// Returns whether two findings report the same thing of the same part.
fn same(a: &Finding, b: &Finding) -> bool {
    a.code == b.code && a.state == b.state && a.about.first() == b.about.first()
}

/// Returns the first problem that this height causes.
fn own_fault<'t>(tried: &'t HeightTried, always: &[Finding]) -> Option<&'t Finding> {
    let mut found = tried.problems.iter();
    found.find(|one| !always.iter().any(|other| same(one, other)))
}

/// Returns the index of the good height nearest to `now_m`.
fn nearest(tried: &[HeightTried], good: &[bool], now_m: f64) -> Option<usize> {
    let off = |index: &usize| {
        tried
            .get(*index)
            .map_or(f64::INFINITY, |one| (one.height_m - now_m).abs())
    };
    let fine = (0..tried.len()).filter(|&index| good.get(index) == Some(&true));
    fine.min_by(|a, b| off(a).total_cmp(&off(b)))
}
