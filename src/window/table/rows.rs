//! The rows of a table; only visible ones are laid out.

use super::head::{self, ARROW};
use super::{TableCache, Tables};
use crate::draw::page::shape::{Ink, Weight};
use crate::draw::page::text;
use crate::draw::section::{Pick, Trust};
use crate::finding::Severity;
use crate::sheets::table::{Cell, Column, NOTHING, Row, Table};
use crate::units::{Quantity, UnitSystem};
use crate::window::action::Action;
use crate::window::{findings, theme};
use egui::accesskit::Role;
use egui::{Align2, Color32, Rect, ScrollArea, Sense, TextWrapMode, Ui, pos2, vec2};

/// Height of a row, points.
const HEIGHT: f32 = 22.0;
/// Space at the left for the symbol of the worst finding, points.
pub(super) const MARK: f32 = 24.0;
/// Padding at both sides of a cell, points.
pub(super) const PAD: f32 = 7.0;
/// Narrowest and widest column of words, points.
const WORDS: std::ops::RangeInclusive<f32> = 64.0..=210.0;
/// Most rows measured to find the width of a column.
const MEASURED: usize = 200;

/// Shows the headings and the rows. Stale numbers are dimmed.
pub(super) fn show(
    ui: &mut Ui,
    tables: &mut Tables,
    made: &TableCache,
    (selected, trust): (&[Pick], Trust),
) -> Vec<Action> {
    let mut actions = Vec::new();
    ui.spacing_mut().item_spacing.y = 0.0;
    let width = made.width().max(ui.available_width());
    let (strip, _) = ui.allocate_exact_size(vec2(ui.available_width(), head::HEIGHT), Sense::HOVER);
    if made.rows.is_empty() {
        let words = format!("No {} yet.", made.table.lists.title().to_lowercase());
        ui.label(words);
    }
    let mut area = ScrollArea::both()
        .auto_shrink(false)
        .id_salt(made.table.lists.title());
    if let Some(offset) = scroll_to_selected(tables, made, selected) {
        area = area.vertical_scroll_offset(offset);
    }
    let shown = area.show_rows(ui, HEIGHT, made.rows.len(), |ui, range| {
        ui.set_min_width(width);
        for number in range {
            let row = made
                .rows
                .get(number)
                .and_then(|row| made.table.rows.get(*row));
            let Some(row) = row else { continue };
            let marked = selected.iter().any(|pick| *pick.part() == row.part);
            if one(ui, made, (row, number, width), (marked, trust)) {
                tables.followed = Some(row.part.clone());
                actions.push(Action::Find(Pick::Part(row.part.clone())));
            }
        }
    });
    tables.offset = shown.state.clamped_offset();
    tables.size = shown.inner_rect.size();
    let offset = tables.offset.x;
    head::show(ui, strip, (tables, made), offset);
    actions
}

/// The scroll position that makes a part visible that was just selected elsewhere; none where it is visible already.
fn scroll_to_selected(tables: &mut Tables, made: &TableCache, selected: &[Pick]) -> Option<f32> {
    let part = selected.last().map(|pick| pick.part().clone());
    if part == tables.followed {
        return None;
    }
    tables.followed.clone_from(&part);
    let part = part?;
    let is_it = |row: &usize| {
        made.table
            .rows
            .get(*row)
            .is_some_and(|row| row.part == part)
    };
    // The number of rows is small enough for a float to be exact.
    let top = made.rows.iter().position(is_it)? as f32 * HEIGHT;
    let seen = top >= tables.offset.y && top + HEIGHT <= tables.offset.y + tables.size.y;
    (!seen).then(|| (top - tables.size.y / 2.0 + HEIGHT).max(0.0))
}

/// Shows one row; returns whether it was clicked.
fn one(
    ui: &mut Ui,
    made: &TableCache,
    (row, number, width): (&Row, usize, f32),
    (marked, trust): (bool, Trust),
) -> bool {
    let (rect, response) = ui.allocate_exact_size(vec2(width, HEIGHT), Sense::CLICK);
    let name = described(made, row);
    response.widget_info(|| egui::WidgetInfo::selected(Role::Button, true, marked, &name));
    let painter = ui.painter();
    if marked {
        painter.rect_filled(rect, 0.0, ui.visuals().selection.bg_fill);
        let bar = Rect::from_min_size(rect.min, vec2(4.0, HEIGHT));
        painter.rect_filled(bar, 0.0, theme::ink(ui, Ink::Accent));
    } else if response.hovered() {
        painter.rect_filled(rect, 0.0, ui.visuals().widgets.hovered.bg_fill);
    } else if number % 2 == 1 {
        let faint = ui.visuals().faint_bg_color.gamma_multiply(0.5);
        painter.rect_filled(rect, 0.0, faint);
    }
    if let Some(severity) = row.worst {
        let centre = pos2(rect.left() + MARK / 2.0 + 2.0, rect.center().y);
        let strength = match trust {
            Trust::Sure => 1.0,
            Trust::OutOfDate => 0.45,
        };
        findings::paint_mark(ui, centre, (severity, strength));
    }
    cells(ui, made, (row, rect), trust);
    let tip = "Click to find it on the drawing";
    response
        .on_hover_cursor(egui::CursorIcon::PointingHand)
        .on_hover_text(tip)
        .clicked()
}

fn cells(ui: &Ui, made: &TableCache, (row, rect): (&Row, Rect), trust: Trust) {
    let text = theme::ink(ui, Ink::Text);
    let mut left = rect.left() + MARK;
    let clip = ui.clip_rect();
    for (column, cell) in row.cells.iter().enumerate() {
        let width = made.widths.get(column).copied().unwrap_or(60.0);
        let place = Rect::from_min_size(pos2(left, rect.top()), vec2(width, HEIGHT));
        left += width;
        if !clip.intersects(place) {
            continue;
        }
        let solved = made
            .table
            .columns
            .get(column)
            .is_some_and(|column| !drawn(column.title));
        let ink = match trust {
            Trust::OutOfDate if solved => text.gamma_multiply(0.45),
            _ => text,
        };
        let words = written(made, column, cell);
        match cell {
            Cell::Words(_) => in_words(ui, place, (words, column == 0), ink),
            _ => {
                let at = pos2(place.right() - PAD, place.center().y);
                let font = egui::FontId::proportional(theme::BODY);
                ui.painter()
                    .text(at, Align2::RIGHT_CENTER, words, font, ink);
            }
        }
    }
}

/// Whether the column depends on the drawing alone, so that it is never stale.
fn drawn(title: &str) -> bool {
    matches!(
        title,
        "Name" | "From" | "To" | "Size" | "Run" | "Floor" | "Rim"
    )
}

fn in_words(ui: &Ui, place: Rect, (words, name): (String, bool), ink: Color32) {
    let font = if name {
        theme::strong(theme::BODY)
    } else {
        egui::FontId::proportional(theme::BODY)
    };
    let text = egui::RichText::new(words).font(font).color(ink);
    let room = place.width() - 2.0 * PAD;
    let text = egui::WidgetText::from(text);
    let galley = text.into_galley(
        ui,
        Some(TextWrapMode::Truncate),
        room,
        egui::TextStyle::Body,
    );
    let at = pos2(place.left() + PAD, place.center().y - galley.size().y / 2.0);
    ui.painter().galley(at, galley, ink);
}

/// The text of a cell, in the unit of its column.
fn written(made: &TableCache, column: usize, cell: &Cell) -> String {
    let unit = made.units.get(column).copied().flatten();
    match (cell, unit) {
        (Cell::Words(words), _) => words.clone(),
        (Cell::Number(value), Some(unit)) => unit.number(*value),
        (Cell::Number(_) | Cell::Nothing, _) => NOTHING.to_owned(),
    }
}

/// The text of a whole row, for screen readers.
fn described(made: &TableCache, row: &Row) -> String {
    let mut told: Vec<String> = Vec::new();
    for (column, cell) in row.cells.iter().enumerate() {
        let value = written(made, column, cell);
        let title = made.table.columns.get(column).map_or("", Column::heading);
        match (column, made.units.get(column).copied().flatten()) {
            (0, _) => told.push(format!("Row {value}")),
            _ if *cell == Cell::Nothing => {}
            (_, Some(unit)) => told.push(
                format!("{title} {value} {}", unit.symbol)
                    .trim_end()
                    .to_owned(),
            ),
            (_, None) => told.push(format!("{title} {value}")),
        }
    }
    told.extend(row.worst.map(|worst: Severity| worst.word().to_owned()));
    told.join(", ")
}

/// The width of a column, from its heading and its content, points.
pub(super) fn width(table: &Table, (column, heading): (usize, &str), system: UnitSystem) -> f32 {
    // The width is a few hundred points at most, so the cast loses nothing.
    let wide =
        |words: &str, size: f32, weight: Weight| text::width(words, f64::from(size), weight) as f32;
    let head = wide(heading, theme::SMALL, Weight::Strong) + ARROW + 2.0 * PAD;
    let Some(quantity) = table.columns.get(column).and_then(|column| column.quantity) else {
        let cells = table
            .rows
            .iter()
            .take(MEASURED)
            .filter_map(|row| row.cells.get(column));
        let words = cells.map(|cell| match cell {
            Cell::Words(words) => wide(words, theme::BODY, Weight::Strong) + 2.0 * PAD,
            _ => 0.0,
        });
        return words
            .fold(head, f32::max)
            .clamp(*WORDS.start(), *WORDS.end());
    };
    let least: f32 = match (quantity, system) {
        // Room for feet, inches and sixteenths.
        (Quantity::Height, UnitSystem::Us) => 118.0,
        _ => 66.0,
    };
    head.max(least)
}
