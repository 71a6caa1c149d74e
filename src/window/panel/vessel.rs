//! A vessel.

use super::field::{self, Field};
use super::rows::{self, AnswerRow};
use super::{Facts, built, drinking, form};
use crate::draw::page::shape::Ink;
use crate::edit::{self, Shift};
use crate::layout::{Role, Shape, Vessel, VesselField};
use crate::states::report::{StateReport, VesselReport, WithSpill, reported_spill_m3};
use crate::units::{self, Quantity};
use crate::window::action::Action;
use egui::Ui;

/// Largest flow over a rim that counts as none, m³/s.
const LEAST_M3_S: f64 = 1e-9;

pub(super) fn show(ui: &mut Ui, facts: &Facts<'_>, part: &Vessel, actions: &mut Vec<Action>) {
    rows::heading(ui, facts.seen.name_of(&part.id), kind(part.role));
    actions.extend(field::name(ui, facts, &part.id, &part.name));
    inputs(ui, facts, part, actions);
    form::kinds(ui, facts, part, actions);
    sizes_of(ui, facts, part, actions);
    form::medium(ui, facts, part, actions);
    form::spills_to(ui, facts, part, actions);
    drinking::vessel(ui, facts, part, actions);
    built::show(ui, facts, (&part.id, part.already_built), actions);
    rows::group(ui, "Results");
    let report = facts
        .water
        .and_then(|water| water.vessels.iter().find(|one| one.id == part.id));
    match report {
        Some(report) => answers(ui, facts, report),
        None => rows::remark(ui, "Not computed yet"),
    }
}

/// Shows two fields for the height of its floor: with everything that is fixed to the vessel, and alone.
fn floors(ui: &mut Ui, facts: &Facts<'_>, part: &Vessel, actions: &mut Vec<Action>) {
    let field = |words, tip| Field {
        words,
        tip,
        value: part.floor_m,
        quantity: Quantity::Height,
    };
    let whole = field(
        "Move to height",
        "Moves its floor to this height above the datum; rim, fill level and openings move with it",
    );
    let build = |to_m| {
        let stands = facts.layout.vessel(&part.id);
        let by = Shift::up(to_m - stands.map_or(part.floor_m, |stands| stands.floor_m));
        edit::shift(facts.layout, std::slice::from_ref(&part.id), by)
    };
    actions.extend(field::number(ui, facts, &whole, build));
    let alone = field(
        "Floor height",
        "Inside bottom above the datum; rim and openings stay, so the depth changes",
    );
    let build = |to_m| edit::floor(facts.layout, &part.id, to_m);
    actions.extend(field::number(ui, facts, &alone, build));
}

fn inputs(ui: &mut Ui, facts: &Facts<'_>, part: &Vessel, actions: &mut Vec<Action>) {
    floors(ui, facts, part, actions);
    let mut input = |words, tip, (name, value, quantity): (VesselField, f64, Quantity)| {
        let field = Field {
            words,
            tip,
            value,
            quantity,
        };
        actions.extend(field::number_of(ui, facts, (&part.id, name.into()), &field));
    };
    let height = Quantity::Height;
    input(
        "Rim",
        "Level at which it spills, above the datum",
        (VesselField::Rim, part.rim_m, height),
    );
    input(
        "Fill level",
        "Level before anything runs, above the datum",
        (VesselField::Fill, part.fill_m, height),
    );
    if let Some(medium) = part.medium {
        input(
            "Medium top",
            "Top of the gravel, mats or beads, above the datum",
            (VesselField::MediumTop, medium.top_m, height),
        );
    }
}

fn sizes_of(ui: &mut Ui, facts: &Facts<'_>, part: &Vessel, actions: &mut Vec<Action>) {
    for (words, name, value) in sizes(&part.shape) {
        let field = Field {
            words: &words,
            tip: "Inside dimension",
            value,
            quantity: if name.quantity() == Quantity::Area {
                Quantity::Ratio
            } else {
                Quantity::Length
            },
        };
        actions.extend(field::number_of(ui, facts, (&part.id, name.into()), &field));
    }
    form::rows(ui, facts, part, actions);
    form::place(ui, facts, part, actions);
}

/// The dimensions of its shape: label, field, metres (areas in square metres).
fn sizes(shape: &Shape) -> Vec<(String, VesselField, f64)> {
    let row = |words: &str, field: VesselField, value: f64| (words.to_owned(), field, value);
    match shape {
        Shape::Round { diameter_m } => vec![row("Diameter", VesselField::Diameter, *diameter_m)],
        Shape::Rectangular { length_m, width_m } => vec![
            row("Length", VesselField::Length, *length_m),
            row("Width", VesselField::Width, *width_m),
        ],
        Shape::ConeBottom {
            diameter_m,
            cone_height_m,
        } => vec![
            row("Diameter", VesselField::ConeDiameter, *diameter_m),
            row("Cone height", VesselField::ConeHeight, *cone_height_m),
        ],
        Shape::LyingDrum {
            diameter_m,
            length_m,
        } => vec![
            row("Diameter", VesselField::DrumDiameter, *diameter_m),
            row("Length", VesselField::DrumLength, *length_m),
        ],
        Shape::Prism { area_m2 } => vec![row("Area, m²", VesselField::PlanArea, *area_m2)],
        Shape::Table { rows } => rows
            .iter()
            .enumerate()
            .flat_map(|(index, at)| {
                let number = index + 1;
                [
                    (
                        format!("Depth {number}"),
                        VesselField::TableDepth(index),
                        at.depth_m,
                    ),
                    (
                        format!("Area {number}, m²"),
                        VesselField::TableArea(index),
                        at.area_m2,
                    ),
                ]
            })
            .collect(),
    }
}

fn answers(ui: &mut Ui, facts: &Facts<'_>, report: &VesselReport) {
    // A splash is reported without the colour of a problem.
    let splash = facts.water.is_some_and(|water| water.only_splashes(report));
    let loud = if splash { Ink::Text } else { Ink::Problem };
    level(ui, facts, (report, loud));
    if let Some(spill) = &report.with_spill {
        spilled(ui, facts, (spill, loud));
    }
    // The remaining results are those with the walls as built.
    let real = facts.water.map(StateReport::real);
    let real = real.and_then(|water| water.vessels.iter().find(|one| one.id == report.id));
    let report = real.unwrap_or(report);
    let tip = "Level minus floor";
    rows::number(
        ui,
        facts,
        ("Depth", tip),
        (Quantity::Height, report.depth_m()),
    );
    let tip = "Water in it, without the medium";
    rows::number(
        ui,
        facts,
        ("Volume", tip),
        (Quantity::Volume, report.volume_m3),
    );
    let tip = "Total inflow";
    let inflow = Some(report.inflow_m3_s);
    rows::number(ui, facts, ("Inflow", tip), (Quantity::Flow, inflow));
    let tip = "How often its water is changed";
    let turnover = report.turnover_per_s();
    rows::number(ui, facts, ("Turnover", tip), (Quantity::Turnover, turnover));
}

/// Shows the present and the total spill; nothing where there was none.
fn spilled(ui: &mut Ui, facts: &Facts<'_>, (spill, ink): (&WithSpill, Ink)) {
    if spill.spill_m3_s <= LEAST_M3_S && reported_spill_m3(spill.lost_m3).is_none() {
        return;
    }
    let write = |quantity: Quantity, value: f64| units::write(quantity, value, facts.units);
    let rows = [
        (
            "Spill",
            "Present flow over the rim",
            write(Quantity::Flow, spill.spill_m3_s),
        ),
        (
            "Spilled",
            "Volume spilled over the rim so far",
            write(Quantity::Volume, spill.lost_m3),
        ),
        (
            "First spill after",
            "Time from the start, the stop or the blockage to the first spill",
            spill.first_spill_s.map_or("–".to_owned(), units::span),
        ),
    ];
    for (words, tip, value) in rows {
        let row = AnswerRow {
            words,
            tip,
            value,
            ink,
        };
        rows::answer(ui, facts.trust, &row);
    }
}

fn level(ui: &mut Ui, facts: &Facts<'_>, (report, loud): (&VesselReport, Ink)) {
    let free = report.freeboard_m();
    let spills = report.is_over_rim();
    let ink = if spills { loud } else { Ink::Text };
    let written = |level: Option<f64>| match level {
        Some(level) => units::write(Quantity::Height, level, facts.units),
        None => "keeps rising".to_owned(),
    };
    let row = AnswerRow {
        words: "Level",
        tip: "Water surface above the datum, with the walls as built",
        value: written(report.stands_m()),
        ink,
    };
    rows::answer(ui, facts.trust, &row);
    if let Some(needed_m) = report.required_level_m() {
        let row = AnswerRow {
            words: "Required level",
            tip: "Level that the flow requires, if the walls were tall enough; the check uses this one",
            value: written(Some(needed_m)),
            ink,
        };
        rows::answer(ui, facts.trust, &row);
    }
    let (words, value) = match free {
        Some(free) if spills => (
            "Above rim",
            units::write(Quantity::Height, -free, facts.units),
        ),
        Some(free) => (
            "Freeboard",
            units::write(Quantity::Height, free, facts.units),
        ),
        None => ("Freeboard", "none".to_owned()),
    };
    let row = AnswerRow {
        words,
        tip: "Rim minus level",
        value,
        ink,
    };
    rows::answer(ui, facts.trust, &row);
}

fn kind(role: Role) -> &'static str {
    match role {
        Role::Tank => "Vessel: tank",
        Role::Settler => "Vessel: settler",
        Role::Filter => "Vessel: filter",
        Role::Tower => "Vessel: trickle tower",
        Role::Bed => "Vessel: bed",
        Role::Sump => "Vessel: sump",
        Role::Header => "Vessel: header",
        Role::Pond => "Vessel: pond",
        Role::Supply => "Vessel: supply",
        Role::Waste => "Vessel: waste",
    }
}
