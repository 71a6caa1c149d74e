//! States that are a trajectory: starting, blocked, stopped.

use super::events::events;
use super::pumps::title;
use super::table::{Column, measured, shared, table};
use super::vessels::name;
use super::wrap::wrap;
use super::{TextReader, WIDTH};
use crate::states::report::{
    BackReport, BlockedCase, StateReport, TrajectoryReport, TrajectorySuction, TrajectoryVessel,
    VesselReport, reported_spill_m3,
};
use crate::units::{Quantity, span, write};

/// Starting: the range of each level, the least water over the intakes, the events.
pub(super) fn starting(reader: &TextReader, report: &StateReport) -> Vec<String> {
    let Some(course) = report.course.as_ref().filter(|_| !report.pumps.is_empty()) else {
        return vec![NO_PUMP.to_owned()];
    };
    let mut lines = vec![ended("Steady", course, report)];
    if reported_spill_m3(report.in_runs_m3).is_some() {
        let much = write(Quantity::Volume, report.in_runs_m3, reader.system);
        lines.push(format!("  The runs take up {much} on the way."));
    }
    lines.push(String::new());
    lines.extend(ranges(reader, &course.vessels));
    if !course.suctions.is_empty() {
        lines.push(String::new());
    }
    lines.extend(course.suctions.iter().map(|one| suction(reader, one)));
    lines.extend(events(reader, &course.told));
    lines
}

/// Stopped: the final levels, the water that ran back, the events.
pub(super) fn stopped(
    reader: &TextReader,
    report: &StateReport,
    running: Option<&StateReport>,
) -> Vec<String> {
    let Some(course) = report.course.as_ref().filter(|_| !report.pumps.is_empty()) else {
        return vec![NO_PUMP.to_owned()];
    };
    let mut lines = vec![ended("Still", course, report), String::new()];
    lines.extend(against(reader, report, running));
    if let Some(back) = course.back {
        lines.extend(ran_back(reader, back));
    }
    lines.extend(events(reader, &course.told));
    lines
}

/// Blocked: the harmful cases in a table, worst first; those that do no harm in one sentence.
pub(super) fn blocked(reader: &TextReader, report: &StateReport) -> Vec<String> {
    let cases = &report.blocked;
    if cases.is_empty() {
        return vec!["  No run carries water, so there is none to block.".to_owned()];
    }
    let harms = |case: &&BlockedCase| case.spills.is_some() || case.starved_s.is_some();
    let (harm, none): (Vec<&BlockedCase>, Vec<&BlockedCase>) = cases.iter().partition(harms);
    let mut lines = Vec::new();
    if !harm.is_empty() {
        lines.push("  One run shut at a time, from running, for a day:".to_owned());
        lines.extend(case_table(reader, &harm));
    }
    if !none.is_empty() {
        if !harm.is_empty() {
            lines.push(String::new());
        }
        let names: Vec<String> = none.iter().map(|case| reader.name(&case.run)).collect();
        let text = format!(
            "Nothing spills and no pump lacks water within a day with one of these shut: {}.",
            super::list(&names)
        );
        let wrapped = wrap(&text, WIDTH - 2);
        lines.extend(wrapped.into_iter().map(|line| format!("  {line}")));
    }
    lines
}

fn case_table(reader: &TextReader, cases: &[&BlockedCase]) -> Vec<String> {
    let words =
        |cell: &dyn Fn(&BlockedCase) -> String| cases.iter().map(|case| cell(case)).collect();
    let mut columns = vec![Column::words(
        "run shut",
        words(&|case| reader.name(&case.run)),
    )];
    columns.extend(outcome(reader, cases));
    table(&columns)
}

/// Columns of consequences: which vessel spills, when, how much, and when a pump lacks water.
pub(super) fn outcome(reader: &TextReader, cases: &[&BlockedCase]) -> Vec<Column> {
    let words =
        |cell: &dyn Fn(&BlockedCase) -> String| cases.iter().map(|case| cell(case)).collect();
    let after = |time_s: Option<f64>| time_s.map_or_else(|| "–".to_owned(), span);
    let first = |case: &BlockedCase| match &case.spills {
        Some(id) => reader.name(id),
        // A vessel that spilled before the run was shut goes on spilling.
        None if reported_spill_m3(case.spilled_m3).is_some() => "none anew".to_owned(),
        None => "none".to_owned(),
    };
    let lost = |case: &&BlockedCase| reported_spill_m3(case.spilled_m3);
    vec![
        Column::words("first to spill", words(&first)),
        Column::numbers("after", "", words(&|case| after(case.first_spill_s))),
        measured(
            reader,
            ("lost in a day", Quantity::Volume),
            cases.iter().map(lost).collect(),
        ),
        Column::numbers(
            "pump starved after",
            "",
            words(&|case| after(case.starved_s)),
        ),
    ]
}

/// Text for starting and stopped without a pump.
const NO_PUMP: &str = "  There is no pump, so it is as at rest.";

fn ended(still: &str, course: &TrajectoryReport, report: &StateReport) -> String {
    match (&report.cycle, course.still) {
        (Some(cycle), _) => {
            let about = if cycle.regular { "" } else { "about " };
            let period = span(cycle.period_s);
            format!("  It never becomes steady: levels repeat {about}every {period}.")
        }
        (None, true) => format!("  {still} after {}.", span(course.time_s)),
        (None, false) => format!("  Still moving after {}.", span(course.time_s)),
    }
}

fn ranges(reader: &TextReader, vessels: &[TrajectoryVessel]) -> Vec<String> {
    let heights = vessels.iter().flat_map(|one| [one.lowest_m, one.highest_m]);
    let height = shared(reader, Quantity::Height, heights);
    let values = |cell: &dyn Fn(&TrajectoryVessel) -> f64| {
        let values = vessels.iter().map(cell);
        values.map(Some).collect()
    };
    let names = vessels.iter().map(|one| reader.name(&one.id)).collect();
    let mut columns = vec![
        Column::words("vessel", names),
        Column::in_unit("lowest", height, values(&|one| one.lowest_m)),
        Column::in_unit("highest", height, values(&|one| one.highest_m)),
    ];
    let spilled = |one: &TrajectoryVessel| reported_spill_m3(one.spilled_m3);
    if vessels.iter().any(|one| spilled(one).is_some()) {
        let spilled = vessels.iter().map(spilled).collect();
        columns.push(measured(reader, ("spilled", Quantity::Volume), spilled));
    }
    table(&columns)
}

fn suction(reader: &TextReader, suction: &TrajectorySuction) -> String {
    let over = write(
        Quantity::Height,
        (suction.lowest_m - suction.lip_m).max(0.0),
        reader.system,
    );
    let pump = title(&reader.name(&suction.pump));
    let vessel = reader.name(&suction.vessel);
    let when = span(suction.lowest_s);
    format!("  The least water over the intake of {pump} in {vessel}: {over}, after {when}.")
}

/// The final levels, compared with running.
pub(super) fn against(
    reader: &TextReader,
    report: &StateReport,
    running: Option<&StateReport>,
) -> Vec<String> {
    let all = &report.vessels;
    let heights = all.iter().flat_map(|one| [one.level_m, Some(one.rim_m)]);
    let height = shared(reader, Quantity::Height, heights.flatten());
    let values = |cell: &dyn Fn(&VesselReport) -> Option<f64>| all.iter().map(cell).collect();
    let names = all.iter().map(|one| name(reader, one)).collect();
    let freeboard = all.iter().map(|one| super::vessels::freeboard(height, one));
    let mut columns = vec![
        Column::words("vessel", names),
        Column::in_unit("level", height, values(&|one| one.level_m)),
        Column::in_unit("rim", height, values(&|one| Some(one.rim_m))),
        Column::numbers("freeboard", height.symbol, freeboard.collect()),
    ];
    if let Some(running) = running {
        let change = |one: &VesselReport| {
            let mut others = running.vessels.iter();
            let before_m = others.find(|other| other.id == one.id)?.level_m?;
            Some(signed(height, one.level_m? - before_m))
        };
        let cells = all
            .iter()
            .map(|one| change(one).unwrap_or_else(|| "–".to_owned()));
        columns.push(Column::numbers(
            "against running",
            height.symbol,
            cells.collect(),
        ));
    }
    let lost: Vec<Option<f64>> = all.iter().map(VesselReport::lost_m3).collect();
    if lost.iter().any(Option::is_some) {
        columns.push(measured(reader, ("spilled", Quantity::Volume), lost));
    }
    table(&columns)
}

/// A difference with its sign, plus signs included.
fn signed(height: crate::units::Unit, change_m: f64) -> String {
    let text = height.number(change_m);
    let moves = text.chars().any(|letter| ('1'..='9').contains(&letter));
    if change_m > 0.0 && moves {
        format!("+{text}")
    } else if moves {
        text
    } else {
        height.number(0.0)
    }
}

fn ran_back(reader: &TextReader, back: BackReport) -> Vec<String> {
    let rows = [
        ("runs down to where the pump draws", back.drained_m3),
        ("comes back through the pump", back.siphoned_m3),
        ("comes out of runs that empty", back.in_runs_m3),
    ];
    if rows
        .iter()
        .all(|(_, volume_m3)| reported_spill_m3(*volume_m3).is_none())
    {
        return Vec::new();
    }
    let what = rows.iter().map(|row| row.0.to_owned()).collect();
    let much = rows
        .iter()
        .map(|row| write(Quantity::Volume, row.1, reader.system));
    let mut lines = vec![String::new()];
    lines.extend(table(&[
        Column::words("", what),
        Column::numbers("", "", much.collect()),
    ]));
    lines
}
