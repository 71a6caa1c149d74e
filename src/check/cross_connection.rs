//! Reports drinking water whose mouth is below a rim, under water, or closer above the rim than the usual air gap.

use super::real_level::highest_m;
use super::state_view::{PipedRun, SAME_HEIGHT_M, StateView, under};
use super::wording::{finding, height, when, with_limit};
use crate::finding::{Code, Finding, Piece, Severity};
use crate::layout::{End, Id, Opening};
use crate::state::State;
use crate::units::Quantity;
use std::collections::HashSet;

/// Smallest air gap over the rim, in bores of the mouth [@epa-cross-connection], [@en-1717].
pub(crate) const AIR_GAP_BORES: f64 = 2.0;
/// Smallest air gap however narrow the mouth is, metres: an inch [@epa-cross-connection], which is more than the
/// 20 mm of [@en-1717].
pub(crate) const LEAST_AIR_GAP_M: f64 = 0.0254;

pub(super) fn find(seen: &StateView<'_>) -> Vec<Finding> {
    let mouths = mouths(seen);
    mouths
        .iter()
        .filter_map(|one| of_mouth(seen, one))
        .collect()
}

/// Height of a mouth, as far as the layout gives it.
#[derive(Clone, Copy)]
enum MouthHeight {
    /// Elevation of its lowest point, metres.
    At(f64),
    /// Drawn as under water, or with no opening.
    InWater,
    /// Not given in the layout.
    NotSaid,
}

/// Outlet of drinking water.
struct WaterMouth<'a> {
    /// Vessel or fixed level that it fills.
    at: &'a Id,
    /// Run that ends there; none where the water does not come by a run.
    run: Option<&'a Id>,
    /// Words for the outlet, for the middle of a sentence.
    what: Vec<Piece>,
    /// Part that the drinking water comes from; none where that is not a part of the layout.
    source: Option<&'a Id>,
    /// Flood level, metres, and the words for it.
    flood: (f64, &'static str),
    stands: MouthHeight,
    /// Usual air gap over the flood level, metres.
    gap_m: f64,
}

fn mouths<'a>(seen: &StateView<'a>) -> Vec<WaterMouth<'a>> {
    let mut all = Vec::new();
    let stands = |outlet_m: Option<f64>| outlet_m.map_or(MouthHeight::NotSaid, MouthHeight::At);
    for vessel in &seen.layout.vessels {
        let mouth = |what: &str, outlet_m| WaterMouth {
            at: &vessel.id,
            run: None,
            what: vec![what.into(), (&vessel.id).into()],
            source: None,
            flood: (vessel.rim_m, "the rim"),
            stands: stands(outlet_m),
            gap_m: LEAST_AIR_GAP_M,
        };
        let valve = vessel.float_valve.filter(|valve| valve.drinking_water);
        all.extend(valve.map(|valve| mouth("the float valve of ", valve.outlet_m)));
        if vessel.make_up_drinking_water && vessel.make_up_m3_s > 0.0 {
            all.push(mouth("the make-up of ", vessel.make_up_outlet_m));
        }
    }
    let fixed = seen.layout.fixed.iter().filter(|one| one.drinking_water);
    let joints = seen.layout.joints.iter();
    let joints = joints.filter(|one| one.make_up_drinking_water && one.make_up_m3_s > 0.0);
    for source in fixed.map(|one| &one.id).chain(joints.map(|one| &one.id)) {
        let ends = ends(seen, source);
        all.extend(ends.into_iter().filter_map(|end| of_end(seen, source, end)));
    }
    all
}

/// Returns the ends at vessels and other fixed levels that pipes lead to from `source`. Shut valves and check valves
/// are passed through: neither is an air gap.
fn ends<'a>(seen: &StateView<'a>, source: &'a Id) -> Vec<(PipedRun<'a>, usize)> {
    let is_joint = |part: &Id| seen.layout.joints.iter().any(|joint| joint.id == *part);
    let mut done: HashSet<&Id> = HashSet::new();
    let mut gone: HashSet<&Id> = HashSet::new();
    let mut found = Vec::new();
    let mut next = vec![source];
    while let Some(part) = next.pop() {
        if !done.insert(part) {
            continue;
        }
        for run in seen.meeting(part) {
            if !gone.insert(&run.drawn.id) {
                continue;
            }
            let far = usize::from(run.end(0) == part);
            let at = run.end(far);
            match is_joint(at) {
                true => next.push(at),
                false if at != source => found.push((*run, far)),
                false => {}
            }
        }
    }
    found
}

fn of_end<'a>(
    seen: &StateView<'a>,
    source: &'a Id,
    (run, end): (PipedRun<'a>, usize),
) -> Option<WaterMouth<'a>> {
    let drawn: &End = if end == 0 {
        &run.drawn.from
    } else {
        &run.drawn.to
    };
    let at = run.end(end);
    let mut vessels = seen.layout.vessels.iter();
    let mut fixed = seen.layout.fixed.iter();
    let (flood, floor_m) = match vessels.find(|one| one.id == *at) {
        Some(vessel) => ((vessel.rim_m, "the rim"), vessel.floor_m),
        None => {
            let other = fixed.find(|one| one.id == *at && !one.drinking_water)?;
            ((other.level_m, "the level"), f64::NEG_INFINITY)
        }
    };
    let stands = match &drawn.opening {
        None | Some(Opening::Submerged { .. }) => MouthHeight::InWater,
        Some(Opening::RaisedIntake { intake_m, .. }) => MouthHeight::At(*intake_m),
        Some(opening) => MouthHeight::At(opening.crest_m().unwrap_or(floor_m)),
    };
    let bore_m = drawn.opening.as_ref().and_then(Opening::bore_m);
    let bore_m = bore_m.unwrap_or(run.facts.bore_m);
    Some(WaterMouth {
        at,
        run: Some(&run.drawn.id),
        what: vec![
            "the end of ".into(),
            (&run.drawn.id).into(),
            " in ".into(),
            at.into(),
        ],
        source: Some(source),
        flood,
        stands,
        gap_m: LEAST_AIR_GAP_M.max(AIR_GAP_BORES * bore_m),
    })
}

/// Returns the finding for one mouth. What the drawing alone shows is reported only in the state *running*.
fn of_mouth(seen: &StateView<'_>, mouth: &WaterMouth<'_>) -> Option<Finding> {
    let once = seen.report.state == State::Running;
    let (flood_m, flood) = mouth.flood;
    let wanted_m = flood_m + mouth.gap_m;
    let level_m = level_m(seen, mouth.at);
    match mouth.stands {
        MouthHeight::NotSaid if once => Some(not_said(seen, mouth)),
        MouthHeight::InWater if once => {
            let text = vec![" is under water: there is no air gap".into()];
            Some(problem(seen, mouth, text))
        }
        MouthHeight::At(mouth_m) if mouth_m < flood_m - SAME_HEIGHT_M && once => {
            let mut text = vec![" is at ".into(), height(mouth_m), ", under ".into()];
            text.extend([flood.into(), " at ".into(), height(flood_m)]);
            let found = problem(seen, mouth, text);
            Some(with_limit(found, Quantity::Height, (mouth_m, wanted_m)))
        }
        MouthHeight::At(mouth_m) if mouth_m >= flood_m - SAME_HEIGHT_M => {
            let drowned = level_m.filter(|level_m| *level_m > mouth_m + SAME_HEIGHT_M);
            if let Some(level_m) = drowned {
                let mut text = vec![" is under water".into(), when(seen.report.state).into()];
                text.extend([": it is at ".into(), height(mouth_m)]);
                text.extend([" and the level at ".into(), height(level_m)]);
                let found = problem(seen, mouth, text);
                return Some(with_limit(found, Quantity::Height, (mouth_m, level_m)));
            }
            let short = once && under(mouth_m - flood_m, mouth.gap_m - SAME_HEIGHT_M);
            short.then(|| little(seen, mouth, mouth_m))
        }
        _ => None,
    }
}

/// Highest level at a part in this state, with walls as built, metres.
fn level_m(seen: &StateView<'_>, at: &Id) -> Option<f64> {
    match seen.vessel(at) {
        Some(held) => highest_m(seen, held),
        None => seen.head_m(at),
    }
}

fn about<'a>(mouth: &WaterMouth<'a>) -> Vec<&'a Id> {
    let parts = [Some(mouth.at), mouth.run, mouth.source];
    parts.into_iter().flatten().collect()
}

/// Returns the start of every sentence: “Drinking water”, its source, and where it comes out.
fn begun(mouth: &WaterMouth<'_>) -> Vec<Piece> {
    let mut text: Vec<Piece> = vec!["Drinking water".into()];
    if let Some(source) = mouth.source {
        text.extend([" from ".into(), source.into()]);
    }
    text.push(": ".into());
    text.extend(mouth.what.iter().cloned());
    text
}

const WHO_DECIDES: &str = " Local code and a licensed plumber decide what must keep them apart.";

fn problem(seen: &StateView<'_>, mouth: &WaterMouth<'_>, middle: Vec<Piece>) -> Finding {
    let mut text = begun(mouth);
    text.extend(middle);
    text.push(
        ". When the pressure of the supply falls, used water can be drawn back into it.".into(),
    );
    text.extend(usual(mouth));
    text.push(WHO_DECIDES.into());
    let kind = (Code::CrossConnection, Severity::Problem);
    finding(seen, kind, &about(mouth), text)
}

fn little(seen: &StateView<'_>, mouth: &WaterMouth<'_>, mouth_m: f64) -> Finding {
    let (flood_m, flood) = mouth.flood;
    let mut text = begun(mouth);
    text.extend([" is ".into(), height((mouth_m - flood_m).max(0.0))]);
    text.extend([" over ".into(), flood.into(), ".".into()]);
    text.extend(usual(mouth));
    text.push(WHO_DECIDES.into());
    let kind = (Code::CrossConnection, Severity::Warning);
    let found = finding(seen, kind, &about(mouth), text);
    with_limit(found, Quantity::Height, (mouth_m, flood_m + mouth.gap_m))
}

fn not_said(seen: &StateView<'_>, mouth: &WaterMouth<'_>) -> Finding {
    let mut text = begun(mouth);
    text.push(" has no height in the layout, so that its air gap is not known.".into());
    text.extend(usual(mouth));
    text.push(WHO_DECIDES.into());
    let kind = (Code::CrossConnection, Severity::Warning);
    finding(seen, kind, &about(mouth), text)
}

/// Returns a sentence that gives the usual air gap.
fn usual(mouth: &WaterMouth<'_>) -> Vec<Piece> {
    vec![
        " The usual air gap is twice the bore of the mouth over ".into(),
        mouth.flood.1.into(),
        ", here at least ".into(),
        height(mouth.gap_m),
        ".".into(),
    ]
}
