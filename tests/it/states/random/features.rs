//! What a layout has, so that the generator cannot grow tame unseen.

use fallwright::evaluate::Evaluation;
use fallwright::finding::Code;
use fallwright::layout::{
    CurveForm, Direction, End, Id, Layout, Opening, Pipe, Run, Screen, Shape, Turned, Vent,
};
use fallwright::state::State;
use std::collections::HashMap;

/// Every feature with the least share of layouts that must have it.
pub const LEAST_SHARES: [(&str, f64); 47] = [
    ("loop", 0.30),
    ("joint runs dry", 0.10),
    ("pump", 0.60),
    ("equaliser", 0.15),
    ("parallel drains", 0.15),
    ("unconnected pieces", 0.10),
    ("crest over its rim", 0.10),
    ("end under a floor", 0.05),
    ("lift beyond the pump", 0.015),
    ("kilometres", 0.01),
    ("manifold", 0.15),
    ("tee", 0.15),
    ("valve partly shut", 0.30),
    ("valve shut", 0.05),
    ("check valve", 0.40),
    ("check valve against the flow", 0.10),
    ("air gap", 0.30),
    ("notch", 0.15),
    ("no pipe", 0.15),
    ("raised intake, vented", 0.10),
    ("raised intake, unvented", 0.05),
    ("siphon break", 0.15),
    ("float valve", 0.20),
    ("float switch", 0.08),
    ("screen", 0.20),
    ("guard on the lip", 0.03),
    ("cage", 0.03),
    ("small screen", 0.03),
    ("equipment", 0.20),
    ("profile", 0.15),
    ("cone", 0.25),
    ("drum", 0.25),
    ("pond", 0.25),
    ("medium", 0.35),
    ("tiny vessel", 0.02),
    ("great flow", 0.02),
    ("make-up", 0.15),
    ("draw-off", 0.10),
    ("fixed level", 0.20),
    ("spill caught", 0.20),
    ("rain", 0.02),
    ("pump drawn backward", 0.04),
    ("bought pipe", 0.15),
    ("30 vessels or more", 0.05),
    ("spills", 0.15),
    ("never still", 0.01),
    ("pump starved or dry", 0.05),
];

/// The features of a layout; some are read off its solution.
pub fn of(layout: &Layout, found: &Evaluation) -> Vec<&'static str> {
    let mut list = Vec::new();
    let mut has = |name, yes| {
        if yes {
            list.push(name);
        }
    };
    whole(layout, &mut has);
    vessels(layout, &mut has);
    runs(layout, &mut has);
    solved(found, &mut has);
    list
}

type Has<'a> = &'a mut dyn FnMut(&'static str, bool);

/// Rings and pieces of the graph; a run that a pump pushes closes no ring, two runs side by side neither.
fn whole(layout: &Layout, has: Has<'_>) {
    let vessels = layout.vessels.iter().map(|part| &part.id);
    let joints = layout.joints.iter().map(|part| &part.id);
    let fixed = layout.fixed.iter().map(|part| &part.id);
    let place: HashMap<&Id, usize> = vessels
        .chain(joints)
        .chain(fixed)
        .enumerate()
        .map(|(at, id)| (id, at))
        .collect();
    let ends = |run: &Run| {
        let (a, b) = (place[&run.from.at], place[&run.to.at]);
        (a.min(b), a.max(b))
    };
    let unpumped = layout.runs.iter().filter(|run| run.pump.is_none());
    let mut pairs: Vec<(usize, usize)> = unpumped.map(ends).filter(|(a, b)| a != b).collect();
    pairs.sort_unstable();
    let distinct = {
        let mut once = pairs.clone();
        once.dedup();
        once
    };
    has("parallel drains", distinct.len() < pairs.len());
    let ring = distinct.len() + pieces(place.len(), &distinct) > place.len();
    has("loop", ring);
    let all: Vec<(usize, usize)> = layout.runs.iter().map(ends).collect();
    has("unconnected pieces", pieces(place.len(), &all) > 1);
}

fn pieces(nodes: usize, pairs: &[(usize, usize)]) -> usize {
    let mut group: Vec<usize> = (0..nodes).collect();
    for _ in 0..nodes {
        let mut moved = false;
        for &(a, b) in pairs {
            let least = group[a].min(group[b]);
            moved |= group[a] != least || group[b] != least;
            (group[a], group[b]) = (least, least);
        }
        if !moved {
            break;
        }
    }
    group
        .iter()
        .enumerate()
        .filter(|(at, group)| at == *group)
        .count()
}

fn vessels(layout: &Layout, has: Has<'_>) {
    let any = |what: &dyn Fn(&fallwright::layout::Vessel) -> bool| layout.vessels.iter().any(what);
    has(
        "cone",
        any(&|one| matches!(one.shape, Shape::ConeBottom { .. })),
    );
    has(
        "drum",
        any(&|one| matches!(one.shape, Shape::LyingDrum { .. })),
    );
    has("pond", any(&|one| matches!(one.shape, Shape::Table { .. })));
    has("medium", any(&|one| one.medium.is_some()));
    has(
        "tiny vessel",
        any(&|one| matches!(one.shape, Shape::Prism { area_m2 } if area_m2 < 0.011)),
    );
    has("great flow", any(&|one| one.make_up_m3_s > 0.02));
    has("make-up", any(&|one| one.make_up_m3_s > 0.0));
    let drawn = layout.joints.iter().any(|joint| joint.make_up_m3_s < 0.0);
    has("draw-off", drawn || any(&|one| one.make_up_m3_s < 0.0));
    has("float valve", any(&|one| one.float_valve.is_some()));
    has("spill caught", any(&|one| one.spills_to.is_some()));
    has("kilometres", any(&|one| one.floor_m.abs() > 250.0));
    has("fixed level", !layout.fixed.is_empty());
    has("rain", layout.weather.rain_m_s > 0.0);
    has("30 vessels or more", layout.vessels.len() >= 30);
}

fn runs(layout: &Layout, has: Has<'_>) {
    let any = |what: &dyn Fn(&Run) -> bool| layout.runs.iter().any(what);
    let opening = |what: &dyn Fn(&Opening) -> bool| {
        any(&|run| {
            [&run.from, &run.to]
                .iter()
                .any(|end| end.opening.as_ref().is_some_and(what))
        })
    };
    has("pump", any(&|run| run.pump.is_some()));
    has(
        "pump drawn backward",
        any(&|run| {
            run.pump
                .as_ref()
                .is_some_and(|pump| pump.pushes == Direction::Backward)
        }),
    );
    has(
        "float switch",
        any(&|run| run.pump.as_ref().is_some_and(|pump| pump.float.is_some())),
    );
    has(
        "equaliser",
        any(&|run| run.pump.is_none() && [&run.from, &run.to].iter().all(|end| low(layout, end))),
    );
    has(
        "valve partly shut",
        any(&|run| run.valves.iter().any(|valve| is_part(valve.opening))),
    );
    has(
        "valve shut",
        any(&|run| run.valves.iter().any(|valve| valve.opening == 0.0)),
    );
    has("check valve", any(&|run| run.check_valve.is_some()));
    has(
        "check valve against the flow",
        any(&|run| {
            run.check_valve == Some(Direction::Backward)
                && run
                    .pump
                    .as_ref()
                    .is_none_or(|pump| pump.pushes == Direction::Forward)
        }),
    );
    has("no pipe", any(&|run| run.pipe == Pipe::Open));
    has(
        "bought pipe",
        any(&|run| matches!(run.pipe, Pipe::Bought { .. })),
    );
    has("siphon break", any(&|run| run.siphon_break.is_some()));
    let screen =
        |is: &dyn Fn(&Screen) -> bool| any(&|run| run.from.screen.as_ref().is_some_and(is));
    has("screen", screen(&|_| true));
    has("guard on the lip", screen(&|one| one.on_the_lip));
    has("cage", screen(&|one| one.foot_m.is_some()));
    has("small screen", screen(&|one| one.area_m2 < 0.01));
    has("equipment", any(&|run| !run.equipment.is_empty()));
    has("profile", any(&|run| !run.route.is_empty()));
    has(
        "notch",
        opening(&|one| matches!(one, Opening::Notch { .. })),
    );
    has(
        "air gap",
        opening(&|one| matches!(one, Opening::Mouth { air_gap: true, .. })),
    );
    has(
        "raised intake, vented",
        opening(&|one| matches!(one, Opening::RaisedIntake { vent, .. } if *vent != Vent::Shut)),
    );
    has(
        "raised intake, unvented",
        opening(&|one| {
            matches!(
                one,
                Opening::RaisedIntake {
                    vent: Vent::Shut,
                    ..
                }
            )
        }),
    );
    heights(layout, has);
    joints(layout, has);
}

fn is_part(opening: f64) -> bool {
    opening > 0.0 && opening < 1.0
}

/// Under water for good, or low in its vessel.
fn low(layout: &Layout, end: &End) -> bool {
    let Some(vessel) = layout.vessel(&end.at) else {
        return false;
    };
    match end.opening {
        Some(Opening::Submerged { lip_m: None, .. }) => true,
        Some(
            Opening::SideHole {
                invert_m: lip_m, ..
            }
            | Opening::Mouth {
                lip_m,
                turned: Turned::Horizontal,
                ..
            },
        ) => lip_m < vessel.floor_m + 0.1,
        _ => false,
    }
}

fn heights(layout: &Layout, has: Has<'_>) {
    let at = |end: &End| {
        let vessel = layout.vessel(&end.at)?;
        Some((
            end.opening.as_ref()?.crest_m()?,
            vessel.floor_m,
            vessel.rim_m,
        ))
    };
    let over = |run: &Run| at(&run.from).is_some_and(|(lip, _, rim)| lip > rim);
    let under = |run: &Run| at(&run.to).is_some_and(|(lip, floor, _)| lip < floor);
    let beyond = |run: &Run| {
        let Some(pump) = run.pump.as_ref() else {
            return false;
        };
        let most_m = match &pump.curve {
            CurveForm::Power { h0_m, .. } => *h0_m,
            CurveForm::Label { largest_head_m, .. } => *largest_head_m,
            CurveForm::Points(points) => points.iter().fold(0.0, |most, one| one.head_m.max(most)),
        };
        let (low, high) = match pump.pushes {
            Direction::Forward => (&run.from, &run.to),
            Direction::Backward => (&run.to, &run.from),
        };
        let rim = layout.vessel(&low.at).map(|one| one.rim_m);
        let floor = layout.vessel(&high.at).map(|one| one.floor_m);
        matches!((rim, floor), (Some(rim), Some(floor)) if floor > rim + most_m)
    };
    has("crest over its rim", layout.runs.iter().any(over));
    has("end under a floor", layout.runs.iter().any(under));
    has("lift beyond the pump", layout.runs.iter().any(beyond));
}

fn joints(layout: &Layout, has: Has<'_>) {
    let at = |run: &Run, id: &Id| run.from.at == *id || run.to.at == *id;
    let fed = |id: &Id| {
        layout
            .runs
            .iter()
            .any(|run| at(run, id) && run.pump.is_some())
    };
    has("manifold", layout.joints.iter().any(|joint| fed(&joint.id)));
    let tee = |id: &Id| layout.runs.iter().filter(|run| at(run, id)).count() >= 3 && !fed(id);
    has("tee", layout.joints.iter().any(|joint| tee(&joint.id)));
}

/// Read off the solution.
fn solved(found: &Evaluation, has: Has<'_>) {
    let running = found.state(State::Running);
    let dry = |one: &fallwright::states::report::StateReport| {
        one.joints.iter().any(|joint| joint.head_m.is_none())
    };
    has("joint runs dry", running.is_some_and(dry));
    has(
        "never still",
        running.is_some_and(|one| one.cycle.is_some()),
    );
    let told = |codes: &[Code]| found.findings.iter().any(|one| codes.contains(&one.code));
    has("spills", told(&[Code::Spills]));
    has(
        "pump starved or dry",
        told(&[Code::PumpStarved, Code::PumpRunsDry, Code::StarvesAtStart]),
    );
}
