//! Reports suction: a grade line below the pipe, and too little net positive suction head at a pump.

use super::line;
use super::state_view::{PipedRun, StateView, over, under};
use super::wording::{finding, head, height, with_limit};
use crate::finding::{Code, Finding, Piece, Severity};
use crate::layout::Id;
use crate::states::report::{Control, PumpReport, Regime};
use crate::units::Quantity;

/// Largest suction allowed in a pipe, as the height of the pipe over the grade, metres: beyond it joints draw air.
/// Common practice, no source.
const MOST_SUCTION_M: f64 = 3.0;
/// Smallest net positive suction head available to a pump whose data sheet is not known, metres: hardly any pump works
/// with less. Common practice, no source.
const LEAST_NPSH_M: f64 = 1.0;
/// Margin over the net positive suction head that the data sheet of a pump requires, metres: at the required head a
/// pump has already lost 3 % of its head. Two feet; common practice, no source.
const NPSH_TO_SPARE_M: f64 = 0.6;

pub(super) fn find(seen: &StateView<'_>) -> Vec<Finding> {
    let mut found: Vec<Finding> = Vec::new();
    found.extend(seen.runs.iter().filter_map(|run| of_run(seen, run)));
    for joint in &seen.report.joints {
        let suction_m = joint.head_m.map(|head_m| joint.elevation_m - head_m);
        let place = (&joint.id, joint.elevation_m);
        found.extend(suction_m.and_then(|suction_m| reported(seen, place, suction_m)));
    }
    found.extend(pumps(seen));
    found
}

/// Suction at which the water boils, metres: atmospheric less vapour pressure, as a height of water.
fn boiling_m(seen: &StateView<'_>) -> f64 {
    let weight = seen.water.density_kg_m3 * seen.layout.coefficients.gravity_m_s2;
    (seen.layout.water.atmosphere_pa - seen.water.vapour_pressure_pa) / weight
}

fn reported(seen: &StateView<'_>, place: (&Id, f64), suction_m: f64) -> Option<Finding> {
    if !over(suction_m, MOST_SUCTION_M) {
        return None;
    }
    let (id, height_m) = place;
    let boiling_m = boiling_m(seen);
    let mut text = vec![
        "The water in ".into(),
        id.into(),
        " is under suction: at ".into(),
        height(height_m),
        " the grade stands ".into(),
        head(suction_m),
        " below the pipe".into(),
    ];
    let (severity, limit_m) = if over(suction_m, boiling_m) {
        let ends: [Piece; 3] = [
            ", and at ".into(),
            head(boiling_m),
            " the water boils and the column parts.".into(),
        ];
        text.extend(ends);
        (Severity::Problem, boiling_m)
    } else {
        let ends: [Piece; 3] = [
            "; beyond ".into(),
            head(MOST_SUCTION_M),
            " joints draw air.".into(),
        ];
        text.extend(ends);
        (Severity::Warning, MOST_SUCTION_M)
    };
    let found = finding(seen, (Code::Suction, severity), &[id], text);
    Some(with_limit(found, Quantity::Head, (suction_m, limit_m)))
}

/// Only a run that is full of water can be under suction.
fn of_run(seen: &StateView<'_>, run: &PipedRun<'_>) -> Option<Finding> {
    let full = matches!(run.here.control, Control::Outlet | Control::Pumped);
    // A raised crest is vented, so that there is no suction over it.
    let vented = run.facts.rise.is_some();
    if !full || run.here.regime != Regime::Full || vented || !run.flows() {
        return None;
    }
    let (height_m, suction_m) = line::corners(seen, run)
        .map(|(height_m, grade_m)| (height_m, height_m - grade_m))
        .max_by(|a, b| a.1.total_cmp(&b.1))?;
    reported(seen, (&run.drawn.id, height_m), suction_m)
}

fn pumps(seen: &StateView<'_>) -> Vec<Finding> {
    let running = seen.pumps().filter(|(pump, _)| pump.on);
    let told = running.filter_map(|(pump, _)| {
        let left_m = pump.npsh_available_m?;
        match pump.npsh_required_m {
            Some(required_m) => by_sheet(seen, pump, (left_m, required_m)),
            None => without_sheet(seen, pump, left_m),
        }
    });
    told.collect()
}

/// Compares the available suction head with what the data sheet of the pump requires.
fn by_sheet(
    seen: &StateView<'_>,
    pump: &PumpReport,
    (left_m, required_m): (f64, f64),
) -> Option<Finding> {
    let wanted_m = required_m + NPSH_TO_SPARE_M;
    if !under(left_m, wanted_m) {
        return None;
    }
    let mut text = of_suction(pump, left_m);
    text.extend(["its sheet asks for ".into(), head(required_m)]);
    let (severity, limit_m) = if under(left_m, required_m) {
        text.push(": the water boils in it, which takes flow and wears it out.".into());
        (Severity::Problem, required_m)
    } else {
        text.extend([" and ".into(), head(NPSH_TO_SPARE_M), " to spare.".into()]);
        (Severity::Warning, wanted_m)
    };
    Some(of_pump(seen, pump, severity, (text, left_m, limit_m)))
}

fn without_sheet(seen: &StateView<'_>, pump: &PumpReport, left_m: f64) -> Option<Finding> {
    if !under(left_m, LEAST_NPSH_M) {
        return None;
    }
    let mut text = of_suction(pump, left_m);
    let severity = if left_m < 0.0 {
        text.push("it cannot draw.".into());
        Severity::Problem
    } else {
        text.extend([
            head(LEAST_NPSH_M),
            " is the least, and its sheet may ask for more.".into(),
        ]);
        Severity::Warning
    };
    Some(of_pump(seen, pump, severity, (text, left_m, LEAST_NPSH_M)))
}

fn of_suction(pump: &PumpReport, left_m: f64) -> Vec<Piece> {
    vec![
        "The suction of the pump of ".into(),
        (&pump.run).into(),
        " leaves ".into(),
        head(left_m.max(0.0)),
        " over the boiling of the water; ".into(),
    ]
}

fn of_pump(
    seen: &StateView<'_>,
    pump: &PumpReport,
    severity: Severity,
    (text, left_m, limit_m): (Vec<Piece>, f64, f64),
) -> Finding {
    let kind = (Code::Suction, severity);
    let found = finding(seen, kind, &[&pump.id, &pump.run], text);
    with_limit(found, Quantity::Head, (left_m, limit_m))
}
