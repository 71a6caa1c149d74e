//! Where the water stands: vessels, fixed levels, joints.

use super::Reader;
use super::table::{Column, table};
use crate::states::report::{StateReport, VesselReport};
use crate::units::{Quantity, Unit, unit_for};

/// Written where there is no number.
pub(super) const NONE: &str = "–";
/// Levels are not known better than this, metres: a vessel so close to its rim is brim full.
const LEVEL_TOLERANCE_M: f64 = 1e-4;

/// The unit that fits the largest of `values`.
pub(super) fn shared(
    reader: &Reader,
    quantity: Quantity,
    values: impl Iterator<Item = f64>,
) -> Unit {
    let finite = values.filter(|value| value.is_finite());
    let largest = finite.fold(0.0_f64, |most, value| most.max(value.abs()));
    unit_for(quantity, largest, reader.system)
}

/// Every vessel: level, rim, freeboard, flow through, turnover.
pub(super) fn vessels(reader: &Reader, report: &StateReport) -> Vec<String> {
    let all = &report.vessels;
    if all.is_empty() {
        return vec!["  There is no vessel in this layout yet.".to_owned()];
    }
    let heights = all.iter().flat_map(|one| [one.level_m, Some(one.rim_m)]);
    let height = shared(reader, Quantity::Height, heights.flatten());
    let flow = shared(
        reader,
        Quantity::Flow,
        all.iter().map(|one| one.inflow_m3_s),
    );
    let turnovers = all.iter().filter_map(VesselReport::turnover_per_s);
    let turnover = shared(reader, Quantity::Turnover, turnovers);
    let number = |unit: Unit, value: Option<f64>| value.map_or(NONE.to_owned(), |v| unit.number(v));
    let column = |cell: &dyn Fn(&VesselReport) -> String| all.iter().map(cell).collect::<Vec<_>>();
    table(&[
        Column::words("vessel", column(&|one| name(reader, one))),
        Column::numbers(
            "level",
            height.symbol,
            column(&|one| number(height, one.level_m)),
        ),
        Column::numbers(
            "rim",
            height.symbol,
            column(&|one| height.number(one.rim_m)),
        ),
        Column::numbers(
            "freeboard",
            height.symbol,
            column(&|one| freeboard(height, one)),
        ),
        Column::numbers(
            "flow through",
            flow.symbol,
            column(&|one| flow.number(one.inflow_m3_s)),
        ),
        Column::numbers(
            "turnover",
            turnover.symbol,
            column(&|one| number(turnover, one.turnover_per_s())),
        ),
    ])
}

/// What really happens where water leaves over rims; nothing where none does.
pub(super) fn with_spill(reader: &Reader, report: &StateReport) -> Vec<String> {
    let spills = report.vessels.iter();
    let all: Vec<_> = spills
        .filter_map(|one| one.with_spill.map(|spill| (one, spill)))
        .collect();
    if all.is_empty() {
        return Vec::new();
    }
    let height = shared(
        reader,
        Quantity::Height,
        all.iter().map(|(_, one)| one.level_m),
    );
    let flow = shared(
        reader,
        Quantity::Flow,
        all.iter().map(|(_, one)| one.spill_m3_s),
    );
    let volume = shared(
        reader,
        Quantity::Volume,
        all.iter().map(|(_, one)| one.lost_m3),
    );
    let first = |time: Option<f64>| match time {
        Some(time_s) => crate::units::write(Quantity::Time, time_s, reader.system),
        None => "never".to_owned(),
    };
    let names = all.iter().map(|(vessel, _)| name(reader, vessel)).collect();
    let levels = all
        .iter()
        .map(|(_, one)| height.number(one.level_m))
        .collect();
    let flows = all
        .iter()
        .map(|(_, one)| flow.number(one.spill_m3_s))
        .collect();
    let lost = all
        .iter()
        .map(|(_, one)| volume.number(one.lost_m3))
        .collect();
    let firsts = all
        .iter()
        .map(|(_, one)| first(one.first_spill_s))
        .collect();
    let mut lines = vec![
        String::new(),
        "  The levels above are those that the flow needs. With water leaving over the rims:"
            .to_owned(),
    ];
    lines.extend(table(&[
        Column::words("vessel", names),
        Column::numbers("level", height.symbol, levels),
        Column::numbers("over its rim", flow.symbol, flows),
        Column::numbers("lost by then", volume.symbol, lost),
        Column::numbers("first spills after", "", firsts),
    ]));
    lines
}

/// Levels that do not move, and what they give.
pub(super) fn fixed(reader: &Reader, report: &StateReport) -> Vec<String> {
    let all = &report.fixed;
    if all.is_empty() {
        return Vec::new();
    }
    let height = shared(reader, Quantity::Height, all.iter().map(|one| one.level_m));
    let flow = shared(reader, Quantity::Flow, all.iter().map(|one| one.flow_m3_s));
    let way = |flow_m3_s: f64| match flow_m3_s {
        flow if flow > 0.0 => "gives",
        flow if flow < 0.0 => "takes",
        _ => "",
    };
    let mut lines = vec![String::new()];
    lines.extend(table(&[
        Column::words(
            "fixed level",
            all.iter().map(|one| reader.name(&one.id)).collect(),
        ),
        Column::numbers(
            "level",
            height.symbol,
            all.iter().map(|one| height.number(one.level_m)).collect(),
        ),
        Column::words(
            "",
            all.iter()
                .map(|one| way(one.flow_m3_s).to_owned())
                .collect(),
        ),
        Column::numbers(
            "flow",
            flow.symbol,
            all.iter()
                .map(|one| flow.number(one.flow_m3_s.abs()))
                .collect(),
        ),
    ]));
    lines
}

/// Joints: where water would stand in a tube tapped into them.
pub(super) fn joints(reader: &Reader, report: &StateReport) -> Vec<String> {
    let all = &report.joints;
    if all.is_empty() {
        return Vec::new();
    }
    let heads = all
        .iter()
        .flat_map(|one| [one.head_m, Some(one.elevation_m)]);
    let height = shared(reader, Quantity::Height, heads.flatten());
    let pressures = all.iter().filter_map(|one| one.pressure_pa);
    let pressure = shared(reader, Quantity::Pressure, pressures);
    let number =
        |unit: Unit, value: Option<f64>| value.map_or("dry".to_owned(), |v| unit.number(v));
    let mut lines = vec![String::new()];
    lines.extend(table(&[
        Column::words(
            "joint",
            all.iter().map(|one| reader.name(&one.id)).collect(),
        ),
        Column::numbers(
            "centre",
            height.symbol,
            all.iter()
                .map(|one| height.number(one.elevation_m))
                .collect(),
        ),
        Column::numbers(
            "grade",
            height.symbol,
            all.iter().map(|one| number(height, one.head_m)).collect(),
        ),
        Column::numbers(
            "pressure",
            pressure.symbol,
            all.iter()
                .map(|one| number(pressure, one.pressure_pa))
                .collect(),
        ),
    ]));
    lines
}

fn name(reader: &Reader, vessel: &VesselReport) -> String {
    let own = super::one_line(&vessel.name);
    if own.is_empty() {
        reader.name(&vessel.id)
    } else {
        own
    }
}

fn freeboard(height: Unit, vessel: &VesselReport) -> String {
    match vessel.freeboard_m() {
        // No level is enough for what flows in.
        None => "SPILLS".to_owned(),
        Some(freeboard_m) if freeboard_m.abs() < LEVEL_TOLERANCE_M => "brim full".to_owned(),
        Some(freeboard_m) if freeboard_m < 0.0 => {
            format!("SPILLS by {}", height.number(-freeboard_m))
        }
        Some(freeboard_m) => height.number(freeboard_m),
    }
}
