//! Charts with two axes: the mapping of values to the page, the grid and its numbers.

use crate::draw::canvas::vessel_index::inside;
use crate::draw::page::shape::{Anchor, Ink, Mark, Point, Rect, Shape, Stroke, Text, Weight, pt};
use crate::draw::page::text;
use crate::units::{Quantity, UnitSystem, unit_for};

/// Font size of the axis numbers, points.
pub(in crate::draw) const NUMBER_SIZE: f64 = 10.5;
/// Approximate spacing of grid lines, horizontally and vertically, points.
const ACROSS: f64 = 56.0;
const UP: f64 = 38.0;

/// One axis, from its lowest to its highest value, SI.
#[derive(Clone, Copy, Debug)]
pub(in crate::draw) struct Axis {
    pub low: f64,
    pub high: f64,
    pub quantity: Quantity,
}

/// Two axes on a page.
pub(in crate::draw) struct Chart {
    /// Area in which lines are drawn.
    pub inside: Rect,
    pub across: Axis,
    pub up: Axis,
    pub units: UnitSystem,
}

impl Axis {
    /// Makes an axis from `low`, or 0 if that is higher, to a little above `high`; at least `least` long.
    pub fn over(quantity: Quantity, range: (f64, f64), least: f64) -> Axis {
        let (low, high) = range;
        let low = if low.is_finite() { low.min(0.0) } else { 0.0 };
        let high = if high.is_finite() { high } else { 0.0 };
        Axis {
            low: low * 1.1,
            high: high.max(low + least) * 1.06,
            quantity,
        }
    }

    fn share(&self, value: f64) -> f64 {
        (value - self.low) / (self.high - self.low).max(f64::MIN_POSITIVE)
    }

    /// Returns values at 1, 2 or 5 times a power of ten of the unit, at least about the share `room` of the axis apart,
    /// each with its number; and the symbol of the unit.
    fn marks(&self, room: f64, system: UnitSystem) -> (Vec<(f64, String)>, &'static str) {
        let most = self.high.abs().max(self.low.abs());
        let unit = unit_for(self.quantity, most, system);
        let one = unit.one_si();
        let span = (self.high - self.low) / one;
        let rough = span * room.clamp(0.02, 0.5);
        let power = 10_f64.powf(rough.log10().floor());
        let mut steps = [1.0, 2.0, 5.0, 10.0].into_iter().map(|step| step * power);
        let step = steps.find(|step| *step >= rough * 0.999).unwrap_or(rough);
        let first = (self.low / one / step).ceil();
        let marks = (0..100).map(|index| (first + f64::from(index)) * step);
        let marks = marks.take_while(|mark| mark.is_finite() && *mark <= self.high / one);
        let told = marks.map(|mark| (mark * one, number(mark))).collect();
        (told, unit.symbol)
    }
}

impl Chart {
    pub fn point(&self, value: (f64, f64)) -> Point {
        let (across, up) = value;
        pt(
            self.inside.left + self.across.share(across) * self.inside.width(),
            self.inside.bottom - self.up.share(up) * self.inside.height(),
        )
    }

    /// Returns the line in pieces clipped to the axes.
    pub fn line(&self, values: &[(f64, f64)]) -> Vec<Vec<Point>> {
        let points: Vec<Point> = values.iter().map(|value| self.point(*value)).collect();
        let mut pieces: Vec<Vec<Point>> = Vec::new();
        for pair in points.windows(2) {
            let [from, to] = *pair else { continue };
            let Some((enter, leave)) = inside(from, to, self.inside.grown(0.5)) else {
                continue;
            };
            let at = |share: f64| {
                pt(
                    from.x + (to.x - from.x) * share,
                    from.y + (to.y - from.y) * share,
                )
            };
            let (from, to) = (at(enter), at(leave));
            match pieces.last_mut() {
                Some(piece) if piece.last().is_some_and(|last| last.distance(from) < 1e-6) => {
                    piece.push(to)
                }
                _ => pieces.push(vec![from, to]),
            }
        }
        pieces
    }

    /// Draws the grid, its numbers, and the axis titles with their units.
    pub fn frame(&self, across: &str, up: &str) -> Vec<Mark> {
        let mut marks = Vec::new();
        let faint = Stroke::new(Ink::FaintLine, 0.7);
        let inside = self.inside;
        let mut rule = |from: Point, to: Point, stroke: Stroke| {
            marks.push(Mark::plain(Shape::Line {
                points: vec![from, to],
                stroke,
            }));
        };
        let (along, along_unit) = self.across.marks(ACROSS / inside.width(), self.units);
        let (heads, head_unit) = self.up.marks(UP / inside.height(), self.units);
        for (value, _) in &along {
            let x = self.point((*value, 0.0)).x;
            rule(pt(x, inside.top), pt(x, inside.bottom), faint);
        }
        for (value, _) in &heads {
            let y = self.point((0.0, *value)).y;
            rule(pt(inside.left, y), pt(inside.right, y), faint);
        }
        let line = Stroke::new(Ink::Line, 1.2);
        rule(
            pt(inside.left, inside.bottom),
            pt(inside.right, inside.bottom),
            line,
        );
        rule(
            pt(inside.left, inside.top),
            pt(inside.left, inside.bottom),
            line,
        );
        for (value, words) in along {
            let at = pt(
                self.point((value, 0.0)).x,
                inside.bottom + 4.0 + text::ascent(NUMBER_SIZE),
            );
            marks.push(labelled(at, Anchor::Middle, words, Weight::Regular));
        }
        for (value, words) in heads {
            let y = self.point((0.0, value)).y + text::cap_height(NUMBER_SIZE) / 2.0;
            marks.push(labelled(
                pt(inside.left - 6.0, y),
                Anchor::End,
                words,
                Weight::Regular,
            ));
        }
        let foot = inside.bottom + 6.0 + text::line_height(NUMBER_SIZE) + text::ascent(NUMBER_SIZE);
        let named = |words: &str, unit: &str| format!("{words}, {unit}");
        marks.push(labelled(
            pt(inside.right, foot),
            Anchor::End,
            named(across, along_unit),
            Weight::Strong,
        ));
        let head = pt(inside.left - 6.0, inside.top - 7.0);
        marks.push(labelled(
            head,
            Anchor::Start,
            named(up, head_unit),
            Weight::Strong,
        ));
        marks
    }
}

fn labelled(at: Point, anchor: Anchor, words: String, weight: Weight) -> Mark {
    Mark::plain(Shape::Text(Text {
        at,
        anchor,
        words,
        size: NUMBER_SIZE,
        weight,
        ink: Ink::SoftText,
    }))
}

/// Formats a grid value without rounding noise.
fn number(mark: f64) -> String {
    let text = format!("{:.6}", mark + 0.0);
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" {
        "0".to_owned()
    } else {
        text.to_owned()
    }
}
