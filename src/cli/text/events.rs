//! What happens on the way, in words, with its time.

use super::Reader;
use super::pumps::title;
use super::table::{Column, table};
use crate::evaluate::{Told, What};
use crate::units::span;

/// Most lines of events in a report: a pump that runs dry for ever has hundreds.
const MOST: usize = 12;

/// A table of what happens; nothing where nothing does but that all comes to rest.
pub(super) fn events(reader: &Reader, told: &[Told]) -> Vec<String> {
    let told: Vec<&Told> = told.iter().filter(|one| is_news(told, one)).collect();
    if told.is_empty() {
        return Vec::new();
    }
    let shown = told.iter().take(MOST);
    let times = shown
        .clone()
        .map(|one| format!("after {}", span(one.time_s)));
    let words = shown.map(|one| sentence(reader, one));
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
fn is_news(told: &[Told], one: &Told) -> bool {
    let began = |other: &Told| {
        other.what == What::SpillBegins && other.about == one.about && other.time_s < one.time_s
    };
    match one.what {
        What::Still => false,
        What::SpillEnds => told.iter().any(began),
        _ => true,
    }
}

/// One thing that happened.
pub(super) fn sentence(reader: &Reader, told: &Told) -> String {
    let part = |place: usize| told.about.get(place).map(|id| reader.name(id));
    let first = part(0).unwrap_or_default();
    let second = part(1).unwrap_or_default();
    let pump = title(&first);
    match told.what {
        What::RimReached => format!("{first} reaches its rim"),
        What::SpillBegins => format!("{first} begins to spill"),
        What::SpillEnds => format!("{first} spills no more"),
        What::IntakeUncovered => {
            format!("less than one bore of water stands over the intake of {pump} in {second}")
        }
        What::IntakeCovered => {
            format!("one bore of water stands over the intake of {pump} in {second} again")
        }
        What::SuctionStarved => format!("{pump} is held back for want of water"),
        What::SuctionRecovered => format!("{pump} has all the water that it can move again"),
        What::PumpRunsDry => format!("{pump} runs dry and stops"),
        What::PumpRestarts => format!("{pump} has water again and starts"),
        What::FloatOn => format!("the float switch turns {first} on"),
        What::FloatOff => format!("the float switch turns {first} off"),
        What::SiphonPrimed => format!("{first} runs full and draws as a siphon"),
        What::SiphonBroken => format!("{first} draws air, and its siphon breaks"),
        What::Still => "nothing moves any more".to_owned(),
    }
}
