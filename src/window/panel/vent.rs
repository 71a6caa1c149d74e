//! The vent of a corner or a joint.

use super::Facts;
use super::field::{self, Field};
use crate::edit::{self, VentAt, Venting};
use crate::layout::{JointField, RunField};
use crate::units::Quantity;
use crate::window::action::Action;
use egui::Ui;

const TIP: &str = "Lets air in and out, so that the pipe cannot run as a siphon past this point.";

/// A vent and its position.
pub(super) struct VentPosition {
    pub at: VentAt,
    /// The top of the vent, metres above the datum; at the pipe where not given. None: no vent.
    pub top_m: Option<f64>,
}

/// Shows a checkbox for the vent, and the height of its top.
pub(super) fn show(ui: &mut Ui, facts: &Facts<'_>, vent: &VentPosition, actions: &mut Vec<Action>) {
    let mut ticked = vent.top_m.is_some();
    let changed = ui.checkbox(&mut ticked, "Vented").on_hover_text(TIP);
    if changed.changed() {
        let to = if ticked {
            Venting::Vented
        } else {
            Venting::Closed
        };
        actions.push(super::run::made(
            facts,
            edit::vent(facts.layout, &vent.at, to),
        ));
    }
    let Some(value) = vent.top_m else { return };
    let field = Field {
        words: "Vent top",
        tip: "Height of the open top of the vent, above the datum. Water that rises higher spills over it.",
        value,
        quantity: Quantity::Height,
    };
    let (part, name) = match &vent.at {
        VentAt::Corner(run, index) => (run, RunField::CornerVentTop(*index).into()),
        VentAt::Joint(joint) => (joint, JointField::VentTop.into()),
    };
    actions.extend(field::number_of(ui, facts, (part, name), &field));
}
