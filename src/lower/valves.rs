//! Valves: their losses, and the directions in which they pass water.

use super::losses::Flow;
use super::pipe::Bore;
use super::problem::{Problem, UnknownEntry};
use super::{Item, ItemAt, ItemKind, LoweringContext};
use crate::catalogue::Actuation;
use crate::hydraulics::losses::fittings::turbulent_factor;
use crate::hydraulics::losses::loss::Minor;
use crate::layout::{Direction, Run, ValveUse};
use crate::network::Check;

/// Opening of the most closed valve.
pub(super) fn least_opening(run: &Run) -> Option<f64> {
    run.valves
        .iter()
        .map(|valve| valve.opening)
        .reduce(f64::min)
}

fn is_shut(valve: &ValveUse) -> bool {
    valve.opening.is_nan() || valve.opening <= 0.0
}

/// The directions in which water may pass along the run as drawn. A shut valve takes precedence.
///
/// A kind of valve that the flow itself moves counts as a check valve even where the run names no direction for it:
/// it then passes in the pumping direction, or in the direction in which the run was drawn. One that has failed open
/// passes both.
pub(super) fn check(context: &LoweringContext<'_>, run: &Run) -> Check {
    if run.valves.iter().any(is_shut) {
        return Check::Shut;
    }
    match one_way(context, run) {
        None => Check::None,
        Some(Direction::Forward) => Check::ForwardOnly,
        Some(Direction::Backward) => Check::BackwardOnly,
    }
}

/// The only direction along the run as drawn in which a check valve passes water; none without one.
pub(super) fn one_way(context: &LoweringContext<'_>, run: &Run) -> Option<Direction> {
    if run.check_valve_failed {
        return None;
    }
    let moved_by_flow = |valve: &ValveUse| {
        let kind = context.catalogue.valve(&valve.kind);
        kind.is_some_and(|kind| kind.acts == Actuation::Check)
    };
    let implied = || {
        let pushes = run.pump.as_ref().map(|pump| pump.pushes);
        let entered = run.valves.iter().any(moved_by_flow);
        entered.then(|| pushes.unwrap_or_default())
    };
    run.check_valve.or_else(implied)
}

/// The loss of each valve.
///
/// With a total K for the run, which includes its open valves, only the excess loss of a partly shut valve over
/// the same valve open remains to be added.
pub(super) fn items(
    context: &LoweringContext<'_>,
    (run, flow): (&Run, Flow),
    bore: &Bore,
    out: &mut Vec<Problem>,
) -> Vec<Item> {
    let mut items = Vec::new();
    for valve in &run.valves {
        let in_total = run.total_k.is_some();
        if is_shut(valve) || (in_total && valve.opening >= 1.0) {
            continue;
        }
        let crane_ft = turbulent_factor(bore.new_m);
        let kind = context.catalogue.valve(&valve.kind);
        let of_kind = |opening: f64| kind.and_then(|kind| kind.k(opening, crane_ft));
        if kind.is_none() && valve.k.is_none() {
            out.push(unknown(context, run, valve));
        }
        let k = valve.k.or_else(|| of_kind(valve.opening)).unwrap_or(0.0);
        let counted = if in_total {
            of_kind(1.0).unwrap_or(0.0)
        } else {
            0.0
        };
        items.push(Item {
            what: words(kind.map_or(&valve.kind, |kind| &kind.words), valve.opening),
            kind: ItemKind::Minor(Minor {
                k: (k - counted).max(0.0),
                bore_m: bore.bore_m,
            }),
            at: flow.place((valve.at_m, valve.near), ItemAt::Full),
        });
    }
    items
}

fn words(kind: &str, opening: f64) -> String {
    if opening >= 1.0 {
        kind.to_owned()
    } else {
        format!("{kind}, {:.0} % open", 100.0 * opening)
    }
}

fn unknown(context: &LoweringContext<'_>, run: &Run, valve: &ValveUse) -> Problem {
    let nearest = context.catalogue.nearest_valve(&valve.kind);
    Problem::NotInCatalogue {
        run: run.id.clone(),
        entry: UnknownEntry::Valve(valve.kind.clone()),
        nearest: nearest.map(str::to_owned),
    }
}
