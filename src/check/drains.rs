//! Compares what the drains of a vessel pass at its rim with what they must pass.

use super::state_view::{PipedRun, StateView, TRICKLE_M3_S, VesselSeen, under};
use super::wording::{finding, flow, with_limit};
use crate::finding::{Code, Finding, Piece, Severity};
use crate::layout::Id;
use crate::units::Quantity;

pub(super) fn find(seen: &StateView<'_>) -> Vec<Finding> {
    let quiet = seen.vessels.iter().filter(|held| !seen.floods(held));
    quiet.filter_map(|held| of_vessel(seen, held)).collect()
}

/// Returns the finding for a vessel that does not flood; one that does is reported by `spills`, with the same cause.
fn of_vessel(seen: &StateView<'_>, held: &VesselSeen<'_>) -> Option<Finding> {
    let id = &held.drawn.id;
    let out = || seen.meeting(id).filter(|run| run.source() == id);
    let pumped_m3_s: f64 = out()
        .filter(|run| run.drawn.pump.is_some())
        .map(|run| run.here.flow_m3_s.abs())
        .sum();
    let needed_m3_s = held.here.inflow_m3_s - pumped_m3_s;
    let drains: Vec<&PipedRun<'_>> = out().filter(|run| run.drawn.pump.is_none()).collect();
    let drains: Vec<(&Id, f64)> = drains
        .iter()
        .filter_map(|run| Some((&run.drawn.id, run.here.capacity_at_rim_m3_s?)))
        .collect();
    if drains.is_empty() || needed_m3_s <= TRICKLE_M3_S {
        return None;
    }
    let capacity_m3_s: f64 = drains.iter().map(|drain| drain.1).sum();
    let reserve = capacity_m3_s / needed_m3_s;
    let wanted = seen.layout.limits.drain_reserve;
    let mut about = vec![id];
    about.extend(drains.iter().map(|drain| drain.0));
    let flows = (capacity_m3_s, needed_m3_s);
    if under(reserve, 1.0) {
        let kind = (Code::DrainTooSmall, Severity::Problem);
        let found = finding(seen, kind, &about, too_small(&about, flows));
        Some(with_limit(found, Quantity::Flow, flows))
    } else if under(reserve, wanted) {
        let kind = (Code::LittleReserve, Severity::Warning);
        let found = finding(seen, kind, &about, little(&about, flows, wanted));
        Some(with_limit(found, Quantity::Ratio, (reserve, wanted)))
    } else {
        None
    }
}

fn too_small(about: &[&Id], (capacity_m3_s, needed_m3_s): (f64, f64)) -> Vec<Piece> {
    let mut text = at_the_rim(about, capacity_m3_s);
    text.extend([
        ", less than the ".into(),
        flow(needed_m3_s),
        " that they must.".into(),
    ]);
    text
}

fn little(about: &[&Id], (capacity_m3_s, needed_m3_s): (f64, f64), wanted: f64) -> Vec<Piece> {
    let mut text = at_the_rim(about, capacity_m3_s);
    text.extend([
        ", little more than the ".into(),
        flow(needed_m3_s),
        " that they must; the layout asks for ".into(),
        Piece::Number(Quantity::Ratio, wanted),
        " times as much.".into(),
    ]);
    text
}

fn at_the_rim(about: &[&Id], capacity_m3_s: f64) -> Vec<Piece> {
    let vessel = about.iter().take(1).map(|id| Piece::from(*id));
    let mut text = vec!["With ".into()];
    text.extend(vessel);
    text.extend([" at its rim its drains pass ".into(), flow(capacity_m3_s)]);
    text
}
