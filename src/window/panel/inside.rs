//! The contents of a run: fittings, valves and equipment.

use super::along::RunItem;
use super::{Facts, along, rows};
use crate::catalogue::Catalogue;
use crate::draw::page::text::begun;
use crate::edit::{self, Along, Item, RemovedItem};
use crate::layout::{Pipe, Run};
use crate::window::action::Action;
use egui::{Button, ScrollArea, Ui};

pub(super) fn show(ui: &mut Ui, facts: &Facts<'_>, run: &Run, actions: &mut Vec<Action>) {
    rows::group(ui, "Fittings");
    fittings(ui, facts, run, actions);
    valves_and_equipment(ui, facts, run, actions);
    if let Some(pump) = &run.pump {
        let name = facts.seen.name_of(&pump.id).to_owned();
        one(ui, facts, run, (&name, None, RemovedItem::Pump), actions);
    }
    if run.fittings.is_empty()
        && run.valves.is_empty()
        && run.equipment.is_empty()
        && run.pump.is_none()
    {
        rows::remark(ui, "Plain pipe");
    }
    if run.pipe != Pipe::Open {
        insert(ui, facts, run, actions);
    }
}

fn fittings(ui: &mut Ui, facts: &Facts<'_>, run: &Run, actions: &mut Vec<Action>) {
    let known = Catalogue::builtin();
    for (index, fitting) in run.fittings.iter().enumerate() {
        let kind = known.fitting(&fitting.kind);
        let words = kind.map_or(fitting.kind.as_str(), |kind| kind.words.as_str());
        let thing = RunItem {
            words: &format!("{} × {words}", fitting.count),
            item: RemovedItem::Fitting(index),
            along: Along::of(fitting.at_m, fitting.near),
            is_at_an_end: fitting.is_entrance_or_exit(),
        };
        let more = Item::Fitting(fitting.kind.clone());
        placed(ui, facts, (run, &thing, Some(more)), actions);
    }
}

fn valves_and_equipment(ui: &mut Ui, facts: &Facts<'_>, run: &Run, actions: &mut Vec<Action>) {
    for (index, valve) in run.valves.iter().enumerate() {
        let thing = RunItem {
            words: &valve_words(run, index),
            item: RemovedItem::Valve(index),
            along: Along::of(valve.at_m, valve.near),
            is_at_an_end: false,
        };
        placed(ui, facts, (run, &thing, None), actions);
    }
    for (index, piece) in run.equipment.iter().enumerate() {
        let thing = RunItem {
            words: &piece.name,
            item: RemovedItem::Equipment(index),
            along: Along::of(piece.at_m, piece.near),
            is_at_an_end: false,
        };
        placed(ui, facts, (run, &thing, None), actions);
    }
}

/// Shows one item and its position along the run.
fn placed(
    ui: &mut Ui,
    facts: &Facts<'_>,
    (run, thing, more): (&Run, &RunItem<'_>, Option<Item>),
    actions: &mut Vec<Action>,
) {
    one(ui, facts, run, (thing.words, more, thing.item), actions);
    // Two items of a run may have the same name.
    ui.push_id(format!("{:?}", thing.item), |ui| {
        along::show(ui, facts, (run, thing), actions);
    });
}

/// The name of a valve in its run, numbered along the run among valves of its kind.
pub(super) fn valve_words(run: &Run, index: usize) -> String {
    let Some(valve) = run.valves.get(index) else {
        return String::new();
    };
    let kind = Catalogue::builtin().valve(&valve.kind);
    let words = begun(kind.map_or(valve.kind.as_str(), |kind| kind.words.as_str()));
    let same = |other: &&crate::layout::ValveUse| other.kind == valve.kind;
    let before = run.valves.iter().take(index).filter(same).count();
    match run.valves.iter().filter(same).count() {
        1 => words,
        _ => format!("{words} {}", before + 1),
    }
}

/// Shows one item with buttons to add and remove.
fn one(
    ui: &mut Ui,
    facts: &Facts<'_>,
    run: &Run,
    (words, more, taken): (&str, Option<Item>, RemovedItem),
    actions: &mut Vec<Action>,
) {
    ui.horizontal(|ui| {
        let wide = (ui.available_width() - 76.0).max(60.0);
        ui.scope(|ui| {
            ui.set_max_width(wide);
            ui.set_min_width(wide);
            ui.add(egui::Label::new(words).wrap());
        });
        let less = ui.add(Button::new("−").min_size(egui::vec2(28.0, 22.0)));
        super::pipe::button(&less, &format!("Remove {words}"));
        if less.on_hover_text("Removes one").clicked() {
            actions.push(super::run::made(
                facts,
                edit::take_out(facts.layout, &run.id, taken),
            ));
        }
        if let Some(item) = &more {
            let plus = ui.add(Button::new("+").min_size(egui::vec2(28.0, 22.0)));
            super::pipe::button(&plus, &format!("Add {words}"));
            if plus.on_hover_text("Adds one more").clicked() {
                actions.push(super::run::made(
                    facts,
                    edit::insert(facts.layout, &run.id, item),
                ));
            }
        }
    });
}

/// Shows the menu of items to add.
fn insert(ui: &mut Ui, facts: &Facts<'_>, run: &Run, actions: &mut Vec<Action>) {
    let known = Catalogue::builtin();
    let mut chosen = None;
    ui.menu_button("Add fitting…", |ui| {
        ui.menu_button("Valve", |ui| {
            for valve in &known.valves {
                if ui.button(begun(&valve.words)).clicked() {
                    chosen = Some(Item::Valve(valve.key.clone()));
                }
            }
        });
        ui.menu_button("Fitting", |ui| {
            ScrollArea::vertical().max_height(360.0).show(ui, |ui| {
                for fitting in &known.fittings {
                    if ui.button(begun(&fitting.words)).clicked() {
                        chosen = Some(Item::Fitting(fitting.key.clone()));
                        ui.close();
                    }
                }
            });
        });
        if ui
            .button("Equipment")
            .on_hover_text("A filter, heater, lamp or meter")
            .clicked()
        {
            chosen = Some(Item::Equipment);
        }
        let free = run.pump.is_none();
        if ui
            .add_enabled(free, Button::new("Pump"))
            .on_hover_text("One pump per run")
            .clicked()
        {
            chosen = Some(Item::Pump);
        }
    });
    if let Some(item) = chosen {
        actions.push(super::run::made(
            facts,
            edit::insert(facts.layout, &run.id, &item),
        ));
    }
}
