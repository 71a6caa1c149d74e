//! The section in the window: what hands do on it, and what is drawn.

use super::wants::Want;
use super::{paint, theme, told};
use crate::draw::section::{Pick, Plan, Scene, Target, Trust, room, section};
use crate::draw::shape::{Point, Rect as Page, pt};
use crate::draw::view::Bounds;
use crate::editor::{Event, Ground, Hand, Request, Step};
use crate::finding::{Finding, State};
use crate::layout::Layout;
use crate::session::{Freshness, Session, Shown};
use egui::{CursorIcon, Key, Modifiers, Pos2, Response, Sense, Ui};
use std::sync::Arc;

/// What is kept from one frame to the next.
#[derive(Default)]
pub struct Canvas {
    /// The plan of the layout that is shown, and the layout it was made for.
    plan: Option<(Arc<Layout>, Plan)>,
    /// What the layout takes up without a preview.
    bounds: Option<(Arc<Layout>, Bounds)>,
    /// What could be touched when it was last drawn.
    pub targets: Vec<Target>,
    /// Where the drawing began in the window.
    origin: Pos2,
}

impl Canvas {
    /// Where in the window the middle of a pick was drawn.
    pub fn place_of(&self, pick: &Pick) -> Option<Pos2> {
        let target = self.targets.iter().find(|target| target.pick == *pick)?;
        let middle = paint::pos(target.reach.bounds().centre());
        Some(self.origin + middle.to_vec2())
    }
}

/// Lays out the section in what room there is, takes in what was done on it, and draws.
pub fn show(
    ui: &mut Ui,
    canvas: &mut Canvas,
    hand: &mut Hand,
    (session, state): (&mut Session, State),
) -> Vec<Want> {
    let (response, painter) = ui.allocate_painter(ui.available_size(), Sense::CLICK | Sense::DRAG);
    let origin = response.rect.min;
    let page = Page {
        left: 0.0,
        top: 0.0,
        right: f64::from(response.rect.width()),
        bottom: f64::from(response.rect.height()),
    };
    // A page that is fitted stays as it is while a crest is dragged over its edge.
    let bounds = bounds_of(&mut canvas.bounds, session.layout());
    hand.look.on(room(page), bounds);
    let mut wants = events(ui, &response, canvas, hand, session);
    wants.extend(wheel(ui, &response, hand));
    session.look_at(match &hand.selected {
        Some(Pick::Crest { run, end }) => Some((run, *end)),
        _ => None,
    });
    let shown = session.shown();
    let plan = plan_of(&mut canvas.plan, shown.layout);
    let view = hand.look.on(room(page), bounds);
    let (water, trust) = water(&shown, state);
    let findings: Vec<Finding> = of_state(&shown, state);
    let drawn = section(&Scene {
        layout: shown.layout,
        plan,
        view,
        water,
        trust,
        findings: &findings,
        units: shown.layout.units,
        band: session.band().map(|band| band.on_tape(shown.layout.units)),
        selected: hand.selected.as_slice(),
        hovered: hand.hovered.as_ref(),
    });
    let theme = theme::of(ui);
    painter.rect_filled(
        response.rect,
        0.0,
        theme::color(theme, crate::draw::shape::Ink::Page),
    );
    paint::drawing(&painter, origin, &drawn.drawing, theme);
    if shown.layout.vessels.is_empty() {
        empty(ui, &response);
    }
    cursor(ui, &response, hand);
    told::describe(&response, &shown, state);
    told::tell(ui, &response, &drawn, shown.layout, &mut wants);
    canvas.targets = drawn.targets;
    canvas.origin = origin;
    wants
}

/// What to do where nothing is drawn.
fn empty(ui: &mut Ui, response: &Response) {
    let room = response.rect.shrink(90.0);
    let words = "This layout has no vessels yet.\n\nVessels and runs are written into its file, which \
                 docs/format.md explains with an annotated sample. File → Open the demo shows one.";
    let soft = theme::ink(ui, crate::draw::shape::Ink::SoftText);
    let text = egui::RichText::new(words).color(soft).size(15.0);
    ui.put(
        room,
        egui::Label::new(text).wrap().halign(egui::Align::Center),
    );
}

fn plan_of<'a>(kept: &'a mut Option<(Arc<Layout>, Plan)>, layout: &Arc<Layout>) -> &'a Plan {
    let fits = kept.as_ref().is_some_and(|(of, _)| Arc::ptr_eq(of, layout));
    if !fits {
        *kept = None;
    }
    &kept
        .get_or_insert_with(|| (layout.clone(), Plan::of(layout)))
        .1
}

fn bounds_of(kept: &mut Option<(Arc<Layout>, Bounds)>, layout: &Arc<Layout>) -> Bounds {
    let fits = kept.as_ref().is_some_and(|(of, _)| Arc::ptr_eq(of, layout));
    if !fits {
        *kept = None;
    }
    kept.get_or_insert_with(|| (layout.clone(), Plan::of(layout).bounds()))
        .1
}

/// The report of the state that is looked at, and how far it can be trusted.
pub fn water<'a>(
    shown: &Shown<'a>,
    state: State,
) -> (Option<&'a crate::states::report::StateReport>, Trust) {
    let (report, fresh) = match state {
        State::Rest => (shown.rest, shown.told),
        _ => (shown.running, shown.levels),
    };
    let trust = match fresh {
        Freshness::Solved | Freshness::Preview => Trust::Sure,
        Freshness::Stale => Trust::OutOfDate,
    };
    (report, trust)
}

fn of_state(shown: &Shown<'_>, state: State) -> Vec<Finding> {
    // What was found in an earlier drawing may be about what has just been mended.
    if shown.told == Freshness::Stale {
        return Vec::new();
    }
    let findings = shown.findings.iter();
    findings.filter(|one| one.state == state).cloned().collect()
}

/// Pointer and keys, in the order in which they came.
fn events(
    ui: &Ui,
    response: &Response,
    canvas: &Canvas,
    hand: &mut Hand,
    session: &mut Session,
) -> Vec<Want> {
    let over = response.contains_pointer();
    let local = |pos: Pos2| local(response, pos);
    let mut wants = Vec::new();
    let mut take = |event: Event, hand: &mut Hand, session: &mut Session| {
        let layout = session.layout().clone();
        let ground = Ground {
            layout: &layout,
            targets: &canvas.targets,
            units: layout.units,
        };
        if let Some(request) = hand.take(event, &ground) {
            wants.extend(grant(request, session));
        }
    };
    let happened = ui.input(|input| input.events.clone());
    for event in happened {
        match event {
            egui::Event::PointerMoved(pos) => take(Event::Moved(local(pos)), hand, session),
            egui::Event::PointerButton {
                pos,
                button: egui::PointerButton::Primary,
                pressed,
                ..
            } => {
                if !pressed {
                    take(Event::Released(local(pos)), hand, session);
                } else if over {
                    take(Event::Pressed(local(pos)), hand, session);
                }
            }
            egui::Event::PointerGone => take(Event::Left, hand, session),
            _ => {}
        }
    }
    if !over && !hand.drags_crest() && !hand.moves_page() {
        hand.hovered = None;
    }
    for event in keys(ui, hand) {
        // A preview that nobody holds, such as that of a cure, is what Escape drops first.
        if event == Event::Dropped && session.previewing() && !hand.drags_crest() {
            session.drop_preview();
        } else {
            take(event, hand, session);
        }
    }
    wants
}

/// Escape drops; the arrows set the selected crest. Not while somebody types, or a dialog is open.
fn keys(ui: &Ui, hand: &Hand) -> Vec<Event> {
    let free = ui.memory(|memory| memory.allows_interaction(ui.layer_id()));
    if !free || ui.ctx().text_edit_focused() {
        return Vec::new();
    }
    let crest = matches!(hand.selected, Some(Pick::Crest { .. }));
    ui.input_mut(|input| {
        let mut events = Vec::new();
        if input.consume_key(Modifiers::NONE, Key::Escape) {
            events.push(Event::Dropped);
        }
        let ways = [(Key::ArrowUp, 1), (Key::ArrowDown, -1)];
        for (key, sign) in ways {
            if !crest {
                break;
            }
            for (modifiers, step) in [
                (Modifiers::SHIFT, Step::Coarse),
                (Modifiers::NONE, Step::Fine),
            ] {
                let count = input.count_and_consume_key(modifiers, key);
                let steps = sign * i32::try_from(count).unwrap_or(0);
                if steps != 0 {
                    events.push(Event::Nudged { steps, step });
                }
            }
        }
        events
    })
}

/// Does what the hand asks for, at once: the levels are to follow in the same frame.
fn grant(request: Request, session: &mut Session) -> Option<Want> {
    let done = match request {
        Request::Preview(edit) => session.preview(&edit),
        Request::Commit(edit) => session.commit(edit),
        Request::Drop => {
            session.drop_preview();
            Ok(())
        }
        Request::Refused(refused) => Err(refused),
    };
    let layout = session.layout();
    let name = |id: &crate::layout::Id| layout.name_of(id).to_owned();
    done.err().map(|refused| Want::Say(refused.read(&name)))
}

/// Wheel and pinch enlarge about the pointer; a trackpad and Shift move the page.
fn wheel(ui: &Ui, response: &Response, hand: &mut Hand) -> Option<Want> {
    let pointer = response.hover_pos()?;
    let about = local(response, pointer);
    let (zoom, scroll, moves) = ui.input(|input| {
        let by_pad = input.scroll_source() == Some(egui::MouseWheelSource::Trackpad);
        (
            input.zoom_delta(),
            input.smooth_scroll_delta(),
            by_pad || input.modifiers.shift,
        )
    });
    hand.look.zoom(f64::from(zoom), about);
    if moves {
        hand.look.pan(f64::from(scroll.x), f64::from(scroll.y));
    } else {
        hand.look.pan(f64::from(scroll.x), 0.0);
        hand.look.zoom((f64::from(scroll.y) / 240.0).exp(), about);
    }
    if response.dragged_by(egui::PointerButton::Middle) {
        let delta = response.drag_delta();
        hand.look.pan(f64::from(delta.x), f64::from(delta.y));
    }
    None
}

fn local(response: &Response, pos: Pos2) -> Point {
    let off = pos - response.rect.min;
    pt(f64::from(off.x), f64::from(off.y))
}

fn cursor(ui: &Ui, response: &Response, hand: &Hand) {
    if !response.contains_pointer() && !hand.drags_crest() {
        return;
    }
    let icon = match (&hand.hovered, hand.moves_page()) {
        (_, true) => CursorIcon::Grabbing,
        (Some(Pick::Crest { .. } | Pick::Rim(_) | Pick::Floor(_)), _) => CursorIcon::ResizeVertical,
        (Some(Pick::Corner { .. }), _) => CursorIcon::Move,
        (Some(Pick::Part(_)), _) => CursorIcon::PointingHand,
        (None, _) => CursorIcon::Default,
    };
    ui.ctx().set_cursor_icon(icon);
}
