//! Use, shape, position and overflow of a vessel.

use super::field::{self, Field};
use super::{Facts, choice};
use crate::edit;
use crate::finding::Sentence;
use crate::layout::{Id, Medium, Role, Shape, TableRow, Vessel, VesselField};
use crate::units::Quantity;
use crate::window::action::Action;
use egui::Ui;

const ROLES: [(Role, &str); 10] = [
    (Role::Tank, "Tank"),
    (Role::Settler, "Settler"),
    (Role::Filter, "Filter"),
    (Role::Tower, "Trickle tower"),
    (Role::Bed, "Bed"),
    (Role::Sump, "Sump"),
    (Role::Header, "Header"),
    (Role::Pond, "Pond"),
    (Role::Supply, "Supply"),
    (Role::Waste, "Waste"),
];

/// The shapes of a vessel.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum VesselForm {
    Round,
    Rectangular,
    Prism,
    Cone,
    Drum,
    Table,
}

const FORMS: [(VesselForm, &str); 6] = [
    (VesselForm::Round, "Round"),
    (VesselForm::Rectangular, "Rectangular"),
    (VesselForm::Prism, "Upright, by area"),
    (VesselForm::Cone, "Cone-bottom"),
    (VesselForm::Drum, "Lying drum"),
    (VesselForm::Table, "By table"),
];

/// Shows the use and the shape.
pub(super) fn kinds(ui: &mut Ui, facts: &Facts<'_>, part: &Vessel, actions: &mut Vec<Action>) {
    let roles = ROLES.map(|(role, words)| (role, words.to_owned()));
    let label = (
        "Used as",
        "Its use: the check has stricter rules for some uses",
    );
    if let Some(role) = choice::choice(ui, label, &part.role, &roles) {
        actions.push(changed(facts, &part.id, "Change use of ", |part| {
            part.role = role
        }));
    }
    let forms = FORMS.map(|(form, words)| (form, words.to_owned()));
    let label = ("Shape", "Its shape; the dimensions are below");
    if let Some(form) = choice::choice(ui, label, &form_of(&part.shape), &forms) {
        let shape = shape_of(form, part);
        actions.push(changed(facts, &part.id, "Change shape of ", |part| {
            part.shape = shape
        }));
    }
}

/// Shows buttons to add and remove rows of a depth table.
pub(super) fn rows(ui: &mut Ui, facts: &Facts<'_>, part: &Vessel, actions: &mut Vec<Action>) {
    let Shape::Table { rows } = &part.shape else {
        return;
    };
    ui.horizontal(|ui| {
        let tip = "Adds a row 100 mm above the last; above the last row the area stays the same";
        if ui.button("Add row").on_hover_text(tip).clicked() {
            let mut more = rows.clone();
            more.extend(rows.last().map(|last| TableRow {
                depth_m: last.depth_m + 0.1,
                ..*last
            }));
            let shape = Shape::Table { rows: more };
            actions.push(changed(
                facts,
                &part.id,
                "Add a row to the depth table of ",
                |part| part.shape = shape,
            ));
        }
        let tip = "Removes the highest row";
        let few = rows.len() < 3;
        let fewer = ui.add_enabled(!few, egui::Button::new("Remove last row"));
        if fewer.on_hover_text(tip).clicked() {
            let less = rows.get(..rows.len() - 1).unwrap_or_default().to_vec();
            let shape = Shape::Table { rows: less };
            actions.push(changed(
                facts,
                &part.id,
                "Remove a row from the depth table of ",
                |part| part.shape = shape,
            ));
        }
    });
}

/// Shows the position and the rotation in the plan.
pub(super) fn place(ui: &mut Ui, facts: &Facts<'_>, part: &Vessel, actions: &mut Vec<Action>) {
    let length = Quantity::Length;
    let rows = [
        (
            "Position X",
            "Position of its centre in the plan",
            VesselField::X,
            part.place.x_m,
            length,
        ),
        (
            "Position Y",
            "Position of its centre in the plan",
            VesselField::Y,
            part.place.y_m,
            length,
        ),
        (
            "Rotation",
            "Degrees anticlockwise",
            VesselField::Turned,
            part.place.turned_deg,
            Quantity::Ratio,
        ),
    ];
    for (words, tip, name, value, quantity) in rows {
        let field = Field {
            words,
            tip,
            value,
            quantity,
        };
        actions.extend(field::number_of(ui, facts, (&part.id, name.into()), &field));
    }
}

/// Shows where its overflow goes.
pub(super) fn spills_to(ui: &mut Ui, facts: &Facts<'_>, part: &Vessel, actions: &mut Vec<Action>) {
    let layout = facts.seen;
    let mut options: Vec<(Option<Id>, String)> = vec![(None, "Ground (lost)".to_owned())];
    let others = layout
        .vessels
        .iter()
        .map(|other| &other.id)
        .filter(|id| **id != part.id);
    for id in others.chain(layout.fixed.iter().map(|other| &other.id)) {
        options.push((Some(id.clone()), layout.name_of(id).to_owned()));
    }
    let label = (
        "Spills to",
        "What catches the water that spills over its rim",
    );
    if let Some(to) = choice::choice(ui, label, &part.spills_to, &options) {
        actions.push(changed(
            facts,
            &part.id,
            "Change the overflow of ",
            |part| part.spills_to = to,
        ));
    }
}

/// Shows the medium that fills part of it, and whether it is covered.
pub(super) fn medium(ui: &mut Ui, facts: &Facts<'_>, part: &Vessel, actions: &mut Vec<Action>) {
    let mut filled = part.medium.is_some();
    let tip = "Gravel, mats or beads fill part of it";
    if ui
        .checkbox(&mut filled, "Filled with medium")
        .on_hover_text(tip)
        .changed()
    {
        let top_m = part.rim_m - 0.1 * (part.rim_m - part.floor_m);
        let medium = filled.then_some(Medium {
            top_m,
            porosity: 0.4,
        });
        actions.push(changed(facts, &part.id, "Change the medium of ", |part| {
            part.medium = medium
        }));
    }
    if let Some(medium) = part.medium {
        let build = |to| edit::number(facts.layout, &part.id, VesselField::Porosity, to);
        let tip = "Share of its volume that water can fill, in percent";
        let row = ("Void space", tip, medium.porosity);
        actions.extend(field::percent(ui, facts, row, build));
    }
    let mut covered = part.under_cover;
    let tip = "No rain falls on it and nothing evaporates";
    if ui
        .checkbox(&mut covered, "Covered")
        .on_hover_text(tip)
        .changed()
    {
        actions.push(changed(facts, &part.id, "Change the cover of ", |part| {
            part.under_cover = covered
        }));
    }
}

fn changed(facts: &Facts<'_>, id: &Id, words: &str, change: impl FnOnce(&mut Vessel)) -> Action {
    let Some(mut after) = facts.layout.vessel(id).cloned() else {
        return Action::Say("This vessel no longer exists.".to_owned());
    };
    change(&mut after);
    let name = Sentence(vec![words.into(), id.into()]);
    super::run::made(facts, edit::replace(facts.layout, after, name))
}

fn form_of(shape: &Shape) -> VesselForm {
    match shape {
        Shape::Round { .. } => VesselForm::Round,
        Shape::Rectangular { .. } => VesselForm::Rectangular,
        Shape::Prism { .. } => VesselForm::Prism,
        Shape::ConeBottom { .. } => VesselForm::Cone,
        Shape::LyingDrum { .. } => VesselForm::Drum,
        Shape::Table { .. } => VesselForm::Table,
    }
}

/// Another shape of about the same size.
fn shape_of(form: VesselForm, part: &Vessel) -> Shape {
    let (length_m, width_m) = part.shape.footprint_m();
    let depth_m = part.rim_m - part.floor_m;
    let area_m2 = length_m * width_m;
    match form {
        VesselForm::Round => Shape::Round {
            diameter_m: length_m,
        },
        VesselForm::Rectangular => Shape::Rectangular { length_m, width_m },
        VesselForm::Prism => Shape::Prism { area_m2 },
        VesselForm::Cone => Shape::ConeBottom {
            diameter_m: length_m,
            cone_height_m: 0.4 * depth_m,
        },
        // A lying drum is open at the top: it is at least as wide as it is deep.
        VesselForm::Drum => Shape::LyingDrum {
            diameter_m: width_m.max(depth_m),
            length_m,
        },
        VesselForm::Table => Shape::Table {
            rows: vec![
                TableRow {
                    depth_m: 0.0,
                    area_m2,
                },
                TableRow { depth_m, area_m2 },
            ],
        },
    }
}
