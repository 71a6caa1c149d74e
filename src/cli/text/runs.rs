//! What flows where, and what holds it.

use super::Reader;
use super::table::{Column, table};
use super::vessels::{NONE, shared};
use crate::finding::State;
use crate::states::report::{Control, Regime, RunReport, StateReport};
use crate::units::Quantity;

/// At rest, less than this does not count as flow, m³/s.
const STILL_M3_S: f64 = 1e-7;

/// The runs. At rest only those that flow.
pub(super) fn runs(reader: &Reader, report: &StateReport) -> Vec<String> {
    if report.runs.is_empty() {
        return Vec::new();
    }
    let shown = report.runs.iter();
    let shown: Vec<&RunReport> = shown
        .filter(|run| report.state != State::Rest || !(run.flow_m3_s.abs() < STILL_M3_S))
        .collect();
    let mut lines = vec![String::new()];
    if shown.is_empty() {
        lines.push("  No water moves.".to_owned());
    } else {
        lines.extend(run_table(reader, &shown));
    }
    lines
}

fn run_table(reader: &Reader, runs: &[&RunReport]) -> Vec<String> {
    let flows = runs
        .iter()
        .flat_map(|one| [Some(one.flow_m3_s), one.capacity_at_rim_m3_s]);
    let flow = shared(reader, Quantity::Flow, flows.flatten());
    let velocities = runs.iter().map(|one| one.velocity_m_s);
    let velocity = shared(reader, Quantity::Velocity, velocities);
    let column =
        |cell: &dyn Fn(&RunReport) -> String| runs.iter().map(|run| cell(run)).collect::<Vec<_>>();
    let capacity = |run: &RunReport| {
        run.capacity_at_rim_m3_s
            .map_or(NONE.to_owned(), |v| flow.number(v))
    };
    table(&[
        Column::words("run", column(&|run| reader.name(&run.id))),
        Column::words("from", column(&|run| reader.name(&run.from))),
        Column::words("", column(&|run| arrow(run).to_owned())),
        Column::words("to", column(&|run| reader.name(&run.to))),
        Column::numbers(
            "flow",
            flow.symbol,
            column(&|run| flow.number(run.flow_m3_s.abs())),
        ),
        Column::numbers(
            "velocity",
            velocity.symbol,
            column(&|run| velocity.number(run.velocity_m_s.abs())),
        ),
        Column::words("held by", column(&|run| held_by(run).to_owned())),
        Column::numbers("at the rim", flow.symbol, column(&capacity)),
    ])
}

/// Which way the water goes, however the run was drawn.
fn arrow(run: &RunReport) -> &'static str {
    if run.flow_m3_s < 0.0 { "←" } else { "→" }
}

fn held_by(run: &RunReport) -> &'static str {
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
