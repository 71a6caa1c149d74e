//! The band below the grade line: distance along the pipes, and the name, flow and bore of each run.

use super::{GradePage, PathRun, path_parts};
use crate::draw::axes::ladder::steps;
use crate::draw::canvas::touch::{Attention, Pick, TouchArea};
use crate::draw::page::shape::{Anchor, Ink, Point, Rect, Shape, Stroke, Text, Weight, pt};
use crate::draw::page::text;
use crate::units::convert::FOOT_M;
use crate::units::{self, Quantity, UnitSystem};

/// Height of a row, points.
pub(super) const ROW: f64 = 15.0;
const SIZE: f64 = 10.5;
/// Left edge of the row headings, points.
const LEFT: f64 = 10.0;
/// Distances from the foot of the grade line to the axis and to the rows, points.
const AXIS: f64 = 5.0;
const ROWS: f64 = 22.0;
/// Spacing of the axis numbers, points.
const NUMBER: f64 = 52.0;
/// Width below which a cell stays empty, points.
const LEAST: f64 = 20.0;

pub(super) fn draw(paper: &mut GradePage<'_>) {
    let top = paper.room.bottom;
    let heads = ["along", "run", "flow", "bore"];
    for (row, words) in (0_u8..).zip(heads) {
        let y = if row == 0 {
            top + 17.0
        } else {
            baseline(top, row - 1)
        };
        write(
            paper,
            pt(LEFT, y),
            (words.to_owned(), Anchor::Start, Ink::SoftText),
        );
    }
    let mut told = f64::NEG_INFINITY;
    for leg in &paper.scene.profile.legs {
        let (from, to) = leg.reach_m();
        let view = paper.scene.view;
        let (left, right) = (view.x(from), view.x(to));
        let seen = (
            left.max(paper.room.left - 4.0),
            right.min(paper.room.right + 4.0),
        );
        if seen.1 <= seen.0 {
            continue;
        }
        axis(paper, leg, seen.0, seen.1, &mut told);
        cell(paper, leg, seen.0, seen.1);
    }
}

fn baseline(top: f64, row: u8) -> f64 {
    top + ROWS + ROW * (f64::from(row) + 0.5) + text::cap_height(SIZE) / 2.0
}

/// Draws the part of the distance axis that belongs to one run. `told`: right edge of the numbers so far.
fn axis(paper: &mut GradePage<'_>, leg: &PathRun, left: f64, right: f64, told: &mut f64) {
    let view = paper.scene.view;
    let y = paper.room.bottom + AXIS;
    let line = Stroke::new(Ink::Line, 1.2);
    paper
        .context
        .line(None, vec![pt(left, y), pt(right, y)], line);
    let system = paper.scene.units;
    let (step, number) = steps(system, view.points_per_metre_along, 9.0, NUMBER);
    let first = leg.points.first().map_or(0.0, |point| point.distance_m);
    let last = leg.points.last().map_or(first, |point| point.distance_m);
    let mut index = (first / step - 1e-9).ceil();
    while index * step <= last + 1e-9 {
        let distance_m = index * step;
        let x = view.x(distance_m + leg.shift_m);
        index += 1.0;
        if !(left - 0.5..=right + 0.5).contains(&x) {
            continue;
        }
        let times = distance_m / number;
        let numbered = (times - times.round()).abs() < 1e-6;
        let long = if numbered { 5.0 } else { 2.5 };
        paper.context.line(
            None,
            vec![pt(x, y), pt(x, y + long)],
            Stroke::new(Ink::Line, 0.9),
        );
        let words = distance(system, distance_m, number);
        let half = text::width(&words, SIZE, Weight::Regular) / 2.0;
        if numbered && x - half > *told + 6.0 {
            *told = x + half;
            write(
                paper,
                pt(x, y + 14.0),
                (words, Anchor::Middle, Ink::SoftText),
            );
        }
    }
}

fn distance(system: UnitSystem, value_m: f64, step_m: f64) -> String {
    match system {
        UnitSystem::Us if step_m >= FOOT_M * 0.999 => format!("{:.0} ft", value_m / FOOT_M + 0.0),
        UnitSystem::Us => units::write(Quantity::Height, value_m, system),
        UnitSystem::Metric if step_m >= 0.999 => format!("{:.0} m", value_m + 0.0),
        UnitSystem::Metric if step_m >= 0.0999 => format!("{:.1} m", value_m + 0.0),
        UnitSystem::Metric => format!("{:.2} m", value_m + 0.0),
    }
}

/// Draws name, flow and bore of a run, as far as they fit.
fn cell(paper: &mut GradePage<'_>, leg: &PathRun, left: f64, right: f64) {
    let top = paper.room.bottom + ROWS;
    let rect = Rect {
        left,
        right,
        top,
        bottom: top + 3.0 * ROW,
    };
    let attention = paper.attention(&leg.run);
    let id = Some(&leg.run);
    let edge = match attention {
        Attention::None => Stroke::new(Ink::FaintLine, 0.8),
        _ => Stroke::new(Ink::Accent, 1.4),
    };
    let frame = Shape::Box {
        rect,
        radius: 0.0,
        fill: None,
        edge: Some(edge),
    };
    paper.context.add(id, frame);
    let name = path_parts::name(paper.scene.layout, &leg.run).to_owned();
    paper.context.touch(
        Pick::Part(leg.run.clone()),
        TouchArea::Area(rect),
        name.clone(),
    );
    let report = paper.reports.run(&leg.run);
    let system = paper.scene.units;
    let flow = report.map(|one| units::write(Quantity::Flow, one.flow_m3_s.abs(), system));
    let bore = report.map(|one| units::write(Quantity::Bore, one.bore_m, system));
    let room = rect.width() - 6.0;
    if rect.width() < LEAST {
        return;
    }
    let rows = [Some(name), flow, bore];
    for (row, words) in (0_u8..).zip(rows) {
        let Some(words) = words else { continue };
        let fitted = text::fit(&words, SIZE, Weight::Regular, room).into_owned();
        // A truncated number would read as another number.
        if row > 0 && fitted != words || fitted.chars().count() < 3 {
            continue;
        }
        let ink = match attention {
            Attention::None => Ink::Text,
            _ => Ink::Accent,
        };
        let at = pt(rect.centre().x, baseline(paper.room.bottom, row));
        let strength = if row == 1 { paper.strength } else { 1.0 };
        paper.context.add_faint(
            id,
            strength,
            Shape::Text(lettered(at, fitted, Anchor::Middle, ink)),
        );
    }
}

fn lettered(at: Point, words: String, anchor: Anchor, ink: Ink) -> Text {
    Text {
        at,
        anchor,
        words,
        size: SIZE,
        weight: Weight::Regular,
        ink,
    }
}

fn write(paper: &mut GradePage<'_>, at: Point, words: (String, Anchor, Ink)) {
    let text = lettered(at, words.0, words.1, words.2);
    paper.context.add(None, Shape::Text(text));
}
