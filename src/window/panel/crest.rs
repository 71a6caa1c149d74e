//! An opening and its height, which the builder sets.

use super::field::{self, Field};
use super::rows::{self, AnswerRow};
use super::{Facts, details, run};
use crate::draw::page::shape::Ink;
use crate::draw::page::text::begun;
use crate::draw::section::Pick;
use crate::edit;
use crate::editor::margins_m;
use crate::layout::{Id, Opening, RunEnd};
use crate::units::{self, Quantity};
use crate::window::action::Action;
use egui::Ui;

pub(super) fn show(
    ui: &mut Ui,
    facts: &Facts<'_>,
    (id, end): (&Id, RunEnd),
    actions: &mut Vec<Action>,
) {
    let Some(part) = facts.seen.run(id) else {
        rows::remark(ui, "This run no longer exists.");
        return;
    };
    let place = part.end(end);
    let opening = place.opening.as_ref();
    let Some(value) = opening.and_then(Opening::crest_m) else {
        rows::remark(ui, "This end has no height to set.");
        return;
    };
    let word = word(opening);
    let title = format!("{word} of {}", facts.seen.name_of(id));
    let kind = format!("{} in {}", kind(opening), facts.seen.name_of(&place.at));
    rows::heading(ui, &title, &kind);
    let field = Field {
        words: &word,
        tip: "Height at which it starts to pass water, above the datum. Drag it on the drawing, \
              use the arrow keys (Shift for larger steps), or type it",
        value,
        quantity: Quantity::Height,
    };
    let build = |to| edit::crest(facts.layout, id, end, to);
    actions.extend(field::number(ui, facts, &field, build));
    details::end(ui, facts, (part, end), actions);
    let pick = Pick::Crest {
        run: id.clone(),
        end,
    };
    if let Some((over, under)) = margins_m(facts.seen, &pick) {
        let tip = "Height above the inside bottom, for drilling the hole or cutting the pipe";
        let over = (Quantity::Height, Some(over));
        rows::number(ui, facts, ("Above floor", tip), over);
        let tip = "Height from here up to the rim of its vessel";
        let under = (Quantity::Height, Some(under));
        rows::number(ui, facts, ("Below rim", tip), under);
    }
    band(ui, facts);
    rows::group(ui, "Results");
    water(ui, facts, (part, end, value));
    ui.add_space(6.0);
    if ui
        .button("Select run")
        .on_hover_text("Selects the run of this opening")
        .clicked()
    {
        actions.push(Action::Find(Pick::Part(id.clone())));
    }
}

/// Shows the set-height band, and what goes wrong outside it.
fn band(ui: &mut Ui, facts: &Facts<'_>) {
    let Some(band) = facts.band else { return };
    let (low_m, high_m) = band.on_tape(facts.units);
    let write = |height_m| units::write(Quantity::Height, height_m, facts.units);
    let row = AnswerRow {
        words: "Set-height band",
        tip: "From the lowest to the highest height without problems, at rest and running",
        value: format!("{} … {}", write(low_m), write(high_m)),
        ink: Ink::Good,
    };
    rows::answer(ui, crate::draw::section::Trust::Sure, &row);
    let name = |id: &Id| facts.seen.name_of(id).to_owned();
    for (words, beyond) in [("Higher", &band.above), ("Lower", &band.below)] {
        if let Some(beyond) = beyond {
            let why = beyond.found.text.read(&name, facts.units);
            let there = write(beyond.height_m);
            rows::remark(ui, &format!("{words}, at {there}: {why}"));
        }
    }
}

fn water(ui: &mut Ui, facts: &Facts<'_>, (part, end, crest_m): (&crate::layout::Run, RunEnd, f64)) {
    let Some(water) = facts.water else {
        rows::remark(ui, "Not computed yet");
        return;
    };
    let vessel = water.vessels.iter().find(|one| one.id == part.end(end).at);
    if let Some(vessel) = vessel {
        let over = vessel.stands_m().map(|level_m| level_m - crest_m);
        let ink = if vessel.is_over_rim() && !water.only_splashes(vessel) {
            Ink::Problem
        } else {
            Ink::Text
        };
        let value = match vessel.stands_m() {
            Some(level) => units::write(Quantity::Height, level, facts.units),
            None => "keeps rising".to_owned(),
        };
        let words = format!("Level of {}", facts.seen.name_of(&vessel.id));
        let row = AnswerRow {
            words: &words,
            tip: "Water surface above the datum, with the walls as built",
            value,
            ink,
        };
        rows::answer(ui, facts.trust, &row);
        let tip = "Level minus this height; negative where the water is below";
        rows::number(ui, facts, ("Water above it", tip), (Quantity::Height, over));
    }
    if let Some(report) = run::report(facts, part) {
        let tip = "Flow from start to end as drawn; negative: backward";
        let flow = Some(report.flow_m3_s);
        rows::number(ui, facts, ("Flow", tip), (Quantity::Flow, flow));
        let held = AnswerRow {
            words: "Limited by",
            tip: "What limits the flow: inlet, losses or pump",
            value: run::control(report.control).to_owned(),
            ink: Ink::Text,
        };
        rows::answer(ui, facts.trust, &held);
        if end == RunEnd::From {
            run::capacity(ui, facts, report);
        }
    }
}

/// The name of the height of an opening, with an initial capital.
pub(super) fn word(opening: Option<&Opening>) -> String {
    begun(opening.map_or("lip", Opening::height_word))
}

fn kind(opening: Option<&Opening>) -> &'static str {
    match opening {
        Some(Opening::Upstand { .. }) => "Upstand",
        Some(Opening::SideHole { .. }) => "Side hole",
        Some(Opening::Floor { .. }) | None => "Floor outlet",
        Some(Opening::Mouth { .. }) => "Open end",
        Some(Opening::Submerged { .. }) => "Submerged opening",
        Some(Opening::RaisedIntake { .. }) => "Raised-intake overflow",
        Some(Opening::Notch { .. }) => "Notch",
    }
}
