//! The two outcomes of a state: which runs are primed in it, and how the levels of the other outcome are different.

use super::wrap::wrap;
use super::{TextReader, WIDTH};
use crate::draw::results::outcome::Outcomes;
use crate::state::State;
use crate::states::report::StateReport;

/// The runs that are primed, if any, with an empty line below.
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

/// The effect of the second outcome on the levels of a state; empty where there is none.
pub(super) fn second(reader: &TextReader, report: &StateReport) -> Vec<String> {
    let Some(text) = said(reader, report).filter(|_| has_own(report)) else {
        return Vec::new();
    };
    let mut lines = vec![String::new()];
    lines.extend(paragraph(&text));
    lines
}

/// The same as one sentence; none where there is no effect.
pub(super) fn said(reader: &TextReader, report: &StateReport) -> Option<String> {
    let name = |id: &crate::layout::Id| reader.name(id);
    let text = outcomes(reader, &name).second(report)?;
    // The levels of the state *blocked* are those of its worst case.
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

/// Whether a state has outcomes to report: a start or a stop without a pump is the same as at rest.
fn has_own(report: &StateReport) -> bool {
    let switched = matches!(report.state, State::Starting | State::Stopped);
    !(switched && report.pumps.is_empty())
}

/// The sentence with a small first letter, to continue another one.
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
