//! Levels outside the vessels: fixed levels, and the grade at joints.

use super::TextReader;
use super::table::{Column, measured, shared, table};
use crate::states::report::{FixedReport, JointReport, StateReport};
use crate::units::Quantity;

/// Fixed levels, with the flow that each gives or takes.
pub(super) fn fixed(reader: &TextReader, report: &StateReport) -> Vec<String> {
    let all = &report.fixed;
    if all.is_empty() {
        return Vec::new();
    }
    let words = |cell: &dyn Fn(&FixedReport) -> String| all.iter().map(cell).collect();
    let values = |cell: &dyn Fn(&FixedReport) -> f64| {
        let values = all.iter().map(cell);
        values.map(Some).collect()
    };
    let mut lines = vec![String::new()];
    lines.extend(table(&[
        Column::words("fixed level", words(&|one| reader.name(&one.id))),
        measured(
            reader,
            ("level", Quantity::Height),
            values(&|one| one.level_m),
        ),
        Column::words("", words(&|one| way(one.flow_m3_s).to_owned())),
        measured(
            reader,
            ("flow", Quantity::Flow),
            values(&|one| one.flow_m3_s.abs()),
        ),
    ]));
    lines
}

/// Whether water comes from a fixed level or goes to it.
fn way(flow_m3_s: f64) -> &'static str {
    match flow_m3_s {
        flow if flow > 0.0 => "gives",
        flow if flow < 0.0 => "takes",
        _ => "",
    }
}

/// Joints, with their elevation, grade and pressure.
pub(super) fn joints(reader: &TextReader, report: &StateReport) -> Vec<String> {
    let all = &report.joints;
    if all.is_empty() {
        return Vec::new();
    }
    let heights = all.iter();
    let heights = heights.flat_map(|one| [one.head_m, Some(one.elevation_m)]);
    let height = shared(reader, Quantity::Height, heights.flatten());
    let values = |cell: &dyn Fn(&JointReport) -> Option<f64>| all.iter().map(cell).collect();
    let names = all.iter().map(|one| reader.name(&one.id)).collect();
    let mut lines = vec![String::new()];
    lines.extend(table(&[
        Column::words("joint", names),
        Column::in_unit("centre", height, values(&|one| Some(one.elevation_m))),
        Column::in_unit("grade", height, values(&|one| one.head_m)),
        measured(
            reader,
            ("pressure", Quantity::Pressure),
            values(&|one| one.pressure_pa),
        ),
    ]));
    lines
}
