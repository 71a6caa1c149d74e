//! Reports what happens when paths are blocked one at a time: what spills, how soon, and which pumps starve.

use super::state_view::StateView;
use super::suction_shut;
use super::wording::{finding, time, volume, with_limit};
use crate::finding::{Code, Finding, Piece, Severity};
use crate::layout::{Id, Limits};
use crate::states::report::BlockedCase;
use crate::units::Quantity;

/// Returns how severe the consequences of a blocked path are within a day.
///
/// A problem where something spills sooner than the layout accepts, a warning where it spills later or a pump is left
/// without water, else a note; a splash alone is a note too. A time exactly on the limit is allowed.
pub fn severity(limits: &Limits, case: &BlockedCase) -> Severity {
    match case.floods_s() {
        Some(time_s) if time_s < limits.blocked_spill_s => Severity::Problem,
        Some(_) => Severity::Warning,
        None if case.starved_s.is_some() => Severity::Warning,
        None => Severity::Note,
    }
}

pub(super) fn find(seen: &StateView<'_>) -> Vec<Finding> {
    let cases = &seen.report.blocked;
    let spill = by(cases, |case| {
        Some((case.spills.as_ref()?, case.first_spill_s?))
    });
    let starve = by(cases, |case| {
        let starved_s = case.starved_s?;
        // Once water is on the floor, a pump without water adds nothing.
        let first = case.floods_s().is_none_or(|spill_s| starved_s < spill_s);
        first.then_some((case.starves.as_ref()?, starved_s))
    });
    let spill = spill.iter().map(|one| spills(seen, one));
    let starve = starve.iter().map(|one| starves(seen, one));
    spill.chain(starve).collect()
}

/// A part that spills or starves, and the blocked paths that cause it, soonest first (splashes last).
struct BlockedEffect<'a> {
    part: &'a Id,
    paths: Vec<(&'a BlockedCase, f64)>,
}

fn by<'a>(
    cases: &'a [BlockedCase],
    what: impl Fn(&'a BlockedCase) -> Option<(&'a Id, f64)>,
) -> Vec<BlockedEffect<'a>> {
    let mut found: Vec<BlockedEffect<'a>> = Vec::new();
    for case in cases {
        let Some((part, time_s)) = what(case) else {
            continue;
        };
        match found.iter_mut().find(|one| one.part == part) {
            Some(one) => one.paths.push((case, time_s)),
            None => found.push(BlockedEffect {
                part,
                paths: vec![(case, time_s)],
            }),
        }
    }
    for one in &mut found {
        // Splashes come last, however soon: they must not hide a flood.
        one.paths.sort_by(|a, b| {
            let splash = |path: &(&BlockedCase, f64)| path.0.only_splashes();
            splash(a).cmp(&splash(b)).then(a.1.total_cmp(&b.1))
        });
    }
    found
}

/// A blocked path is only a possible failure, so that this is never more than a warning.
fn spills(seen: &StateView<'_>, befalls: &BlockedEffect<'_>) -> Finding {
    let (worst, soonest_s) = (befalls.paths.first(), soonest_s(befalls));
    let limits = &seen.layout.limits;
    let severity = match worst.map(|(case, _)| severity(limits, case)) {
        Some(Severity::Problem) => Severity::Warning,
        _ => Severity::Note,
    };
    let mut text = blocked(befalls);
    text.extend([
        befalls.part.into(),
        " spills after ".into(),
        time(soonest_s),
    ]);
    if let Some((case, _)) = worst {
        text.extend([
            ", and ".into(),
            volume(case.spilled_m3),
            " are lost in a day".into(),
        ]);
    }
    text.extend(others(befalls));
    text.push(".".into());
    let kind = (Code::SpillsWhenBlocked, severity);
    let found = finding(seen, kind, &about(befalls), text);
    with_limit(found, Quantity::Time, (soonest_s, limits.blocked_spill_s))
}

fn starves<'a>(seen: &StateView<'a>, befalls: &BlockedEffect<'a>) -> Finding {
    let soonest_s = soonest_s(befalls);
    let mut text = blocked(befalls);
    let code = if suction_shut::is_suction(seen, befalls.part) {
        text.extend(suction_shut::without_water(seen, befalls.part));
        Code::SuctionShut
    } else {
        text.extend(seen.pump_words(befalls.part));
        text.extend([" gets too little water after ".into(), time(soonest_s)]);
        Code::StarvesWhenBlocked
    };
    text.extend(others(befalls));
    text.push(".".into());
    let kind = (code, Severity::Warning);
    let found = finding(seen, kind, &about(befalls), text);
    with_limit(found, Quantity::Time, (soonest_s, f64::NAN))
}

fn soonest_s(befalls: &BlockedEffect<'_>) -> f64 {
    befalls.paths.first().map_or(f64::INFINITY, |path| path.1)
}

fn about<'a>(befalls: &BlockedEffect<'a>) -> Vec<&'a Id> {
    let runs = befalls.paths.iter().map(|(case, _)| &case.run);
    [befalls.part].into_iter().chain(runs).collect()
}

fn blocked(befalls: &BlockedEffect<'_>) -> Vec<Piece> {
    let mut text: Vec<Piece> = vec!["With ".into()];
    text.extend(
        befalls
            .paths
            .iter()
            .take(1)
            .map(|(case, _)| Piece::from(&case.run)),
    );
    text.push(" blocked, ".into());
    text
}

/// Number of other paths named where the rest are only counted.
const MOST_NAMED: usize = 4;

/// Returns the other paths with their times, as the end of a sentence; of many, the soonest and a count.
fn others(befalls: &BlockedEffect<'_>) -> Vec<Piece> {
    let rest = befalls.paths.get(1..).unwrap_or_default();
    let shown = if rest.len() > MOST_NAMED + 1 {
        MOST_NAMED
    } else {
        rest.len()
    };
    let left = rest.len() - shown;
    let mut text: Vec<Piece> = Vec::new();
    for (place, (case, time_s)) in rest.iter().take(shown).enumerate() {
        let before = match place {
            0 => "; so it does with ",
            _ if place + 1 == rest.len() => " and ",
            _ => ", ",
        };
        text.extend([
            before.into(),
            (&case.run).into(),
            " (".into(),
            time(*time_s),
            ")".into(),
        ]);
    }
    if left > 0 {
        text.push(format!(" and {left} others").into());
    }
    text
}
