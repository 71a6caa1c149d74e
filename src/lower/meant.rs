//! Numbers so large that they may be unit errors.
//!
//! Each limit is a choice, beyond what is built by hand; `docs/findings/is-this-meant.md` lists them.

use super::problem::{LargeNumber, Problem};
use super::{RunFacts, vessel};
use crate::layout::{Id, Layout, Shape, Vessel};
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

/// Adds a problem for every kind of such numbers in the drawing. `facts`: of each run, in the order of the layout.
pub(super) fn problems(layout: &Layout, facts: &[RunFacts], out: &mut Vec<Problem>) {
    let vessels = || layout.vessels.iter();
    let runs = || layout.runs.iter().zip(facts);
    let curves = || {
        let curves = runs().map(|(run, facts)| Some((&run.id, facts.pump_curve.as_ref()?)));
        curves.flatten()
    };
    let bores = runs().map(|(run, facts)| (&run.id, facts.bore_m));
    let lengths = runs().map(|(run, facts)| (&run.id, facts.length_m));
    let volumes = vessels().map(|one| (&one.id, vessel::storage(one).volume_m3(one.rim_m)));
    let rims = vessels().map(|one| (&one.id, one.rim_m));
    let ends = curves().filter_map(|(id, curve)| Some((id, curve.end_of_curve_m3_s()?)));
    let heads = curves().map(|(id, curve)| (id, curve.shut_off_head_m()));
    let found = [
        largest(LargeNumber::Bore, BORE_M, bores),
        largest(LargeNumber::Length, LENGTH_M, lengths),
        largest(LargeNumber::Volume, VOLUME_M3, volumes),
        largest(LargeNumber::Rim, RIM_M, rims),
        largest(LargeNumber::MakeUp, FLOW_M3_S, flows_in(layout)),
        largest(LargeNumber::PumpFlow, FLOW_M3_S, ends),
        largest(LargeNumber::PumpHead, PUMP_HEAD_M, heads),
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

/// The parts whose number exceeds the limit, largest first. The limit itself is allowed.
fn largest<'a>(
    number: LargeNumber,
    limit: f64,
    numbers: impl Iterator<Item = Number<'a>>,
) -> Option<Problem> {
    let mut over: Vec<Number> = numbers
        .filter(|(_, value)| value.is_finite() && value.abs() > limit)
        .collect();
    over.sort_by(|a, b| b.1.abs().total_cmp(&a.1.abs()));
    let (_, value) = *over.first()?;
    Some(Problem::LargeNumber {
        number,
        parts: over.iter().map(|(id, _)| (*id).clone()).collect(),
        value,
        limit,
    })
}

/// Pipes that are wider than a vessel they end at.
fn wider<'a>(layout: &'a Layout, facts: &'a [RunFacts]) -> impl Iterator<Item = Problem> + 'a {
    let vessels: HashMap<&Id, &Vessel> = layout.vessels.iter().map(|one| (&one.id, one)).collect();
    let runs = layout.runs.iter().zip(facts);
    let ends =
        runs.flat_map(|(run, facts)| [&run.from, &run.to].map(|end| (run, facts.bore_m, &end.at)));
    ends.filter_map(move |(run, bore_m, at)| {
        let width_m = width_m(vessels.get(at)?);
        (bore_m > width_m).then(|| Problem::WiderThanVessel {
            run: run.id.clone(),
            vessel: at.clone(),
            bore_m,
            width_m,
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
