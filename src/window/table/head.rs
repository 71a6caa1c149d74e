//! Headings of a table; a click sorts by that column.

use super::rows::{MARK, PAD};
use super::{TableCache, Tables};
use crate::draw::page::shape::Ink;
use crate::sheets::table::Order;
use crate::window::theme;
use egui::accesskit::Role;
use egui::{Align2, Color32, Painter, Pos2, Rect, Sense, Stroke, Ui, pos2, vec2};

/// Height of the headings, points.
pub(super) const HEIGHT: f32 = 24.0;
/// Width of the sort arrow, points.
pub(super) const ARROW: f32 = 14.0;

/// Shows the headings in a strip, scrolled to the left by `offset`.
pub(super) fn show(
    ui: &mut Ui,
    strip: Rect,
    (tables, made): (&mut Tables, &TableCache),
    offset: f32,
) {
    let painter = ui.painter_at(strip);
    let mut left = strip.left() - offset + MARK;
    let (sorted, order) = made.sorted;
    for (column, words) in made.headings.iter().enumerate() {
        let width = made.widths.get(column).copied().unwrap_or(60.0);
        let rect = Rect::from_min_size(pos2(left, strip.top()), vec2(width, HEIGHT));
        left += width;
        let seen = rect.intersect(strip);
        if seen.width() <= 0.0 {
            continue;
        }
        let order = if sorted == column {
            order
        } else {
            Order::AsDrawn
        };
        let id = ui.scope_id().with(("heading", column));
        let response = ui.interact(seen, id, Sense::click());
        let known = made.table.columns.get(column);
        let (title, tip) = known.map_or(("", ""), |column| (column.heading(), column.tip));
        let name = match order {
            Order::AsDrawn => format!("Sort by {title}"),
            Order::Up => format!("Sort by {title} (ascending)"),
            Order::Down => format!("Sort by {title} (descending)"),
        };
        response.widget_info(|| egui::WidgetInfo::labeled(Role::Button, true, &name));
        let hovered = response.hovered() || response.has_focus();
        if response
            .on_hover_text(format!(
                "{tip}. Click to sort: ascending, descending, as drawn."
            ))
            .clicked()
        {
            tables.sort(made.table.lists, column);
        }
        if hovered {
            painter.rect_filled(rect.shrink(1.0), 3.0, ui.visuals().widgets.hovered.bg_fill);
        }
        let ink = theme::ink(
            ui,
            if order == Order::AsDrawn {
                Ink::SoftText
            } else {
                Ink::Text
            },
        );
        heading(&painter, rect, (words, made.is_number(column)), ink);
        arrow(&painter, rect, (order, made.is_number(column)), ink);
    }
    let line = Stroke::new(1.0, theme::ink(ui, Ink::FaintLine));
    painter.line_segment([strip.left_bottom(), strip.right_bottom()], line);
}

impl TableCache {
    /// Whether a column contains numbers, which are right-aligned.
    pub(super) fn is_number(&self, column: usize) -> bool {
        let column = self.table.columns.get(column);
        column.is_some_and(|column| column.quantity.is_some())
    }
}

fn heading(painter: &Painter, rect: Rect, (words, number): (&str, bool), ink: Color32) {
    let (at, align) = if number {
        (
            pos2(rect.right() - PAD, rect.center().y),
            Align2::RIGHT_CENTER,
        )
    } else {
        (
            pos2(rect.left() + PAD, rect.center().y),
            Align2::LEFT_CENTER,
        )
    };
    painter.text(at, align, words, theme::strong(theme::SMALL), ink);
}

/// Draws the sort arrow: up for ascending, down for descending order.
fn arrow(painter: &Painter, rect: Rect, (order, number): (Order, bool), ink: Color32) {
    let x = if number {
        rect.left() + ARROW / 2.0 + 1.0
    } else {
        rect.right() - ARROW / 2.0 - 2.0
    };
    let (middle, up) = (pos2(x, rect.center().y), 4.0);
    let triangle = |up: f32| -> Vec<Pos2> {
        vec![
            middle + vec2(0.0, -up),
            middle + vec2(4.5, up),
            middle + vec2(-4.5, up),
        ]
    };
    let points = match order {
        Order::AsDrawn => return,
        Order::Up => triangle(up),
        Order::Down => triangle(-up),
    };
    painter.add(egui::Shape::convex_polygon(points, ink, Stroke::NONE));
}
