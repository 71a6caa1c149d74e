//! Removes findings that another state already reports.

use crate::finding::{Code, Finding, Severity};
use crate::layout::Id;
use crate::state::State;
use std::collections::HashMap;

/// Returns `findings` without those that another state already reports.
///
/// A finding when fouled or while starting repeats the same one while running, and a finding once stopped repeats the
/// same one at rest or while running, unless it is more severe than that. The order is kept.
pub fn without_repeats(findings: Vec<Finding>) -> Vec<Finding> {
    let mut gravest: HashMap<Key<'_>, Severity> = HashMap::new();
    for one in &findings {
        let known = gravest
            .entry(key(one.state, one.code, one))
            .or_insert(one.severity);
        *known = one.severity.min(*known);
    }
    let is_told = |one: &Finding| {
        let states = keeps(one).iter();
        let keys = states.flat_map(|state| same(one.code).map(|code| key(*state, code, one)));
        let mut others = keys.filter_map(|key| gravest.get(&key));
        others.any(|severity| *severity <= one.severity)
    };
    // While water is lost anyway, how long a pump still draws depends on that loss.
    let spills = |one: &Finding| {
        let lost = one.code == Code::Spills && one.severity != Severity::Note;
        lost && one.state == State::Running
    };
    let loses = findings.iter().any(spills);
    let repeats: Vec<bool> = findings
        .iter()
        .map(|one| is_told(one) || (loses && one.code == Code::StarvesWhenBlocked))
        .collect();
    let told = findings.into_iter().zip(repeats);
    told.filter_map(|(one, repeats)| (!repeats).then_some(one))
        .collect()
}

/// Two findings with the same key are one: state, code and the part where it happens.
type Key<'a> = (State, Code, Option<&'a Id>);

fn key(state: State, code: Code, one: &Finding) -> Key<'_> {
    (state, code, one.about.first())
}

/// Returns the states whose findings are not repeated in the state of this one.
fn keeps(one: &Finding) -> &'static [State] {
    match one.state {
        // The water leaves whether or not the pumps run.
        State::Rest if one.code == Code::RunsToWaste => &[State::Running],
        State::Fouled | State::Starting => &[State::Running],
        State::Stopped => &[State::Rest, State::Running],
        State::Rest | State::Running | State::Blocked => &[],
    }
}

/// Returns the codes that report the same thing: a pump that starves at the start is covered by any finding that it
/// starves for good.
fn same(code: Code) -> [Code; 4] {
    match code {
        Code::StarvesAtStart => [
            code,
            Code::PumpStarved,
            Code::PumpRunsDry,
            Code::NeverSteady,
        ],
        // A vessel that spilled is brim full afterwards.
        Code::LittleFreeboard => [code, Code::Spills, code, code],
        _ => [code; 4],
    }
}
