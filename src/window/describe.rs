//! Accessibility of the drawings: reports their parts to screen readers, and handles requests from them.

use super::action::Action;
use super::paint;
use crate::draw::canvas::touch::Drawn;
use crate::draw::page::shape::{Rect as Page, pt};
use crate::draw::section::{Pick, TouchArea};
use crate::editor::DrawingKind;
use crate::layout::Layout;
use crate::session::Shown;
use crate::state::State;
use egui::accesskit::{self, Role};
use egui::{Rect, Response, Sense, Ui, WidgetInfo};

/// Most parts of the drawing reported to screen readers.
const MAX_WORDS: usize = 400;

/// Sets the name of a drawing for screen readers.
pub(super) fn describe(
    response: &Response,
    shown: &Shown<'_>,
    (state, sheet): (State, DrawingKind),
) {
    let what = called(sheet);
    let name = format!("{what} of {}, {}", shown.layout.title, state.title());
    response.widget_info(|| WidgetInfo::labeled(Role::Canvas, true, &name));
}

/// The title of a drawing.
pub(super) fn called(sheet: DrawingKind) -> &'static str {
    match sheet {
        DrawingKind::Section => "Section",
        DrawingKind::Plan => "Plan",
    }
}

/// Sets the name of the grade line, with its path, for screen readers.
pub(super) fn describe_grade(response: &Response, (layout, state): (&Layout, State), path: &str) {
    let name = format!("Grade line of {}, {}: {path}", layout.title, state.title());
    response.widget_info(|| WidgetInfo::labeled(Role::Canvas, true, &name));
}

/// Reports each visible part of the grade line to screen readers, and handles their requests.
pub(super) fn show_grade_words(
    ui: &mut Ui,
    response: &Response,
    drawn: &Drawn,
    actions: &mut Vec<Action>,
) {
    // A run can be picked on its pipe and in its row, but is reported once.
    let mut told: Vec<&Pick> = Vec::new();
    for target in drawn.targets.iter().take(MAX_WORDS) {
        if told.contains(&&target.pick) {
            continue;
        }
        told.push(&target.pick);
        let rect = words_rect(response, &target.reach).intersect(response.rect);
        let id = response.id.with(("on the path", &target.pick));
        let node = ui.interact(rect, id, Sense::HOVER);
        let name = format!("{} (grade line)", target.name);
        node.widget_info(|| WidgetInfo::labeled(Role::Button, true, &name));
        if asked(ui, id) {
            actions.push(Action::Find(target.pick.clone()));
        }
    }
}

/// Whether a screen reader requests a click or the focus on this id.
fn asked(ui: &Ui, id: egui::Id) -> bool {
    ui.input(|input| {
        input.has_accesskit_action_request(id, accesskit::Action::Click)
            || input.has_accesskit_action_request(id, accesskit::Action::Focus)
    })
}

/// Reports every visible part to screen readers, and handles their requests.
pub(super) fn show_words(
    ui: &mut Ui,
    response: &Response,
    (drawn, sheet): (&Drawn, DrawingKind),
    layout: &Layout,
    actions: &mut Vec<Action>,
) {
    let page = Page {
        left: 0.0,
        top: 0.0,
        right: drawn.drawing.width,
        bottom: drawn.drawing.height,
    };
    let seen = drawn
        .targets
        .iter()
        .filter(|target| page.overlaps(target.reach.bounds()));
    for target in seen.take(MAX_WORDS) {
        let rect = words_rect(response, &target.reach);
        let id = response.id.with(("part", &target.pick));
        // The node only senses hovering: presses belong to the drawing, which knows the target under the pointer.
        let node = ui.interact(rect, id, Sense::HOVER);
        let height = crate::editor::height_m(layout, &target.pick);
        // Most parts are on both drawings, so that names in the plan are marked as such.
        let name = match sheet {
            DrawingKind::Section => target.name.clone(),
            DrawingKind::Plan => format!("{} (plan)", target.name),
        };
        node.widget_info(|| match height {
            Some(height_m) => WidgetInfo::slider(true, height_m, &name),
            None => WidgetInfo::labeled(Role::Button, true, &name),
        });
        if asked(ui, id) {
            actions.push(Action::Find(target.pick.clone()));
        }
    }
}

/// The rectangle of a part, small enough that its middle lies on the part.
fn words_rect(response: &Response, reach: &TouchArea) -> Rect {
    let page = match reach {
        TouchArea::Line { points, half_width } => {
            let legs = points.windows(2).filter_map(|pair| match *pair {
                [from, to] => Some((from, to)),
                _ => None,
            });
            let longest = legs.max_by(|a, b| a.0.distance(a.1).total_cmp(&b.0.distance(b.1)));
            let (from, to) = longest.unwrap_or_default();
            let middle = pt((from.x + to.x) / 2.0, (from.y + to.y) / 2.0);
            Page::between(middle, middle).grown(half_width.max(3.0))
        }
        other => other.bounds(),
    };
    let pos = |x: f64, y: f64| response.rect.min + paint::pos(pt(x, y)).to_vec2();
    Rect::from_min_max(pos(page.left, page.top), pos(page.right, page.bottom))
}
