//! The drawings in the window: section, plan, or both side by side with one selection.

mod baseline;
mod cursor;
mod drawing;
mod events;
mod grade;
mod keys;
mod menu;
mod wheel;

use super::action::Action;
use super::paint;
use super::panel_sizes::PanelSize;
use super::theme;
use super::time::{self, TimeView};
use super::underlay::UnderlayState;
use crate::draw::canvas::touch::Drawn;
use crate::draw::page::view::{Bounds, View};
use crate::draw::plan::Floorplan;
use crate::draw::section::{Pick, SectionLayout, TouchTarget};
use crate::editor::{DrawingKind, ToolState};
use crate::layout::Layout;
use crate::session::Session;
use crate::state::State;
use egui::{CentralPanel, Panel, Pos2, Ui};
use std::rc::Rc;
use std::sync::Arc;

/// Default share of the width for the section beside the plan; it is the wider of the two.
const SECTION_SHARE: f32 = 0.56;

/// Which drawings are shown.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Views {
    /// Only the section.
    #[default]
    Section,
    /// Only the plan.
    Plan,
    /// Section and plan side by side.
    Both,
    /// The grade line along the path through the selection.
    Grade,
}

/// State of the drawings between frames.
#[derive(Default)]
pub struct Canvas {
    section: DrawingCache<SectionLayout>,
    plan: DrawingCache<Floorplan>,
    /// The drawings of the baseline of a comparison.
    other_section: DrawingCache<SectionLayout>,
    other_plan: DrawingCache<Floorplan>,
    grade: grade::GradeCache,
    /// The picture under the plan.
    pub(in crate::window) site: UnderlayState,
}

/// State of one drawing between frames.
struct DrawingCache<P> {
    /// Positions of all parts, and the layout that they belong to.
    ground: Option<(Arc<Layout>, P)>,
    /// The extent of the layout without a preview.
    bounds: Option<(Arc<Layout>, Bounds)>,
    /// Cached drawing and the inputs it was made from.
    drawn: Option<(DrawingInputs, Rc<Drawn>)>,
    /// Cached shapes for the toolkit to paint.
    press: paint::DrawingPainter,
    /// Top left corner of the drawing in the window.
    origin: Pos2,
}

/// Inputs of a drawing. While they are equal, the cached drawing is valid.
struct DrawingInputs {
    layout: Arc<Layout>,
    /// Version of the results.
    revision: u64,
    view: View,
    watched: time::TimeInputs,
    selected: Vec<Pick>,
    hovered: Option<Pick>,
    band: Option<(f64, f64)>,
}

impl DrawingInputs {
    fn is_as(&self, other: &DrawingInputs) -> bool {
        Arc::ptr_eq(&self.layout, &other.layout)
            && self.revision == other.revision
            && self.view == other.view
            && self.watched == other.watched
            && self.selected == other.selected
            && self.hovered == other.hovered
            && self.band == other.band
    }
}

impl<P> Default for DrawingCache<P> {
    fn default() -> Self {
        DrawingCache {
            ground: None,
            bounds: None,
            drawn: None,
            press: paint::DrawingPainter::default(),
            origin: Pos2::ZERO,
        }
    }
}

impl<P> DrawingCache<P> {
    /// Returns the positions of all parts, recomputed only for another layout.
    fn ground(&mut self, layout: &Arc<Layout>, make: fn(&Layout) -> P) -> &P {
        let of_this = |(of, _): &(Arc<Layout>, P)| Arc::ptr_eq(of, layout);
        if !self.ground.as_ref().is_some_and(of_this) {
            self.ground = None;
        }
        let made = || (layout.clone(), make(layout));
        &self.ground.get_or_insert_with(made).1
    }

    fn targets(&self) -> &[TouchTarget] {
        self.drawn.as_ref().map_or(&[], |(_, drawn)| &drawn.targets)
    }

    /// The cached drawing, while its inputs are equal.
    fn kept(&self, seen: &DrawingInputs) -> Option<Rc<Drawn>> {
        let last = self.drawn.as_ref();
        let same = last.filter(|(last, _)| last.is_as(seen));
        same.map(|(_, drawn)| drawn.clone())
    }

    /// The extent of the layout; a fitted page stays as it is while a drag goes past its edge.
    fn bounds(&mut self, layout: &Arc<Layout>, measure: fn(&Layout) -> Bounds) -> Bounds {
        let of_this = |(of, _): &(Arc<Layout>, Bounds)| Arc::ptr_eq(of, layout);
        if !self.bounds.as_ref().is_some_and(of_this) {
            self.bounds = None;
        }
        let made = || (layout.clone(), measure(layout));
        self.bounds.get_or_insert_with(made).1
    }
}

impl Canvas {
    /// The middle of a target in the window: in the section, else in the plan.
    pub fn place_of(&self, pick: &Pick) -> Option<Pos2> {
        self.place_on(DrawingKind::Section, pick)
            .or_else(|| self.place_on(DrawingKind::Plan, pick))
    }

    /// The middle of a target in the window, on one of the drawings.
    pub fn place_on(&self, sheet: DrawingKind, pick: &Pick) -> Option<Pos2> {
        let target = self
            .targets(sheet)
            .iter()
            .find(|target| target.pick == *pick)?;
        let middle = paint::pos(drawing::middle(&target.reach));
        Some(self.origin(sheet) + middle.to_vec2())
    }

    /// A drawing as last shown; none where it is hidden.
    pub fn drawing(&self, sheet: DrawingKind) -> Option<Rc<Drawn>> {
        let last = match sheet {
            DrawingKind::Section => &self.section.drawn,
            DrawingKind::Plan => &self.plan.drawn,
        };
        last.as_ref().map(|(_, drawn)| drawn.clone())
    }

    /// The grade line as last shown; none where it is hidden.
    pub fn grade_line(&self) -> Option<Rc<Drawn>> {
        self.grade.drawn()
    }

    /// The targets of a drawing as last shown.
    pub fn targets(&self, sheet: DrawingKind) -> &[TouchTarget] {
        match sheet {
            DrawingKind::Section => self.section.targets(),
            DrawingKind::Plan => self.plan.targets(),
        }
    }

    /// Fits the whole grade line in the view.
    pub fn fit_grade(&mut self) {
        self.grade.fit();
    }

    /// Zooms the grade line about its middle.
    pub fn zoom_grade(&mut self, by: f64) {
        self.grade.zoom(by);
    }

    /// Top left corner of a drawing in the window.
    pub fn origin(&self, sheet: DrawingKind) -> Pos2 {
        match sheet {
            DrawingKind::Section => self.section.origin,
            DrawingKind::Plan => self.plan.origin,
        }
    }
}

/// Lays out the drawings in the free area, handles their events and paints them.
pub fn show(
    ui: &mut Ui,
    (canvas, edge): (&mut Canvas, &mut PanelSize),
    hand: &mut ToolState,
    (session, watch, views): (&mut Session, &TimeView, Views),
) -> Vec<Action> {
    let mut actions = keys::take(ui, canvas, hand, session);
    session.look_at(match hand.last() {
        Some(Pick::Crest { run, end }) => Some((run, *end)),
        _ => None,
    });
    let views = match session.baseline().is_some() {
        true => compared_layout(ui, (canvas, views), hand, (session, watch.state)),
        false => views,
    };
    match views {
        Views::Section => {
            canvas.plan.drawn = None;
            actions.extend(drawing::show(
                ui,
                (canvas, DrawingKind::Section),
                hand,
                (session, watch),
            ));
        }
        Views::Plan => {
            canvas.section.drawn = None;
            actions.extend(drawing::show(
                ui,
                (canvas, DrawingKind::Plan),
                hand,
                (session, watch),
            ));
        }
        Views::Grade => {
            canvas.section.drawn = None;
            canvas.plan.drawn = None;
            actions.extend(grade::show(ui, canvas, hand, (session, watch)));
        }
        Views::Both => {
            let wide = ui.available_width().max(1.0);
            let half = (edge.or(SECTION_SHARE) * wide).round();
            let panel = edge.panel(ui.ctx(), |salt| Panel::left(salt), ("section beside", half));
            let shown = panel
                .frame(egui::Frame::NONE)
                // On a narrow window both drawings are narrow.
                .size_range(200.0..=(wide * 0.8).max(201.0))
                .show(ui, |ui| {
                    let one = (&mut *canvas, DrawingKind::Section);
                    actions.extend(drawing::show(ui, one, hand, (&mut *session, watch)));
                });
            let laid = shown.response.rect.width();
            edge.laid(ui.ctx(), laid, laid / wide);
            CentralPanel::no_frame().show(ui, |ui| {
                actions.extend(drawing::show(
                    ui,
                    (canvas, DrawingKind::Plan),
                    hand,
                    (session, watch),
                ));
            });
        }
    }
    actions
}

/// Draws the baseline in the left half, and returns the drawing for the other half: a third one would not fit.
fn compared_layout(
    ui: &mut Ui,
    (canvas, views): (&mut Canvas, Views),
    hand: &mut ToolState,
    (session, state): (&Session, State),
) -> Views {
    let (sheet, left) = match views {
        Views::Plan => (DrawingKind::Plan, Views::Plan),
        Views::Section | Views::Both => (DrawingKind::Section, Views::Section),
        // A path belongs to one layout.
        Views::Grade => return Views::Grade,
    };
    let half = (ui.available_width() / 2.0).floor();
    Panel::left("held against")
        .frame(egui::Frame::NONE)
        .resizable(false)
        .exact_size(half)
        .show(ui, |ui| {
            let name = session.baseline().map_or("", |beside| beside.name);
            headed(ui, ("which at the left", name));
            baseline::show(ui, (canvas, sheet), hand, (session, state));
        });
    headed(ui, ("which at the right", "Now"));
    left
}

/// The heading of one of two drawings.
fn headed(ui: &mut Ui, (salt, words): (&str, &str)) {
    let frame = egui::Frame::new()
        .fill(ui.visuals().panel_fill)
        .inner_margin(egui::Margin::symmetric(10, 4));
    Panel::top(salt)
        .frame(frame)
        .resizable(false)
        .show(ui, |ui| {
            let words = egui::RichText::new(words).font(theme::strong(theme::BODY));
            ui.add(egui::Label::new(words).truncate());
        });
}
