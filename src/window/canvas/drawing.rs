//! One drawing: its layout, its events and its painting.

use super::{Canvas, DrawingInputs, cursor, events, menu, wheel};
use crate::draw::canvas::touch::Drawn;
use crate::draw::page::shape::{Ink, Point, Rect as Page, pt};
use crate::draw::page::view::{Bounds, View, at};
use crate::draw::plan::{self, Floorplan, PlanScene};
use crate::draw::section::{self, SectionLayout, SectionScene, TouchArea};
use crate::editor::{DrawingKind, Guide, ToolContext, ToolState};
use crate::geometry::PlanPoint;
use crate::layout::Layout;
use crate::session::{Session, Shown};
use crate::window::action::Action;
use crate::window::time::TimeView;
use crate::window::{describe, paint, theme};
use egui::{Response, Sense, Ui};
use std::rc::Rc;

/// Most targets of a drawing that is redrawn when the pointer hovers over one.
const MOST_ANEW: usize = 800;

/// Lays out one drawing, handles its events and paints it.
pub(super) fn show(
    ui: &mut Ui,
    (canvas, sheet): (&mut Canvas, DrawingKind),
    hand: &mut ToolState,
    (session, watch): (&mut Session, &TimeView),
) -> Vec<Action> {
    let (response, painter) = ui.allocate_painter(ui.available_size(), Sense::CLICK | Sense::DRAG);
    let origin = response.rect.min;
    let page = Page {
        left: 0.0,
        top: 0.0,
        right: f64::from(response.rect.width()),
        bottom: f64::from(response.rect.height()),
    };
    lie(canvas, hand, (session.layout(), page), sheet);
    let mut actions = match sheet == DrawingKind::Plan && canvas.site.is_scaling() {
        true => {
            point(canvas, hand, &response);
            Vec::new()
        }
        false => events::take(ui, &response, (canvas, sheet), hand, session),
    };
    wheel::take(ui, &response, hand.look_of(sheet));
    match sheet {
        DrawingKind::Section => canvas.section.origin = origin,
        DrawingKind::Plan => canvas.plan.origin = origin,
    }
    let shown = session.shown();
    let view = lie(canvas, hand, (session.layout(), page), sheet);
    let drawn = drawn(canvas, (sheet, view), hand, (session, &shown, watch));
    let theme = theme::of(ui);
    painter.rect_filled(response.rect, 0.0, theme::color(theme, Ink::Page));
    let screen = |spot: PlanPoint| {
        let page = view.page_from_section(at(spot.x_m, spot.y_m));
        origin + paint::pos(page).to_vec2()
    };
    if sheet == DrawingKind::Plan {
        canvas.site.draw(&painter, session, &screen);
    }
    let press = match sheet {
        DrawingKind::Section => &mut canvas.section.press,
        DrawingKind::Plan => &mut canvas.plan.press,
    };
    press.drawing(&painter, origin, &drawn, theme);
    if sheet == DrawingKind::Plan {
        canvas
            .site
            .marks(&painter, theme::color(theme, Ink::Accent), &screen);
    }
    let ground = ToolContext {
        layout: session.layout(),
        targets: &drawn.targets,
        units: session.layout().units,
        sheet,
    };
    let mut guide = hand.guide(&ground);
    if is_full(&drawn) {
        hovered(&mut guide, &drawn, hand);
    }
    paint::marks(&painter, origin, guide.marks(), theme);
    if shown.layout.vessels.is_empty() {
        empty(ui, &response, sheet);
    }
    cursor::set(ui, &response, hand);
    describe::describe(&response, &shown, (watch.state, sheet));
    describe::show_words(ui, &response, (&drawn, sheet), shown.layout, &mut actions);
    actions.extend(menu::show(&response, (canvas, sheet), hand, session));
    actions
}

/// While the site picture is scaled, a click marks a point of it and a drag pans the page.
fn point(canvas: &mut Canvas, hand: &mut ToolState, response: &Response) {
    let delta = response.drag_delta();
    if response.dragged_by(egui::PointerButton::Primary) {
        hand.plan.pan(f64::from(delta.x), f64::from(delta.y));
    }
    let place = response.interact_pointer_pos();
    if let (true, Some(pos), Some(view)) = (response.clicked(), place, hand.plan.view()) {
        let place = view.section_from_page(local(response, pos));
        canvas.site.clicked(PlanPoint {
            x_m: place.along_m,
            y_m: place.z_m,
        });
    }
}

/// The view of a drawing, fitted to its page.
fn lie(
    canvas: &mut Canvas,
    hand: &mut ToolState,
    (layout, page): (&std::sync::Arc<Layout>, Page),
    sheet: DrawingKind,
) -> View {
    match sheet {
        DrawingKind::Section => {
            let bounds = canvas.section.bounds(layout, |layout| {
                roomy(layout, SectionLayout::of(layout).bounds())
            });
            hand.look.on(section::room(page), bounds)
        }
        DrawingKind::Plan => {
            let bounds = canvas.plan.bounds(layout, |layout| {
                roomy(layout, Floorplan::of(layout).bounds())
            });
            hand.plan.true_on(plan::room(page), bounds)
        }
    }
}

/// Enlarges the extent of a small layout to a few metres, or its first vessel would fill the page.
fn roomy(layout: &Layout, bounds: Bounds) -> Bounds {
    if layout.vessels.len() > 3 {
        return bounds;
    }
    let grown = |low: f64, high: f64, least: f64| {
        let more = ((least - (high - low)) / 2.0).max(0.0);
        (low - more, high + more)
    };
    let (left_m, right_m) = grown(bounds.left_m, bounds.right_m, 5.0);
    let (low_m, high_m) = grown(bounds.low_m, bounds.high_m, 3.0);
    Bounds {
        left_m,
        right_m,
        low_m,
        high_m,
    }
}

/// Returns the drawing to paint, redrawn only where one of its inputs has changed.
fn drawn(
    canvas: &mut Canvas,
    (sheet, view): (DrawingKind, View),
    hand: &ToolState,
    (session, shown, watch): (&Session, &Shown<'_>, &TimeView),
) -> Rc<Drawn> {
    let units = shown.layout.units;
    let last = match sheet {
        DrawingKind::Section => &canvas.section.drawn,
        DrawingKind::Plan => &canvas.plan.drawn,
    };
    let full = last.as_ref().is_some_and(|(_, drawn)| is_full(drawn));
    let seen = DrawingInputs {
        layout: shown.layout.clone(),
        revision: shown.revision,
        view,
        watched: watch.seen(),
        selected: hand.selected.clone(),
        hovered: match full {
            true => None,
            false => hand.hovered.clone(),
        },
        band: session.band().map(|band| band.on_tape(units)),
    };
    let kept = match sheet {
        DrawingKind::Section => canvas.section.kept(&seen),
        DrawingKind::Plan => canvas.plan.kept(&seen),
    };
    if let Some(kept) = kept {
        return kept;
    }
    let drawn = Rc::new(draw(canvas, sheet, &seen, (session, shown, watch)));
    let last = Some((seen, drawn.clone()));
    match sheet {
        DrawingKind::Section => canvas.section.drawn = last,
        DrawingKind::Plan => canvas.plan.drawn = last,
    }
    drawn
}

/// Whether there are so many targets that hovering only adds a mark on top.
fn is_full(drawn: &Drawn) -> bool {
    drawn.targets.len() > MOST_ANEW
}

/// Marks the target under the pointer.
fn hovered(guide: &mut Guide, drawn: &Drawn, hand: &ToolState) {
    let pick = hand.hovered.as_ref();
    let target = pick.and_then(|pick| drawn.targets.iter().find(|target| target.pick == *pick));
    match target.map(|target| &target.reach) {
        None => {}
        Some(TouchArea::Line { points, .. }) => guide.line(points.clone()),
        Some(TouchArea::Spot { centre, radius } | TouchArea::Disc { centre, radius }) => {
            guide.ring(*centre, *radius);
        }
        Some(TouchArea::Area(rect)) => guide.outline(rect.corners()),
        Some(TouchArea::Polygon(corners)) => guide.outline(corners.clone()),
    }
}

fn draw(
    canvas: &mut Canvas,
    sheet: DrawingKind,
    seen: &DrawingInputs,
    (session, shown, watch): (&Session, &Shown<'_>, &TimeView),
) -> Drawn {
    let (water, trust) = watch.water(shown);
    let findings = watch.findings(shown);
    let layout = shown.layout;
    match sheet {
        DrawingKind::Section => section::section(&SectionScene {
            layout,
            positions: canvas.section.ground(layout, SectionLayout::of),
            view: seen.view,
            water,
            other: watch.compared_with(session),
            trust,
            findings: &findings,
            units: layout.units,
            band: seen.band,
            selected: &seen.selected,
            hovered: seen.hovered.as_ref(),
        }),
        DrawingKind::Plan => plan::plan(&PlanScene {
            layout,
            positions: canvas.plan.ground(layout, Floorplan::of),
            view: seen.view,
            water,
            other: watch.compared_with(session),
            trust,
            findings: &findings,
            units: layout.units,
            band: None,
            selected: &seen.selected,
            hovered: seen.hovered.as_ref(),
        }),
    }
}

/// Shows what to do on an empty drawing.
fn empty(ui: &mut Ui, response: &Response, sheet: DrawingKind) {
    let room = response.rect.shrink2(egui::vec2(
        (response.rect.width() * 0.12).min(90.0),
        (response.rect.height() * 0.2).min(120.0),
    ));
    let words = match sheet {
        DrawingKind::Section => {
            "Nothing here yet.\n\nChoose a vessel on the shelf at the left and click here at the height of its \
             floor, or in the plan where it stands.\n\nThen choose Pipe and draw from one vessel to the next: the \
             heights that you draw set the openings."
        }
        DrawingKind::Plan => {
            "The plan shows the layout from above.\n\nChoose a vessel on the shelf and click here."
        }
    };
    let soft = theme::ink(ui, Ink::SoftText);
    let text = egui::RichText::new(words).color(soft).size(15.0);
    let mut inside = ui.new_child(
        egui::UiBuilder::new()
            .max_rect(room)
            .layout(egui::Layout::top_down(egui::Align::Center)),
    );
    inside.add(egui::Label::new(text).wrap().halign(egui::Align::Center));
}

/// Converts a point of the window to the page.
pub(super) fn local(response: &Response, pos: egui::Pos2) -> Point {
    let off = pos - response.rect.min;
    pt(f64::from(off.x), f64::from(off.y))
}

/// The middle of a shape; for a line, the middle of its longest leg.
pub(super) fn middle(reach: &TouchArea) -> Point {
    let TouchArea::Line { points, .. } = reach else {
        return reach.bounds().centre();
    };
    let legs = points.windows(2).filter_map(|pair| match *pair {
        [from, to] => Some((from, to)),
        _ => None,
    });
    let longest = legs.max_by(|a, b| a.0.distance(a.1).total_cmp(&b.0.distance(b.1)));
    let (from, to) = longest.unwrap_or_default();
    pt((from.x + to.x) / 2.0, (from.y + to.y) / 2.0)
}
