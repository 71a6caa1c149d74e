//! Fouled compared with running: the effect of film, rough walls and dirty filters.

use super::TextReader;
use super::pumps::title;
use super::runs::limited_by;
use super::table::{Column, table};
use super::trajectory::against;
use crate::states::report::{PumpReport, RunReport, StateReport};
use crate::units::{Quantity, write};

/// Levels, duties and the runs whose limit has changed.
pub(super) fn fouled(
    reader: &TextReader,
    report: &StateReport,
    running: &StateReport,
) -> Vec<String> {
    let mut lines = against(reader, report, Some(running));
    lines.extend(super::vessels::cycle(reader, report));
    let pumps = report.pumps.iter().zip(&running.pumps);
    let duties: Vec<String> = pumps
        .filter(|(one, other)| one.on || other.on)
        .map(|(one, other)| duty(reader, one, other, "when new"))
        .collect();
    if !duties.is_empty() {
        lines.push(String::new());
        lines.extend(duties);
    }
    let runs = report.runs.iter().zip(&running.runs);
    let changed = runs.filter(|(one, other)| limited_by(one) != limited_by(other));
    lines.extend(runs_table(reader, &changed.collect::<Vec<_>>()));
    lines
}

/// The duty of a pump, compared with that of another report.
pub(super) fn duty(
    reader: &TextReader,
    now: &PumpReport,
    other: &PumpReport,
    when: &str,
) -> String {
    let told = |pump: &PumpReport| {
        let flow = write(Quantity::Flow, pump.flow_m3_s, reader.system);
        let head = write(Quantity::Head, pump.head_m, reader.system);
        match pump.on {
            true => format!("{flow} at {head}"),
            false => "standing".to_owned(),
        }
    };
    let name = title(&reader.name(&now.id));
    format!("  {name}: {}, against {} {when}.", told(now), told(other))
}

fn runs_table(reader: &TextReader, changed: &[(&RunReport, &RunReport)]) -> Vec<String> {
    if changed.is_empty() {
        return Vec::new();
    }
    let words =
        |cell: &dyn Fn(&(&RunReport, &RunReport)) -> String| changed.iter().map(cell).collect();
    let mut lines = vec![String::new()];
    lines.extend(table(&[
        Column::words("run", words(&|(one, _)| reader.name(&one.id))),
        Column::words(
            "limited by, new",
            words(&|(_, new)| limited_by(new).to_owned()),
        ),
        Column::words(
            "limited by, fouled",
            words(&|(one, _)| limited_by(one).to_owned()),
        ),
    ]));
    lines
}
