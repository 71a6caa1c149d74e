//! Cures in words for what happens over time: at a start, at a stop, with a path blocked. Numbers known from the
//! finding are given.

use super::advice;
use super::bench::Bench;
use super::step::up;
use crate::finding::{Code, Cure, Finding, Piece, Severity};
use crate::layout::Id;
use crate::state::State;
use crate::units::Quantity;

pub(super) fn cures(bench: &Bench<'_>, found: &Finding) -> Vec<Cure> {
    let first = found.about.first();
    let text = match (found.code, found.state) {
        (Code::Spills, State::Stopped) => first.map(|vessel| room_for(found, vessel)),
        (Code::StarvesAtStart, _) => match found.about.get(3) {
            Some(spills) => Some(spill_first(spills)),
            None => found.about.get(2).map(more_water),
        },
        (Code::PumpRunsDry, _) => found.about.get(2).map(keeps_water),
        (Code::NeverSteady, _) if found.severity == Severity::Problem => {
            found.about.get(1).map(keeps_water)
        }
        (Code::NeverSteady, _) if found.severity == Severity::Warning => first.map(breathes),
        (Code::SpillsWhenBlocked, State::Stopped) => found.about.last().map(clean_hole),
        (Code::SpillsWhenBlocked, _) => first.map(second_way),
        (Code::StarvesWhenBlocked, _) => Some(cut_out()),
        (Code::RunsBack, _) if found.severity == Severity::Problem => {
            first.map(|vessel| room_back(found, vessel))
        }
        (Code::RunsBack, _) if found.severity == Severity::Warning => Some(no_siphon()),
        (Code::IntakeUncovered, _) => cover(bench, found),
        _ => None,
    };
    text.map(advice).into_iter().collect()
}

fn room_for(found: &Finding, vessel: &Id) -> Vec<Piece> {
    let mut text: Vec<Piece> = vec!["Give ".into(), vessel.into(), " room for ".into()];
    text.extend(
        found
            .measured
            .map(|lost| Piece::Number(Quantity::Volume, lost)),
    );
    text.extend([
        " more, fill in that much less, or hold the water where it is: crests high enough in what drains \
         to it, and a check valve or a mouth in air where water comes back through the pump."
            .into(),
    ]);
    text
}

fn room_back(found: &Finding, vessel: &Id) -> Vec<Piece> {
    let missing_m3 = found.measured.zip(found.limit);
    let mut text: Vec<Piece> = vec!["Fill ".into()];
    text.extend(
        missing_m3.map(|(all_m3, room_m3)| Piece::Number(Quantity::Volume, all_m3 - room_m3)),
    );
    text.extend([" less, or give ".into(), vessel.into()]);
    text.push(" that much more room under its rim.".into());
    text
}

fn more_water(vessel: &Id) -> Vec<Piece> {
    vec![
        "Fill more water into ".into(),
        vessel.into(),
        " before the start if it has room, make it larger, or set the intake lower; fewer litres between \
         the resting and the running levels above help too."
            .into(),
    ]
}

fn spill_first(vessel: &Id) -> Vec<Piece> {
    vec![
        "First see to what ".into(),
        vessel.into(),
        " spills.".into(),
    ]
}

fn keeps_water(vessel: &Id) -> Vec<Piece> {
    vec![
        "More water must come back to ".into(),
        vessel.into(),
        " or stand in it: see what holds it back above, fill in more, set the intake lower, or let the pump \
         move less."
            .into(),
    ]
}

fn breathes(run: &Id) -> Vec<Piece> {
    vec!["Open the vent of ".into(), run.into(), ".".into()]
}

fn clean_hole(run: &Id) -> Vec<Piece> {
    vec![
        "End ".into(),
        run.into(),
        " over the water, so that no hole is needed, or leave room for what is drawn back; clean the hole every month \
         and drill a second one beside it."
            .into(),
    ]
}

fn second_way(vessel: &Id) -> Vec<Piece> {
    vec![
        "Give ".into(),
        vessel.into(),
        " a second way out for the whole flow, its crest over the running level.".into(),
    ]
}

fn cut_out() -> Vec<Piece> {
    vec!["Let a float switch stop the pump before its intake is uncovered.".into()]
}

fn no_siphon() -> Vec<Piece> {
    vec![
        "End the return over the water, drill a hole into it just under the water that lets in air, or put a \
         check valve after the pump; rely on no check valve alone."
            .into(),
    ]
}

fn cover(bench: &Bench<'_>, found: &Finding) -> Option<Vec<Piece>> {
    let missing_m = found.limit? - found.measured?;
    Some(vec![
        "Raise the level of ".into(),
        found.about.get(2)?.into(),
        " or lower the intake by ".into(),
        Piece::Number(Quantity::Height, up(missing_m, bench.layout.units)),
        ", or give the intake a wider mouth.".into(),
    ])
}
