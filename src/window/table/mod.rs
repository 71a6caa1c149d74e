//! Below the drawing: findings, a table of all vessels, runs or pumps, or what differs from another layout.

mod head;
mod rows;

use super::action::Action;
use super::app::App;
use super::time;
use super::{compare, findings, theme};
use crate::draw::section::Trust;
use crate::draw::shape::Ink;
use crate::layout::{Id, Layout};
use crate::sheets::table::{self, Lists, Order, Table};
use crate::units::{Unit, UnitSystem};
use egui::{RichText, Ui, Vec2};
use std::collections::HashMap;
use std::rc::Rc;
use std::sync::Arc;

/// The tables, and what is kept of them from frame to frame.
#[derive(Default)]
pub(super) struct Tables {
    /// What is shown.
    pub(super) shown: BottomView,
    /// How each is sorted.
    sorted: HashMap<Lists, (usize, Order)>,
    made: Option<Rc<TableCache>>,
    /// The part that was last brought into view.
    followed: Option<Id>,
    /// How the list lay in the frame before: what it was scrolled by, and its size.
    offset: Vec2,
    size: Vec2,
}

/// What stands below the drawing.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) enum BottomView {
    /// What is wrong.
    #[default]
    Findings,
    /// A table.
    Table(Lists),
    /// What differs from the layout that this one is held against.
    Differences,
}

impl BottomView {
    fn words(self) -> (&'static str, &'static str) {
        match self {
            BottomView::Findings => ("Findings", "What is wrong, worst first"),
            BottomView::Table(Lists::Vessels) => (
                "Vessels",
                "A table of all vessels in the state that is shown",
            ),
            BottomView::Table(Lists::Runs) => {
                ("Runs", "A table of all runs in the state that is shown")
            }
            BottomView::Table(Lists::Pumps) => {
                ("Pumps", "A table of all pumps in the state that is shown")
            }
            BottomView::Differences => (
                "Differences",
                "What differs from the layout that this one is compared with",
            ),
        }
    }
}

/// A table as it is shown, and what it was made from.
struct TableCache {
    layout: Arc<Layout>,
    revision: u64,
    seen: Option<time::TimeInputs>,
    sorted: (usize, Order),
    table: Table,
    /// Numbers of its rows in their order.
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

    /// A heading was clicked: up, down, as drawn.
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
    /// What stands below the drawing.
    pub(super) fn below(&mut self, ui: &mut Ui) -> Vec<Action> {
        let mut wants = Vec::new();
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
            self.table_actions(ui, made.as_deref(), &mut wants);
        });
        if self.room.one_line {
            return wants;
        }
        let is_shown =
            |made: &Rc<TableCache>| self.tables.shown == BottomView::Table(made.table.lists);
        let Some(made) = made.filter(is_shown) else {
            if self.tables.shown == BottomView::Differences {
                wants.extend(compare::show(ui, &self.session, self.watch.state));
                return wants;
            }
            let shown = self.session.shown();
            let looked_at = self.previewed.as_ref();
            wants.extend(findings::show(ui, self.session.layout(), &shown, looked_at));
            return wants;
        };
        let (_, trust) = self.watch.water(&self.session.shown());
        let selected = &self.tool_state.selected;
        wants.extend(rows::show(ui, &mut self.tables, &made, (selected, trust)));
        wants
    }

    /// What is said beside the choices, and the button that copies.
    fn table_actions(&self, ui: &mut Ui, made: Option<&TableCache>, wants: &mut Vec<Action>) {
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
            Trust::OutOfDate => ", of the drawing before; solving…",
        };
        let kind = made.table.lists.title().to_lowercase();
        let count = made.table.rows.len();
        let words = format!("{count} {kind}, {}{fresh}", self.watch.state.title());
        ui.label(RichText::new(words).color(soft));
        let tip = "Puts the table as it stands into the clipboard, to be pasted into a spreadsheet";
        if ui.button("Copy table").on_hover_text(tip).clicked() {
            let text = made.table.for_spreadsheet(&made.rows, shown.layout.units);
            let said = format!("Copied the table of {} rows.", made.rows.len());
            wants.push(Action::Put(text, said));
        }
    }

    /// The table that is shown, made anew only where something that it depends on has changed.
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

/// Units, headings and widths of a table.
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

/// Findings, vessels, runs, pumps.
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
