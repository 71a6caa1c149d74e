//! Reports a run that carries no water while running, although no valve in it is shut.

use super::no_pump;
use super::state_view::{PipedRun, SAME_HEIGHT_M, StateView};
use super::wording::{finding, flow, height, when, with_limit};
use super::{air_lock, never_primes};
use crate::finding::{Code, Finding, Piece, Severity};
use crate::layout::{Id, Vessel};
use crate::states::report::{Control, PumpReport, Standing};
use crate::units::Quantity;

pub(super) fn find(seen: &StateView<'_>) -> Vec<Finding> {
    // Where a pump that should run is stopped, or nothing makes water flow, runs without flow are to be expected.
    if seen.report.pumps.iter().any(stands) || no_pump::explains_all(seen) {
        return Vec::new();
    }
    let idle = seen.runs.iter().filter(|run| {
        let whole = seen.has(run.end(0)) && seen.has(run.end(1));
        let idle = !run.flows() && !run.has_shut_valve() && !run.facts.pump_on;
        // Runs stopped by air at their high point are reported by the rules on air.
        whole && idle && !never_primes::reports(seen, run) && !air_lock::reports(seen, run)
    });
    idle.map(|run| of_run(seen, run)).collect()
}

fn stands(pump: &PumpReport) -> bool {
    matches!(pump.standing, Standing::RanDry | Standing::FloatOff)
}

fn of_run(seen: &StateView<'_>, run: &PipedRun<'_>) -> Finding {
    let only = only_way(seen, run);
    let mut text = vec![
        (&run.drawn.id).into(),
        " carries no water".into(),
        when(seen.report.state).into(),
    ];
    text.extend(why(seen, run));
    text.push(".".into());
    let mut about = vec![&run.drawn.id];
    let severity = match only {
        Some((vessel, words)) => {
            text.extend([
                " It is the only run ".into(),
                words.into(),
                vessel.into(),
                ".".into(),
            ]);
            about.push(vessel);
            Severity::Warning
        }
        None => Severity::Note,
    };
    let found = finding(seen, (Code::NoFlow, severity), &about, text);
    with_limit(found, Quantity::Flow, (run.here.flow_m3_s.abs(), 0.0))
}

fn why(seen: &StateView<'_>, run: &PipedRun<'_>) -> Vec<Piece> {
    match run.here.control {
        Control::Shut => vec![": its check valve is shut".into()],
        Control::Still | Control::Dry => match under_crest(seen, run) {
            Some(words) => words,
            None if run.here.control == Control::Dry => {
                vec![": no water stands over its opening".into()]
            }
            None => vec![": the level is the same at both ends, so nothing flows".into()],
        },
        _ => vec![" to speak of: ".into(), flow(run.here.flow_m3_s.abs())],
    }
}

/// Returns the words for how far the level is below the crest; none where it is above.
fn under_crest(seen: &StateView<'_>, run: &PipedRun<'_>) -> Option<Vec<Piece>> {
    let opening = run.drawn.from.opening.as_ref()?;
    let below_m = opening.crest_m()? - seen.head_m(run.end(0))?;
    (below_m >= -SAME_HEIGHT_M).then(|| {
        vec![
            ": the level of ".into(),
            run.end(0).into(),
            " stands ".into(),
            height(below_m.max(0.0)),
            " below its crest".into(),
        ]
    })
}

/// Returns the vessel that only this run feeds or drains in the drawing, and the words for it.
fn only_way<'a>(seen: &StateView<'a>, run: &PipedRun<'a>) -> Option<(&'a Id, &'static str)> {
    let feeds = seen
        .layout
        .vessel(run.end(1))
        .filter(|vessel| is_only(seen, vessel, 1));
    let drains = seen
        .layout
        .vessel(run.end(0))
        .filter(|vessel| is_only(seen, vessel, 0));
    let fed = feeds.filter(|vessel| vessel.make_up_m3_s <= 0.0);
    let fed = fed.map(|vessel| (&vessel.id, "into "));
    fed.or(drains.map(|vessel| (&vessel.id, "out of ")))
}

fn is_only(seen: &StateView<'_>, vessel: &Vessel, end: usize) -> bool {
    let same_way = seen
        .meeting(&vessel.id)
        .filter(|run| *run.end(end) == vessel.id);
    same_way.take(2).count() == 1
}
