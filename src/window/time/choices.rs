//! The choice of the state and the operating mode.

use super::{TimeView, words};
use crate::draw::page::shape::Ink;
use crate::draw::results::outcome::{Outcomes, REPORTED_M, WhichOutcome};
use crate::evaluate::Case;
use crate::layout::Layout;
use crate::session::Shown;
use crate::state::State;
use crate::states::report::{BlockedCase, Outcome};
use crate::units::{self, Quantity, span};
use crate::window::action::Action;
use crate::window::commands::Command;
use crate::window::theme;
use egui::{ComboBox, RichText, Ui, WidgetInfo, accesskit::Role};

/// Shows one row: the states, then the other choices for the current one.
pub(super) fn show(ui: &mut Ui, watch: &TimeView, shown: &Shown<'_>, actions: &mut Vec<Action>) {
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        for state in State::ALL {
            let command = Command::Watch(state);
            let on = state == watch.state;
            let response = ui.selectable_label(on, command.text());
            let tip = match command.shortcut() {
                Some(key) => format!("{} ({})", command.tip(), ui.ctx().format_shortcut(&key)),
                None => command.tip().to_owned(),
            };
            if response.on_hover_text(tip).clicked() {
                actions.push(Action::Do(command));
            }
        }
        outcomes(ui, watch, shown, actions);
        match watch.state {
            State::Blocked => shut(ui, watch, shown, actions),
            State::Running => ways(ui, watch, shown, actions),
            _ => {}
        }
    });
}

/// Shows the choice between air and primed, where the state has both outcomes.
fn outcomes(ui: &mut Ui, watch: &TimeView, shown: &Shown<'_>, actions: &mut Vec<Action>) {
    let Some(main) = watch.two(shown) else {
        if watch.outcome == WhichOutcome::Second && watch.is_awaited(shown) {
            ui.separator();
            ui.label(RichText::new("Updating…").color(theme::ink(ui, Ink::SoftText)));
        }
        return;
    };
    ui.separator();
    for (outcome, tip) in [(Outcome::WithAir, WITH_AIR), (Outcome::Primed, PRIMED)] {
        let which = if outcome == main.outcome {
            WhichOutcome::Main
        } else {
            WhichOutcome::Second
        };
        let response = ui.selectable_label(watch.outcome == which, words::outcome(outcome));
        if response.on_hover_text(tip).clicked() {
            actions.push(Action::Outcome(which));
        }
    }
}

/// Tooltips of the two outcomes.
const WITH_AIR: &str = "Air stays at the high points of the runs as long as no flow clears it";
const PRIMED: &str = "The runs are full over their high points, like siphons that have primed";

/// Shows how the levels of the other outcome are different.
pub(super) fn note(ui: &mut Ui, watch: &TimeView, shown: &Shown<'_>) {
    let Some(main) = watch.two(shown) else {
        return;
    };
    let told = match watch.outcome {
        WhichOutcome::Main => WhichOutcome::Second,
        WhichOutcome::Second => WhichOutcome::Main,
    };
    let outcomes = Outcomes {
        layout: shown.layout,
        name: &|id| shown.layout.name_of(id).to_owned(),
        units: shown.layout.units,
    };
    let text = outcomes.other(main, told).unwrap_or_else(|| {
        let within = units::write(Quantity::Height, REPORTED_M, shown.layout.units);
        format!("All levels agree within {within}, with air or primed.")
    });
    let soft = RichText::new(&text).color(theme::ink(ui, Ink::SoftText));
    let label = ui.add(egui::Label::new(soft).truncate());
    label.on_hover_text(text);
}

/// Shows the choice of operating modes, where there are any.
fn ways(ui: &mut Ui, watch: &TimeView, shown: &Shown<'_>, actions: &mut Vec<Action>) {
    let (variants, _) = shown.variants();
    if variants.is_empty() {
        return;
    }
    ui.separator();
    ui.label(RichText::new("Mode").color(theme::ink(ui, Ink::SoftText)));
    let tip = "Valves as drawn, water temperature as entered";
    let response = ui.selectable_label(watch.way.is_none(), "As drawn");
    if response.on_hover_text(tip).clicked() {
        actions.push(Action::Way(None));
    }
    for variant in variants {
        let (words, tip) = called(shown.layout, &variant.case);
        let on = watch.way.as_ref() == Some(&variant.case);
        if ui.selectable_label(on, words).on_hover_text(tip).clicked() {
            actions.push(Action::Way(Some(variant.case.clone())));
        }
    }
}

/// The label and the tooltip of an operating mode.
pub(super) fn called(layout: &Layout, way: &Case) -> (String, &'static str) {
    match way {
        Case::Way(id) => {
            let name = layout.ways.iter().find(|one| one.id == *id);
            let name = name.map_or("", |one| one.name.as_str());
            let words = if name.is_empty() {
                id.to_string()
            } else {
                name.to_owned()
            };
            (
                words,
                "An operating mode of this layout, with its own valve settings",
            )
        }
        Case::Water(temperature_c) => {
            let water = units::write(Quantity::Temperature, *temperature_c, layout.units);
            (
                format!("Water {water}"),
                "Cold water is more viscous and flows more slowly than warm water",
            )
        }
        Case::AtWash => (
            "Filters due for washing".to_owned(),
            "Every filter as dirty as it gets before washing",
        ),
    }
}

/// Shows the choice of the run that is shut, the most harmful first.
fn shut(ui: &mut Ui, watch: &TimeView, shown: &Shown<'_>, actions: &mut Vec<Action>) {
    let Some(report) = shown.state(State::Blocked).0 else {
        return;
    };
    let now = watch.blocked(shown);
    ui.separator();
    ui.label(RichText::new("Shut run").color(theme::ink(ui, Ink::SoftText)));
    let words = now.map_or("–", |run| shown.layout.name_of(run));
    let combo = ComboBox::from_id_salt("shut").width(210.0).truncate();
    let combo = combo.selected_text(words).show_ui(ui, |ui| {
        for case in &report.blocked {
            let on = now == Some(&case.run);
            if ui
                .selectable_label(on, described(shown.layout, case))
                .clicked()
            {
                actions.push(Action::Shut(case.run.clone()));
            }
        }
    });
    let name = format!("Run that is shut: {words}");
    let response = combo.response;
    response.widget_info(|| WidgetInfo::labeled(Role::ComboBox, true, &name));
    response.on_hover_text(
        "The run that is shut suddenly while everything runs; the most harmful first",
    );
}

/// A run, and the consequence of shutting it.
fn described(layout: &Layout, case: &BlockedCase) -> String {
    let name = layout.name_of(&case.run);
    match (
        &case.spills,
        case.first_spill_s,
        &case.starves,
        case.starved_s,
    ) {
        (Some(vessel), Some(time_s), ..) => {
            let vessel = layout.name_of(vessel);
            format!("{name}: {vessel} spills after {}", span(time_s))
        }
        (.., Some(pump), Some(time_s)) => {
            let pump = layout.name_of(pump);
            format!("{name}: {pump} runs short of water after {}", span(time_s))
        }
        _ => format!("{name}: nothing spills within a day"),
    }
}
