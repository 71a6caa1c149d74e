//! A run of pipe.

use super::field::{self, Field};
use super::rows::{self, AnswerRow};
use super::{Facts, built, crest, details, inside, kind, pipe};
use crate::catalogue::{Actuation, Catalogue};
use crate::draw::page::shape::Ink;
use crate::draw::results::reports::filled;
use crate::edit::{self, Priming};
use crate::layout::{Opening, Run, RunEnd};
use crate::state::State;
use crate::states::report::{Control, RunReport};
use crate::units::{self, Quantity};
use crate::window::action::Action;
use egui::Ui;

pub(super) fn show(ui: &mut Ui, facts: &Facts<'_>, run: &Run, actions: &mut Vec<Action>) {
    let layout = facts.seen;
    let way = format!(
        "Run from {} to {}",
        layout.name_of(&run.from.at),
        layout.name_of(&run.to.at)
    );
    rows::heading(ui, layout.name_of(&run.id), &way);
    actions.extend(field::name(ui, facts, &run.id, &run.name));
    pipe::show(ui, facts, run, actions);
    for end in RunEnd::BOTH {
        kind::show(ui, facts, (run, end), actions);
        height(ui, facts, (run, end), actions);
        details::end(ui, facts, (run, end), actions);
    }
    details::siphon_break(ui, facts, run, actions);
    valves(ui, facts, run, actions);
    inside::show(ui, facts, run, actions);
    primed(ui, facts, run, actions);
    built::show(ui, facts, (&run.id, run.already_built), actions);
    rows::group(ui, "Results");
    match report(facts, run) {
        Some(report) => answers(ui, facts, report),
        None => rows::remark(ui, "Not computed yet"),
    }
}

pub(super) fn report<'a>(facts: &Facts<'a>, run: &Run) -> Option<&'a RunReport> {
    let water = facts.water?;
    water.real().runs.iter().find(|one| one.id == run.id)
}

/// The action for an edit: make it, or say why it is refused.
pub(super) fn made(facts: &Facts<'_>, edit: Result<edit::Edit, edit::EditError>) -> Action {
    match edit {
        Ok(edit) => Action::Make(edit),
        Err(refused) => Action::Say(facts.refusal(&refused)),
    }
}

/// Shows the height of the opening at one end.
fn height(ui: &mut Ui, facts: &Facts<'_>, (run, end): (&Run, RunEnd), actions: &mut Vec<Action>) {
    let opening = run.end(end).opening.as_ref();
    let Some(value) = opening.and_then(Opening::crest_m) else {
        return;
    };
    let place = facts.seen.name_of(&run.end(end).at);
    let words = format!("{} in {place}", crest::word(opening));
    let field = Field {
        words: &words,
        tip: "Height at which it starts to pass water, above the datum",
        value,
        quantity: Quantity::Height,
    };
    let build = |to| edit::crest(facts.layout, &run.id, end, to);
    actions.extend(field::number(ui, facts, &field, build));
}

/// Shows the opening of each manual valve.
fn valves(ui: &mut Ui, facts: &Facts<'_>, run: &Run, actions: &mut Vec<Action>) {
    let known = Catalogue::builtin();
    let by_flow = |kind: &str| {
        known
            .valve(kind)
            .is_some_and(|kind| kind.acts == Actuation::Check)
    };
    for (index, valve) in run.valves.iter().enumerate() {
        if by_flow(&valve.kind) {
            continue;
        }
        let words = inside::valve_words(run, index);
        let build = |share| edit::valve(facts.layout, &run.id, index, share);
        let tip = "Opening in percent: 0 shut, 100 fully open";
        let stands = (words.as_str(), tip, valve.opening);
        actions.extend(field::percent(ui, facts, stands, build));
    }
}

/// Shows a checkbox for a run that is filled by hand before use.
fn primed(ui: &mut Ui, facts: &Facts<'_>, run: &Run, actions: &mut Vec<Action>) {
    let mut ticked = run.starts_primed;
    let tip =
        "Someone fills the whole pipe with water before use, so that it can start as a siphon.";
    let tick = ui.checkbox(&mut ticked, "Filled by hand before use");
    if tick.on_hover_text(tip).changed() {
        let to = if ticked {
            Priming::ByHand
        } else {
            Priming::Itself
        };
        actions.push(made(facts, edit::priming(facts.layout, &run.id, to)));
    }
}

pub(super) fn answers(ui: &mut Ui, facts: &Facts<'_>, report: &RunReport) {
    let tip = "Flow from start to end as drawn; negative: backward";
    let flow = Some(report.flow_m3_s);
    rows::number(ui, facts, ("Flow", tip), (Quantity::Flow, flow));
    let tip = "Flow over the full bore";
    let speed = Some(report.velocity_m_s.abs());
    rows::number(ui, facts, ("Velocity", tip), (Quantity::Velocity, speed));
    let held = AnswerRow {
        words: "Limited by",
        tip: "What limits the flow: inlet, losses or pump",
        value: control(report.control).to_owned(),
        ink: Ink::Text,
    };
    rows::answer(ui, facts.trust, &held);
    let filled = AnswerRow {
        words: "Filled",
        tip: "Whether the pipe runs full, with a free surface, or in between",
        value: filled(report.regime).to_owned(),
        ink: Ink::Text,
    };
    rows::answer(ui, facts.trust, &filled);
    air(ui, facts, report);
    let tip = "Head lost along the run";
    let loss = Some(report.loss_m.abs());
    rows::number(ui, facts, ("Loss", tip), (Quantity::Head, loss));
    let tip = "Length of pipe, from the drawing or as given";
    let length = Some(report.length_m);
    rows::number(ui, facts, ("Length", tip), (Quantity::Length, length));
    let tip = "Inside diameter";
    rows::number(
        ui,
        facts,
        ("Bore", tip),
        (Quantity::Bore, Some(report.bore_m)),
    );
    capacity(ui, facts, report);
}

/// Shows the state of its high point, where air can collect.
fn air(ui: &mut Ui, facts: &Facts<'_>, report: &RunReport) {
    let Some(air) = report.air else {
        return;
    };
    let at = units::write(Quantity::Height, air.high_m, facts.units);
    let row = match air.primed {
        true => AnswerRow {
            words: "Primed",
            tip: "The pipe is full over its high point and holds no air there, like a working siphon",
            value: "full over its high point".to_owned(),
            ink: Ink::Text,
        },
        false => AnswerRow {
            words: "Air",
            tip: "Air stays at its high point, whose invert is at this height, until a flow clears it",
            value: format!("at the high point, {at}"),
            ink: Ink::Text,
        },
    };
    rows::answer(ui, facts.trust, &row);
}

/// Shows its capacity with a full vessel, and the reserve.
pub(super) fn capacity(ui: &mut Ui, facts: &Facts<'_>, report: &RunReport) {
    // The reserve compares it with the present flow, which is zero at rest.
    let runs = facts.water.is_some_and(|water| water.state != State::Rest);
    let Some(capacity) = report.capacity_at_rim_m3_s.filter(|_| runs) else {
        return;
    };
    let reserve = report.reserve();
    let short = reserve.is_some_and(|times| times < 1.0);
    let ink = if short { Ink::Problem } else { Ink::Text };
    let row = AnswerRow {
        words: "Capacity at rim",
        tip: "Flow that it passes with its vessel full to the rim",
        value: units::write(Quantity::Flow, capacity, facts.units),
        ink,
    };
    rows::answer(ui, facts.trust, &row);
    if let Some(times) = reserve {
        let value = if short {
            "none".to_owned()
        } else if times > 100.0 {
            "over 100 times".to_owned()
        } else {
            format!(
                "{} times",
                units::write(Quantity::Ratio, times, facts.units)
            )
        };
        let row = AnswerRow {
            words: "Reserve",
            tip: "Capacity at the rim divided by the present flow",
            value,
            ink,
        };
        rows::answer(ui, facts.trust, &row);
    }
}

pub(super) fn control(control: Control) -> &'static str {
    match control {
        Control::Inlet => "Inlet",
        Control::Outlet => "Losses",
        Control::Pumped => "Pump",
        Control::Shut => "Shut valve",
        Control::Dry => "No flow (dry)",
        Control::Still => "No flow (still)",
    }
}
