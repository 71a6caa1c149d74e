//! Texts of the time bar: times, outcomes and spills.

use crate::layout::{Id, Layout};
use crate::state::State;
use crate::states::InterpolatedSeries;
use crate::states::report::Outcome;
use crate::units::span;

/// The event that a time is counted from, such as `after the stop`.
pub(super) fn after(state: State, shut: Option<&str>) -> String {
    match (state, shut) {
        (State::Starting, _) => "after the start".to_owned(),
        (State::Stopped, _) => "after the stop".to_owned(),
        (State::Blocked, Some(run)) => format!("after {run} was shut"),
        (State::Blocked, None) => "after it was shut".to_owned(),
        _ => "into a cycle".to_owned(),
    }
}

/// The name of an outcome.
pub(super) fn outcome(outcome: Outcome) -> &'static str {
    match outcome {
        Outcome::WithAir => "With air",
        Outcome::Primed => "Primed",
    }
}

/// Why the selected outcome cannot be played; none where the state has no time at all.
pub(super) fn end_only(state: State, main: Outcome, second: Outcome) -> Option<String> {
    let (main, second) = (outcome(main), outcome(second));
    match state {
        State::Starting | State::Blocked | State::Stopped => Some(format!(
            "{second} shows only the end of this state. Choose {main} to play it."
        )),
        State::Rest | State::Running | State::Fouled => None,
    }
}

/// The displayed time, in words; `time_s`: none at the end.
pub(super) fn moment(film: &InterpolatedSeries, time_s: Option<f64>, after: &str) -> String {
    let Some(time_s) = time_s else {
        return end(film);
    };
    format!("{} {after}", span(time_s))
}

fn end(film: &InterpolatedSeries) -> String {
    match (film.state(), film.still_since_s(), film.period_s()) {
        (State::Running, _, Some(period_s)) => format!("Repeats every {}", span(period_s)),
        (_, _, Some(period_s)) => format!("Ends in a cycle of {}", span(period_s)),
        (State::Starting, Some(still_s), _) => format!("Steady after {}", span(still_s)),
        (_, Some(still_s), _) => format!("Still after {}", span(still_s)),
        _ => format!("After {}", span(film.end_s())),
    }
}

/// The first spill, in words.
pub(super) fn first_spill(layout: &Layout, spill: Option<(&Id, f64)>) -> String {
    match spill {
        Some((vessel, 0.0)) => format!("{} spills from the start", layout.name_of(vessel)),
        Some((vessel, time_s)) => {
            format!(
                "First spill after {}: {}",
                span(time_s),
                layout.name_of(vessel)
            )
        }
        None => "No spill".to_owned(),
    }
}
