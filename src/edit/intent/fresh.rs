//! New ids and names.

use crate::layout::{Id, Layout};

/// An unused id with this stem: the stem itself, else with the next free number.
///
/// A number at the end of the stem is continued: after `bed-2` comes `bed-3`.
pub fn fresh_id(layout: &Layout, stem: &str) -> Id {
    let first = Id::from(stem);
    if !stem.is_empty() && !layout.has(&first) {
        return first;
    }
    let (words, number) = numbered(stem, '-');
    let words = if words.is_empty() { "part" } else { words };
    let mut ids = (number.unwrap_or(1)..u32::MAX).map(|next| Id(format!("{words}-{next}")));
    // There are more numbers than parts.
    ids.find(|id| !layout.has(id)).unwrap_or(first)
}

/// An unused name with this stem: with the next free number, from 1.
pub fn fresh_name(layout: &Layout, stem: &str) -> String {
    let (words, number) = numbered(stem.trim(), ' ');
    counted(layout, words, number.unwrap_or(1))
}

/// The name of a copy of `name`: after `Bed 2` the next free number, after `Header` `Header 2`.
pub(in crate::edit) fn next_name(layout: &Layout, name: &str) -> String {
    let (words, number) = numbered(name.trim(), ' ');
    counted(
        layout,
        words,
        number.map_or(2, |number| number.saturating_add(1)),
    )
}

/// Whether a part of the layout has this name.
pub(super) fn is_named(layout: &Layout, name: &str) -> bool {
    names(layout).any(|taken| taken == name)
}

fn counted(layout: &Layout, words: &str, first: u32) -> String {
    let mut all = (first..u32::MAX).map(|next| format!("{words} {next}"));
    // There are more numbers than parts; after the last one the name is made longer.
    all.find(|name| !is_named(layout, name))
        .unwrap_or_else(|| format!("{words} {first} more"))
}

fn names(layout: &Layout) -> impl Iterator<Item = &str> {
    let vessels = layout.vessels.iter().map(|part| part.name.as_str());
    let joints = layout.joints.iter().map(|part| part.name.as_str());
    let fixed = layout.fixed.iter().map(|part| part.name.as_str());
    let runs = layout.runs.iter().map(|part| part.name.as_str());
    let pumps = layout.runs.iter().filter_map(|run| run.pump.as_ref());
    let pumps = pumps.map(|pump| pump.name.as_str());
    vessels.chain(joints).chain(fixed).chain(runs).chain(pumps)
}

/// Splits a stem from the number at its end.
fn numbered(stem: &str, between: char) -> (&str, Option<u32>) {
    let found = stem.rsplit_once(between).and_then(|(words, number)| {
        let digits = !number.is_empty() && number.chars().all(|letter| letter.is_ascii_digit());
        let number = number.parse().ok().filter(|_| digits)?;
        Some((words, number))
    });
    match found {
        Some((words, number)) => (words, Some(number)),
        None => (stem, None),
    }
}

/// A name as the stem of an id, at most 40 characters: see [`hyphened`].
pub(in crate::edit) fn stem_of(name: &str) -> String {
    hyphened(name, 40)
}

/// Words as lower-case letters and digits joined by hyphens, of limited length, for ids and file names.
pub fn hyphened(words: &str, most: usize) -> String {
    let plain: String = words
        .to_lowercase()
        .chars()
        .map(|letter| {
            if letter.is_alphanumeric() {
                letter
            } else {
                '-'
            }
        })
        .collect();
    let words: Vec<&str> = plain.split('-').filter(|word| !word.is_empty()).collect();
    words.join("-").chars().take(most).collect()
}
