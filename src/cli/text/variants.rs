//! Variants of the layout as text.

use super::fouled::duty;
use super::wrap::wrap;
use super::{TextReader, WIDTH, findings, heading, list, outcome};
use crate::evaluate::{Case, Variant};
use crate::states::Washing;
use crate::states::report::StateReport;
use crate::units::{Quantity, span, write};

/// Smallest change of level that is reported, metres.
const REPORTED_M: f64 = 0.0015;

/// Every operating mode, water temperature and filter that was computed, each in a few lines.
pub(super) fn variants(
    reader: &TextReader,
    variants: &[Variant],
    running: Option<&StateReport>,
) -> Vec<String> {
    let Some(running) = running else {
        return Vec::new();
    };
    if variants.is_empty() {
        return Vec::new();
    }
    let variants = variants.iter().map(|variant| one(reader, variant, running));
    let all: Vec<Vec<String>> = variants.collect();
    let mut lines = heading("run otherwise");
    lines.extend(all.join(&String::new()));
    lines
}

fn reported(sentences: &[String]) -> Vec<String> {
    let lines = sentences.iter().flat_map(|one| wrap(one, WIDTH - 2));
    lines.map(|line| format!("  {line}")).collect()
}

fn one(reader: &TextReader, variant: &Variant, running: &StateReport) -> Vec<String> {
    let levels = levels(reader, &variant.running, running);
    let mut sentences = vec![format!("{}: {levels}", title(reader, variant))];
    sentences.extend(outcome::said(reader, &variant.running));
    sentences.extend(
        variant
            .washing
            .as_ref()
            .map(|washing| taken(reader, washing)),
    );
    let mut lines = reported(&sentences);
    let pumps = variant.running.pumps.iter().zip(&running.pumps);
    let changed = pumps.filter(|(one, other)| one.flow_m3_s != other.flow_m3_s);
    lines.extend(changed.map(|(one, other)| duty(reader, one, other, "as drawn")));
    for finding in &variant.findings {
        lines.extend(findings::one(reader, finding));
    }
    lines
}

fn title(reader: &TextReader, variant: &Variant) -> String {
    match &variant.case {
        Case::Way(id) => reader.name(id),
        Case::Water(temperature_c) => {
            let temperature = write(Quantity::Temperature, *temperature_c, reader.system);
            format!("Water at {temperature}")
        }
        Case::AtWash => "Filters that call to be washed".to_owned(),
    }
}

/// The levels that differ from those as drawn.
fn levels(reader: &TextReader, other: &StateReport, running: &StateReport) -> String {
    let vessels = other.vessels.iter().zip(&running.vessels);
    let changed: Vec<String> = vessels
        .filter_map(|(one, other)| {
            let change_m = one.level_m? - other.level_m?;
            let size = write(Quantity::Height, change_m.abs(), reader.system);
            let way = if change_m > 0.0 { "higher" } else { "lower" };
            (change_m.abs() > REPORTED_M).then(|| format!("{} {size} {way}", reader.name(&one.id)))
        })
        .collect();
    match changed.is_empty() {
        true => "all levels as drawn.".to_owned(),
        false => format!("{}.", list(&changed)),
    }
}

fn taken(reader: &TextReader, washing: &Washing) -> String {
    let lost = write(Quantity::Volume, washing.lost_m3, reader.system);
    let mut told = format!("In {} it takes {lost}", span(washing.washing_s));
    if let Some((vessel, fell_m)) = &washing.fell {
        let fell = write(Quantity::Height, fell_m.max(0.0), reader.system);
        told.push_str(&format!(", and {} falls by {fell}", reader.name(vessel)));
    }
    told.push('.');
    told.push_str(
        &match (washing.starved_s.map(span), washing.dry_s.map(span)) {
            (Some(starved), Some(dry)) => {
                format!(" Left on, it starves the pump after {starved}, and it is dry after {dry}.")
            }
            (Some(starved), None) => format!(" Left on, it starves the pump after {starved}."),
            (None, Some(dry)) => format!(" Left on, the pump is dry after {dry}."),
            (None, None) => String::new(),
        },
    );
    told
}
