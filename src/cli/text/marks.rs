//! Fill marks: between which lines the vessel that the pump draws from may be filled.

use super::pumps::title;
use super::table::{Column, shared, table};
use super::wrap::wrap;
use super::{Reader, WIDTH, heading};
use crate::evaluate::{FillMarks, Mark};
use crate::layout::Layout;
use crate::units::{Quantity, span, write};

/// Whether the marks lie in the vessel: where water runs in from outside it may fill up whatever was put in,
/// and there is nothing to mark.
pub(super) fn fit(layout: &Layout, marks: &FillMarks) -> bool {
    let both = marks.most.iter().chain(&marks.least);
    let highest_m = both
        .map(|mark| mark.off_m)
        .fold(f64::NEG_INFINITY, f64::max);
    let vessel = layout.vessel(&marks.vessel);
    vessel.is_some_and(|vessel| highest_m <= vessel.rim_m)
}

/// The section of the marks.
pub(super) fn lines(reader: &Reader, marks: &FillMarks) -> Vec<String> {
    let mut lines = heading("fill marks");
    let (vessel, pump) = (reader.name(&marks.vessel), title(&reader.name(&marks.pump)));
    let rows = [("at most", marks.most), ("at least", marks.least)];
    let rows: Vec<(&str, Mark)> = rows
        .into_iter()
        .filter_map(|(word, mark)| Some((word, mark?)))
        .collect();
    if !rows.is_empty() {
        lines.push(format!("  Level in {vessel}, from which {pump} draws:"));
        lines.extend(rows_table(reader, &rows));
        lines.push(String::new());
    }
    let mut told = vec![verdict(reader, marks)];
    told.extend(lasts(marks));
    told.extend(first_fill(reader, marks));
    let wrapped = told.iter().flat_map(|one| wrap(one, WIDTH - 2));
    lines.extend(wrapped.map(|line| format!("  {line}")));
    lines
}

fn rows_table(reader: &Reader, rows: &[(&str, Mark)]) -> Vec<String> {
    let heights = rows.iter().flat_map(|row| [row.1.off_m, row.1.on_m]);
    let height = shared(reader, Quantity::Height, heights);
    let values = |cell: &dyn Fn(&Mark) -> f64| {
        let values = rows.iter().map(|row| cell(&row.1));
        values.map(Some).collect()
    };
    table(&[
        Column::words("", rows.iter().map(|row| row.0.to_owned()).collect()),
        Column::in_unit("pump off", height, values(&|mark| mark.off_m)),
        Column::in_unit("pump on", height, values(&|mark| mark.on_m)),
    ])
}

/// How long the air takes for what lies between the lines.
fn lasts(marks: &FillMarks) -> Option<String> {
    let lasts = span(marks.top_up_s()?);
    Some(format!(
        "From one to the other evaporates in {lasts}: top up sooner."
    ))
}

/// How much water the first fill takes, and how long.
fn first_fill(reader: &Reader, marks: &FillMarks) -> Option<String> {
    let water_m3 = marks.most?.water_m3;
    let water = write(Quantity::Volume, water_m3, reader.system);
    let hose = marks
        .first_fill_s()
        .map(|fill_s| format!(", {} by the hose", span(fill_s)));
    let hose = hose.unwrap_or_default();
    Some(format!(
        "The first fill of the whole system, up to the upper line: {water}{hose}."
    ))
}

/// What lies between the lines, or what is wrong with them.
fn verdict(reader: &Reader, marks: &FillMarks) -> String {
    let vessel = reader.name(&marks.vessel);
    match (marks.between_m3(), marks.most, marks.least) {
        (Some(between_m3), ..) if between_m3 >= 0.0 => {
            let between = write(Quantity::Volume, between_m3, reader.system);
            format!(
                "Between the two lie {between}: higher it floods or comes too close to the rim once the pump \
                 stops, lower its intake is uncovered while starting."
            )
        }
        (Some(between_m3), ..) => {
            let missing = write(Quantity::Volume, -between_m3, reader.system);
            format!(
                "There is no good filling: {vessel} is too small by {missing} to cover the intake while \
                 starting and hold what runs back once the pump stops."
            )
        }
        (None, None, _) => {
            format!(
                "However little is filled into {vessel}, something floods or comes too close to its rim."
            )
        }
        (None, ..) => format!("However full {vessel} is, its intake is uncovered while starting."),
    }
}
