//! One thing told once, though several states show it.

use crate::finding::{Code, Finding, Severity, State};
use crate::layout::Id;
use std::collections::HashMap;

/// `findings` without those that another state tells already.
///
/// What is found fouled or while starting is told by running, and what is found once stopped by at rest or
/// by running, unless it is graver there than in the other. The order is kept.
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
    // While water is lost anyway, how long a pump lasts is a matter of that.
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

/// What makes two findings one: state, kind and the part where it happens.
type Key<'a> = (State, Code, Option<&'a Id>);

fn key(state: State, code: Code, one: &Finding) -> Key<'_> {
    (state, code, one.about.first())
}

/// The states whose findings need not be told again in this one.
fn keeps(one: &Finding) -> &'static [State] {
    match one.state {
        // It leaves day and night, whatever the pumps do.
        State::Rest if one.code == Code::RunsToWaste => &[State::Running],
        State::Fouled | State::Starting => &[State::Running],
        State::Stopped => &[State::Rest, State::Running],
        State::Rest | State::Running | State::Blocked => &[],
    }
}

/// The codes that tell of it too: a pump that lacks water while starting is told by whatever says that it
/// lacks water for good.
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
