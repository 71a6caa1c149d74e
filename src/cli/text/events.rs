//! Events in words, with their times.

use super::TextReader;
use super::table::{Column, table};
use crate::draw::results::event_sentence::event_sentence;
use crate::states::{Event, EventKind};
use crate::units::span;

/// Most lines of events in a report: a pump that keeps running dry causes hundreds.
const MOST: usize = 12;

/// The table of events; empty where there is none to report.
pub(super) fn events(reader: &TextReader, told: &[Event]) -> Vec<String> {
    let told: Vec<&Event> = told.iter().filter(|one| is_reported(told, one)).collect();
    if told.is_empty() {
        return Vec::new();
    }
    let shown = told.iter().take(MOST);
    let times = shown
        .clone()
        .map(|one| format!("after {}", span(one.time_s)));
    let words = shown.map(|one| event_sentence(one, &|id| reader.name(id)));
    let mut lines = vec![String::new()];
    lines.extend(table(&[
        Column::numbers("", "", times.collect()),
        Column::words("", words.collect()),
    ]));
    if told.len() > MOST {
        lines.push(format!("  … and so on: {} more.", told.len() - MOST));
    }
    lines
}

/// Leaves out that all is at rest, which is reported elsewhere, and the end of a spill that began before the first
/// event.
fn is_reported(told: &[Event], one: &Event) -> bool {
    let began = |other: &Event| {
        other.what == EventKind::SpillBegins
            && other.about == one.about
            && other.time_s < one.time_s
    };
    match one.what {
        EventKind::Still => false,
        EventKind::SpillEnds => told.iter().any(began),
        _ => true,
    }
}
