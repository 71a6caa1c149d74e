//! The time plot: the levels that matter most over a time axis, with the events of the simulation.

mod lanes;
mod scale;
mod signs;

pub use lanes::{Lane, lanes, levels};
pub use scale::{TimeScale, written};

use crate::draw::page::shape::{
    Anchor, Dash, Drawing, Ink, Mark, Point, Rect, Shape, Stroke, Text, Weight, pt,
};
use crate::draw::page::text;
use crate::states::Event;
use crate::units::{self, Quantity, UnitSystem};

/// Margins for names at the left and for levels at the right, points.
const LEFT: f64 = 128.0;
const RIGHT: f64 = 116.0;
/// Height of the event symbols and of the axis labels, points.
const SIGNS: f64 = 26.0;
const AXIS: f64 = 15.0;
/// Gap between two curves, points.
const GAP: f64 = 6.0;
/// Font size, points.
const SMALL: f64 = 11.0;
/// Room for one time on the axis, points.
const TICK: f64 = 62.0;
/// Distance below which points of a curve are left out, points.
const FINE: f64 = 0.6;
/// Largest spacing of the points of a curve, points.
const DENSE: f64 = 4.0;
/// Rows of event symbols, and the smallest distance between them, points.
const ROWS: usize = 2;
const APART: f64 = 2.0 * signs::HALF + 2.0;

/// Input of a time plot.
#[derive(Clone, Copy, Debug)]
pub struct TimePlot<'a> {
    /// Time axis.
    pub scale: TimeScale,
    /// Curves.
    pub lanes: &'a [Lane],
    /// Events in order of time.
    pub told: &'a [Event],
    /// Units of the numbers.
    pub units: UnitSystem,
    /// Width and height of the page, points.
    pub page: (f64, f64),
    /// Opacity: 1, or less if it is out of date.
    pub strength: f64,
}

/// Position of an event symbol on the page.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlacedEvent {
    /// Index of the event in [`TimePlot::told`].
    pub told: usize,
    /// Middle of the symbol.
    pub at: Point,
}

impl TimePlot<'_> {
    /// Returns the area of the curves, from the start to the end of the time axis.
    pub fn track(&self) -> Rect {
        let (width, height) = self.page;
        Rect {
            left: LEFT,
            top: SIGNS,
            right: (width - RIGHT).max(LEFT + 1.0),
            bottom: (height - AXIS).max(SIGNS + 1.0),
        }
    }

    /// Returns the x of a time on the page, points.
    pub fn x(&self, time_s: f64) -> f64 {
        let track = self.track();
        track.left + self.scale.share(time_s) * track.width()
    }

    /// Returns the time at an x on the page, s, clamped to the axis.
    pub fn time_at(&self, x: f64) -> f64 {
        let track = self.track();
        self.scale
            .time_at((x - track.left) / track.width().max(1.0))
    }

    /// Returns the positions of the symbols that have room, in order of time; the most important are placed first.
    pub fn placed(&self) -> Vec<PlacedEvent> {
        let mut order: Vec<usize> = (0..self.told.len()).collect();
        order.sort_by_key(|index| self.told.get(*index).map(|told| signs::rank(told.what)));
        let mut rows: [Vec<f64>; ROWS] = Default::default();
        let mut placed = Vec::new();
        for index in order {
            let Some(told) = self.told.get(index) else {
                continue;
            };
            let x = self.x(told.time_s);
            let free = |row: &Vec<f64>| row.iter().all(|other| (other - x).abs() >= APART);
            if let Some(row) = rows.iter().position(free) {
                rows[row].push(x);
                let up = (row as f64) * APART;
                let at = pt(x, SIGNS - signs::HALF - 2.0 - up);
                placed.push(PlacedEvent { told: index, at });
            }
        }
        placed.sort_by_key(|one| one.told);
        placed
    }

    /// Returns the area of a curve on the page.
    fn lane(&self, index: usize) -> Rect {
        let track = self.track();
        let count = self.lanes.len().max(1) as f64;
        let height = (track.height() - GAP * (count - 1.0)) / count;
        let top = track.top + index as f64 * (height + GAP);
        Rect {
            top,
            bottom: top + height,
            ..track
        }
    }

    fn mark(&self, shape: Shape, lane: Option<&Lane>) -> Mark {
        Mark {
            part: lane.map(|lane| lane.vessel.clone()),
            strength: self.strength,
            shape,
        }
    }
}

/// Draws everything that does not depend on the current time.
pub fn time_plot(course: &TimePlot<'_>) -> Drawing {
    let mut marks = axis(course);
    for (index, lane) in course.lanes.iter().enumerate() {
        curve(course, index, lane, &mut marks);
    }
    for placed in course.placed() {
        if let Some(told) = course.told.get(placed.told) {
            let shapes = signs::sign(told.what, placed.at);
            marks.extend(shapes.into_iter().map(|shape| course.mark(shape, None)));
        }
    }
    Drawing {
        width: course.page.0,
        height: course.page.1,
        title: "Levels over time".to_owned(),
        marks,
        under: None,
    }
}

/// Draws the current time as a vertical line with the level of each curve. `levels_m`: in the order of the curves,
/// `None` if not known.
pub fn moment(course: &TimePlot<'_>, time_s: f64, levels_m: &[Option<f64>]) -> Vec<Mark> {
    let track = course.track();
    let x = course.x(time_s);
    let line = Shape::Line {
        points: vec![pt(x, track.top - SIGNS + 4.0), pt(x, track.bottom + 2.0)],
        stroke: Stroke::new(Ink::Accent, 1.6),
    };
    let grip = Shape::Circle {
        centre: pt(x, track.bottom + 2.0),
        radius: 4.5,
        fill: Some(Ink::Accent),
        edge: Some(Stroke::new(Ink::Page, 1.2)),
    };
    let mut marks = vec![course.mark(line, None), course.mark(grip, None)];
    for (index, (lane, level_m)) in course.lanes.iter().zip(levels_m).enumerate() {
        let Some(level_m) = level_m else { continue };
        let rect = course.lane(index);
        let free_m = lane.rim_m - level_m;
        // Compared to the millimetre, as it is written.
        let (words, ink) = match free_m < -0.0005 {
            true => ("over its rim", Ink::Problem),
            false => ("free", Ink::SoftText),
        };
        let level = units::write(Quantity::Height, *level_m, course.units);
        let free = units::write(Quantity::Height, free_m.abs(), course.units);
        let middle = rect.centre().y;
        let left = rect.right + 10.0;
        let rows = [
            (level, middle - 2.0, Weight::Strong, Ink::Text),
            (
                format!("{free} {words}"),
                middle + 11.0,
                Weight::Regular,
                ink,
            ),
        ];
        for (words, y, weight, ink) in rows {
            let words = text::fit(&words, SMALL, weight, RIGHT - 12.0).into_owned();
            let shape = Shape::Text(Text {
                at: pt(left, y),
                anchor: Anchor::Start,
                words,
                size: SMALL,
                weight,
                ink,
            });
            marks.push(course.mark(shape, Some(lane)));
        }
    }
    marks
}

fn axis(course: &TimePlot<'_>) -> Vec<Mark> {
    let track = course.track();
    let mut marks = Vec::new();
    let apart = TICK / track.width().max(1.0);
    for (time_s, words) in course.scale.ticks(apart) {
        let x = course.x(time_s);
        let line = Shape::Line {
            points: vec![pt(x, track.top), pt(x, track.bottom + 3.0)],
            stroke: Stroke {
                ink: Ink::FaintLine,
                width: 0.6,
                dash: Dash::Solid,
            },
        };
        marks.push(course.mark(line, None));
        let shape = Shape::Text(Text {
            at: pt(x, track.bottom + AXIS - 1.0),
            anchor: Anchor::Middle,
            words,
            size: SMALL,
            weight: Weight::Regular,
            ink: Ink::SoftText,
        });
        marks.push(course.mark(shape, None));
    }
    marks
}

/// Draws one level over time, its rim as a dashed line, and its name.
fn curve(course: &TimePlot<'_>, index: usize, lane: &Lane, marks: &mut Vec<Mark>) {
    let rect = course.lane(index);
    let levels = lane.levels_m.iter().map(|(_, level_m)| *level_m);
    let (low_m, high_m) = levels.fold((lane.rim_m, lane.rim_m), |(low, high), level| {
        (low.min(level), high.max(level))
    });
    let height_m = (high_m - low_m).max(1e-3);
    // Margins above the highest and below the lowest level.
    let (top, bottom) = (rect.top + 3.0, rect.bottom - 3.0);
    let y = |level_m: f64| bottom - (level_m - low_m) / height_m * (bottom - top);
    let name = text::fit(&lane.name, SMALL, Weight::Strong, LEFT - 12.0).into_owned();
    let middle = rect.centre().y;
    let rim = units::write(Quantity::Height, lane.rim_m, course.units);
    for (words, at, weight, ink) in [
        (name, middle - 2.0, Weight::Strong, Ink::Text),
        (
            format!("rim {rim}"),
            middle + 11.0,
            Weight::Regular,
            Ink::SoftText,
        ),
    ] {
        let shape = Shape::Text(Text {
            at: pt(rect.left - 12.0, at),
            anchor: Anchor::End,
            words,
            size: SMALL,
            weight,
            ink,
        });
        marks.push(course.mark(shape, Some(lane)));
    }
    let rim = Shape::Line {
        points: vec![pt(rect.left, y(lane.rim_m)), pt(rect.right, y(lane.rim_m))],
        stroke: Stroke::new(Ink::Line, 1.0).with(Dash::Dashed),
    };
    marks.push(course.mark(rim, Some(lane)));
    let levels_m = densely(course, &up_to(&lane.levels_m, course.scale.end_s));
    let points: Vec<(Point, bool)> = levels_m
        .iter()
        .map(|(time_s, level_m)| (pt(course.x(*time_s), y(*level_m)), *level_m > lane.rim_m))
        .collect();
    for (points, over) in pieces(&points) {
        let stroke = match over {
            true => Stroke::new(Ink::Problem, 2.4),
            false => Stroke::new(Ink::WaterLine, 1.8),
        };
        marks.push(course.mark(Shape::Line { points, stroke }, Some(lane)));
    }
}

/// Returns the levels up to a time, with one interpolated at it.
fn up_to(levels_m: &[(f64, f64)], end_s: f64) -> Vec<(f64, f64)> {
    let count = levels_m.partition_point(|(time_s, _)| *time_s <= end_s);
    let (inside, beyond) = levels_m.split_at(count);
    let mut points = inside.to_vec();
    if let (Some((from_s, from_m)), Some((to_s, to_m))) = (inside.last(), beyond.first()) {
        let share = (end_s - from_s) / (to_s - from_s);
        points.push((end_s, from_m + share * (to_m - from_m)));
    }
    points
}

/// Inserts points between those far apart on the page, since a straight line in time is a curve on a non-linear axis.
fn densely(course: &TimePlot<'_>, levels_m: &[(f64, f64)]) -> Vec<(f64, f64)> {
    let mut all: Vec<(f64, f64)> = levels_m.first().copied().into_iter().collect();
    for pair in levels_m.windows(2) {
        let &[(from_s, from_m), (to_s, to_m)] = pair else {
            continue;
        };
        let (from_x, to_x) = (course.x(from_s), course.x(to_s));
        // A count of points on a page: small and not negative.
        let count = ((to_x - from_x) / DENSE).clamp(0.0, 4000.0) as u32;
        for step in 1..=count {
            let x = from_x + (to_x - from_x) * f64::from(step) / f64::from(count + 1);
            let time_s = course.time_at(x).clamp(from_s, to_s);
            let share = (time_s - from_s) / (to_s - from_s);
            all.push((time_s, from_m + share * (to_m - from_m)));
        }
        all.push((to_s, to_m));
    }
    all
}

/// Splits a curve into pieces above and below the rim, each starting where the one before ends, and drops points too
/// close to be distinguished.
fn pieces(points: &[(Point, bool)]) -> Vec<(Vec<Point>, bool)> {
    let mut pieces: Vec<(Vec<Point>, bool)> = Vec::new();
    for (index, (point, over)) in points.iter().enumerate() {
        let is_last = index + 1 == points.len();
        match pieces.last_mut() {
            Some((piece, was)) if was == over => {
                let near = piece
                    .last()
                    .is_some_and(|last| last.distance(*point) < FINE);
                if !near || is_last {
                    piece.push(*point);
                }
            }
            Some((piece, _)) => {
                let from = piece.last().copied().unwrap_or(*point);
                pieces.push((vec![from, *point], *over));
            }
            None => pieces.push((vec![*point], *over)),
        }
    }
    pieces.retain(|(piece, _)| piece.len() > 1);
    pieces
}
