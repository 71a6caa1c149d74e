//! A corner of a run.

use super::field::{self, Field};
use super::{Facts, built, rows, vent};
use crate::edit::{VentAt, propose};
use crate::geometry::Corner;
use crate::layout::Id;
use crate::units::Quantity;
use crate::window::action::Action;
use crate::window::commands::Command;
use egui::Ui;

/// The label, tooltip, value and quantity of a row, and a function that sets the value.
type CornerRow = (
    &'static str,
    &'static str,
    f64,
    Quantity,
    fn(Corner, f64) -> Corner,
);

pub(super) fn show(
    ui: &mut Ui,
    facts: &Facts<'_>,
    (id, index): (&Id, usize),
    actions: &mut Vec<Action>,
) {
    let run = facts.seen.run(id);
    let Some(corner) = run.and_then(|run| run.route.get(index)) else {
        rows::remark(ui, "This corner no longer exists.");
        return;
    };
    let name = facts.seen.name_of(id);
    rows::heading(
        ui,
        &format!("Corner {} of {name}", index + 1),
        "Elbows and length follow from it",
    );
    places(ui, facts, (id, index, corner), actions);
    let stands = vent::VentPosition {
        at: VentAt::Corner(id.clone(), index),
        top_m: corner
            .vented
            .then(|| corner.vent_top_m.unwrap_or(corner.z_m)),
    };
    vent::show(ui, facts, &stands, actions);
    ui.add_space(6.0);
    built::acts(ui, &[Command::Unbend], actions);
}

/// Shows fields for its position.
fn places(
    ui: &mut Ui,
    facts: &Facts<'_>,
    (id, index, corner): (&Id, usize, &Corner),
    actions: &mut Vec<Action>,
) {
    for (words, tip, value, quantity, with) in fields(corner) {
        let field = Field {
            words,
            tip,
            value,
            quantity,
        };
        let build = |to| {
            let layout = facts.layout;
            let stands = layout.run(id).and_then(|run| run.route.get(index)).copied();
            propose::corner(layout, id, index, with(stands.unwrap_or(*corner), to))
        };
        actions.extend(field::number(ui, facts, &field, build));
    }
}

fn fields(corner: &Corner) -> [CornerRow; 3] {
    [
        (
            "Height",
            "Height of its centre, above the datum",
            corner.z_m,
            Quantity::Height,
            |corner, z_m| Corner { z_m, ..corner },
        ),
        (
            "Position X",
            "Position in the plan",
            corner.x_m,
            Quantity::Length,
            |corner, x_m| Corner { x_m, ..corner },
        ),
        (
            "Position Y",
            "Position in the plan",
            corner.y_m,
            Quantity::Length,
            |corner, y_m| Corner { y_m, ..corner },
        ),
    ]
}
