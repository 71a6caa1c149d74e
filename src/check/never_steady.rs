//! Reports a state that never becomes steady, because something keeps switching.

use super::state_view::StateView;
use super::wording::{finding, height, time, with_limit};
use crate::finding::{Code, Finding, Piece, Severity};
use crate::layout::Id;
use crate::state::State;
use crate::states::EventKind;
use crate::states::report::{CycleLevel, CycleReport};
use crate::units::Quantity;

pub(super) fn find(seen: &StateView<'_>) -> Vec<Finding> {
    let cycle = seen.report.cycle.as_ref();
    cycle
        .map(|cycle| of_cycle(seen, cycle))
        .into_iter()
        .collect()
}

fn of_cycle<'a>(seen: &StateView<'a>, cycle: &'a CycleReport) -> Finding {
    let (severity, part) = worst(cycle);
    let mut text = words(seen, severity, part);
    let every = if cycle.regular {
        " every "
    } else {
        " about every "
    };
    text.extend([every.into(), time(cycle.period_s)]);
    let mut about: Vec<&Id> = part.into_iter().collect();
    if let Some(widest) = widest(cycle) {
        about.push(&widest.id);
        text.extend([
            "; the level of ".into(),
            (&widest.id).into(),
            " goes between ".into(),
            height(widest.lowest_m),
            " and ".into(),
            height(widest.highest_m),
        ]);
    }
    text.push(".".into());
    let found = finding(seen, (Code::NeverSteady, severity), &about, text);
    with_limit(found, Quantity::Time, (cycle.period_s, f64::NAN))
}

/// Returns the severity and the part: a pump that runs dry is a problem; a siphon that primes and breaks again is
/// seldom intended, a warning; a float switch that turns a pump on and off works as intended, a note.
fn worst(cycle: &CycleReport) -> (Severity, Option<&Id>) {
    let first = |what: EventKind| {
        let mut told = cycle.told.iter().filter(|told| told.what == what);
        told.next().and_then(|told| told.about.first())
    };
    if let Some(pump) = first(EventKind::PumpRunsDry) {
        return (Severity::Problem, Some(pump));
    }
    if let Some(run) = first(EventKind::SiphonPrimed) {
        return (Severity::Warning, Some(run));
    }
    match first(EventKind::FloatOn).or(first(EventKind::FloatOff)) {
        Some(pump) => (Severity::Note, Some(pump)),
        None => (Severity::Warning, None),
    }
}

fn words<'a>(seen: &StateView<'a>, severity: Severity, part: Option<&'a Id>) -> Vec<Piece> {
    let when = match seen.report.state {
        State::Rest => "At rest ",
        State::Running => "While running ",
        State::Fouled => "While running fouled ",
        _ => "Once stopped ",
    };
    let mut text: Vec<Piece> = vec![when.into()];
    match (severity, part) {
        (Severity::Problem, Some(pump)) => {
            text.extend(seen.pump_words(pump));
            text.push(" runs dry and starts again".into());
        }
        (Severity::Note, Some(pump)) => {
            text.extend(seen.pump_words(pump));
            text.push(" is turned on and off by its float switch".into());
        }
        (_, Some(run)) => {
            text.extend([run.into(), " fills as a siphon and breaks again".into()]);
        }
        (_, None) => text.push("levels never become steady, and repeat".into()),
    }
    text
}

fn widest(cycle: &CycleReport) -> Option<&CycleLevel> {
    let swing = |one: &CycleLevel| one.highest_m - one.lowest_m;
    let vessels = cycle.vessels.iter();
    vessels.max_by(|a, b| swing(a).total_cmp(&swing(b)))
}
