//! Reports a pump that should run but has stopped because its intake is dry.

use super::pump_feed::{intake, lip_m};
use super::state_view::{PipedRun, StateView};
use super::wording::{finding, height, when, with_limit};
use crate::finding::{Code, Finding, Severity};
use crate::states::report::{PumpReport, Standing};
use crate::units::Quantity;

/// A pump that restarts again and again is reported by `never_steady`.
pub(super) fn find(seen: &StateView<'_>) -> Vec<Finding> {
    if seen.report.cycle.is_some() {
        return Vec::new();
    }
    let dry = seen.pumps();
    let dry = dry.filter(|(pump, _)| pump.standing == Standing::RanDry);
    dry.map(|(pump, run)| of_pump(seen, pump, &run)).collect()
}

fn of_pump(seen: &StateView<'_>, pump: &PumpReport, run: &PipedRun<'_>) -> Finding {
    let from = run.end(intake(run));
    let mut text = vec![
        "The pump of ".into(),
        (&pump.run).into(),
        " runs dry".into(),
        when(seen.report.state).into(),
        " and stops: the water in ".into(),
        from.into(),
        " falls to its intake".into(),
    ];
    let known = pump.suction_level_m.zip(lip_m(run));
    if let Some((level_m, lip_m)) = known {
        text.extend([
            " at ".into(),
            height(lip_m),
            " and comes back to no more than ".into(),
            height(level_m),
        ]);
    }
    text.push(".".into());
    let kind = (Code::PumpRunsDry, Severity::Problem);
    let found = finding(seen, kind, &[&pump.id, &pump.run, from], text);
    with_limit(
        found,
        Quantity::Height,
        known.unwrap_or((f64::NAN, f64::NAN)),
    )
}
