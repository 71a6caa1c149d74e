//! Nothing is selected: the layout as a whole, and what to do next.

use super::field::{self, Field};
use super::{Facts, rows};
use crate::edit;
use crate::finding::State;
use crate::units::{self, Quantity};
use crate::window::action::Action;
use egui::Ui;

pub(super) fn show(ui: &mut Ui, facts: &Facts<'_>, state: State, wants: &mut Vec<Action>) {
    let layout = facts.seen;
    let parts = format!(
        "{} vessels, {} runs, {} joints",
        layout.vessels.len(),
        layout.runs.len(),
        layout.joints.len()
    );
    rows::heading(ui, "The whole layout", &parts);
    let title = |text: &str| edit::title(facts.layout, text);
    let stands = ("Title", "What the drawing is called", layout.title.as_str());
    wants.extend(field::words(ui, facts, stands, title));
    let quantity = Quantity::Temperature;
    let field = Field {
        words: "Water",
        tip: "Temperature of the water: it sets viscosity and vapour pressure",
        value: layout.water.temperature_c,
        quantity,
    };
    let build = |to| edit::setting(facts.layout, "water.temperature_c", to, quantity);
    wants.extend(field::number(ui, facts, &field, build));
    let quantity = Quantity::Height;
    let field = Field {
        words: "Freeboard wanted",
        tip: "Least rim minus level that the check accepts",
        value: layout.limits.freeboard_m,
        quantity,
    };
    let build = |to| edit::setting(facts.layout, "limits.freeboard_m", to, quantity);
    wants.extend(field::number(ui, facts, &field, build));
    picture(ui, facts, wants);
    rows::group(ui, "What the water does");
    totals(ui, facts, state);
    rows::group(ui, "What to do");
    rows::remark(
        ui,
        "Click a vessel, a run or a pump to see its inputs and the numbers it answers with.",
    );
    rows::remark(
        ui,
        "Drag a crest (the round handle on a lip) up or down: every level follows.",
    );
    rows::remark(
        ui,
        "Turn the wheel to enlarge about the pointer, drag the paper to move it.",
    );
    ui.add_space(8.0);
    rows::remark(
        ui,
        "All results are estimates for planning. Local code and licensed practice decide, above all on \
         drinking water, electricity near water and raised vessels.",
    );
}

/// How the picture under the plan lies, where there is one.
fn picture(ui: &mut Ui, facts: &Facts<'_>, wants: &mut Vec<Action>) {
    let Some(underlay) = &facts.seen.underlay else {
        return;
    };
    rows::group(ui, "Picture of the site");
    let build = |to| edit::setting(facts.layout, "underlay.strength", to, Quantity::Ratio);
    let tip = "How strongly it is drawn, in percent: 0 not at all, 100 as it is";
    let row = ("Strength", tip, underlay.strength);
    wants.extend(field::percent(ui, facts, row, build));
    let rows = [
        (
            "Turned by",
            "Degrees against the clock",
            "underlay.turned_deg",
            underlay.turned_deg,
            Quantity::Ratio,
        ),
        (
            "To the right",
            "Its lower left corner in the plan",
            "underlay.at.x_m",
            underlay.at.x_m,
            Quantity::Length,
        ),
        (
            "Up the page",
            "Its lower left corner in the plan",
            "underlay.at.y_m",
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
        let build = |to| edit::setting(facts.layout, name, to, quantity);
        wants.extend(field::number(ui, facts, &field, build));
    }
}

/// Less water in pipes is not worth a row, m³.
const SEEN_M3: f64 = 1e-4;

fn totals(ui: &mut Ui, facts: &Facts<'_>, state: State) {
    let Some(water) = facts.water else {
        rows::remark(ui, "Not known.");
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
            "Water that pipes have taken up since the pumps started, and give back once they stop";
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
            ink: crate::draw::shape::Ink::Text,
        };
        rows::answer(ui, facts.trust, &row);
    }
    if state == State::Rest {
        rows::remark(ui, "At rest the pumps are off.");
    }
}
