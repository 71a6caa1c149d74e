//! A joint.

use super::field::{self, Field};
use super::{Facts, drinking, rows, vent};
use crate::edit::VentAt;
use crate::layout::{Joint, JointField};
use crate::states::report::StateReport;
use crate::units::Quantity;
use crate::window::action::Action;
use egui::Ui;

pub(super) fn show(ui: &mut Ui, facts: &Facts<'_>, part: &Joint, actions: &mut Vec<Action>) {
    rows::heading(
        ui,
        facts.seen.name_of(&part.id),
        "Joint: runs meet without a free surface",
    );
    actions.extend(field::name(ui, facts, &part.id, &part.name));
    let quantity = Quantity::Height;
    let field = Field {
        words: "Centre",
        tip: "Height of its centre, above the datum",
        value: part.elevation_m,
        quantity,
    };
    actions.extend(field::number_of(
        ui,
        facts,
        (&part.id, JointField::Elevation.into()),
        &field,
    ));
    let stands = vent::VentPosition {
        at: VentAt::Joint(part.id.clone()),
        top_m: part
            .vented
            .then(|| part.vent_top_m.unwrap_or(part.elevation_m)),
    };
    vent::show(ui, facts, &stands, actions);
    drinking::joint(ui, facts, part, actions);
    answers(ui, facts, part);
}

fn answers(ui: &mut Ui, facts: &Facts<'_>, part: &Joint) {
    rows::group(ui, "Results");
    let water = facts.water.map(StateReport::real);
    let Some(report) = water.and_then(|water| water.joints.iter().find(|one| one.id == part.id))
    else {
        rows::remark(ui, "Not computed yet");
        return;
    };
    let tip = "Level that water would reach in a tube tapped into it";
    rows::number(ui, facts, ("Grade", tip), (Quantity::Height, report.head_m));
    let tip = "Gauge pressure at its centre; negative is suction";
    rows::number(
        ui,
        facts,
        ("Pressure", tip),
        (Quantity::Pressure, report.pressure_pa),
    );
}
