//! What sits in a run: fittings, valves, equipment; put in and taken out.

use super::{Facts, rows};
use crate::catalogue::Catalogue;
use crate::draw::text::begun;
use crate::edit::{self, Item, Taken};
use crate::layout::{Pipe, Run};
use crate::window::wants::Want;
use egui::{Button, ScrollArea, Ui};

pub(super) fn show(ui: &mut Ui, facts: &Facts<'_>, run: &Run, wants: &mut Vec<Want>) {
    rows::group(ui, "In it");
    let known = Catalogue::builtin();
    for (index, fitting) in run.fittings.iter().enumerate() {
        let kind = known.fitting(&fitting.kind);
        let words = kind.map_or(fitting.kind.as_str(), |kind| kind.words.as_str());
        let words = format!("{} × {words}", fitting.count);
        let more = Item::Fitting(fitting.kind.clone());
        one(
            ui,
            facts,
            run,
            (&words, Some(more), Taken::Fitting(index)),
            wants,
        );
    }
    for (index, valve) in run.valves.iter().enumerate() {
        let kind = known.valve(&valve.kind);
        let words = begun(kind.map_or(valve.kind.as_str(), |kind| kind.words.as_str()));
        one(ui, facts, run, (&words, None, Taken::Valve(index)), wants);
    }
    for (index, piece) in run.equipment.iter().enumerate() {
        one(
            ui,
            facts,
            run,
            (&piece.name, None, Taken::Equipment(index)),
            wants,
        );
    }
    if let Some(pump) = &run.pump {
        let name = facts.seen.name_of(&pump.id).to_owned();
        one(ui, facts, run, (&name, None, Taken::Pump), wants);
    }
    if run.fittings.is_empty()
        && run.valves.is_empty()
        && run.equipment.is_empty()
        && run.pump.is_none()
    {
        rows::remark(ui, "Nothing but pipe.");
    }
    if run.pipe != Pipe::Open {
        insert(ui, facts, run, wants);
    }
}

/// One thing with a way to put in another and to take one out.
fn one(
    ui: &mut Ui,
    facts: &Facts<'_>,
    run: &Run,
    (words, more, taken): (&str, Option<Item>, Taken),
    wants: &mut Vec<Want>,
) {
    ui.horizontal(|ui| {
        let wide = (ui.available_width() - 76.0).max(60.0);
        ui.scope(|ui| {
            ui.set_max_width(wide);
            ui.set_min_width(wide);
            ui.add(egui::Label::new(words).wrap());
        });
        let less = ui.add(Button::new("−").min_size(egui::vec2(28.0, 22.0)));
        super::pipe::button(&less, &format!("Take out: {words}"));
        if less.on_hover_text("Takes one out").clicked() {
            wants.push(super::run::made(
                facts,
                edit::take_out(facts.layout, &run.id, taken),
            ));
        }
        if let Some(item) = &more {
            let plus = ui.add(Button::new("+").min_size(egui::vec2(28.0, 22.0)));
            super::pipe::button(&plus, &format!("One more: {words}"));
            if plus.on_hover_text("Puts one more in").clicked() {
                wants.push(super::run::made(
                    facts,
                    edit::insert(facts.layout, &run.id, item),
                ));
            }
        }
    });
}

/// A menu of all that can be put in.
fn insert(ui: &mut Ui, facts: &Facts<'_>, run: &Run, wants: &mut Vec<Want>) {
    let known = Catalogue::builtin();
    let mut chosen = None;
    ui.menu_button("Put in…", |ui| {
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
            .on_hover_text("One pump to a run")
            .clicked()
        {
            chosen = Some(Item::Pump);
        }
    });
    if let Some(item) = chosen {
        wants.push(super::run::made(
            facts,
            edit::insert(facts.layout, &run.id, &item),
        ));
    }
}
