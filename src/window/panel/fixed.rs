//! A fixed level: a supply or a waste.

use super::field::{self, Field};
use super::{Facts, drinking, rows};
use crate::layout::{Fixed, FixedField, FixedRole};
use crate::states::report::StateReport;
use crate::units::Quantity;
use crate::window::action::Action;
use egui::Ui;

pub(super) fn show(ui: &mut Ui, facts: &Facts<'_>, part: &Fixed, actions: &mut Vec<Action>) {
    let kind = match part.role {
        FixedRole::Supply => "Supply: a fixed level",
        FixedRole::Waste => "Waste: a fixed level",
    };
    rows::heading(ui, facts.seen.name_of(&part.id), kind);
    actions.extend(field::name(ui, facts, &part.id, &part.name));
    let quantity = Quantity::Height;
    let field = Field {
        words: "Level",
        tip: "Water level above the datum",
        value: part.level_m,
        quantity,
    };
    actions.extend(field::number_of(
        ui,
        facts,
        (&part.id, FixedField::Level.into()),
        &field,
    ));
    drinking::fixed(ui, facts, part, actions);
    rows::group(ui, "Results");
    let water = facts.water.map(StateReport::real);
    let report = water.and_then(|water| water.fixed.iter().find(|one| one.id == part.id));
    let tip = "Flow from it into the system; negative: into it";
    let flow = report.map(|report| report.flow_m3_s);
    rows::number(ui, facts, ("Outflow", tip), (Quantity::Flow, flow));
}
