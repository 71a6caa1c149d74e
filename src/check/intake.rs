//! Reports too little water over the intake of a running pump, which then draws air.

use super::pump_feed::{intake, is_starved, lip_m};
use super::state_view::{PipedRun, StateView, under};
use super::wording::{finding, height, when, with_limit};
use crate::finding::{Code, Finding, Severity};
use crate::hydraulics::openings::vortex::submergence_m;
use crate::states::report::PumpReport;
use crate::units::Quantity;

pub(super) fn find(seen: &StateView<'_>) -> Vec<Finding> {
    let running = seen
        .pumps()
        .filter(|(pump, run)| pump.on && !is_starved(pump, run));
    running
        .filter_map(|(pump, run)| of_pump(seen, pump, &run))
        .collect()
}

/// Compares the depth over the intake with the submergence that keeps air out, which is never less than one bore.
fn of_pump(seen: &StateView<'_>, pump: &PumpReport, run: &PipedRun<'_>) -> Option<Finding> {
    let lip_m = lip_m(run)?;
    let from = run.end(intake(run));
    let level_m = seen.vessel(from)?.low_m()?;
    let ends = [&run.drawn.from, &run.drawn.to];
    let opening = ends.get(intake(run)).and_then(|end| end.opening.as_ref());
    let bore_m = opening.and_then(|one| one.bore_m());
    let gravity_m_s2 = seen.layout.coefficients.gravity_m_s2;
    let flow_m3_s = pump.flow_m3_s.max(0.0);
    let wanted_m = submergence_m(flow_m3_s, bore_m.unwrap_or(run.here.bore_m), gravity_m_s2);
    let over_m = level_m - lip_m;
    if !under(over_m, wanted_m) {
        return None;
    }
    let text = vec![
        "Only ".into(),
        height(over_m.max(0.0)),
        " of water stand over the intake of ".into(),
        (&pump.run).into(),
        " in ".into(),
        from.into(),
        when(seen.report.state).into(),
        ": air is drawn in with it; ".into(),
        height(wanted_m),
        " keep it out.".into(),
    ];
    let kind = (Code::IntakeUncovered, Severity::Warning);
    let found = finding(seen, kind, &[&pump.id, &pump.run, from], text);
    Some(with_limit(found, Quantity::Height, (over_m, wanted_m)))
}
