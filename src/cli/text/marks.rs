//! The fill marks of the lowest vessel as text.

use super::table::{Column, shared, table};
use super::wrap::wrap;
use super::{TextReader, WIDTH, heading};
use crate::layout::Layout;
use crate::states::{FillMarks, Mark};
use crate::units::{Quantity, span, unit_for, write};

/// Whether the marks are below the rim. Where water from outside runs in, the vessel may fill up whatever was put in,
/// and there is nothing to mark.
pub(super) fn fit(layout: &Layout, marks: &FillMarks) -> bool {
    let both = marks.most.iter().chain(&marks.least);
    let highest_m = both
        .map(|mark| mark.off_m)
        .fold(f64::NEG_INFINITY, f64::max);
    let vessel = layout.vessel(&marks.vessel);
    vessel.is_some_and(|vessel| highest_m <= vessel.rim_m)
}

/// The heights to fill to, and how long the water between them lasts.
pub(super) fn marks(reader: &TextReader, marks: &FillMarks) -> Vec<String> {
    let mut lines = heading(&format!("filling {}", reader.name(&marks.vessel)));
    let told = [("at most", marks.most), ("at least", marks.least)];
    let known: Vec<(&str, Mark)> = told
        .into_iter()
        .filter_map(|(words, mark)| Some((words, mark?)))
        .collect();
    if !known.is_empty() {
        lines.extend(heights(reader, &known));
        lines.push(String::new());
    }
    let sentences = sentences(reader, marks);
    let wrapped = sentences.iter().flat_map(|one| wrap(one, WIDTH - 2));
    lines.extend(wrapped.map(|line| format!("  {line}")));
    lines
}

fn heights(reader: &TextReader, known: &[(&str, Mark)]) -> Vec<String> {
    let all = known.iter().flat_map(|(_, mark)| [mark.off_m, mark.on_m]);
    let height = shared(reader, Quantity::Height, all);
    let values = |cell: &dyn Fn(&Mark) -> f64| {
        let values = known.iter().map(|(_, mark)| Some(cell(mark)));
        values.collect()
    };
    let most_m3 = known
        .iter()
        .map(|(_, mark)| mark.water_m3)
        .fold(0.0, f64::max);
    let water = unit_for(Quantity::Volume, most_m3, reader.system);
    let words = known.iter().map(|(words, _)| (*words).to_owned()).collect();
    table(&[
        Column::words("fill", words),
        Column::in_unit("pump off", height, values(&|mark| mark.off_m)),
        Column::in_unit("pump on", height, values(&|mark| mark.on_m)),
        Column::in_unit("water in all", water, values(&|mark| mark.water_m3)),
    ])
}

fn sentences(reader: &TextReader, marks: &FillMarks) -> Vec<String> {
    let volume = |volume_m3: f64| write(Quantity::Volume, volume_m3, reader.system);
    let mut told = Vec::new();
    if marks.most.is_none() {
        told.push(
            "However empty it is filled, it comes too close to its rim when the pump stops."
                .to_owned(),
        );
    }
    if marks.least.is_none() {
        told.push(
            "However full it is filled, the intake of the pump is uncovered while starting."
                .to_owned(),
        );
    }
    match (marks.between_m3(), marks.top_up_s()) {
        (Some(between_m3), _) if between_m3 < 0.0 => {
            told.push(format!(
                "There is no room between the marks: {} is missing.",
                volume(-between_m3)
            ));
        }
        (Some(between_m3), Some(lasts_s)) => told.push(format!(
            "{} between the marks; evaporation uses it up in {}.",
            volume(between_m3),
            span(lasts_s)
        )),
        (Some(between_m3), None) => {
            told.push(format!("{} between the marks.", volume(between_m3)));
        }
        (None, _) => {}
    }
    if let (Some(most), Some(fill_s)) = (marks.most, marks.first_fill_s()) {
        told.push(format!(
            "The first fill, up to the upper mark: {} in {} by the hose.",
            volume(most.water_m3),
            span(fill_s)
        ));
    }
    told
}
