//! A level over its rim, what holds it up, and what is lost; a vessel that no level is enough for.

use super::blame::{Blame, Crest, blame};
use super::seen::{Held, SAME_M, Seen, TRICKLE_M3_S};
use super::tell::{finding, flow, head, height, held_to, when};
use crate::finding::{Code, Finding, Piece, Severity};
use crate::layout::Id;
use crate::units::Quantity;

/// Less than this would be written as 0 mm, metres.
const HAIR_M: f64 = 0.0005;

pub(super) fn find(seen: &Seen<'_>) -> Vec<Finding> {
    let told = seen
        .vessels
        .iter()
        .filter_map(|held| match held.here.level_m {
            None => Some(no_level(seen, held)),
            Some(level_m) if held.can_spill() && level_m > held.here.rim_m + SAME_M => {
                Some(spills(seen, held, level_m))
            }
            Some(_) if held.can_spill() => on_the_way(seen, held),
            Some(_) => None,
        });
    told.collect()
}

fn no_level(seen: &Seen<'_>, held: &Held<'_>) -> Finding {
    let id = &held.drawn.id;
    let mut text: Vec<Piece> = vec![
        id.into(),
        " fills for ever".into(),
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
    held_to(found, Quantity::Flow, (held.here.inflow_m3_s, 0.0))
}

fn spills(seen: &Seen<'_>, held: &Held<'_>, level_m: f64) -> Finding {
    let id = &held.drawn.id;
    let over_m = level_m - held.here.rim_m;
    let why = blame(seen.layout, seen.report, id, over_m);
    let mut text: Vec<Piece> = vec![id.into(), " spills: its level stands ".into()];
    text.push(if over_m < HAIR_M {
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
    let kind = (Code::Spills, Severity::Problem);
    let found = finding(seen, kind, &about, text);
    held_to(found, Quantity::Height, (level_m, held.here.rim_m))
}

/// It settles under its rim, but not before some ran over.
fn on_the_way(seen: &Seen<'_>, held: &Held<'_>) -> Option<Finding> {
    let lost_m3 = held.lost_m3()?;
    let id = &held.drawn.id;
    let text = vec![
        id.into(),
        " spills on the way: ".into(),
        Piece::Number(Quantity::Volume, lost_m3),
        " run over its rim before it comes to where it stands".into(),
        when(seen.report.state).into(),
        ".".into(),
    ];
    let kind = (Code::Spills, Severity::Problem);
    let found = finding(seen, kind, &[id], text);
    Some(held_to(found, Quantity::Volume, (lost_m3, 0.0)))
}

/// What leaves, in a sentence of its own.
fn lost(held: &Held<'_>) -> Vec<Piece> {
    let Some(spill) = held.here.with_spill else {
        return Vec::new();
    };
    let volume = Piece::Number(Quantity::Volume, spill.lost_m3);
    match (spill.spill_m3_s > TRICKLE_M3_S, held.lost_m3()) {
        (true, _) => vec![" It loses ".into(), flow(spill.spill_m3_s), ".".into()],
        (false, Some(_)) => vec![" ".into(), volume, " are lost over it.".into()],
        (false, None) => Vec::new(),
    }
}

/// What holds the level up, as the end of a sentence without its full stop.
pub(super) fn because(seen: &Seen<'_>, id: &Id, why: &Blame) -> Vec<Piece> {
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

fn no_way_out(seen: &Seen<'_>, id: &Id) -> &'static str {
    let mut drains = seen.meeting(id).filter(|run| run.source() == id);
    if !seen.is_running() {
        ", because more water stands in it or runs down to it than it has room for"
    } else if drains.any(|run| run.flows()) {
        ", because the system holds more water than it has room for"
    } else {
        ", and no run takes its water away"
    }
}

/// The vessel is named where the name of the run does not hold it.
fn at_height(seen: &Seen<'_>, words: &str, crest: &Crest) -> Vec<Piece> {
    let mut text = vec![words.into(), (&crest.run).into()];
    let names = seen.layout;
    if !names.name_of(&crest.run).contains(names.name_of(&crest.at)) {
        text.extend([" in ".into(), (&crest.at).into()]);
    }
    text.extend([" at ".into(), height(crest.height_m)]);
    text
}
