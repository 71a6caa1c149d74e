//! The position of a fitting, a valve or equipment along its run.

use super::field::{self, Field};
use super::{Facts, choice};
use crate::edit::{self, Along, RemovedItem};
use crate::layout::{Pipe, Run, RunEnd};
use crate::units::Quantity;
use crate::window::action::Action;
use egui::Ui;

const TIP: &str = "Its place along the run. Its head loss acts there, which matters where there is air in the pipe.";

/// The kinds of position to choose from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum PositionKind {
    NotGiven,
    Near(RunEnd),
    Distance,
}

impl PositionKind {
    fn of(along: Along) -> PositionKind {
        match along {
            Along::NotGiven => PositionKind::NotGiven,
            Along::Near(end) => PositionKind::Near(end),
            Along::At(_) => PositionKind::Distance,
        }
    }
}

/// An item of a run: its name, its index and its position.
pub(super) struct RunItem<'a> {
    pub words: &'a str,
    pub item: RemovedItem,
    pub along: Along,
    /// Whether it can only be at an end.
    pub is_at_an_end: bool,
}

/// Shows a list of positions, and a field for the distance.
pub(super) fn show(
    ui: &mut Ui,
    facts: &Facts<'_>,
    (run, thing): (&Run, &RunItem<'_>),
    actions: &mut Vec<Action>,
) {
    if run.pipe == Pipe::Open {
        return;
    }
    let end = |end: RunEnd| facts.seen.name_of(&run.end(end).at);
    let mut options = vec![(PositionKind::NotGiven, "Not given".to_owned())];
    options.extend(
        RunEnd::BOTH.map(|which| (PositionKind::Near(which), format!("Near {}", end(which)))),
    );
    if !thing.is_at_an_end {
        options.push((PositionKind::Distance, "At a distance".to_owned()));
    }
    let name = format!("Place along the run of {}", thing.words);
    let label = ("Place along the run", TIP, name.as_str());
    let stands = PositionKind::of(thing.along);
    if let Some(chosen) = choice::choice_of(ui, label, &stands, &options) {
        let to = match chosen {
            PositionKind::NotGiven => Along::NotGiven,
            PositionKind::Near(end) => Along::Near(end),
            PositionKind::Distance => Along::At(begun_m(facts, run, thing.along)),
        };
        let edit = edit::place_along(facts.layout, &run.id, thing.item, to);
        actions.push(super::run::made(facts, edit));
    }
    let Along::At(value) = thing.along else {
        return;
    };
    let words = format!("{}, distance from {}", thing.words, end(RunEnd::From));
    let field = Field {
        words: &words,
        tip: "Along the pipe, from the start of the run",
        value,
        quantity: Quantity::Length,
    };
    let build = |to| edit::place_along(facts.layout, &run.id, thing.item, Along::At(to));
    actions.extend(field::number(ui, facts, &field, build));
}

/// The initial distance, metres: that of the present end, else half of the run.
fn begun_m(facts: &Facts<'_>, run: &Run, along: Along) -> f64 {
    let length_m = facts.layout.length_of(run);
    match along {
        Along::At(at_m) => at_m,
        Along::Near(RunEnd::From) => 0.0,
        Along::Near(RunEnd::To) => length_m,
        Along::NotGiven => (length_m * 500.0).round() / 1000.0,
    }
    .min(length_m)
}
