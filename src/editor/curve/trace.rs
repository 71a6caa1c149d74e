//! Traces a curve in a picture of a data sheet.
//!
//! Two marks on each axis define the scales, which are linear. The axes need not be level, upright or square to each
//! other, so a rotated or skewed scan reads correctly; a photograph in perspective does not.

use super::{CurveRefusal, InputPosition};
use crate::layout::{CurveForm, CurvePoint};

/// Least distance between two marks of an axis, pixels: closer ones are a mark clicked twice.
const LEAST_APART: f64 = 8.0;
/// Least sine of the angle between the axes.
const LEAST_SINE: f64 = 0.35;
/// A click below zero by less than this share of the axis counts as on it.
const ON_THE_AXIS: f64 = 0.02;

/// A position in a picture: pixels to the right and down from its top left corner.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Dot {
    /// Rightwards.
    pub x: f64,
    /// Downwards.
    pub y: f64,
}

/// A mark on an axis with its printed value, SI.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AxisMark {
    /// Its position.
    pub at: Dot,
    /// m³/s on the flow axis, metres on the head axis.
    pub value: f64,
}

/// The axes of a data sheet in a picture.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SheetAxes {
    /// Two marks on the flow axis, m³/s.
    pub flow: [AxisMark; 2],
    /// Two marks on the head axis, metres.
    pub head: [AxisMark; 2],
}

/// A vector of the picture.
type PixelVector = (f64, f64);

fn between(from: Dot, to: Dot) -> PixelVector {
    (to.x - from.x, to.y - from.y)
}

fn cross(a: PixelVector, b: PixelVector) -> f64 {
    a.0 * b.1 - a.1 * b.0
}

fn length(a: PixelVector) -> f64 {
    a.0.hypot(a.1)
}

impl SheetAxes {
    /// Checks that the marks define both scales.
    ///
    /// # Errors
    /// Two marks at one place or with one value, or parallel axes.
    pub fn check(&self) -> Result<(), CurveRefusal> {
        let refused = |why: String| Err(CurveRefusal::new(InputPosition::Whole, why));
        for (name, [first, second]) in [("flow", self.flow), ("head", self.head)] {
            let numbers = [
                first.at.x,
                first.at.y,
                first.value,
                second.at.x,
                second.at.y,
                second.value,
            ];
            if !numbers.iter().all(|number| number.is_finite()) {
                return refused(format!(
                    "A mark on the {name} axis is not a number; set it again."
                ));
            }
            if length(between(first.at, second.at)) < LEAST_APART {
                return refused(format!(
                    "Both marks on the {name} axis are at one place; set them far apart."
                ));
            }
            if first.value == second.value {
                return refused(format!(
                    "Both marks on the {name} axis have the same value; type the printed value of each."
                ));
            }
        }
        let (u, v) = self.axes();
        if cross(u, v).abs() < LEAST_SINE * length(u) * length(v) {
            return refused(
                "The axes of flow and head are parallel; set two marks on each axis.".to_owned(),
            );
        }
        Ok(())
    }

    fn axes(&self) -> (PixelVector, PixelVector) {
        (
            between(self.flow[0].at, self.flow[1].at),
            between(self.head[0].at, self.head[1].at),
        )
    }

    /// Flow (m³/s) and head (m) at a pixel. Valid once [`SheetAxes::check`] passes.
    ///
    /// The position is resolved along both axes: flow changes only along its own axis, wherever its marks are.
    pub fn at(&self, dot: Dot) -> (f64, f64) {
        let (u, v) = self.axes();
        let square = cross(u, v);
        let flow_share = cross(between(self.flow[0].at, dot), v) / square;
        let head_share = cross(u, between(self.head[0].at, dot)) / square;
        let value = |[first, second]: [AxisMark; 2], share: f64| {
            first.value + share * (second.value - first.value)
        };
        (value(self.flow, flow_share), value(self.head, head_share))
    }
}

/// The curve through clicked positions in any order, on linear scales.
///
/// Positions slightly below 0 count as on the axis, because nobody clicks exactly.
///
/// # Errors
/// As [`SheetAxes::check`]; a position far below 0; two positions of one flow; fewer than two.
pub fn read_points(sheet: &SheetAxes, dots: &[Dot]) -> Result<CurveForm, CurveRefusal> {
    sheet.check()?;
    let span = |[first, second]: [AxisMark; 2]| (second.value - first.value).abs();
    let (flow_span, head_span) = (span(sheet.flow), span(sheet.head));
    let mut points = Vec::new();
    for (row, dot) in dots.iter().enumerate() {
        let (flow, head) = sheet.at(*dot);
        let near = |value: f64, span: f64| (value >= -ON_THE_AXIS * span).then_some(value.max(0.0));
        match (near(flow, flow_span), near(head, head_span)) {
            (Some(flow_m3_s), Some(head_m)) => points.push(CurvePoint { flow_m3_s, head_m }),
            (None, _) => {
                return Err(CurveRefusal::new(
                    InputPosition::Point(row),
                    "the point is left of zero flow; remove it.",
                ));
            }
            (_, None) => {
                return Err(CurveRefusal::new(
                    InputPosition::Point(row),
                    "the point is below zero head; remove it.",
                ));
            }
        }
    }
    points.sort_by(|a, b| a.flow_m3_s.total_cmp(&b.flow_m3_s));
    let twice = points.windows(2).any(|pair| match pair {
        [before, point] => point.flow_m3_s <= before.flow_m3_s,
        _ => false,
    });
    if twice {
        let why = "Two points have the same flow; remove one of them.";
        return Err(CurveRefusal::new(InputPosition::Whole, why));
    }
    super::points::enough(points)
}
