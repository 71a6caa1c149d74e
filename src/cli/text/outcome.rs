//! The two outcomes of a state: what is primed in it, and what the other one does to the levels.

use super::wrap::wrap;
use super::{TextReader, WIDTH};
use crate::draw::outcome::Outcomes;
use crate::finding::State;
use crate::states::report::StateReport;

/// Where runs are primed, which; with a line of room under it.
pub(super) fn first(reader: &TextReader, report: &StateReport) -> Vec<String> {
    let name = |id: &crate::layout::Id| reader.name(id);
    let told = outcomes(reader, &name).primed(report);
    let told = told.filter(|_| has_own(report));
    let mut lines: Vec<String> = told.iter().flat_map(|text| paragraph(text)).collect();
    if !lines.is_empty() {
        lines.push(String::new());
    }
    lines
}

/// What the second outcome does to the levels of a state; nothing where that is nothing.
pub(super) fn second(reader: &TextReader, report: &StateReport) -> Vec<String> {
    let Some(text) = said(reader, report).filter(|_| has_own(report)) else {
        return Vec::new();
    };
    let mut lines = vec![String::new()];
    lines.extend(paragraph(&text));
    lines
}

/// The same as one sentence; none where it has nothing to say.
pub(super) fn said(reader: &TextReader, report: &StateReport) -> Option<String> {
    let name = |id: &crate::layout::Id| reader.name(id);
    let text = outcomes(reader, &name).second(report)?;
    // The levels of a failure are those of the worst one.
    let shut = report.blocked.first().map(|case| reader.name(&case.run));
    Some(match shut {
        Some(run) => format!("With {run} shut, {}", small(&text)),
        None => text,
    })
}

fn outcomes<'a>(
    reader: &'a TextReader<'_>,
    name: &'a dyn Fn(&crate::layout::Id) -> String,
) -> Outcomes<'a> {
    Outcomes {
        layout: reader.layout,
        name,
        units: reader.system,
    }
}

/// A start or a stop without a pump is as at rest, where all of it is said.
fn has_own(report: &StateReport) -> bool {
    let switched = matches!(report.state, State::Starting | State::Stopped);
    !(switched && report.pumps.is_empty())
}

/// The same sentence as the rest of another.
fn small(text: &str) -> String {
    let mut letters = text.chars();
    let first = letters.next().map(|letter| letter.to_lowercase());
    first.into_iter().flatten().chain(letters).collect()
}

fn paragraph(text: &str) -> Vec<String> {
    let wrapped = wrap(text, WIDTH - 2);
    wrapped
        .into_iter()
        .map(|line| format!("  {line}"))
        .collect()
}
