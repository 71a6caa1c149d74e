//! Cures of what keeps water from moving, or from going where it should.

use super::advice;
use super::bench::Bench;
use crate::finding::{Change, Code, Cure, Finding, Piece, Sentence};
use crate::layout::Run;
use crate::layout::RunField;
use crate::state::State;
use crate::units::Quantity;

pub(super) fn cure(bench: &Bench<'_>, found: &Finding) -> Option<Cure> {
    match found.code {
        Code::TooMuchForJoint => Some(words("Let in less, or give the joint a wider way out.")),
        Code::NoPump => Some(words(
            "Add a pump to a run, or a make-up or rain that brings water.",
        )),
        Code::IdlePumpsShortCircuit => Some(check_valve(found)),
        Code::SuctionShut if found.state != State::Blocked => open(bench, found),
        Code::CrossConnection => Some(words(
            "End the drinking water in the air, over the rim by two bores and not less than an inch, or ask for the device that local code demands.",
        )),
        Code::RunsToWaste => Some(words(
            "Set a float valve to shut under the lowest crest that drains its vessel to waste. Let in no more make-up than evaporates and is drawn off.",
        )),
        Code::MouthOverWater => Some(words(
            "Lower the end, fill more, or draw it as an open mouth.",
        )),
        Code::IsThisMeant => Some(words(
            "Check the units and decimal points of the numbers that this flow comes from. If they are right, leave them.",
        )),
        _ => None,
    }
}

fn words(text: &str) -> Cure {
    advice(vec![text.into()])
}

fn check_valve(found: &Finding) -> Cure {
    let mut text: Vec<Piece> = vec!["Fit a check valve after the pump of ".into()];
    text.extend(found.about.get(1).map(Piece::from));
    text.push(".".into());
    advice(text)
}

/// Opens the first shut valve before the pump.
fn open(bench: &Bench<'_>, found: &Finding) -> Option<Cure> {
    let mut runs = found.about.iter().filter_map(|id| bench.layout.run(id));
    let (run, place, opening) = runs.find_map(|run| shut(run))?;
    Some(Cure {
        text: Sentence(vec![
            "Open the valve in ".into(),
            (&run.id).into(),
            ".".into(),
        ]),
        changes: vec![Change {
            part: run.id.clone(),
            field: RunField::ValveOpening(place).into(),
            from: opening,
            to: 1.0,
            quantity: Quantity::Ratio,
        }],
    })
}

fn shut(run: &Run) -> Option<(&Run, usize, f64)> {
    let mut valves = run.valves.iter().enumerate();
    let (place, valve) = valves.find(|(_, valve)| valve.opening <= 0.0)?;
    Some((run, place, valve.opening))
}
