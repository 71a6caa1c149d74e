//! Where the water stands in the vessels, and where it spills.

use super::TextReader;
use super::table::{Column, measured, shared, table};
use crate::states::report::{CycleLevel, StateReport, VesselReport, WithSpill};
use crate::units::{Quantity, Unit, span, write};

/// Levels are not known better than this, metres: a vessel so close to its rim is brim full.
const LEVEL_TOLERANCE_M: f64 = 1e-4;
/// A level that goes no further than this in a round stands, metres.
const STANDS_M: f64 = 1e-3;
/// What the first table of levels means where water spills.
const REQUIRED: &str = "The levels above are those that the flow needs.";

/// What it means where the real ones come first.
const REAL: &str = "Water leaves over the rims. The levels that the flow needs, with walls so tall that none does:";

/// Every vessel: level, rim, freeboard, flow through, turnover.
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

/// How far the levels go where the state comes round for ever; nothing where it does not.
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

/// What really happens where water leaves over rims; nothing where none does.
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
        // No level is enough for what flows in.
        None => "SPILLS".to_owned(),
        Some(freeboard_m) if freeboard_m.abs() < LEVEL_TOLERANCE_M => "brim full".to_owned(),
        Some(freeboard_m) if freeboard_m < 0.0 => {
            format!("SPILLS by {}", height.number(-freeboard_m))
        }
        Some(freeboard_m) => height.number(freeboard_m),
    }
}
