//! The set-height band of a crest: from the lowest to the highest at which nothing goes wrong.

use super::step;
use crate::catalogue::Catalogue;
use crate::edit;
use crate::evaluate::evaluate;
use crate::finding::{Finding, Severity, State};
use crate::layout::{Id, Layout, Opening, RunEnd};
use crate::units::UnitSystem;

/// Heights that are looked at before the edges are searched for.
const SAMPLES: u16 = 12;
/// The edges are found to this, metres.
const SHARP_M: f64 = 0.0005;
/// Most heights of the tape beyond an edge that are looked at for one where something goes wrong.
const MOST_BEYOND: u8 = 3;
/// Most runs of a layout whose bands are searched for: each height is solved as a whole.
const MOST_RUNS: usize = 300;

/// How high a crest may be set, and what goes wrong beyond.
#[derive(Clone, Debug, PartialEq)]
pub struct Band {
    /// The lowest height, metres.
    pub low_m: f64,
    /// The highest, metres.
    pub high_m: f64,
    /// What goes wrong below; none where the floor of the vessel ends it.
    pub below: Option<Beyond>,
    /// What goes wrong above; none where the rim of the vessel ends it.
    pub above: Option<Beyond>,
}

/// What goes wrong beyond an edge, and at which height: its numbers are those that the check gives with the crest there.
#[derive(Clone, Debug, PartialEq)]
pub struct Beyond {
    /// The height, metres: the next one that can be set, or where the crest stands now if that is beyond the edge.
    pub height_m: f64,
    /// What goes wrong there.
    pub found: Finding,
}

impl Band {
    /// Its edges as they are read off a tape, to the millimetre or the sixteenth of an inch, rounded inwards.
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

/// A height that was tried.
struct HeightTried {
    height_m: f64,
    problems: Vec<Finding>,
}

/// The band of the crest at one end of a run, found by solving the layout at many heights, at rest and running.
///
/// A problem that stands at every height that was tried is no fault of this crest and does not count. Of
/// several bands it is the one nearest to where the crest is. None where no height is good, the end has no
/// height in a vessel, the layout has over 300 runs, or `go_on` says no. Solves some 32 times.
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

/// The layout, and the crest that is set to other heights.
struct Search<'a> {
    layout: &'a Layout,
    catalogue: &'a Catalogue,
    crest: (&'a Id, RunEnd),
    go_on: &'a dyn Fn() -> bool,
}

impl Search<'_> {
    /// The problems with the crest at a height; none where that cannot be, or nobody wants to know any longer.
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

    /// Heights from floor to rim, and the one that stands, in order.
    fn samples(&self, (floor_m, rim_m): (f64, f64), now_m: f64) -> Option<Vec<HeightTried>> {
        let step_m = (rim_m - floor_m) / f64::from(SAMPLES);
        let steps = (0..=SAMPLES).map(|step| floor_m + step_m * f64::from(step));
        let own = Some(now_m).filter(|now| (floor_m..=rim_m).contains(now));
        let mut heights: Vec<f64> = steps.chain(own).collect();
        heights.sort_by(f64::total_cmp);
        heights.into_iter().map(|height| self.at(height)).collect()
    }

    /// Where good heights end, between a good one and a bad one, and what goes wrong there.
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

    /// What goes wrong at the first height of the tape past an edge: where the search came to rest between two marks
    /// of it the loss is another one, and whoever sets the crest to the height that is shown would not find it.
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

/// The problems of a layout, at rest and running.
fn problems(layout: &Layout, catalogue: &Catalogue) -> Vec<Finding> {
    let solved = evaluate(layout, catalogue, &[State::Rest, State::Running]);
    let findings = solved.findings.into_iter();
    findings
        .filter(|one| one.severity == Severity::Problem)
        .collect()
}

/// What goes wrong beyond an edge, as it is where the crest stands now if it goes wrong there too.
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

/// Problems that stand at every height.
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

/// The same thing, said of the same part.
fn same(a: &Finding, b: &Finding) -> bool {
    a.code == b.code && a.state == b.state && a.about.first() == b.about.first()
}

/// The first problem that this height is to blame for.
fn own_fault<'t>(tried: &'t HeightTried, always: &[Finding]) -> Option<&'t Finding> {
    let mut found = tried.problems.iter();
    found.find(|one| !always.iter().any(|other| same(one, other)))
}

/// The good height nearest to `now_m`.
fn nearest(tried: &[HeightTried], good: &[bool], now_m: f64) -> Option<usize> {
    let off = |index: &usize| {
        tried
            .get(*index)
            .map_or(f64::INFINITY, |one| (one.height_m - now_m).abs())
    };
    let fine = (0..tried.len()).filter(|&index| good.get(index) == Some(&true));
    fine.min_by(|a, b| off(a).total_cmp(&off(b)))
}
