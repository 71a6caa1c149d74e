//! The panel without a selection: properties of the layout, and first steps.

use super::field::{self, Field};
use super::{Facts, rows};
use crate::edit;
use crate::layout::SettingField;
use crate::state::State;
use crate::units::{self, Quantity};
use crate::window::action::Action;
use crate::window::dialogs::CAUTION;
use egui::Ui;

pub(super) fn show(ui: &mut Ui, facts: &Facts<'_>, state: State, actions: &mut Vec<Action>) {
    let layout = facts.seen;
    let parts = format!(
        "{} vessels, {} runs, {} joints",
        layout.vessels.len(),
        layout.runs.len(),
        layout.joints.len()
    );
    rows::heading(ui, "Layout", &parts);
    let title = |text: &str| edit::title(facts.layout, text);
    let stands = ("Title", "Name of the layout", layout.title.as_str());
    actions.extend(field::words(ui, facts, stands, title));
    let quantity = Quantity::Temperature;
    let field = Field {
        words: "Water temperature",
        tip: "Sets viscosity and vapour pressure",
        value: layout.water.temperature_c,
        quantity,
    };
    let build = |to| edit::setting(facts.layout, SettingField::Temperature, to);
    actions.extend(field::number(ui, facts, &field, build));
    let quantity = Quantity::Height;
    let field = Field {
        words: "Required freeboard",
        tip: "Least distance from level to rim that the check accepts",
        value: layout.limits.freeboard_m,
        quantity,
    };
    let build = |to| edit::setting(facts.layout, SettingField::Freeboard, to);
    actions.extend(field::number(ui, facts, &field, build));
    picture(ui, facts, actions);
    rows::group(ui, "Results");
    totals(ui, facts, state);
    rows::group(ui, "Getting started");
    rows::remark(
        ui,
        "Click a vessel, a run or a pump to see its inputs and results.",
    );
    rows::remark(
        ui,
        "Drag a crest (the round handle on a lip) up or down; all levels follow.",
    );
    rows::remark(ui, "Zoom with the wheel; drag the page to pan.");
    ui.add_space(8.0);
    rows::remark(ui, CAUTION);
}

/// Shows the properties of the site picture, if any.
fn picture(ui: &mut Ui, facts: &Facts<'_>, actions: &mut Vec<Action>) {
    let Some(underlay) = &facts.seen.underlay else {
        return;
    };
    rows::group(ui, "Site picture");
    let build = |to| edit::setting(facts.layout, SettingField::PictureStrength, to);
    let tip = "Opacity in percent: 0 invisible, 100 full";
    let row = ("Opacity", tip, underlay.strength);
    actions.extend(field::percent(ui, facts, row, build));
    let rows = [
        (
            "Rotation",
            "Degrees anticlockwise",
            SettingField::PictureTurned,
            underlay.turned_deg,
            Quantity::Ratio,
        ),
        (
            "Position X",
            "Position of its lower left corner in the plan",
            SettingField::PictureX,
            underlay.at.x_m,
            Quantity::Length,
        ),
        (
            "Position Y",
            "Position of its lower left corner in the plan",
            SettingField::PictureY,
            underlay.at.y_m,
            Quantity::Length,
        ),
    ];
    for (words, tip, name, value, quantity) in rows {
        let field = Field {
            words,
            tip,
            value,
            quantity,
        };
        let build = |to| edit::setting(facts.layout, name, to);
        actions.extend(field::number(ui, facts, &field, build));
    }
}

/// Smallest volume of water in pipes that is displayed, m³.
const SEEN_M3: f64 = 1e-4;

fn totals(ui: &mut Ui, facts: &Facts<'_>, state: State) {
    let Some(water) = facts.water else {
        rows::remark(ui, "Not computed yet");
        return;
    };
    let water = water.real();
    let volume = water.water_m3();
    let tip = "Water in all vessels";
    rows::number(
        ui,
        facts,
        ("Water in vessels", tip),
        (Quantity::Volume, Some(volume)),
    );
    if water.in_runs_m3 > SEEN_M3 {
        let tip =
            "Water that filled the pipes since the pumps started, and drains back once they stop";
        rows::number(
            ui,
            facts,
            ("Water in pipes", tip),
            (Quantity::Volume, Some(water.in_runs_m3)),
        );
    }
    for pump in water.pumps.iter().filter(|pump| pump.on) {
        let flow = units::write(Quantity::Flow, pump.flow_m3_s, facts.units);
        let head = units::write(Quantity::Head, pump.head_m, facts.units);
        let row = rows::AnswerRow {
            words: facts.seen.name_of(&pump.id),
            tip: "Duty of the pump: flow at head",
            value: format!("{flow} at {head}"),
            ink: crate::draw::page::shape::Ink::Text,
        };
        rows::answer(ui, facts.trust, &row);
    }
    if state == State::Rest {
        rows::remark(ui, "Pumps are off at rest.");
    }
}
