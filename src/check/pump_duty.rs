//! Reports a pump that cannot lift, or whose duty point is outside the preferred part of its curve.

use super::pump_feed::is_starved;
use super::state_view::{PipedRun, StateView, TRICKLE_M3_S, over, under};
use super::suction_shut;
use super::wording::{finding, flow, head, with_limit};
use crate::finding::{Code, Finding, Piece, Severity};
use crate::states::report::PumpReport;
use crate::units::Quantity;

pub(super) fn find(seen: &StateView<'_>) -> Vec<Finding> {
    let running = seen.pumps().filter(|(pump, _)| pump.on);
    let told = running.filter_map(|(pump, run)| {
        if pump.flow_m3_s.abs() <= TRICKLE_M3_S {
            cannot_lift(seen, pump, &run)
        } else {
            off_curve(seen, pump)
        }
    });
    told.collect()
}

fn of_pump(
    seen: &StateView<'_>,
    kind: (Code, Severity),
    pump: &PumpReport,
    rest: Vec<Piece>,
) -> Finding {
    let mut text = vec!["The pump of ".into(), (&pump.run).into()];
    text.extend(rest);
    finding(seen, kind, &[&pump.id, &pump.run], text)
}

fn cannot_lift(seen: &StateView<'_>, pump: &PumpReport, run: &PipedRun<'_>) -> Option<Finding> {
    if is_starved(pump, run) || suction_shut::shut_before(seen, pump, run).is_some() {
        return None;
    }
    let kind = (Code::PumpCannotLift, Severity::Problem);
    let numbers = (pump.static_m, pump.shutoff_head_m);
    let still = "no water moves, and the pump heats the water in it.";
    let rest = if run.has_shut_valve() {
        vec![format!(" pushes against a shut valve: {still}").into()]
    } else if run.drawn.pushes_on_check_valve() {
        let words = " pushes against its check valve, which lets water pass the other way only: ";
        vec![words.into(), still.into()]
    } else {
        let verb = if over(pump.static_m, pump.shutoff_head_m) {
            " cannot lift the water"
        } else {
            " moves no water"
        };
        vec![
            verb.into(),
            ": the lift is ".into(),
            head(pump.static_m),
            ", and at no flow it gives ".into(),
            head(pump.shutoff_head_m),
            ".".into(),
        ]
    };
    Some(with_limit(
        of_pump(seen, kind, pump, rest),
        Quantity::Head,
        numbers,
    ))
}

fn off_curve(seen: &StateView<'_>, pump: &PumpReport) -> Option<Finding> {
    let end_m3_s = pump.end_of_curve_m3_s?;
    let limits = &seen.layout.limits;
    let most_m3_s = limits.most_share_of_curve * end_m3_s;
    let least_m3_s = limits.least_share_of_curve * end_m3_s;
    let duty_m3_s = pump.flow_m3_s;
    let (limit_m3_s, words) = if over(duty_m3_s, most_m3_s) {
        (most_m3_s, ", too near the end of its curve; the limit is ")
    } else if duty_m3_s > 0.0 && under(duty_m3_s, least_m3_s) {
        (least_m3_s, ", too near no flow; the limit is ")
    } else {
        return None;
    };
    let rest = vec![
        " delivers ".into(),
        flow(duty_m3_s),
        words.into(),
        flow(limit_m3_s),
        ".".into(),
    ];
    let found = of_pump(seen, (Code::PumpOffCurve, Severity::Warning), pump, rest);
    Some(with_limit(found, Quantity::Flow, (duty_m3_s, limit_m3_s)))
}
