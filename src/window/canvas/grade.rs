//! The grade line in the window, along the path through the selection.

use super::{Canvas, drawing, wheel};
use crate::catalogue::Catalogue;
use crate::draw::canvas::touch::Drawn;
use crate::draw::grade::{self, GradeScene, PathProfile, path_words};
use crate::draw::page::shape::{Ink, Rect as Page, pt};
use crate::draw::page::view::View;
use crate::draw::section::Pick;
use crate::editor::{ToolState, ViewState, hit_at};
use crate::evaluate;
use crate::evaluate::Paths;
use crate::layout::{Id, Layout};
use crate::session::{Session, Shown};
use crate::states::GradePoint;
use crate::units::{self, Quantity, UnitSystem};
use crate::window::action::Action;
use crate::window::time::{self, TimeView};
use crate::window::{describe, paint, theme};
use egui::{CursorIcon, Response, RichText, Sense, Ui};
use std::rc::Rc;
use std::sync::Arc;

/// Pick tolerance around small targets, points.
const TOLERANCE: f64 = 4.0;

/// State of the grade line between frames.
#[derive(Default)]
pub(super) struct GradeCache {
    look: ViewState,
    made: Option<FoundPath>,
    drawn: Option<(GradeInputs, Rc<Drawn>)>,
    press: paint::DrawingPainter,
    hovered: Option<Pick>,
}

impl GradeCache {
    pub(super) fn drawn(&self) -> Option<Rc<Drawn>> {
        self.drawn.as_ref().map(|(_, drawn)| drawn.clone())
    }
}

/// A path with its grade line, and the inputs it was made from.
struct FoundPath {
    of: PathInputs,
    /// The path with its grade line, or why there is none.
    profile: Result<Rc<PathProfile>, &'static str>,
}

/// Inputs of a path and its grade line.
#[derive(Clone)]
struct PathInputs {
    layout: Arc<Layout>,
    revision: u64,
    seen: time::TimeInputs,
    parts: Vec<Id>,
}

impl PathInputs {
    fn is_as(&self, other: &PathInputs) -> bool {
        Arc::ptr_eq(&self.layout, &other.layout)
            && self.revision == other.revision
            && self.seen == other.seen
            && self.parts == other.parts
    }
}

/// Inputs of a drawing of the grade line. While they are equal, the cached drawing is valid.
struct GradeInputs {
    of: PathInputs,
    view: View,
    selected: Vec<Pick>,
    hovered: Option<Pick>,
}

/// Lays the grade line out, handles its events and paints it.
pub(super) fn show(
    ui: &mut Ui,
    canvas: &mut Canvas,
    hand: &mut ToolState,
    (session, watch): (&mut Session, &TimeView),
) -> Vec<Action> {
    let (response, painter) = ui.allocate_painter(ui.available_size(), Sense::CLICK | Sense::DRAG);
    let theme = theme::of(ui);
    painter.rect_filled(response.rect, 0.0, theme::color(theme, Ink::Page));
    let shown = session.shown();
    let kept = &mut canvas.grade;
    let source = PathInputs {
        layout: shown.layout.clone(),
        revision: shown.revision,
        seen: watch.seen(),
        parts: passed(hand),
    };
    let profile = profile(kept, &source, (&shown, watch));
    let profile = match profile {
        Ok(profile) => profile,
        Err(why) => {
            describe::describe_grade(&response, (shown.layout, watch.state), why);
            nothing(ui, &response, why);
            return Vec::new();
        }
    };
    let room = grade::room(page(&response));
    let fitted = grade::fitting(profile.bounds(), room);
    kept.look.lying(room, fitted);
    moved(ui, &response, &mut kept.look);
    let view = kept.look.lying(room, fitted);
    let drawn = drawn(kept, (&source, &profile, view), hand, (&shown, watch));
    kept.press
        .drawing(&painter, response.rect.min, &drawn, theme);
    let mut actions = touched(&response, kept, &drawn, hand);
    let words = path_words(shown.layout, &profile);
    describe::describe_grade(&response, (shown.layout, watch.state), &words);
    describe::show_grade_words(ui, &response, &drawn, &mut actions);
    reading(
        ui,
        &response,
        (&profile, view),
        (shown.layout, shown.layout.units),
    );
    actions
}

fn page(response: &Response) -> Page {
    Page {
        left: 0.0,
        top: 0.0,
        right: f64::from(response.rect.width()),
        bottom: f64::from(response.rect.height()),
    }
}

/// The parts that the path must pass: the selected parts, and those that other selected targets belong to.
fn passed(hand: &ToolState) -> Vec<Id> {
    let mut parts: Vec<Id> = Vec::new();
    for pick in &hand.selected {
        if !parts.contains(pick.part()) {
            parts.push(pick.part().clone());
        }
    }
    parts
}

/// Returns the path with its grade line, recomputed only where an input has changed.
fn profile(
    kept: &mut GradeCache,
    source: &PathInputs,
    (shown, watch): (&Shown<'_>, &TimeView),
) -> Result<Rc<PathProfile>, &'static str> {
    if let Some(made) = kept.made.as_ref().filter(|made| made.of.is_as(source)) {
        return made.profile.clone();
    }
    let profile = found(source, (shown, watch)).map(Rc::new);
    kept.made = Some(FoundPath {
        of: source.clone(),
        profile: profile.clone(),
    });
    profile
}

fn found(
    source: &PathInputs,
    (shown, watch): (&Shown<'_>, &TimeView),
) -> Result<PathProfile, &'static str> {
    let layout = &source.layout;
    if layout.runs.is_empty() {
        return Err(
            "The grade line shows the level that water would reach along a path of pipes.\n\nDraw a run first.",
        );
    }
    let (report, _) = watch.water(shown);
    let report = report.ok_or("The grade line appears once the state is solved.")?;
    // The path that water takes while running: at rest there is no flow to follow.
    let paths = Paths::of(layout, shown.running.or(Some(report)));
    let main = || paths.main().or_else(|_| paths.along(&[]));
    let runs = paths.along(&source.parts).or_else(|_| main());
    let runs = runs.map_err(|_| "No run connects the selection.")?;
    let line = evaluate::grade(&watch.laid(layout), Catalogue::builtin(), report, &runs);
    let line: Vec<GradePoint> = line.ok_or("Updating…")?;
    Ok(PathProfile::of(layout, report, &line))
}

/// Pans and zooms as on the other drawings; a drag pans, a double click fits the path in the view.
fn moved(ui: &Ui, response: &Response, look: &mut ViewState) {
    wheel::take(ui, response, look);
    if response.dragged_by(egui::PointerButton::Primary) {
        let delta = response.drag_delta();
        look.pan(f64::from(delta.x), f64::from(delta.y));
    }
    if response.double_clicked() {
        look.fit();
    }
}

fn drawn(
    kept: &mut GradeCache,
    (source, profile, view): (&PathInputs, &PathProfile, View),
    hand: &ToolState,
    (shown, watch): (&Shown<'_>, &TimeView),
) -> Rc<Drawn> {
    let hovered = kept.hovered.clone();
    if let Some((seen, drawn)) = &kept.drawn
        && seen.of.is_as(source)
        && seen.view == view
        && seen.selected == hand.selected
        && seen.hovered == hovered
    {
        return drawn.clone();
    }
    let (report, trust) = watch.water(shown);
    let drawn = Rc::new(grade::grade(&GradeScene {
        layout: shown.layout,
        profile,
        view,
        water: report,
        trust,
        units: shown.layout.units,
        selected: &hand.selected,
        hovered: hovered.as_ref(),
    }));
    let seen = GradeInputs {
        of: source.clone(),
        view,
        selected: hand.selected.clone(),
        hovered,
    };
    kept.drawn = Some((seen, drawn.clone()));
    drawn
}

/// Updates the target under the pointer, and selects a clicked one.
fn touched(
    response: &Response,
    kept: &mut GradeCache,
    drawn: &Drawn,
    hand: &mut ToolState,
) -> Vec<Action> {
    let over = response.hover_pos();
    let found =
        over.and_then(|pos| hit_at(&drawn.targets, drawing::local(response, pos), TOLERANCE));
    kept.hovered = found.map(|target| target.pick.clone());
    if kept.hovered.is_some() {
        response.clone().on_hover_cursor(CursorIcon::PointingHand);
    }
    if !response.clicked() {
        return Vec::new();
    }
    match &kept.hovered {
        Some(pick) => vec![Action::Find(pick.clone())],
        None => {
            hand.selected.clear();
            Vec::new()
        }
    }
}

/// Shows a hairline at the pointer, with the values there.
fn reading(
    ui: &Ui,
    response: &Response,
    (profile, view): (&PathProfile, View),
    (layout, system): (&Layout, UnitSystem),
) {
    let Some(pos) = response.hover_pos().filter(|_| !response.dragged()) else {
        return;
    };
    let point = drawing::local(response, pos);
    if !view.page.holds(pt(point.x, view.page.centre().y)) {
        return;
    }
    let Some(here) = profile.reading(view.section_from_page(point).along_m) else {
        return;
    };
    let ends = [view.page.top, view.page.bottom]
        .map(|y| response.rect.min + paint::pos(pt(point.x, y)).to_vec2());
    let hair = egui::Stroke::new(1.0, theme::ink(ui, Ink::Accent));
    ui.painter().line_segment(ends, hair);
    let lines = numbers(&here, layout, system);
    response.clone().on_hover_ui_at_pointer(|ui| {
        ui.style_mut().wrap_mode = Some(egui::TextWrapMode::Extend);
        for (number, line) in lines.iter().enumerate() {
            let text = RichText::new(line);
            ui.label(if number == 0 {
                text.font(theme::strong(theme::BODY))
            } else {
                text
            });
        }
    });
}

/// The values at a point, one per line.
fn numbers(here: &GradePoint, layout: &Layout, system: UnitSystem) -> Vec<String> {
    let height = |value_m: f64| units::write(Quantity::Height, value_m, system);
    let length = units::write(Quantity::Length, here.distance_m, system);
    let mut lines = vec![
        layout.name_of(&here.at).to_owned(),
        format!("{length} along the pipes"),
    ];
    let in_pipe = here.invert_m.zip(here.crown_m);
    match (here.grade_m, in_pipe) {
        (Some(grade_m), Some((invert_m, crown_m))) => {
            lines.push(format!("Grade {}", height(grade_m)));
            lines.extend(
                here.energy_m
                    .map(|energy_m| format!("Energy {}", height(energy_m))),
            );
            let head = |value_m: f64| units::write(Quantity::Head, value_m, system);
            lines.push(match grade_m - crown_m {
                _ if grade_m <= invert_m + 1e-6 => "Falls freely".to_owned(),
                over if over >= 0.0 => format!("Pressure above the pipe {}", head(over)),
                under if grade_m > invert_m => format!(
                    "Water {} deep, {} below the crown",
                    head(grade_m - invert_m),
                    head(-under)
                ),
                under => format!("{} below the crown", head(-under)),
            });
        }
        (Some(level_m), None) => lines.push(format!("Level {}", height(level_m))),
        (None, _) => lines.push("No water".to_owned()),
    }
    if let Some((invert_m, crown_m)) = in_pipe {
        lines.push(format!(
            "Pipe from {} to {}",
            height(invert_m),
            height(crown_m)
        ));
    }
    lines
}

/// Shows why there is no grade line, or what to do.
fn nothing(ui: &mut Ui, response: &Response, why: &str) {
    let soft = theme::ink(ui, Ink::SoftText);
    let text = RichText::new(why).color(soft).size(15.0);
    let room = response.rect.shrink2(response.rect.size() * 0.15);
    let place = egui::UiBuilder::new()
        .max_rect(room)
        .layout(egui::Layout::top_down(egui::Align::Center));
    let mut inside = ui.new_child(place);
    inside.add(egui::Label::new(text).wrap().halign(egui::Align::Center));
}

impl GradeCache {
    /// Fits the whole path in the view.
    pub(super) fn fit(&mut self) {
        self.look.fit();
    }

    /// Zooms about the middle of the view.
    pub(super) fn zoom(&mut self, by: f64) {
        if let Some(view) = self.look.view() {
            self.look.zoom(by, view.page.centre());
        }
    }
}
