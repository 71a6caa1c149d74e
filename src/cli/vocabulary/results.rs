//! The words of results. Each meaning is a `match`, so that a new word without one does not compile.

use super::List;
use crate::finding::Severity;
use crate::state::State;
use crate::states::report::{Control, Outcome, Regime, Standing};
use crate::states::{EventKind, Fault};

/// Returns every enumeration of the results except the codes of findings.
pub fn results() -> Vec<List> {
    let severities = [Severity::Problem, Severity::Warning, Severity::Note];
    vec![
        List::new(
            "state",
            "state",
            State::ALL.map(|one| (one.word(), of_state(one))),
        ),
        List::new(
            "severity",
            "severity",
            severities.map(|one| (one.word(), of_severity(one))),
        ),
        List::new(
            "control",
            "control",
            Control::ALL.map(|one| (one.word(), of_control(one))),
        ),
        List::new(
            "outcome",
            "outcome",
            Outcome::ALL.map(|one| (one.word(), of_outcome(one))),
        ),
        List::new(
            "regime",
            "regime",
            Regime::ALL.map(|one| (one.word(), of_regime(one))),
        ),
        List::new(
            "standing",
            "standing of a pump",
            Standing::ALL.map(|one| (one.word(), of_standing(one))),
        ),
        List::new(
            "event",
            "event",
            EventKind::ALL.map(|one| (one.word(), of_event(one))),
        ),
        List::new(
            "failure",
            "failure",
            Fault::ALL.map(|one| (one.word(), of_failure(one))),
        ),
        List::new("variant", "variant", VARIANTS),
    ]
}

/// The kinds of variants.
const VARIANTS: [(&str, &str); 3] = [
    ("way", "One of the layout's operating modes"),
    ("water", "The coldest or the warmest water"),
    ("at-wash", "Equipment as dirty as when it calls for a wash"),
];

fn of_state(state: State) -> &'static str {
    match state {
        State::Rest => "Pumps off, from the filled levels until nothing moves",
        State::Starting => "From rest with the pumps on, until steady",
        State::Running => "Pumps on, steady: the end of starting",
        State::Fouled => "Running with film, rough walls, dirty filters and part-blinded screens",
        State::Blocked => "From running, with one run shut at a time",
        State::Stopped => "From running with the pumps off, until nothing moves",
    }
}

fn of_severity(severity: Severity) -> &'static str {
    match severity {
        Severity::Problem => "It does not work: water on the floor, a dry pump",
        Severity::Warning => "It works, with too little in reserve",
        Severity::Note => "Worth knowing",
    }
}

fn of_control(control: Control) -> &'static str {
    match control {
        Control::Inlet => "Inlet control: a crest, a hole or a lip limits the flow",
        Control::Outlet => {
            "Outlet control: the losses and the water at the other end limit the flow"
        }
        Control::Pumped => "A running pump sets the flow",
        Control::Shut => "A shut valve, or a check valve that is closed",
        Control::Dry => "No water stands over its inlet",
        Control::Still => "There is water, but nothing moves",
    }
}

fn of_outcome(outcome: Outcome) -> &'static str {
    match outcome {
        Outcome::WithAir => "Air stands at one high point at least, or there is no high point",
        Outcome::Primed => "Every run that can be primed is full of water over its high points",
    }
}

fn of_regime(regime: Regime) -> &'static str {
    match regime {
        Regime::Full => "Full bore",
        Regime::PartFull => "With a free surface",
        Regime::Surging => "Swings between drawing air and running full",
        Regime::Free => "Falls free behind its inlet, with air in the run",
        Regime::None => "No flow",
    }
}

fn of_standing(standing: Standing) -> &'static str {
    match standing {
        Standing::Runs => "It runs",
        Standing::Off => "It is switched off",
        Standing::FloatOff => "Its float switch has turned it off",
        Standing::RanDry => "It ran dry and stopped",
    }
}

fn of_event(what: EventKind) -> &'static str {
    match what {
        EventKind::RimReached => "A level reaches a rim that is taken as tall",
        EventKind::SpillBegins => "A rim begins to spill",
        EventKind::SpillEnds => "A rim stops spilling",
        EventKind::IntakeUncovered => "Less than one bore of water is left over an intake",
        EventKind::IntakeCovered => "There is one bore of water over it again",
        EventKind::SuctionStarved => "The intake begins to limit the pump",
        EventKind::SuctionRecovered => "The pump gets all the water it can move again",
        EventKind::PumpRunsDry => "No water is left over the intake, and the pump stops",
        EventKind::PumpRestarts => "Two bores of water stand over the intake, and the pump starts",
        EventKind::FloatOn => "A float switch turns the pump on",
        EventKind::FloatOff => "A float switch turns the pump off",
        EventKind::SiphonPrimed => "A run is full of water over its high point",
        EventKind::SiphonBroken => "Air comes in at the high point of a full run",
        EventKind::Still => "Nothing moves any more",
    }
}

fn of_failure(fault: Fault) -> &'static str {
    match fault {
        Fault::RunShut => "A run is shut: clogged, or a valve closed by mistake",
        Fault::ScreenBlinded => "A screen is blinded all over",
        Fault::PumpStands => "One pump stands still, and the others go on",
        Fault::SwitchStaysOn => "A float switch no longer turns its pump off",
        Fault::CheckOpen => "All pumps stop, and a check valve stays open",
        Fault::BreakClogged => "All pumps stop, and the hole of a siphon break is clogged",
        Fault::ValveOpen => "A float valve stays open",
        Fault::ValveShut => "A float valve stays shut",
    }
}
