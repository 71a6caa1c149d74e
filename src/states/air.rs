//! Air at the high points of runs in a state.

use super::report::RunAir;
use super::runs::RunBetweenLevels;
use crate::network::{RunLaw, Sense};

/// The effect of air in a run, between the levels at its ends; none where it has no high point that can hold any.
pub(super) fn report(here: &RunBetweenLevels<'_>) -> Option<RunAir> {
    let sense = sense(here);
    let grade = here.law.grade_with_air(sense)?;
    let [upstream_m, downstream_m] = sense.along(here.levels);
    let flow = here.flow.abs();
    let course = grade.profile();
    let [_, inside_m] = here.inside();
    let air = course.air(flow, inside_m)?;
    let primed = RunLaw {
        primed: true,
        ..here.law.clone()
    };
    let full = primed.flow(here.levels[0], here.levels[1], here.flow);
    let missing_head_m = if flow > super::NO_FLOW_M3_S {
        let with_air_m = here.law.required_head(sense, flow, downstream_m).head_m;
        with_air_m - primed.required_head(sense, flow, downstream_m).head_m
    } else {
        // The sum over all high points in series, each with its air.
        here.law.threshold(sense, downstream_m).head_m - upstream_m
    };
    let from_outlet_m = course.length_to_m(air.at.boundary);
    let ends_at_to = (sense == Sense::Forward) != here.facts.reversed;
    Some(RunAir {
        primed: here.law.primed,
        high_m: air.at.invert_m,
        distance_m: if ends_at_to {
            course.length_m() - from_outlet_m
        } else {
            from_outlet_m
        },
        shut_in: air.shut_in,
        full_flow_m3_s: here.facts.as_drawn(full),
        missing_head_m: missing_head_m.max(0.0),
    })
}

/// Direction in which its water flows, or would flow.
fn sense(here: &RunBetweenLevels<'_>) -> Sense {
    if here.flow.abs() > super::NO_FLOW_M3_S {
        return here.sense();
    }
    match &here.law.pump {
        Some(pump) if pump.backward => Sense::Backward,
        Some(_) => Sense::Forward,
        None if here.levels[1] > here.levels[0] => Sense::Backward,
        None => Sense::Forward,
    }
}
