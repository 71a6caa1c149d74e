//! The lower panel: findings, a table of vessels, runs or pumps, or differences from another layout.

mod head;
mod rows;

use super::action::Action;
use super::app::App;
use super::time;
use super::{compare, findings, theme};
use crate::draw::page::shape::Ink;
use crate::draw::section::Trust;
use crate::layout::{Id, Layout};
use crate::sheets::table::{self, Lists, Order, Table};
use crate::units::{Unit, UnitSystem};
use egui::{RichText, Ui, Vec2};
use std::collections::HashMap;
use std::rc::Rc;
use std::sync::Arc;

/// The tables and their state between frames.
#[derive(Default)]
pub(super) struct Tables {
    /// What the panel shows.
    pub(super) shown: BottomView,
    /// The sorted column and the order of each table.
    sorted: HashMap<Lists, (usize, Order)>,
    made: Option<Rc<TableCache>>,
    /// The part last scrolled into view.
    followed: Option<Id>,
    /// Scroll offset and size of the list in the previous frame.
    offset: Vec2,
    size: Vec2,
}

/// Content of the lower panel.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) enum BottomView {
    /// Findings.
    #[default]
    Findings,
    /// A table.
    Table(Lists),
    /// Differences from the baseline.
    Differences,
}

impl BottomView {
    fn words(self) -> (&'static str, &'static str) {
        match self {
            BottomView::Findings => ("Findings", "Problems, warnings and notes, worst first"),
            BottomView::Table(Lists::Vessels) => ("Vessels", "All vessels in the current state"),
            BottomView::Table(Lists::Runs) => ("Runs", "All runs in the current state"),
            BottomView::Table(Lists::Pumps) => ("Pumps", "All pumps in the current state"),
            BottomView::Differences => (
                "Differences",
                "Differences from the layout that this one is compared with",
            ),
        }
    }
}

/// A cached table, and the inputs it was made from.
struct TableCache {
    layout: Arc<Layout>,
    revision: u64,
    seen: Option<time::TimeInputs>,
    sorted: (usize, Order),
    table: Table,
    /// Indices of the rows in display order.
    rows: Vec<usize>,
    units: Vec<Option<Unit>>,
    headings: Vec<String>,
    widths: Vec<f32>,
}

impl TableCache {
    fn width(&self) -> f32 {
        rows::MARK + self.widths.iter().sum::<f32>()
    }
}

impl Tables {
    fn sorting(&self, lists: Lists) -> (usize, Order) {
        self.sorted.get(&lists).copied().unwrap_or_default()
    }

    /// Handles a click on a heading: ascending, descending, as drawn.
    fn sort(&mut self, lists: Lists, column: usize) {
        let (now, order) = self.sorting(lists);
        let next = if now == column {
            order.next()
        } else {
            Order::Up
        };
        self.sorted.insert(lists, (column, next));
    }
}

impl App {
    /// Shows the lower panel.
    pub(super) fn below(&mut self, ui: &mut Ui) -> Vec<Action> {
        let mut actions = Vec::new();
        let comparing = self.session.baseline().is_some();
        if !comparing && self.tables.shown == BottomView::Differences {
            self.tables.shown = BottomView::Findings;
        }
        let made = match self.tables.shown {
            BottomView::Table(lists) => Some(self.table_of(lists)),
            _ => None,
        };
        ui.horizontal(|ui| {
            choices(ui, &mut self.tables);
            if comparing {
                choice(ui, &mut self.tables, BottomView::Differences);
            }
            self.table_actions(ui, made.as_deref(), &mut actions);
        });
        if self.room.one_line {
            return actions;
        }
        let is_shown =
            |made: &Rc<TableCache>| self.tables.shown == BottomView::Table(made.table.lists);
        let Some(made) = made.filter(is_shown) else {
            if self.tables.shown == BottomView::Differences {
                actions.extend(compare::show(ui, &self.session, self.watch.state));
                return actions;
            }
            let shown = self.session.shown();
            let looked_at = self.previewed.as_ref();
            actions.extend(findings::show(ui, self.session.layout(), &shown, looked_at));
            return actions;
        };
        let (_, trust) = self.watch.water(&self.session.shown());
        let selected = &self.tool_state.selected;
        actions.extend(rows::show(ui, &mut self.tables, &made, (selected, trust)));
        actions
    }

    /// Shows the message beside the choices, and the button to copy the table.
    fn table_actions(&self, ui: &mut Ui, made: Option<&TableCache>, actions: &mut Vec<Action>) {
        let shown = self.session.shown();
        let Some(made) = made else {
            if self.tables.shown == BottomView::Findings {
                match findings::in_one_line(&shown) {
                    Some(words) => {
                        ui.add(egui::Label::new(words).truncate());
                    }
                    None => findings::count(ui, &shown),
                }
            }
            return;
        };
        let soft = theme::ink(ui, Ink::SoftText);
        let (_, trust) = self.watch.water(&shown);
        let fresh = match trust {
            Trust::Sure => "",
            Trust::OutOfDate => " · Updating…",
        };
        let kind = made.table.lists.title().to_lowercase();
        let count = made.table.rows.len();
        let words = format!("{count} {kind}, {}{fresh}", self.watch.state.title());
        ui.label(RichText::new(words).color(soft));
        let tip = "Copies the table as shown, to paste into a spreadsheet";
        if ui.button("Copy table").on_hover_text(tip).clicked() {
            let text = made.table.for_spreadsheet(&made.rows, shown.layout.units);
            let said = match made.rows.len() {
                1 => "Copied a table of 1 row.".to_owned(),
                rows => format!("Copied a table of {rows} rows."),
            };
            actions.push(Action::Put(text, said));
        }
    }

    /// Returns the table, rebuilt only where an input has changed.
    fn table_of(&mut self, lists: Lists) -> Rc<TableCache> {
        let shown = self.session.shown();
        let sorted = self.tables.sorting(lists);
        let kept = self.tables.made.as_ref().filter(|made| {
            made.table.lists == lists
                && made.seen.as_ref() == Some(&self.watch.seen())
                && made.revision == shown.revision
                && Arc::ptr_eq(&made.layout, shown.layout)
        });
        if let Some(kept) = kept.filter(|made| made.sorted == sorted) {
            return kept.clone();
        }
        let (water, _) = self.watch.water(&shown);
        let table = match kept {
            Some(kept) => kept.table.clone(),
            None => {
                let findings = self.watch.findings(&shown);
                table::table(lists, shown.layout, water, &findings)
            }
        };
        let system = shown.layout.units;
        let made = Rc::new(TableCache {
            layout: shown.layout.clone(),
            revision: shown.revision,
            seen: Some(self.watch.seen()),
            sorted,
            rows: table.sorted(sorted.0, sorted.1),
            ..laid(table, system)
        });
        self.tables.made = Some(made.clone());
        made
    }
}

/// Computes the units, headings and column widths of a table.
fn laid(table: Table, system: UnitSystem) -> TableCache {
    let columns = 0..table.columns.len();
    let units = columns
        .clone()
        .map(|column| table.unit(column, system))
        .collect();
    let headings: Vec<String> = columns
        .clone()
        .map(|column| table.heading(column, system))
        .collect();
    let widths = headings
        .iter()
        .zip(columns)
        .map(|(words, column)| rows::width(&table, (column, words), system));
    TableCache {
        layout: Arc::default(),
        revision: 0,
        seen: None,
        sorted: (0, Order::AsDrawn),
        rows: Vec::new(),
        widths: widths.collect(),
        units,
        headings,
        table,
    }
}

/// Shows the choice between findings, vessels, runs and pumps.
fn choices(ui: &mut Ui, tables: &mut Tables) {
    choice(ui, tables, BottomView::Findings);
    for lists in Lists::ALL {
        choice(ui, tables, BottomView::Table(lists));
    }
}

fn choice(ui: &mut Ui, tables: &mut Tables, below: BottomView) {
    let (words, tip) = below.words();
    let text = RichText::new(words).font(theme::strong(theme::BODY));
    let response = ui.selectable_label(tables.shown == below, text);
    if response.on_hover_text(tip).clicked() {
        tables.shown = below;
        tables.followed = None;
    }
}
