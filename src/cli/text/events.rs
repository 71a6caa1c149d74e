//! What happens on the way, in words, with its time.

use super::Reader;
use super::table::{Column, table};
use crate::draw::happened::sentence;
use crate::evaluate::{Event, EventKind};
use crate::units::span;

/// Most lines of events in a report: a pump that runs dry for ever has hundreds.
const MOST: usize = 12;

/// A table of what happens; nothing where nothing does but that all comes to rest.
pub(super) fn events(reader: &Reader, told: &[Event]) -> Vec<String> {
    let told: Vec<&Event> = told.iter().filter(|one| is_news(told, one)).collect();
    if told.is_empty() {
        return Vec::new();
    }
    let shown = told.iter().take(MOST);
    let times = shown
        .clone()
        .map(|one| format!("after {}", span(one.time_s)));
    let words = shown.map(|one| sentence(one, &|id| reader.name(id)));
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

/// That all is still is said elsewhere; a spill that ends must have begun on the way.
fn is_news(told: &[Event], one: &Event) -> bool {
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
