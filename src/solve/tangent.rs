//! Linearisation of a link at the present levels and flow.

use super::pressurised::TRICKLE_M3_S;
use crate::network::{FlowControl, Link, RunLaw, Sense};

/// Relative rounding of a level.
pub(super) const LEVEL_ROUNDING: f64 = 2.0 * f64::EPSILON;
/// Largest flow of a linearisation about zero that counts as none, as a multiple of the trickle.
pub(super) const NEXT_TO_NOTHING: f64 = 10.0;

/// Flow ≈ `flow` + `by_source`·δH(source) + `by_target`·δH(target), with the residual of the law here.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Tangent {
    pub flow: f64,
    pub by_source: f64,
    pub by_target: f64,
    /// Residual of the energy equation at the base flow, metres; 0 where that equation does not limit the flow.
    pub energy_m: f64,
    /// Direction of flow that the linearisation is for; none without flow.
    pub sense: Option<Sense>,
    /// The linearisation may carry the flow through 0.
    pub two_way: bool,
    /// Linearised in the level over an edge, not in the flow.
    pub over_edge: bool,
    /// Flow that corresponds to the last digit of the levels, m³/s: of that over an edge, or of those at both ends.
    pub last_digit: f64,
    /// What limits the flow on this linearisation: its flow control.
    pub held: FlowControl,
}

/// Linearises `link` at the levels `source_m`, `target_m` and the flow `base`.
pub(crate) fn linearise(link: &Link, levels: [f64; 2], base: f64) -> Tangent {
    match link {
        Link::Rim(rim) => {
            let spill = rim.flow(levels[0]);
            let held = if spill.value > 0.0 {
                FlowControl::Inlet
            } else {
                FlowControl::Nothing
            };
            Tangent {
                flow: spill.value,
                by_source: spill.derivative,
                held,
                sense: Some(Sense::Forward),
                ..Tangent::default()
            }
        }
        Link::Run(run) => about_run(run, levels, base),
    }
}

/// An open run is judged by its flow and a closed one by its levels: an open run stays on its
/// linearisation, whatever the intermediate levels, until that itself takes its flow below 0.
fn about_run(run: &RunLaw, levels: [f64; 2], base: f64) -> Tangent {
    if base != 0.0 {
        let sense = if base > 0.0 {
            Sense::Forward
        } else {
            Sense::Backward
        };
        if run.allows(sense) {
            return about_flow(run, sense, sense.along(levels), base.abs());
        }
    }
    for sense in [Sense::Forward, Sense::Backward] {
        let ends = sense.along(levels);
        let (flow, _) = run.one_way(sense, ends, base.abs());
        if flow > TRICKLE_M3_S && !is_shut_to_the_last_digit(run, sense, ends) {
            // The run is closed and should be open: the law is not satisfied here.
            let energy_m = f64::INFINITY;
            return Tangent {
                energy_m,
                ..about_flow(run, sense, ends, flow)
            };
        }
    }
    still(run, levels)
}

/// Whether the head above the opening head of a run is within the last digits of the levels. Where almost no head
/// moves much water, as in a loop of pumps far from the datum, no representable levels would close the run exactly.
fn is_shut_to_the_last_digit(run: &RunLaw, sense: Sense, ends: [f64; 2]) -> bool {
    let [upstream, downstream] = ends;
    let opens_m = run.threshold(sense, downstream).head_m;
    upstream - opens_m <= last_digit_m(ends)
}

/// The rounding of two levels together, metres.
pub(super) fn last_digit_m(levels: [f64; 2]) -> f64 {
    LEVEL_ROUNDING * (levels[0].abs() + levels[1].abs())
}

/// Whether the law continues through zero flow: both ends submerged, and free in both directions.
fn runs_through_zero(run: &RunLaw, levels: [f64; 2]) -> bool {
    run.raised.is_none()
        && run.allows(Sense::Forward)
        && run.allows(Sense::Backward)
        && (0..2).all(|end| levels[end] > run.ends[end].opens_m())
        && run.threshold(Sense::Forward, levels[1]).is_level
        && run.threshold(Sense::Backward, levels[0]).is_level
}

fn still(run: &RunLaw, levels: [f64; 2]) -> Tangent {
    if !runs_through_zero(run, levels) {
        return Tangent::default();
    }
    let need = run.required_head(Sense::Forward, 0.0, levels[1]);
    let error = levels[0] - need.head_m;
    let slope = 1.0 / need.by_flow;
    // Equal levels on a full run: the derivative at zero keeps the two ends coupled.
    Tangent {
        flow: error * slope,
        by_source: slope,
        by_target: -slope,
        energy_m: error,
        two_way: true,
        sense: Some(Sense::Forward),
        over_edge: false,
        last_digit: slope * last_digit_m(levels),
        held: FlowControl::Outlet,
    }
}

fn about_flow(run: &RunLaw, sense: Sense, [upstream, downstream]: [f64; 2], base: f64) -> Tangent {
    let (need, held) = run.required_head_with_screen(sense, base, downstream);
    if held == FlowControl::Inlet
        && need.by_flow * base <= need.head_m - run.intake_m(sense)
        && let Some(line) = over_edge(run, sense, upstream)
    {
        return line;
    }
    let error = upstream - need.head_m;
    let slope = 1.0 / need.by_flow;
    let two_way =
        held == FlowControl::Outlet && runs_through_zero(run, sense.along([upstream, downstream]));
    let rest = Tangent {
        energy_m: error,
        two_way,
        held,
        last_digit: slope * last_digit_m([upstream, downstream]),
        ..Tangent::default()
    };
    signed(
        sense,
        base + error * slope,
        slope,
        -slope * need.by_level,
        rest,
    )
}

/// Linearisation of an inlet in its level instead of its flow: over an edge the flow grows faster
/// than the head, smoothly from nothing, and a linearisation in the level converges. None for a
/// submerged inlet, which behaves the other way round.
fn over_edge(run: &RunLaw, sense: Sense, upstream: f64) -> Option<Tangent> {
    let capacity = run.capacity(sense, upstream);
    if capacity.value <= 0.0 {
        return Some(Tangent::default());
    }
    let head = upstream - run.intake_m(sense);
    (capacity.derivative * head >= capacity.value).then(|| {
        let rest = Tangent {
            held: FlowControl::Inlet,
            over_edge: true,
            last_digit: capacity.derivative * LEVEL_ROUNDING * upstream.abs(),
            ..Tangent::default()
        };
        signed(sense, capacity.value, capacity.derivative, 0.0, rest)
    })
}

fn signed(sense: Sense, flow: f64, by_upstream: f64, by_downstream: f64, rest: Tangent) -> Tangent {
    let rest = Tangent {
        sense: Some(sense),
        ..rest
    };
    match sense {
        Sense::Forward => Tangent {
            flow,
            by_source: by_upstream,
            by_target: by_downstream,
            ..rest
        },
        Sense::Backward => Tangent {
            flow: -flow,
            by_source: -by_downstream,
            by_target: -by_upstream,
            ..rest
        },
    }
}
