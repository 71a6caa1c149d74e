//! Flows of runs, and what limits them.

use super::TextReader;
use super::table::{Column, measured, shared, table};
use crate::state::State;
use crate::states::report::{Control, Regime, RunReport, StateReport};
use crate::units::{Quantity, write};

/// Smallest flow that counts as flow at rest, m³/s.
const NO_FLOW_M3_S: f64 = 1e-7;

/// The table of runs; at rest only of those that flow.
pub(super) fn runs(reader: &TextReader, report: &StateReport) -> Vec<String> {
    if report.runs.is_empty() {
        return Vec::new();
    }
    let shown = report.runs.iter();
    let shown: Vec<&RunReport> = shown
        .filter(|run| report.state != State::Rest || !is_still(run))
        .collect();
    let mut lines = vec![String::new()];
    if shown.is_empty() {
        lines.push("  No water moves.".to_owned());
    } else {
        lines.extend(run_table(reader, &shown));
    }
    lines
}

/// A flow that is NaN counts as moving, so that it is displayed.
fn is_still(run: &RunReport) -> bool {
    run.flow_m3_s.abs() < NO_FLOW_M3_S
}

fn run_table(reader: &TextReader, runs: &[&RunReport]) -> Vec<String> {
    let flows = runs.iter();
    let flows = flows.flat_map(|one| [Some(one.flow_m3_s), one.capacity_at_rim_m3_s]);
    let flow = shared(reader, Quantity::Flow, flows.flatten());
    let words = |cell: &dyn Fn(&RunReport) -> String| runs.iter().map(|run| cell(run)).collect();
    let values =
        |cell: &dyn Fn(&RunReport) -> Option<f64>| runs.iter().map(|run| cell(run)).collect();
    table(&[
        Column::words("run", words(&|run| reader.name(&run.id))),
        Column::words("from", words(&|run| reader.name(&run.from))),
        Column::words("", words(&|run| arrow(run).to_owned())),
        Column::words("to", words(&|run| reader.name(&run.to))),
        Column::in_unit("flow", flow, values(&|run| Some(run.flow_m3_s.abs()))),
        measured(
            reader,
            ("velocity", Quantity::Velocity),
            values(&|run| Some(run.velocity_m_s.abs())),
        ),
        Column::words("limited by", words(&|run| limited_by(run).to_owned())),
        Column::in_unit(
            "passes at rim",
            flow,
            values(&|run| run.capacity_at_rim_m3_s),
        ),
    ])
}

/// The direction of the flow, relative to the drawn direction of the run.
fn arrow(run: &RunReport) -> &'static str {
    if run.flow_m3_s < 0.0 { "←" } else { "→" }
}

pub(super) fn limited_by(run: &RunReport) -> &'static str {
    match (run.control, run.regime) {
        (Control::Inlet, Regime::Surging) => "inlet, surges",
        (Control::Outlet, Regime::Surging) => "losses, surges",
        (Control::Pumped, Regime::Surging) => "pump, surges",
        (Control::Inlet, _) => "inlet",
        (Control::Outlet, _) => "losses",
        (Control::Pumped, _) => "pump",
        (Control::Shut, _) => "shut",
        (Control::Dry, _) => "dry",
        (Control::Still, _) => "still",
    }
}

/// Flows out of the holes of siphon breaks.
pub(super) fn through_holes(reader: &TextReader, report: &StateReport) -> Vec<String> {
    let runs = report.runs.iter();
    let told = runs.filter_map(|run| {
        let lost = run.through_hole_m3_s.filter(|lost| *lost > 0.0)?;
        let lost = write(Quantity::Flow, lost, reader.system);
        let name = reader.name(&run.id);
        Some(format!(
            "  Through the hole of the siphon break of {name}: {lost}."
        ))
    });
    told.collect()
}
