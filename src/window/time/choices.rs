//! Which state is watched, and in which way it runs: one click each.

use super::{Watch, words};
use crate::draw::outcome::{Outcomes, TOLD_M, Which};
use crate::draw::shape::Ink;
use crate::evaluate::Case;
use crate::finding::State;
use crate::layout::Layout;
use crate::session::Shown;
use crate::states::report::{BlockedCase, Outcome};
use crate::units::{self, Quantity, span};
use crate::window::commands::Command;
use crate::window::theme;
use crate::window::wants::Want;
use egui::{ComboBox, RichText, Ui, WidgetInfo, accesskit::Role};

/// One row: the states, and what else can be chosen in the one that is watched.
pub(super) fn show(ui: &mut Ui, watch: &Watch, shown: &Shown<'_>, wants: &mut Vec<Want>) {
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
                wants.push(Want::Do(command));
            }
        }
        outcomes(ui, watch, shown, wants);
        match watch.state {
            State::Blocked => shut(ui, watch, shown, wants),
            State::Running => ways(ui, watch, shown, wants),
            _ => {}
        }
    });
}

/// Air or water at the high points, where the state has both outcomes.
fn outcomes(ui: &mut Ui, watch: &Watch, shown: &Shown<'_>, wants: &mut Vec<Want>) {
    let Some(main) = watch.two(shown) else {
        if watch.outcome == Which::Second && watch.is_awaited(shown) {
            ui.separator();
            ui.label(RichText::new("Updating…").color(theme::ink(ui, Ink::SoftText)));
        }
        return;
    };
    ui.separator();
    for (outcome, tip) in [(Outcome::WithAir, WITH_AIR), (Outcome::Primed, PRIMED)] {
        let which = if outcome == main.outcome {
            Which::Main
        } else {
            Which::Second
        };
        let response = ui.selectable_label(watch.outcome == which, words::outcome(outcome));
        if response.on_hover_text(tip).clicked() {
            wants.push(Want::Outcome(which));
        }
    }
}

/// What the words of the two outcomes mean.
const WITH_AIR: &str = "Air stands at the high points of the runs, as long as no flow clears it";
const PRIMED: &str =
    "The runs are full of water over their high points, as siphons are once they have primed";

/// What the other outcome does to the levels that are looked at.
pub(super) fn note(ui: &mut Ui, watch: &Watch, shown: &Shown<'_>) {
    let Some(main) = watch.two(shown) else {
        return;
    };
    let told = match watch.outcome {
        Which::Main => Which::Second,
        Which::Second => Which::Main,
    };
    let outcomes = Outcomes {
        layout: shown.layout,
        name: &|id| shown.layout.name_of(id).to_owned(),
        units: shown.layout.units,
    };
    let text = outcomes.other(main, told).unwrap_or_else(|| {
        let within = units::write(Quantity::Height, TOLD_M, shown.layout.units);
        format!("With air or primed, every level is the same within {within}.")
    });
    let soft = RichText::new(&text).color(theme::ink(ui, Ink::SoftText));
    let label = ui.add(egui::Label::new(soft).truncate());
    label.on_hover_text(text);
}

/// The ways of running, where there is more than one.
fn ways(ui: &mut Ui, watch: &Watch, shown: &Shown<'_>, wants: &mut Vec<Want>) {
    let (variants, _) = shown.variants();
    if variants.is_empty() {
        return;
    }
    ui.separator();
    ui.label(RichText::new("Run").color(theme::ink(ui, Ink::SoftText)));
    let tip = "As drawn: every valve as it stands, the water as warm as entered";
    let response = ui.selectable_label(watch.way.is_none(), "As drawn");
    if response.on_hover_text(tip).clicked() {
        wants.push(Want::Way(None));
    }
    for variant in variants {
        let (words, tip) = called(shown.layout, &variant.case);
        let on = watch.way.as_ref() == Some(&variant.case);
        if ui.selectable_label(on, words).on_hover_text(tip).clicked() {
            wants.push(Want::Way(Some(variant.case.clone())));
        }
    }
}

/// What a way of running is called, and what it means.
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
                "A way of running that the layout names: valves set otherwise",
            )
        }
        Case::Water(temperature_c) => {
            let water = units::write(Quantity::Temperature, *temperature_c, layout.units);
            (
                format!("Water {water}"),
                "Colder water is thicker and flows more slowly; warmer water is thinner",
            )
        }
        Case::AtWash => (
            "Filters at wash".to_owned(),
            "Every filter as dirty as it is when it calls to be washed",
        ),
    }
}

/// Which run is shut, the worst first.
fn shut(ui: &mut Ui, watch: &Watch, shown: &Shown<'_>, wants: &mut Vec<Want>) {
    let Some(report) = shown.state(State::Blocked).0 else {
        return;
    };
    let now = watch.blocked(shown);
    ui.separator();
    ui.label(RichText::new("Shut").color(theme::ink(ui, Ink::SoftText)));
    let words = now.map_or("–", |run| shown.layout.name_of(run));
    let combo = ComboBox::from_id_salt("shut").width(210.0).truncate();
    let combo = combo.selected_text(words).show_ui(ui, |ui| {
        for case in &report.blocked {
            let on = now == Some(&case.run);
            if ui.selectable_label(on, told(shown.layout, case)).clicked() {
                wants.push(Want::Shut(case.run.clone()));
            }
        }
    });
    let name = format!("Run that is shut: {words}");
    let response = combo.response;
    response.widget_info(|| WidgetInfo::labeled(Role::ComboBox, true, &name));
    response.on_hover_text(
        "The run that is shut at once while everything runs; the one that does most harm first",
    );
}

/// A run and what comes of shutting it.
fn told(layout: &Layout, case: &BlockedCase) -> String {
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
            format!("{name}: {pump} lacks water after {}", span(time_s))
        }
        _ => format!("{name}: nothing spills within a day"),
    }
}
