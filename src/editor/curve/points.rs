//! Points as typed, one row each: flow and head.

use super::{CurveRefusal, DefaultUnits, InputPosition, MOST_POINTS, typed};
use crate::layout::{CurveForm, CurvePoint};
use crate::units::{Quantity, read_in};

/// The curve through typed rows of flow and head; empty rows are skipped.
///
/// A number may carry its unit; the others have the units of `bare`.
///
/// # Errors
/// A number that cannot be read, a negative one, a flow that does not rise, or fewer than two points; with its row.
pub fn points(rows: &[[String; 2]], bare: DefaultUnits<'_>) -> Result<CurveForm, CurveRefusal> {
    let mut found: Vec<CurvePoint> = Vec::new();
    for (row, [flow, head]) in rows.iter().enumerate() {
        if flow.trim().is_empty() && head.trim().is_empty() {
            continue;
        }
        let point = point(flow, head, bare)
            .map_err(|(column, why)| CurveRefusal::new(at(row, column), why))?;
        rises(found.last(), &point, bare)
            .map_err(|why| CurveRefusal::new(InputPosition::Flow(row), why))?;
        found.push(point);
    }
    enough(found)
}

fn at(row: usize, column: PointColumn) -> InputPosition {
    match column {
        PointColumn::Flow => InputPosition::Flow(row),
        PointColumn::Head => InputPosition::Head(row),
    }
}

/// One of the two numbers of a point.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum PointColumn {
    Flow,
    Head,
}

/// Reads one point from its two texts.
pub(super) fn point(
    flow: &str,
    head: &str,
    bare: DefaultUnits<'_>,
) -> Result<CurvePoint, (PointColumn, String)> {
    let flow_m3_s = read_in(Quantity::Flow, flow, (bare.system, bare.flow))
        .map_err(|why| (PointColumn::Flow, why))?;
    if flow_m3_s < 0.0 {
        let why = "a pump curve has no negative flow; type it without the sign.";
        return Err((PointColumn::Flow, why.to_owned()));
    }
    let head_m = read_in(Quantity::Head, head, (bare.system, bare.head))
        .map_err(|why| (PointColumn::Head, why))?;
    if head_m < 0.0 {
        let why = "a pump curve ends where its head is 0; leave out the points below it.";
        return Err((PointColumn::Head, why.to_owned()));
    }
    Ok(CurvePoint { flow_m3_s, head_m })
}

/// Checks that a point may follow another: its flow must be greater.
///
/// # Errors
/// A sentence with both flows, in the units of `bare`.
pub(super) fn rises(
    before: Option<&CurvePoint>,
    point: &CurvePoint,
    bare: DefaultUnits<'_>,
) -> Result<(), String> {
    let Some(before) = before.filter(|before| point.flow_m3_s <= before.flow_m3_s) else {
        return Ok(());
    };
    let shown = |point: &CurvePoint| {
        let number = typed::number(Quantity::Flow, point.flow_m3_s, (bare.system, bare.flow));
        format!("{number} {}", bare.flow)
    };
    Err(format!(
        "the flow {} is not above the {} before it; list points by rising flow, each flow once.",
        shown(point),
        shown(before)
    ))
}

/// The curve, if it has enough points and not too many.
pub(super) fn enough(points: Vec<CurvePoint>) -> Result<CurveForm, CurveRefusal> {
    match points.len() {
        0 | 1 => {
            let why = "A curve needs at least two points; three, beginning at no flow, are better.";
            Err(CurveRefusal::new(InputPosition::Whole, why))
        }
        many if many > MOST_POINTS => Err(CurveRefusal::new(
            InputPosition::Whole,
            format!("{many} points are too many; keep at most {MOST_POINTS}."),
        )),
        _ => Ok(CurveForm::Points(points)),
    }
}
