//! Water levels of the vessels, and spills.

use super::TextReader;
use super::table::{Column, measured, shared, table};
use crate::states::report::{CycleLevel, StateReport, VesselReport, WithSpill};
use crate::units::{Quantity, Unit, span, write};

/// Tolerance of levels, metres: a vessel this close to its rim is brim full.
const LEVEL_TOLERANCE_M: f64 = 1e-4;
/// Largest range of a level in a cycle that counts as constant, metres.
const STANDS_M: f64 = 1e-3;
/// Explains the first table of levels where water spills.
const REQUIRED: &str = "The levels above are those that the flow needs.";

/// Explains the second table where the levels as built come first.
const REAL: &str = "Water leaves over the rims. The levels that the flow needs, with walls so tall that none does:";

/// The table of vessels: level, rim, freeboard, flow through, turnover.
pub(super) fn vessels(reader: &TextReader, report: &StateReport) -> Vec<String> {
    let all = &report.vessels;
    if all.is_empty() {
        return vec!["  There is no vessel in this layout yet.".to_owned()];
    }
    let heights = all.iter().flat_map(|one| [one.level_m, Some(one.rim_m)]);
    let height = shared(reader, Quantity::Height, heights.flatten());
    let words = |cell: &dyn Fn(&VesselReport) -> String| all.iter().map(cell).collect();
    let values = |cell: &dyn Fn(&VesselReport) -> Option<f64>| all.iter().map(cell).collect();
    table(&[
        Column::words("vessel", words(&|one| name(reader, one))),
        Column::in_unit("level", height, values(&|one| one.level_m)),
        Column::in_unit("rim", height, values(&|one| Some(one.rim_m))),
        Column::numbers(
            "freeboard",
            height.symbol,
            words(&|one| freeboard(height, one)),
        ),
        measured(
            reader,
            ("flow through", Quantity::Flow),
            values(&|one| Some(one.inflow_m3_s)),
        ),
        measured(
            reader,
            ("turnover", Quantity::Turnover),
            values(&VesselReport::turnover_per_s),
        ),
    ])
}

/// The range of each level in a limit cycle; empty where the state is steady.
pub(super) fn cycle(reader: &TextReader, report: &StateReport) -> Vec<String> {
    let Some(cycle) = &report.cycle else {
        return Vec::new();
    };
    let swings = |one: &&CycleLevel| one.highest_m - one.lowest_m > STANDS_M;
    let moving: Vec<&CycleLevel> = cycle.vessels.iter().filter(swings).collect();
    let heights = moving.iter().flat_map(|one| [one.lowest_m, one.highest_m]);
    let height = shared(reader, Quantity::Height, heights);
    let values = |cell: &dyn Fn(&CycleLevel) -> f64| {
        let values = moving.iter().map(|one| cell(one));
        values.map(Some).collect()
    };
    let names = moving.iter().map(|one| reader.name(&one.id)).collect();
    let (about, rounds) = match cycle.regular {
        true => ("", "a cycle"),
        false => ("about ", "many cycles, no two alike"),
    };
    let mut lines = vec![
        String::new(),
        format!(
            "  It never becomes steady: levels repeat {about}every {}. Levels and flows are means of {rounds}:",
            span(cycle.period_s)
        ),
    ];
    lines.extend(table(&[
        Column::words("vessel", names),
        Column::in_unit("lowest", height, values(&|one| one.lowest_m)),
        Column::in_unit("highest", height, values(&|one| one.highest_m)),
        Column::in_unit("mean", height, values(&|one| one.mean_m)),
    ]));
    lines
}

/// The vessels that spill, with their flows and losses; empty where none does.
pub(super) fn with_spill(reader: &TextReader, report: &StateReport) -> Vec<String> {
    let all = report.vessels.iter();
    let (vessels, spills): (Vec<&VesselReport>, Vec<WithSpill>) = all
        .filter_map(|one| one.with_spill.map(|spill| (one, spill)))
        .unzip();
    if vessels.is_empty() {
        return Vec::new();
    }
    let names = vessels.iter().map(|one| name(reader, one)).collect();
    let values = |cell: &dyn Fn(&WithSpill) -> f64| {
        let values = spills.iter().map(cell);
        values.map(Some).collect()
    };
    let first = spills.iter().map(|one| match one.first_spill_s {
        Some(time_s) => write(Quantity::Time, time_s, reader.system),
        None => "never".to_owned(),
    });
    let (intro, level) = if report.as_built.is_some() {
        let needed = vessels.iter().map(|one| one.level_m).collect();
        (
            REAL.to_owned(),
            measured(reader, ("needs", Quantity::Height), needed),
        )
    } else {
        let levels = values(&|one| one.level_m);
        (
            format!("{REQUIRED} With water leaving over the rims:"),
            measured(reader, ("level", Quantity::Height), levels),
        )
    };
    let mut lines = vec![String::new(), format!("  {intro}")];
    lines.extend(table(&[
        Column::words("vessel", names),
        level,
        measured(
            reader,
            ("over its rim", Quantity::Flow),
            values(&|one| one.spill_m3_s),
        ),
        measured(
            reader,
            ("lost by then", Quantity::Volume),
            values(&|one| one.lost_m3),
        ),
        Column::numbers("first spills after", "", first.collect()),
    ]));
    lines
}

pub(super) fn name(reader: &TextReader, vessel: &VesselReport) -> String {
    let own = super::one_line(&vessel.name);
    if own.is_empty() {
        reader.name(&vessel.id)
    } else {
        own
    }
}

pub(super) fn freeboard(height: Unit, vessel: &VesselReport) -> String {
    match vessel.freeboard_m() {
        // No level passes the inflow.
        None => "SPILLS".to_owned(),
        Some(freeboard_m) if freeboard_m.abs() < LEVEL_TOLERANCE_M => "brim full".to_owned(),
        Some(freeboard_m) if freeboard_m < 0.0 => {
            format!("SPILLS by {}", height.number(-freeboard_m))
        }
        Some(freeboard_m) => height.number(freeboard_m),
    }
}
