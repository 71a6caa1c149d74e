//! The baseline of a comparison, drawn next to the open layout. It cannot be edited and shares the view of the other
//! drawing.

use super::{Canvas, wheel};
use crate::draw::canvas::touch::Drawn;
use crate::draw::page::shape::{Ink, Rect as Page};
use crate::draw::page::view::View;
use crate::draw::plan::{self, Floorplan, PlanScene};
use crate::draw::section::{self, SectionLayout, SectionScene, Trust};
use crate::editor::{DrawingKind, ToolState};
use crate::finding::Finding;
use crate::session::{Baseline, Session};
use crate::state::State;
use crate::units::UnitSystem;
use crate::window::{describe, paint, theme};
use egui::accesskit::Role;
use egui::{PointerButton, Sense, Ui, WidgetInfo};

/// Draws the baseline, and handles panning and zooming.
pub(super) fn show(
    ui: &mut Ui,
    (canvas, sheet): (&mut Canvas, DrawingKind),
    hand: &mut ToolState,
    (session, state): (&Session, State),
) {
    let (response, painter) = ui.allocate_painter(ui.available_size(), Sense::CLICK | Sense::DRAG);
    let theme = theme::of(ui);
    painter.rect_filled(response.rect, 0.0, theme::color(theme, Ink::Page));
    wheel::take(ui, &response, hand.look_of(sheet));
    if response.dragged_by(PointerButton::Primary) || response.dragged_by(PointerButton::Middle) {
        let delta = response.drag_delta();
        let look = hand.look_of(sheet);
        look.pan(f64::from(delta.x), f64::from(delta.y));
    }
    let (Some(view), Some(beside)) = (hand.look_of(sheet).view(), session.baseline()) else {
        return;
    };
    let name = format!("{}: {}", describe::called(sheet), beside.name);
    response.widget_info(|| WidgetInfo::labeled(Role::Canvas, true, &name));
    let page = Page {
        left: 0.0,
        top: 0.0,
        right: f64::from(response.rect.width()),
        bottom: f64::from(response.rect.height()),
    };
    let page = match sheet {
        DrawingKind::Section => section::room(page),
        DrawingKind::Plan => plan::room(page),
    };
    let units = session.layout().units;
    let view = View { page, ..view };
    let drawn = draw(canvas, (sheet, view), (&beside, hand), (state, units));
    paint::marks(&painter, response.rect.min, &drawn.drawing.marks, theme);
}

fn draw(
    canvas: &mut Canvas,
    (sheet, view): (DrawingKind, View),
    (beside, hand): (&Baseline<'_>, &ToolState),
    (state, units): (State, UnitSystem),
) -> Drawn {
    let layout = beside.layout;
    let water = beside.evaluation.and_then(|known| known.state(state));
    let findings = beside.evaluation.map(|known| &known.findings);
    let findings = findings.into_iter().flatten();
    let findings: Vec<Finding> = findings.filter(|one| one.state == state).cloned().collect();
    match sheet {
        DrawingKind::Section => section::section(&SectionScene {
            layout,
            positions: canvas.other_section.ground(layout, SectionLayout::of),
            view,
            water,
            other: None,
            trust: Trust::Sure,
            findings: &findings,
            units,
            band: None,
            selected: &hand.selected,
            hovered: None,
        }),
        DrawingKind::Plan => plan::plan(&PlanScene {
            layout,
            positions: canvas.other_plan.ground(layout, Floorplan::of),
            view,
            water,
            other: None,
            trust: Trust::Sure,
            findings: &findings,
            units,
            band: None,
            selected: &hand.selected,
            hovered: None,
        }),
    }
}
