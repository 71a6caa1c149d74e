//! Reports a level over the rim with its cause and what is lost, and a vessel that fills without end.

use super::blame::{Blame, Crest, blame};
use super::runs_back::{sum_m3, sumps};
use super::state_view::SMALLEST_SHOWN_M;
use super::state_view::{SAME_HEIGHT_M, StateView, TRICKLE_M3_S, VesselSeen};
use super::wording::{finding, flow, head, height, time, volume, when, with_limit};
use crate::finding::{Code, Finding, Piece, Severity};
use crate::layout::Id;
use crate::layout::RunEnd;
use crate::state::State;
use crate::units::Quantity;

pub(super) fn find(seen: &StateView<'_>) -> Vec<Finding> {
    let told = seen.vessels.iter().filter_map(|held| match held.top_m() {
        // A start is reported by the water lost; the level where it ends is reported while running.
        _ if seen.report.state == State::Starting => lost_on_the_way(seen, held),
        None => Some(no_level(seen, held)),
        Some(_) if !held.can_spill() => None,
        Some(_) if seen.report.state == State::Stopped => lost_on_the_way(seen, held),
        Some(level_m) if level_m > held.here.rim_m + SAME_HEIGHT_M => {
            Some(spills(seen, held, level_m))
        }
        Some(_) => lost_on_the_way(seen, held),
    });
    told.collect()
}

fn no_level(seen: &StateView<'_>, held: &VesselSeen<'_>) -> Finding {
    let id = &held.drawn.id;
    if only_rain_comes_in(seen) {
        return filled_by_rain(seen, held);
    }
    let mut text: Vec<Piece> = vec![
        id.into(),
        " fills without end".into(),
        when(seen.report.state).into(),
    ];
    if held.here.inflow_m3_s > TRICKLE_M3_S {
        text.extend([
            ": ".into(),
            flow(held.here.inflow_m3_s),
            " flows in and no level is enough to take it away".into(),
        ]);
    }
    text.push(".".into());
    text.extend(lost(held));
    let kind = (Code::FillsForEver, Severity::Problem);
    let found = finding(seen, kind, &[id], text);
    with_limit(found, Quantity::Flow, (held.here.inflow_m3_s, 0.0))
}

/// Rain ends, so that the vessel does not fill without end; but while it rains nothing takes the water away.
fn filled_by_rain(seen: &StateView<'_>, held: &VesselSeen<'_>) -> Finding {
    let id = &held.drawn.id;
    let mut text: Vec<Piece> = vec![
        id.into(),
        " fills as long as it rains: ".into(),
        flow(held.here.inflow_m3_s),
        " flows in, and nothing takes it away.".into(),
    ];
    text.extend(lost(held));
    let found = finding(seen, (Code::FillsForEver, Severity::Warning), &[id], text);
    with_limit(found, Quantity::Flow, (held.here.inflow_m3_s, 0.0))
}

/// Returns whether it rains and no other water comes in from outside.
fn only_rain_comes_in(seen: &StateView<'_>) -> bool {
    let layout = seen.layout;
    let mut vessels = layout.vessels.iter();
    let mut joints = layout.joints.iter();
    let mut fixed = seen.report.fixed.iter();
    layout.weather.rain_m_s > 0.0
        && !vessels.any(|one| one.make_up_m3_s > 0.0 || one.float_valve.is_some())
        && !joints.any(|one| one.make_up_m3_s > 0.0)
        && !fixed.any(|one| one.flow_m3_s > TRICKLE_M3_S)
}

fn spills(seen: &StateView<'_>, held: &VesselSeen<'_>, level_m: f64) -> Finding {
    let id = &held.drawn.id;
    let over_m = level_m - held.here.rim_m;
    let why = blame(seen.layout, seen.report, id, over_m);
    let mut text: Vec<Piece> = vec![id.into(), " spills: its level".into(), held.stands().into()];
    text.push(if over_m < SMALLEST_SHOWN_M {
        "just".into()
    } else {
        height(over_m)
    });
    text.extend([" over the rim".into(), when(seen.report.state).into()]);
    text.extend(because(seen, id, &why));
    text.push(".".into());
    text.extend(lost(held));
    let mut about = vec![id];
    about.extend(why.about());
    let kind = (Code::Spills, severity(seen, held));
    let found = finding(seen, kind, &about, text);
    with_limit(found, Quantity::Height, (level_m, held.here.rim_m))
}

/// Returns the severity: a splash is only a note.
fn severity(seen: &StateView<'_>, held: &VesselSeen<'_>) -> Severity {
    match seen.only_splashes(held) {
        true => Severity::Note,
        false => Severity::Problem,
    }
}

/// Reports water that ran over the rim before the level settled.
fn lost_on_the_way(seen: &StateView<'_>, held: &VesselSeen<'_>) -> Option<Finding> {
    let lost_m3 = held.lost_m3()?;
    let id = &held.drawn.id;
    let state = seen.report.state;
    let mut text: Vec<Piece> = vec![id.into()];
    text.push(match state {
        State::Starting | State::Stopped => format!(" spills{}: ", when(state)).into(),
        _ => " spills on the way: ".into(),
    });
    text.extend(ran_back(seen, id));
    text.extend([volume(lost_m3), " run over its rim".into()]);
    if let Some(first_s) = held.here.with_spill.and_then(|spill| spill.first_spill_s) {
        if first_s > 0.0 {
            text.extend([", the first after ".into(), time(first_s)]);
        } else {
            text.push(", the first at once".into());
        }
    }
    if !matches!(state, State::Starting | State::Stopped) {
        let settled = format!(", before its level settles{}", when(state));
        text.push(settled.into());
    }
    text.push(".".into());
    let kind = (Code::Spills, severity(seen, held));
    let found = finding(seen, kind, &[id], text);
    Some(with_limit(found, Quantity::Volume, (lost_m3, 0.0)))
}

/// Returns the words for what ran back into the vessel when the pumps stopped, where it is the only one that they draw
/// from.
fn ran_back(seen: &StateView<'_>, id: &Id) -> Vec<Piece> {
    let course = seen.report.course.as_ref();
    let back = course.and_then(|course| course.back);
    match back.filter(|_| sumps(seen) == [id]) {
        Some(back) => vec![
            volume(sum_m3(&back)),
            " run back into it, more than it has room for, and ".into(),
        ],
        None => Vec::new(),
    }
}

/// Returns a sentence on the water lost.
fn lost(held: &VesselSeen<'_>) -> Vec<Piece> {
    let Some(spill) = held.here.with_spill else {
        return Vec::new();
    };
    match (spill.spill_m3_s > TRICKLE_M3_S, held.lost_m3()) {
        (true, _) => vec![" It loses ".into(), flow(spill.spill_m3_s), ".".into()],
        (false, Some(_)) => vec![
            " ".into(),
            volume(spill.lost_m3),
            " are lost over it.".into(),
        ],
        (false, None) => Vec::new(),
    }
}

/// Returns the words for the cause of the level, as the end of a sentence without its full stop.
pub(super) fn because(seen: &StateView<'_>, id: &Id, why: &Blame) -> Vec<Piece> {
    match why {
        Blame::Crest(crest) => at_height(seen, ", held up by the crest of ", crest),
        Blame::Mouth(mouth) => at_height(seen, ", held up by the end of ", mouth),
        Blame::SmallOpening(crest) => vec![
            ", because the opening of ".into(),
            (&crest.run).into(),
            " is too small for this flow".into(),
        ],
        Blame::Pipe {
            run,
            loss_m,
            bore_m,
        } => vec![
            ", because the pipe of ".into(),
            run.into(),
            " with its bore of ".into(),
            Piece::Number(Quantity::Bore, *bore_m),
            " loses ".into(),
            head(*loss_m),
        ],
        Blame::Screen { run, which, loss_m } => {
            let mut text = vec![", because the screen of ".into(), run.into()];
            text.extend(in_part(seen, run, *which));
            text.extend([" loses ".into(), head(*loss_m)]);
            text
        }
        Blame::Level { at, level_m } => vec![
            ", held up by the level of ".into(),
            at.into(),
            " at ".into(),
            height(*level_m),
        ],
        Blame::Shut(run) => vec![", because ".into(), run.into(), " is shut".into()],
        Blame::NoWayOut => vec![no_way_out(seen, id).into()],
    }
}

fn no_way_out(seen: &StateView<'_>, id: &Id) -> &'static str {
    let mut drains = seen.meeting(id).filter(|run| run.source() == id);
    let fed = seen
        .vessel(id)
        .is_some_and(|held| held.drawn.make_up_m3_s > 0.0);
    if !seen.is_running() && fed {
        ", because water runs in from outside and nothing takes it away"
    } else if !seen.is_running() {
        ", because more water stands in it or runs down to it than it has room for"
    } else if drains.any(|run| run.flows()) {
        ", because the system holds more water than it has room for"
    } else {
        ", and no run takes its water away"
    }
}

/// Returns the words for the part that a screen is in, where the name of the run does not contain its name.
fn in_part(seen: &StateView<'_>, run: &Id, which: RunEnd) -> Vec<Piece> {
    let Some(drawn) = seen.layout.run(run) else {
        return Vec::new();
    };
    let at = match which {
        RunEnd::From => &drawn.from.at,
        RunEnd::To => &drawn.to.at,
    };
    let names = seen.layout;
    match names.name_of(run).contains(names.name_of(at)) {
        true => Vec::new(),
        false => vec![" in ".into(), at.into()],
    }
}

/// The vessel is named only where the name of the run does not contain its name.
fn at_height(seen: &StateView<'_>, words: &str, crest: &Crest) -> Vec<Piece> {
    let mut text = vec![words.into(), (&crest.run).into()];
    let names = seen.layout;
    if !names.name_of(&crest.run).contains(names.name_of(&crest.at)) {
        text.extend([" in ".into(), (&crest.at).into()]);
    }
    text.extend([" at ".into(), height(crest.height_m)]);
    text
}
