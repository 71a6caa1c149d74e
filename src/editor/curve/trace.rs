//! A line traced in a picture of a sheet.
//!
//! Two marks on each axis with their values fix where every dot of the picture lies: flow and head are straight
//! scales. The two axes need not be level and upright, nor square to each other, so a picture that was taken at a
//! slant or scanned askew reads right; one taken in perspective does not.

use super::{CurveRefusal, InputPosition};
use crate::layout::{CurveForm, CurvePoint};

/// The least distance of two marks of one axis, dots: nearer ones are one mark clicked twice.
const LEAST_APART: f64 = 8.0;
/// The least sine of the angle between the axes.
const LEAST_SINE: f64 = 0.35;
/// A click that lies this share of the axis below nought is meant on it.
const ON_THE_AXIS: f64 = 0.02;

/// A place in a picture: dots rightwards and downwards from its top left corner.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Dot {
    /// Rightwards.
    pub x: f64,
    /// Downwards.
    pub y: f64,
}

/// A mark on an axis and what the sheet prints there, SI.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AxisMark {
    /// Where it is.
    pub at: Dot,
    /// m³/s on the axis of flow, metres on that of head.
    pub value: f64,
}

/// The axes of a picture of a sheet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SheetAxes {
    /// Two marks along the flow, m³/s.
    pub flow: [AxisMark; 2],
    /// Two marks along the head, metres.
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
    /// Whether its marks fix a scale.
    ///
    /// # Errors
    /// Two marks at one place or of one value, or axes that run along each other.
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
                return refused(format!("A mark of the {name} is no number; set it again."));
            }
            if length(between(first.at, second.at)) < LEAST_APART {
                return refused(format!(
                    "The two marks of the {name} are at one place; set them far apart on its axis."
                ));
            }
            if first.value == second.value {
                return refused(format!(
                    "The two marks of the {name} have one value; type what the sheet prints at each."
                ));
            }
        }
        let (u, v) = self.axes();
        if cross(u, v).abs() < LEAST_SINE * length(u) * length(v) {
            return refused(
                "The axes of flow and head run along each other; set two marks on each axis of the sheet.".to_owned(),
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

    /// Flow (m³/s) and head (m) at a dot. Sound once [`Sheet::check`] is.
    ///
    /// A dot is taken apart along both axes: flow changes only along its own, wherever its marks lie.
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

/// The curve through dots along its line, in any order; straight scales.
///
/// Dots a little below nought are taken as on the axis: nobody clicks exactly.
///
/// # Errors
/// As [`Sheet::check`]; a dot far below nought; two dots of one flow; fewer than two.
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
                    "the point lies left of no flow; take it back.",
                ));
            }
            (_, None) => {
                return Err(CurveRefusal::new(
                    InputPosition::Point(row),
                    "the point lies under no head; take it back.",
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
        let why = "Two points have the same flow; take one of them back.";
        return Err(CurveRefusal::new(InputPosition::Whole, why));
    }
    super::points::enough(points)
}
