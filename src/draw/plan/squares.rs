//! Squared paper below the plan, and the rulers at its edges.

use super::paper::PlanPage;
use super::{RULER_BELOW, RULER_LEFT};
use crate::draw::axes::ladder::steps;
use crate::draw::page::shape::{Anchor, Ink, Rect, Shape, Stroke, Text, Weight, pt};
use crate::draw::page::text;
use crate::units::UnitSystem;
use crate::units::convert::{FOOT_M, INCH_M};

/// Smallest side of a square, and smallest spacing of the numbers of a ruler, points.
const LEAST: (f64, f64) = (11.0, 56.0);
/// Width of a ruler, points.
const WIDE: f64 = 7.0;
const SIZE: f64 = 10.0;
/// Opacity of the lines of the squares, and of those at the numbers.
const FAINT: f64 = 0.22;
const NUMBERED: f64 = 0.6;

/// Most steps along one side of a page.
const MOST_STEPS: u16 = 4096;

/// One axis of the squared paper, which maps metres to the page.
struct SquaresAxis {
    /// Position of 0 on the page, points, and points per metre; positive is right or down the page.
    zero: f64,
    metre: f64,
    /// Start and end on the page, points.
    from: f64,
    to: f64,
}

impl SquaresAxis {
    fn page(&self, m: f64) -> f64 {
        self.zero + m * self.metre
    }

    /// Calls `act` for each whole step on the page, with its index and position.
    fn each(&self, step_m: f64, mut act: impl FnMut(f64, f64)) {
        let at = |page: f64| (page - self.zero) / self.metre / step_m;
        let (a, b) = (at(self.from), at(self.to));
        let (first, last) = (a.min(b).ceil(), a.max(b).floor());
        // Limited by count, since far from the origin adding 1 may not change the number and the loop would never end.
        let counted = (0..MOST_STEPS).map(|count| first + f64::from(count));
        for index in counted.take_while(|index| *index <= last) {
            act(index, self.page(index * step_m));
        }
    }
}

fn axes(paper: &PlanPage<'_>) -> [SquaresAxis; 2] {
    let (view, page) = (paper.scene.view, paper.page);
    let across = SquaresAxis {
        zero: view.x(0.0),
        metre: paper.scale(),
        from: RULER_LEFT,
        to: page.right,
    };
    let up = SquaresAxis {
        zero: view.y(0.0),
        metre: -paper.scale(),
        from: page.top,
        to: page.bottom - RULER_BELOW,
    };
    [across, up]
}

/// Draws faint lines at every step.
pub(super) fn paper_under(paper: &mut PlanPage<'_>) {
    let (small, number) = steps(paper.scene.units, paper.scale(), LEAST.0, LEAST.1);
    let per_number = (number / small).round();
    let [across, up] = axes(paper);
    let strength = |index: f64| {
        if index.rem_euclid(per_number) < 0.5 {
            NUMBERED
        } else {
            FAINT
        }
    };
    let mut lines = Vec::new();
    across.each(small, |index, x| {
        lines.push((strength(index), vec![pt(x, up.from), pt(x, up.to)]));
    });
    up.each(small, |index, y| {
        lines.push((strength(index), vec![pt(across.from, y), pt(across.to, y)]));
    });
    for (strength, points) in lines {
        let stroke = Stroke::new(Ink::FaintLine, 0.6);
        paper.add_faint(None, strength, Shape::Line { points, stroke });
    }
}

/// Draws the rulers on top of what is scrolled under them.
pub(super) fn rulers(paper: &mut PlanPage<'_>) {
    let page = paper.page;
    let bottom = page.bottom - RULER_BELOW;
    let left = Rect {
        right: RULER_LEFT,
        ..page
    };
    let below = Rect {
        top: bottom,
        ..page
    };
    for rect in [left, below] {
        paper.block(rect, Some(Ink::Page), None);
    }
    let [across, up] = axes(paper);
    let (small, number) = steps(paper.scene.units, paper.scale(), LEAST.0, LEAST.1);
    strip(paper, &across, small, |from, to, half| Rect {
        left: from,
        right: to,
        top: bottom + half * WIDE / 2.0,
        bottom: bottom + (half + 1.0) * WIDE / 2.0,
    });
    strip(paper, &up, small, |from, to, half| Rect {
        left: RULER_LEFT - (half + 1.0) * WIDE / 2.0,
        right: RULER_LEFT - half * WIDE / 2.0,
        top: from,
        bottom: to,
    });
    numbers(paper, [&across, &up], number);
}

/// Draws alternating halves of the width, as on a staff, with a line around them.
fn strip(
    paper: &mut PlanPage<'_>,
    axis: &SquaresAxis,
    step_m: f64,
    rect: impl Fn(f64, f64, f64) -> Rect,
) {
    let (from, to) = (axis.from, axis.to);
    let mut filled = Vec::new();
    let before = axis.page(-step_m) - axis.page(0.0);
    axis.each(step_m, |index, page| filled.push((index, page)));
    // The step that starts before the page.
    if let Some((index, page)) = filled.first().copied() {
        filled.insert(0, (index - 1.0, page + before));
    }
    for (index, page) in filled {
        let half = index.rem_euclid(2.0).round().min(1.0);
        let (a, b) = (page, page - before);
        let (a, b) = (a.min(b).clamp(from, to), a.max(b).clamp(from, to));
        if b > a {
            paper.block(rect(a, b, half), Some(Ink::Line), None);
        }
    }
    let (inner, outer) = (rect(from, to, 0.0), rect(from, to, 1.0));
    let around = Rect {
        left: inner.left.min(outer.left),
        right: inner.right.max(outer.right),
        top: inner.top.min(outer.top),
        bottom: inner.bottom.max(outer.bottom),
    };
    paper.block(around, None, Some(Stroke::new(Ink::Line, 0.9)));
}

/// Draws the numbers beside both rulers, and their unit in the corner between them.
fn numbers(paper: &mut PlanPage<'_>, [across, up]: [&SquaresAxis; 2], step_m: f64) {
    let system = paper.scene.units;
    let page = paper.page;
    let base = page.bottom - RULER_BELOW + WIDE + 2.0 + text::ascent(SIZE);
    let mut words = Vec::new();
    across.each(step_m, |index, x| {
        let figure = figure(system, index * step_m, step_m);
        let half = text::width(&figure, SIZE, Weight::Regular) / 2.0;
        if x - half > RULER_LEFT - 4.0 && x + half < page.right - 2.0 {
            words.push((pt(x, base), Anchor::Middle, figure));
        }
    });
    let side = RULER_LEFT - WIDE - 5.0;
    up.each(step_m, |index, y| {
        let baseline = y + text::cap_height(SIZE) / 2.0;
        if baseline > page.top + SIZE && y < page.bottom - RULER_BELOW - 2.0 {
            let figure = figure(system, index * step_m, step_m);
            words.push((pt(side, baseline), Anchor::End, figure));
        }
    });
    words.push((pt(side, base), Anchor::End, unit(system, step_m).to_owned()));
    for (at, anchor, words) in words {
        let text = Text {
            at,
            anchor,
            words,
            size: SIZE,
            weight: Weight::Regular,
            ink: Ink::SoftText,
        };
        paper.add(None, Shape::Text(text));
    }
}

/// Returns the unit of the rulers.
pub(super) fn unit(system: UnitSystem, step_m: f64) -> &'static str {
    match system {
        UnitSystem::Metric => "m",
        UnitSystem::Us if step_m < FOOT_M * 0.999 => "in",
        UnitSystem::Us => "ft",
    }
}

/// Formats a number of a ruler with numbers `step_m` apart, without its unit.
pub(super) fn figure(system: UnitSystem, m: f64, step_m: f64) -> String {
    let in_unit = |value: f64| match unit(system, step_m) {
        "in" => value / INCH_M,
        "ft" => value / FOOT_M,
        _ => value,
    };
    let (value, step) = (in_unit(m), in_unit(step_m));
    let places = (0..4).find(|places| {
        let scaled = step * 10f64.powi(*places);
        (scaled - scaled.round()).abs() < 1e-6
    });
    let places = usize::try_from(places.unwrap_or(4)).unwrap_or(4);
    // Adding 0 turns −0 into 0.
    format!("{:.places$}", value + 0.0)
}
