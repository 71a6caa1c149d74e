//! The shelf at the left: tools, and vessels to place by click or drag.

use super::action::Action;
use super::commands::Command;
use super::theme;
use crate::draw::page::shape::Ink;
use crate::edit::Preset;
use crate::editor::Tool;
use egui::{
    Color32, Painter, Pos2, Rect, Response, RichText, ScrollArea, Sense, Stroke, Ui, WidgetInfo,
    pos2, vec2,
};

/// Width of the shelf, points.
pub const WIDTH: f32 = 172.0;
/// Height of an item, points.
const HEIGHT: f32 = 30.0;

/// Shows the shelf.
pub fn show(ui: &mut Ui, tool: Tool) -> Vec<Action> {
    let mut actions = Vec::new();
    ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 2.0;
        head(ui, "Tools");
        let tools = [
            (Tool::Hand, Command::TakeHand),
            (Tool::Pipe, Command::TakePipe),
            (Tool::Manifold, Command::TakeManifold),
            (Tool::Joint, Command::TakeJoint),
            (Tool::Fixed, Command::TakeFixed),
            (Tool::Tape, Command::TakeTape),
        ];
        for (one, command) in tools {
            let key = command.shortcut().map(|key| ui.ctx().format_shortcut(&key));
            let tip = match key {
                Some(key) => format!("{} ({key})", command.tip()),
                None => command.tip().to_owned(),
            };
            if thing(ui, (one, tool == one), &tip).clicked() {
                actions.push(Action::Take(one));
            }
        }
        ui.add_space(8.0);
        head(ui, "Vessels");
        for preset in Preset::ALL {
            let one = Tool::Vessel(preset);
            let response = thing(ui, (one, tool == one), preset.tip());
            if response.clicked() || response.drag_started() {
                actions.push(Action::Take(one));
            }
        }
    });
    actions
}

fn head(ui: &mut Ui, words: &str) {
    ui.label(
        RichText::new(words)
            .color(theme::ink(ui, Ink::SoftText))
            .size(theme::SMALL),
    );
}

/// Shows one item: an icon and its name.
fn thing(ui: &mut Ui, (tool, held): (Tool, bool), tip: &str) -> Response {
    let size = vec2(ui.available_width(), HEIGHT);
    let sense = match tool {
        Tool::Vessel(_) => Sense::click_and_drag(),
        _ => Sense::click(),
    };
    let (rect, response) = ui.allocate_exact_size(size, sense);
    let visuals = ui.style().interact_selectable(&response, held);
    let painter = ui.painter();
    if held || response.hovered() || response.has_focus() {
        painter.rect_filled(rect, 5.0, visuals.weak_bg_fill);
    }
    let ink = if held {
        theme::ink(ui, Ink::Accent)
    } else {
        theme::ink(ui, Ink::Line)
    };
    let icon = Rect::from_min_size(rect.min + vec2(6.0, 4.0), vec2(26.0, HEIGHT - 8.0));
    draw(painter, icon, tool, (ink, theme::ink(ui, Ink::Water)));
    let font = egui::FontId::proportional(theme::BODY);
    let at = pos2(icon.right() + 9.0, rect.center().y);
    painter.text(
        at,
        egui::Align2::LEFT_CENTER,
        tool.words(),
        font,
        visuals.text_color(),
    );
    response.widget_info(|| {
        let mut info = WidgetInfo::labeled(egui::accesskit::Role::Button, true, tool.words());
        info.selected = Some(held);
        info
    });
    response.on_hover_text(tip)
}

/// Draws the icon of a tool or a vessel.
fn draw(painter: &Painter, at: Rect, tool: Tool, (ink, water): (Color32, Color32)) {
    let line = Stroke::new(1.6, ink);
    let p = |x: f32, y: f32| pos2(at.left() + x * at.width(), at.top() + y * at.height());
    let path = |points: &[Pos2]| {
        for pair in points.windows(2) {
            if let [a, b] = *pair {
                painter.line_segment([a, b], line);
            }
        }
    };
    match tool {
        Tool::Hand => path(&[
            p(0.3, 0.05),
            p(0.3, 0.85),
            p(0.48, 0.65),
            p(0.62, 0.98),
            p(0.72, 0.92),
            p(0.58, 0.6),
            p(0.8, 0.58),
            p(0.3, 0.05),
        ]),
        Tool::Pipe => {
            path(&[p(0.05, 0.1), p(0.05, 0.4), p(0.6, 0.4), p(0.6, 0.95)]);
            path(&[p(0.3, 0.1), p(0.3, 0.1)]);
            path(&[p(0.3, 0.05), p(0.3, 0.15), p(0.88, 0.15), p(0.88, 0.95)]);
        }
        Tool::Manifold => {
            path(&[p(0.0, 0.25), p(0.95, 0.25), p(0.95, 0.9)]);
            path(&[p(0.35, 0.25), p(0.35, 0.9)]);
            path(&[p(0.65, 0.25), p(0.65, 0.9)]);
        }
        Tool::Joint => {
            path(&[p(0.05, 0.35), p(0.95, 0.35)]);
            path(&[p(0.5, 0.35), p(0.5, 0.95)]);
        }
        Tool::Fixed => {
            for (y, half) in [(0.45, 0.48), (0.62, 0.34), (0.79, 0.2)] {
                path(&[p(0.5 - half, y), p(0.5 + half, y)]);
            }
            path(&[p(0.38, 0.1), p(0.5, 0.4), p(0.62, 0.1), p(0.38, 0.1)]);
        }
        Tool::Tape => {
            path(&[
                p(0.02, 0.3),
                p(0.98, 0.3),
                p(0.98, 0.7),
                p(0.02, 0.7),
                p(0.02, 0.3),
            ]);
            for tick in [0.2, 0.4, 0.6, 0.8] {
                path(&[p(tick, 0.3), p(tick, 0.5)]);
            }
        }
        Tool::Vessel(preset) => vessel(painter, at, preset, (line, water)),
    }
}

/// Draws a vessel cut open, with water in it.
fn vessel(painter: &Painter, at: Rect, preset: Preset, (line, water): (Stroke, Color32)) {
    let p = |x: f32, y: f32| pos2(at.left() + x * at.width(), at.top() + y * at.height());
    // The left half of the outline from the rim down, mirrored for the right half.
    let half: &[(f32, f32)] = match preset {
        Preset::RoundTank => &[(0.1, 0.15), (0.1, 0.95)],
        Preset::Bed => &[(0.0, 0.5), (0.0, 0.9)],
        Preset::Trough => &[(0.0, 0.4), (0.12, 0.9)],
        Preset::Cube => &[(0.14, 0.05), (0.14, 0.95)],
        Preset::Barrel => &[(0.28, 0.05), (0.23, 0.5), (0.28, 0.95)],
        Preset::ConeBottom => &[(0.15, 0.05), (0.15, 0.5), (0.47, 0.98)],
        Preset::Pond => &[(0.0, 0.35), (0.28, 0.9)],
        Preset::Sump => &[(0.12, 0.4), (0.12, 0.95)],
        Preset::Header => &[(0.25, 0.0), (0.25, 0.55)],
        Preset::OwnTable => &[(0.05, 0.1), (0.2, 0.4), (0.2, 0.7), (0.4, 0.95)],
    };
    let left: Vec<Pos2> = half.iter().map(|(x, y)| p(*x, *y)).collect();
    let right: Vec<Pos2> = half.iter().rev().map(|(x, y)| p(1.0 - x, *y)).collect();
    let outline: Vec<Pos2> = left.iter().chain(&right).copied().collect();
    let (top, bottom) = (
        half.first().map_or(0.0, |one| one.1),
        half.last().map_or(1.0, |one| one.1),
    );
    let surface = top + 0.25 * (bottom - top);
    let mut wet: Vec<Pos2> = outline
        .iter()
        .copied()
        .filter(|one| one.y > p(0.0, surface).y)
        .collect();
    let x = half.first().map_or(0.0, |one| one.0);
    wet.insert(0, p(x + 0.01, surface));
    wet.push(p(1.0 - x - 0.01, surface));
    painter.add(egui::Shape::convex_polygon(wet, water, Stroke::NONE));
    for pair in outline.windows(2) {
        if let [a, b] = *pair {
            painter.line_segment([a, b], line);
        }
    }
    if preset == Preset::Header {
        for x in [0.3, 0.7] {
            painter.line_segment([p(x, 0.55), p(x, 1.0)], line);
        }
    }
}
