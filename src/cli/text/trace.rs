//! A trace as text: its events, and the levels at about twenty times.

use super::events::events;
use super::table::{Column, shared, table};
use super::wrap::{letters, wrap};
use super::{CAUTION, TextReader, WIDTH, heading};
use crate::cli::names::Names;
use crate::cli::trace::TraceReport;
use crate::layout::{Id, Layout};
use crate::states::report::reported_spill_m3;
use crate::states::{EventKind, SimulationResult};
use crate::units::{Quantity, Unit, span, write};

/// Largest range of a level that counts as constant, metres.
const STANDS_M: f64 = 1e-3;
/// Number of intervals of equal movement that the table is divided into, in addition to the events.
const MOMENTS: usize = 16;
/// Most events that have a row in the table.
const MOST_EVENTS: usize = 8;
/// Longest heading of a column, characters.
const LONGEST: usize = 16;

/// Returns the report; every line ends with a line feed.
pub fn trace_text(layout: &Layout, told: &TraceReport) -> String {
    let reader = TextReader {
        layout,
        names: Names::new(layout),
        system: layout.units,
    };
    let traced = &told.traced;
    let mut lines = wrap(&super::title_of(layout), WIDTH);
    lines.push("Heights stand above the layout's datum.".to_owned());
    lines.extend(heading(&told.heading));
    lines.extend(told.primed.map(|note| format!("  {note}")));
    lines.push(format!("  {}", ended(traced)));
    lines.extend(events(&reader, &traced.told));
    lines.extend(paged(traced, columns(&reader, layout, traced)));
    lines.extend(standing(&reader, traced));
    lines.extend(spilled(&reader, traced));
    lines.push(String::new());
    lines.push(CAUTION.to_owned());
    lines.push(String::new());
    lines.join("\n")
}

fn ended(traced: &SimulationResult) -> String {
    let last = span(end_s(traced));
    match traced.period_s {
        Some(period_s) => format!(
            "It never becomes steady: levels repeat every {}.",
            span(period_s)
        ),
        None if traced.still => format!("Nothing moves any more after {last}."),
        None => format!("Followed for {last}; it still moves."),
    }
}

/// The time when all came to rest, else the end of the simulation, s.
fn end_s(traced: &SimulationResult) -> f64 {
    let still = traced
        .told
        .iter()
        .find(|told| told.what == EventKind::Still);
    let last_s = traced.times_s.last().copied().unwrap_or(0.0);
    still.map_or(last_s, |told| told.time_s)
}

/// The columns of the table: levels that change and flows of pumps that change, at the times shown.
fn columns(reader: &TextReader, layout: &Layout, traced: &SimulationResult) -> Vec<Column> {
    let moving: Vec<&Row> = traced.levels_m.iter().filter(moves).collect();
    let pumped = layout.runs.iter().zip(&traced.flows_m3_s);
    let pumped: Vec<&Row> = pumped
        .filter(|(run, flows)| run.pump.is_some() && range(&flows.1) > 0.0)
        .map(|(_, flows)| flows)
        .collect();
    let at = moments(traced);
    let unit = |quantity: Quantity, rows: &[&Row]| {
        let all = rows.iter().flat_map(|one| one.1.iter().copied());
        shared(reader, quantity, all)
    };
    let column = |heading: String, unit: Unit, row: &Row| {
        let values = at.iter().map(|&place| row.1.get(place).copied());
        Column::in_unit(&short(&heading), unit, values.collect())
    };
    let height = unit(Quantity::Height, &moving);
    let flow = unit(Quantity::Flow, &pumped);
    let levels = moving
        .iter()
        .map(|row| column(reader.name(&row.0), height, row));
    let flows = pumped
        .iter()
        .map(|row| column(format!("in {}", reader.name(&row.0)), flow, row));
    levels.chain(flows).collect()
}

/// A part with its values at all times.
type Row = (Id, Vec<f64>);

fn moves(row: &&Row) -> bool {
    range(&row.1) > STANDS_M
}

/// The vessels whose level is constant, by name.
fn standing(reader: &TextReader, traced: &SimulationResult) -> Vec<String> {
    let standing = traced.levels_m.iter().filter(|row| !moves(row));
    let names: Vec<String> = standing.map(|row| reader.name(&row.0)).collect();
    if names.is_empty() {
        return Vec::new();
    }
    let verb = if names.len() == 1 { "stands" } else { "stand" };
    let within = write(Quantity::Height, STANDS_M, reader.system);
    let text = format!(
        "The level of {} {verb} within {within}.",
        super::list(&names)
    );
    let mut lines = vec![String::new()];
    let wrapped = wrap(&text, WIDTH - 2);
    lines.extend(wrapped.into_iter().map(|line| format!("  {line}")));
    lines
}

fn spilled(reader: &TextReader, traced: &SimulationResult) -> Vec<String> {
    let spilled = traced.spilled_m3.iter();
    let lost = spilled.filter(|one| reported_spill_m3(one.1).is_some());
    let told = lost.map(|(id, lost_m3)| {
        let lost = write(Quantity::Volume, *lost_m3, reader.system);
        format!("  {} spills {lost}.", reader.name(id))
    });
    let mut lines: Vec<String> = told.collect();
    if !lines.is_empty() {
        lines.insert(0, String::new());
    }
    lines
}

/// Distributes the columns over as many tables as they need, each with the times in front.
fn paged(traced: &SimulationResult, columns: Vec<Column>) -> Vec<String> {
    let at = moments(traced);
    let times = || {
        let times = at.iter().filter_map(|&place| traced.times_s.get(place));
        Column::numbers("after", "", times.map(|time_s| span(*time_s)).collect())
    };
    let mut pages: Vec<Vec<Column>> = Vec::new();
    let mut left = 0;
    for column in columns {
        let width = column.width() + super::table::GAP;
        if width > left || pages.is_empty() {
            let first = times();
            left = WIDTH.saturating_sub(first.width() + super::table::GAP);
            pages.push(vec![first]);
        }
        left = left.saturating_sub(width);
        if let Some(page) = pages.last_mut() {
            page.push(column);
        }
    }
    let mut lines = Vec::new();
    for page in &pages {
        lines.push(String::new());
        lines.extend(table(page));
    }
    lines
}

/// Indices of the times shown: the first, the last, those of events, and others that divide the movement of the levels
/// into equal shares.
fn moments(traced: &SimulationResult) -> Vec<usize> {
    // After the `Still` event the levels change only by the last tenth of a millimetre.
    let end_s = end_s(traced);
    let last = traced.times_s.partition_point(|time_s| *time_s < end_s);
    let last = last.min(traced.times_s.len().saturating_sub(1));
    let gone = gone(traced);
    let whole = gone.last().copied().unwrap_or(0.0);
    let share = |part: usize| whole * part as f64 / MOMENTS as f64;
    let even = (1..MOMENTS).map(|part| gone.partition_point(|way| *way < share(part)));
    let told = traced
        .told
        .iter()
        .filter(|told| told.what != EventKind::Still);
    let told = told.take(MOST_EVENTS).map(|told| {
        let times = &traced.times_s;
        times.partition_point(|time_s| *time_s < told.time_s)
    });
    let mut places: Vec<usize> = even.chain(told).chain([0, last]).collect();
    places.sort_unstable();
    places.dedup();
    places.retain(|place| *place <= last);
    // Of times that read the same, the later one is kept.
    let reads = |place: usize| traced.times_s.get(place).map(|time_s| span(*time_s));
    let next = places.iter().skip(1).map(|place| reads(*place));
    let same: Vec<bool> = places
        .iter()
        .zip(next)
        .map(|(place, next)| reads(*place) == next)
        .collect();
    let kept = places.iter().enumerate();
    let kept = kept.filter(|(index, _)| !same.get(*index).copied().unwrap_or(false));
    kept.map(|(_, place)| *place).collect()
}

/// Movement of all levels up to each time, that of each vessel divided by its range.
fn gone(traced: &SimulationResult) -> Vec<f64> {
    let mut gone = vec![0.0_f64; traced.times_s.len()];
    for (_, levels_m) in &traced.levels_m {
        let range_m = range(levels_m);
        if range_m <= STANDS_M {
            continue;
        }
        for (place, pair) in levels_m.windows(2).enumerate() {
            if let ([before, after], Some(sum)) = (pair, gone.get_mut(place + 1)) {
                *sum += (after - before).abs() / range_m;
            }
        }
    }
    let mut sum = 0.0;
    for way in &mut gone {
        sum += *way;
        *way = sum;
    }
    gone
}

fn range(values: &[f64]) -> f64 {
    let low = values.iter().copied().fold(f64::INFINITY, f64::min);
    let high = values.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    high - low
}

/// A name shortened to fit above a column of numbers.
fn short(name: &str) -> String {
    if letters(name) <= LONGEST {
        return name.to_owned();
    }
    let cut: String = name.chars().take(LONGEST - 1).collect();
    format!("{}…", cut.trim_end())
}
