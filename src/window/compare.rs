//! Differences between the open layout and the baseline: levels, flows, findings.

use super::action::Action;
use super::commands::Command;
use super::theme;
use crate::draw::page::shape::Ink;
use crate::draw::results::reports::by_how_much;
use crate::draw::section::Pick;
use crate::evaluate::{Difference, findings_apart, flows_apart, levels_apart};
use crate::finding::Finding;
use crate::layout::{Id, Layout};
use crate::session::{Baseline, Session, Shown};
use crate::state::State;
use crate::units::{self, Quantity};
use egui::{Grid, RichText, ScrollArea, Sense, Ui};

/// Most rows of each kind; the largest differences come first.
const MOST: usize = 60;

/// Shows all differences in the current state.
pub fn show(ui: &mut Ui, session: &Session, state: State) -> Vec<Action> {
    let mut actions = Vec::new();
    let Some(beside) = session.baseline() else {
        return actions;
    };
    let shown = session.shown();
    ui.horizontal(|ui| {
        let title = format!("From “{}” to now, {}", beside.name, state.title());
        ui.label(RichText::new(title).color(theme::ink(ui, Ink::SoftText)));
        let end = Command::EndBeside;
        if ui.button(end.text()).on_hover_text(end.tip()).clicked() {
            actions.push(Action::Do(end));
        }
    });
    let was = beside.evaluation.and_then(|known| known.state(state));
    let (Some(was), Some(is)) = (was, shown.state(state).0) else {
        ui.label("Updating…");
        return actions;
    };
    let levels = levels_apart(was, is);
    let flows = flows_apart(was, is);
    let all = beside.evaluation.map_or(&[][..], |known| &known.findings);
    let (gone, new) = findings_apart(all, shown.findings);
    ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
        if levels.is_empty() && flows.is_empty() && gone.is_empty() && new.is_empty() {
            ui.label(
                "No differences: levels agree to a millimetre, flows to half a percent, and the findings are the same.",
            );
        }
        let told = ComparisonText { beside, shown };
        told.findings(ui, ("New", Ink::Problem), &new, &mut actions);
        told.findings(ui, ("Gone", Ink::Good), &gone, &mut actions);
        told.numbers(ui, ("Level", Quantity::Height), &levels, &mut actions);
        told.numbers(ui, ("Flow", Quantity::Flow), &flows, &mut actions);
    });
    actions
}

struct ComparisonText<'a> {
    beside: Baseline<'a>,
    shown: Shown<'a>,
}

impl ComparisonText<'_> {
    /// The name of a part, which may exist in only one of the two layouts.
    fn name(&self, id: &Id) -> String {
        let layouts: [&Layout; 2] = [self.shown.layout, self.beside.layout];
        let known = layouts.into_iter().find(|layout| layout.has(id));
        known.map_or_else(|| id.to_string(), |layout| layout.name_of(id).to_owned())
    }

    fn findings(
        &self,
        ui: &mut Ui,
        (word, ink): (&str, Ink),
        findings: &[&Finding],
        actions: &mut Vec<Action>,
    ) {
        for finding in findings.iter().take(MOST) {
            let text = finding
                .text
                .read(&|id| self.name(id), self.shown.layout.units);
            ui.horizontal_wrapped(|ui| {
                let word = RichText::new(format!("{word} {}", finding.severity.word()));
                let color = theme::ink(ui, ink);
                ui.label(word.font(theme::strong(theme::BODY)).color(color));
                let words = format!("{text} ({})", finding.state.title());
                let label = egui::Label::new(words).wrap().sense(Sense::CLICK);
                if ui.add(label).clicked() {
                    actions.push(Action::Show(finding.state));
                    let first = finding.about.first().cloned();
                    actions.extend(first.map(|id| Action::Find(Pick::Part(id))));
                }
            });
        }
        more(ui, findings.len());
    }

    fn numbers(
        &self,
        ui: &mut Ui,
        (word, quantity): (&str, Quantity),
        rows: &[Difference],
        actions: &mut Vec<Action>,
    ) {
        if rows.is_empty() {
            return;
        }
        ui.add_space(6.0);
        let system = self.shown.layout.units;
        let number = |value: Option<f64>| {
            value.map_or("–".to_owned(), |value| {
                units::write(quantity, value, system)
            })
        };
        Grid::new(("compared", word))
            .num_columns(4)
            .striped(true)
            .min_col_width(90.0)
            .show(ui, |ui| {
                for head in [word, "Before", "Now", "Change"] {
                    let soft = theme::ink(ui, Ink::SoftText);
                    ui.label(RichText::new(head).color(soft));
                }
                ui.end_row();
                for row in rows.iter().take(MOST) {
                    let name = self.name(&row.id);
                    let label = egui::Label::new(&name).sense(Sense::CLICK);
                    if ui.add(label).clicked() {
                        actions.push(Action::Find(Pick::Part(row.id.clone())));
                    }
                    ui.label(number(row.was));
                    ui.label(number(row.is));
                    let by = row.by().map(|by| by_how_much(quantity, by, system));
                    let by = by.unwrap_or_else(|| "–".to_owned());
                    ui.label(RichText::new(by).font(theme::strong(theme::BODY)));
                    ui.end_row();
                }
            });
        more(ui, rows.len());
    }
}

fn more(ui: &mut Ui, count: usize) {
    if count > MOST {
        let soft = theme::ink(ui, Ink::SoftText);
        ui.label(RichText::new(format!("{} more not listed", count - MOST)).color(soft));
    }
}
