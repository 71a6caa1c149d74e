//! Numbers so large that they may be unit errors.
//!
//! Each limit is a choice, beyond what is built by hand; `docs/findings/is-this-meant.md` lists them.

use super::{RunFacts, findings, vessel};
use crate::finding::{Code, Finding, Piece, Severity};
use crate::layout::{Id, Layout, Shape, Vessel};
use crate::units::Quantity;
use std::collections::HashMap;
use std::f64::consts::PI;

/// Largest bore, metres.
const BORE_M: f64 = 0.6;
/// Longest run, metres.
const LENGTH_M: f64 = 1000.0;
/// Largest vessel, up to its rim, m³.
const VOLUME_M3: f64 = 5000.0;
/// Greatest height of a rim above or below the datum, metres.
const RIM_M: f64 = 30.0;
/// Largest external flow, or flow at the end of a pump curve, m³/s.
const FLOW_M3_S: f64 = 0.5;
/// Largest head of a pump, metres.
const PUMP_HEAD_M: f64 = 100.0;

/// A number of a part.
type Number<'a> = (&'a Id, f64);

/// A kind of number, and its wording: the words before the part, and those between the part and the number.
struct NumberKind {
    words: [&'static str; 2],
    quantity: Quantity,
    limit: f64,
}

const fn kind(words: [&'static str; 2], quantity: Quantity, limit: f64) -> NumberKind {
    NumberKind {
        words,
        quantity,
        limit,
    }
}

const BORE_KIND: NumberKind = kind(["The bore of ", " is "], Quantity::Bore, BORE_M);
const LENGTH_KIND: NumberKind = kind(["The length of ", " is "], Quantity::Length, LENGTH_M);
const VOLUME_KIND: NumberKind = kind(["The volume of ", " is "], Quantity::Volume, VOLUME_M3);
const RIM_KIND: NumberKind = kind(["The rim of ", " is at "], Quantity::Height, RIM_M);
const FLOW_IN_KIND: NumberKind = kind(["The make-up of ", " is "], Quantity::Flow, FLOW_M3_S);
const PUMP_FLOW_KIND: NumberKind = kind(
    ["The pump curve of ", " goes to "],
    Quantity::Flow,
    FLOW_M3_S,
);
const PUMP_HEAD_KIND: NumberKind = kind(
    ["The pump curve of ", " begins at "],
    Quantity::Head,
    PUMP_HEAD_M,
);

/// Adds a note for every kind of such numbers in the drawing. `facts`: of each run, in the order of the layout.
pub(super) fn findings(layout: &Layout, facts: &[RunFacts], out: &mut Vec<Finding>) {
    let vessels = || layout.vessels.iter();
    let runs = || layout.runs.iter().zip(facts);
    let curves = || {
        let curves = runs().map(|(run, facts)| Some((&run.id, facts.pump_curve.as_ref()?)));
        curves.flatten()
    };
    let volumes = vessels().map(|one| (&one.id, vessel::storage(one).volume_m3(one.rim_m)));
    let ends = curves().filter_map(|(id, curve)| Some((id, curve.end_of_curve_m3_s()?)));
    let found = [
        noted(
            &BORE_KIND,
            runs().map(|(run, facts)| (&run.id, facts.bore_m)),
        ),
        noted(
            &LENGTH_KIND,
            runs().map(|(run, facts)| (&run.id, facts.length_m)),
        ),
        noted(&VOLUME_KIND, volumes),
        noted(&RIM_KIND, vessels().map(|one| (&one.id, one.rim_m))),
        noted(&FLOW_IN_KIND, flows_in(layout)),
        noted(&PUMP_FLOW_KIND, ends),
        noted(
            &PUMP_HEAD_KIND,
            curves().map(|(id, curve)| (id, curve.shut_off_head_m())),
        ),
    ];
    out.extend(found.into_iter().flatten());
    out.extend(wider(layout, facts));
}

fn flows_in(layout: &Layout) -> impl Iterator<Item = Number<'_>> {
    let joints = layout.joints.iter().map(|one| (&one.id, one.make_up_m3_s));
    let vessels = layout.vessels.iter().map(|one| {
        let float_m3_s = one.float_valve.map_or(0.0, |valve| valve.flow_m3_s);
        (&one.id, one.make_up_m3_s.abs().max(float_m3_s))
    });
    vessels.chain(joints)
}

/// The note on one kind: the largest number, and how many others exceed the limit. The limit itself is allowed.
fn noted<'a>(kind: &NumberKind, numbers: impl Iterator<Item = Number<'a>>) -> Option<Finding> {
    let mut over: Vec<Number> = numbers
        .filter(|(_, value)| value.is_finite() && value.abs() > kind.limit)
        .collect();
    over.sort_by(|a, b| b.1.abs().total_cmp(&a.1.abs()));
    let (id, value) = *over.first()?;
    let [before, between] = kind.words;
    let mut text = vec![
        before.into(),
        id.into(),
        between.into(),
        Piece::Number(kind.quantity, value),
    ];
    text.extend(others(over.len() - 1));
    text.push(". Is this meant?".into());
    let about: Vec<&Id> = over.iter().map(|(id, _)| *id).collect();
    Some(note(&about, text, (kind.quantity, value, kind.limit)))
}

fn others(count: usize) -> Option<Piece> {
    match count {
        0 => None,
        1 => Some(", and one other is as large".into()),
        _ => Some(format!(", and {count} others are as large").into()),
    }
}

/// Pipes that are wider than a vessel they end at.
fn wider<'a>(layout: &'a Layout, facts: &'a [RunFacts]) -> impl Iterator<Item = Finding> + 'a {
    let vessels: HashMap<&Id, &Vessel> = layout.vessels.iter().map(|one| (&one.id, one)).collect();
    let runs = layout.runs.iter().zip(facts);
    let ends =
        runs.flat_map(|(run, facts)| [&run.from, &run.to].map(|end| (run, facts.bore_m, &end.at)));
    ends.filter_map(move |(run, bore_m, at)| {
        let width_m = width_m(vessels.get(at)?);
        (bore_m > width_m).then(|| {
            let text = vec![
                "The pipe of ".into(),
                (&run.id).into(),
                " is wider than ".into(),
                at.into(),
                ": its bore is ".into(),
                Piece::Number(Quantity::Bore, bore_m),
                ". Is this meant?".into(),
            ];
            note(&[&run.id, at], text, (Quantity::Bore, bore_m, width_m))
        })
    })
}

/// The widest pipe that fits into a vessel from above, metres; where only an area is known, for the circle of that
/// area.
fn width_m(vessel: &Vessel) -> f64 {
    let (length_m, width_m) = vessel.shape.footprint_m();
    match vessel.shape {
        Shape::Prism { .. } | Shape::Table { .. } => 2.0 * width_m / PI.sqrt(),
        _ => length_m.min(width_m),
    }
}

fn note(about: &[&Id], text: Vec<Piece>, held_to: (Quantity, f64, f64)) -> Finding {
    let mut found = findings::finding((Code::IsThisMeant, Severity::Note), about, text);
    let (quantity, value, limit) = held_to;
    found.quantity = quantity;
    found.measured = Some(value);
    found.limit = Some(limit).filter(|limit| limit.is_finite());
    let cure = "Check the unit and the decimal point. If the number is right, leave it.";
    found.cures.push(findings::advice(vec![cure.into()]));
    found
}
