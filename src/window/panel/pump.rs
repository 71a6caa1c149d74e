//! A pump: its duty and its head losses.

use super::field;
use super::rows::{self, AnswerRow};
use super::{Facts, details};
use crate::draw::duty::Lifts;
use crate::draw::page::shape::Ink;
use crate::draw::page::text::begun;
use crate::draw::section::Pick;
use crate::edit;
use crate::finding::Sentence;
use crate::layout::{CurveForm, Pump, PumpField, Run};
use crate::session::Duty;
use crate::states::report::PumpReport;
use crate::units::{self, Quantity};
use crate::window::action::Action;
use crate::window::duty::{self, PumpPlot};
use egui::Ui;

pub(super) fn show(ui: &mut Ui, facts: &Facts<'_>, run: &Run, actions: &mut Vec<Action>) {
    let Some(pump) = &run.pump else { return };
    let kind = format!("Pump in {}", facts.seen.name_of(&run.id));
    rows::heading(ui, facts.seen.name_of(&pump.id), &kind);
    actions.extend(field::name(ui, facts, &pump.id, &pump.name));
    let build = |to| edit::number(facts.layout, &pump.id, PumpField::Speed, to);
    let tip = "Speed in percent of the speed of its curve";
    actions.extend(field::percent(ui, facts, ("Speed", tip, pump.speed), build));
    wet(ui, facts, run, actions);
    curve(ui, facts, pump, actions);
    details::float_switch(ui, facts, pump, actions);
    rows::group(ui, "Duty");
    let water = facts.water;
    let Some(report) =
        water.and_then(|water| water.real().pumps.iter().find(|one| one.id == pump.id))
    else {
        rows::remark(ui, "Not computed yet");
        return;
    };
    if report.on {
        guessed(ui, facts, pump);
        numbers(ui, facts, report);
    } else {
        let row = AnswerRow {
            words: "Pump",
            tip: "Whether it runs in the current state",
            value: "Off".to_owned(),
            ink: Ink::Text,
        };
        rows::answer(ui, facts.trust, &row);
    }
    plot(ui, facts, pump, actions);
    if report.on {
        losses(ui, facts, report);
        suction(ui, facts, report);
    }
    ui.add_space(6.0);
    if ui
        .button("Select run")
        .on_hover_text("Selects the run of the pump")
        .clicked()
    {
        actions.push(Action::Find(Pick::Part(run.id.clone())));
    }
}

/// Shows a checkbox for a submerged pump.
fn wet(ui: &mut Ui, facts: &Facts<'_>, run: &Run, actions: &mut Vec<Action>) {
    let Some(pump) = &run.pump else { return };
    let mut ticked = pump.is_wet();
    let tip = "It stands under water; the depth above its intake adds to the suction head";
    let tick = ui.checkbox(&mut ticked, "Submerged pump");
    if tick.on_hover_text(tip).changed() {
        let mut after = run.clone();
        if let Some(pump) = &mut after.pump {
            pump.wet = Some(ticked);
        }
        let name = Sentence(vec![
            "Change the pump position in ".into(),
            (&run.id).into(),
        ]);
        actions.push(super::run::made(
            facts,
            edit::replace(facts.layout, after, name),
        ));
    }
}

/// Shows the plot of its curve and its system curve.
fn plot(ui: &mut Ui, facts: &Facts<'_>, pump: &Pump, actions: &mut Vec<Action>) {
    ui.add_space(6.0);
    let plotted = PumpPlot {
        layout: facts.seen,
        pump,
        water: facts.water,
        trust: facts.trust,
        system: facts.system,
        units: facts.units,
    };
    if duty::small(ui, &plotted, actions) {
        actions.push(Action::Plot(pump.id.clone()));
    }
}

/// Shows the kind of curve, and the button to change it.
fn curve(ui: &mut Ui, facts: &Facts<'_>, pump: &Pump, actions: &mut Vec<Action>) {
    let value = match &pump.curve {
        CurveForm::Points(points) => format!("{} points", points.len()),
        CurveForm::Power { .. } => "formula".to_owned(),
        CurveForm::Label { .. } => "guess".to_owned(),
    };
    let row = AnswerRow {
        words: "Curve",
        tip: "How head by flow is known; two numbers of a label give only a guess",
        value,
        ink: if pump.curve.is_guess() {
            Ink::Warning
        } else {
            Ink::Text
        },
    };
    rows::answer(ui, facts.trust, &row);
    let tip = "Enter points, the numbers of its label, a table, or a picture of its data sheet";
    if ui.button("Curve…").on_hover_text(tip).clicked() {
        actions.push(Action::Curve(pump.id.clone()));
    }
}

/// Shows the duty at both edges of a guessed curve.
fn guessed(ui: &mut Ui, facts: &Facts<'_>, pump: &Pump) {
    if !pump.curve.is_guess() {
        return;
    }
    let edges = facts.guess.and_then(|guess| guess.low.zip(guess.high));
    let between = |quantity, of: fn(&Duty) -> f64| {
        edges.map_or("–".to_owned(), |(low, high)| {
            let write = |one| units::write(quantity, of(one), facts.units);
            format!("{} to {}", write(&low), write(&high))
        })
    };
    let tip = "The curve is a guess: solved at its lower and at its upper edge";
    for (words, value) in [
        ("Flow range", between(Quantity::Flow, |duty| duty.flow_m3_s)),
        ("Head range", between(Quantity::Head, |duty| duty.head_m)),
    ] {
        let row = AnswerRow {
            words,
            tip,
            value,
            ink: Ink::Warning,
        };
        rows::answer(ui, facts.trust, &row);
    }
}

fn numbers(ui: &mut Ui, facts: &Facts<'_>, report: &PumpReport) {
    let head = Quantity::Head;
    let tip = "Flow that it delivers";
    let flow = Some(report.flow_m3_s);
    rows::number(ui, facts, ("Flow", tip), (Quantity::Flow, flow));
    let tip = "Total dynamic head: static lift and every loss at the duty";
    rows::number(ui, facts, ("Head", tip), (head, Some(report.head_m)));
    let tip = "From the suction level to the delivery level or outlet, at this flow";
    rows::number(
        ui,
        facts,
        ("Static lift", tip),
        (head, Some(report.static_m)),
    );
    lift_without_flow(ui, facts, report);
    let tip = "Head at no flow";
    rows::number(
        ui,
        facts,
        ("Shut-off head", tip),
        (head, Some(report.shutoff_head_m)),
    );
    if report.power_w.is_some() {
        let tip = "Electrical power at the given efficiency";
        rows::number(ui, facts, ("Power", tip), (Quantity::Power, report.power_w));
    }
}

/// Shows the suction side.
fn suction(ui: &mut Ui, facts: &Facts<'_>, report: &PumpReport) {
    rows::group(ui, "Suction");
    let tip = "Level of the vessel that it draws from";
    let level = report.suction_level_m;
    rows::number(ui, facts, ("Suction level", tip), (Quantity::Height, level));
    if report.npsh_available_m.is_some() {
        let tip = "Net positive suction head available at its inlet";
        let head = (Quantity::Head, report.npsh_available_m);
        rows::number(ui, facts, ("NPSH available", tip), head);
    }
    if let Some(required_m) = report.npsh_required_m {
        npsh_required(ui, facts, (report.npsh_available_m, required_m));
    }
}

/// Shows the required suction head, compared with the available one.
fn npsh_required(ui: &mut Ui, facts: &Facts<'_>, (available_m, required_m): (Option<f64>, f64)) {
    let head = |head_m: f64| units::write(Quantity::Head, head_m, facts.units);
    let left_m = available_m.map(|available_m| available_m - required_m);
    let row = AnswerRow {
        words: "NPSH required",
        tip: "Net positive suction head required by its data sheet at this flow and speed",
        value: head(required_m),
        ink: if left_m.is_some_and(|left_m| left_m < 0.0) {
            Ink::Problem
        } else {
            Ink::Text
        },
    };
    rows::answer(ui, facts.trust, &row);
    rows::remark(
        ui,
        &match left_m {
            Some(left_m) if left_m < 0.0 => format!(
                "{} short: water boils in the pump, which costs flow and wears it out.",
                head(-left_m)
            ),
            Some(left_m) => format!("{} to spare", head(left_m)),
            None => "NPSH available is unknown: give the height of its inlet.".to_owned(),
        },
    );
}

/// Shows the start of the system curve. The row is there before its value, so that nothing moves under the pointer.
fn lift_without_flow(ui: &mut Ui, facts: &Facts<'_>, report: &PumpReport) {
    let lifts = Lifts::of(Some(report), facts.system.map(|(system, _)| system));
    let tip = "Static lift while nothing flows: below this head there is no flow, and the system \
               curve begins here";
    let head = (Quantity::Head, lifts.map(|lifts| lifts.begins_m));
    rows::number(ui, facts, ("Lift at no flow", tip), head);
}

/// Shows the head losses of more than 0.5 mm.
fn losses(ui: &mut Ui, facts: &Facts<'_>, report: &PumpReport) {
    let head = Quantity::Head;
    rows::group(ui, "Head losses");
    for loss in report.losses.iter().filter(|loss| loss.head_m.abs() > 5e-4) {
        let words = begun(&loss.what);
        let row = AnswerRow {
            words: &words,
            tip: "Head lost at the duty",
            value: units::write(head, loss.head_m, facts.units),
            ink: Ink::Text,
        };
        rows::answer(ui, facts.trust, &row);
    }
}
