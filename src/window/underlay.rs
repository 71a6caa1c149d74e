//! The site picture under the plan: drawing it, and scaling it by two clicks.

use super::action::Action;
use super::app::App;
use super::canvas::Views;
use super::dialogs::{Dialog, FileUse};
use super::file_dialogs::{Chosen, FileKind};
use super::theme;
use crate::draw::page::shape::Ink;
use crate::draw::plan::Floorplan;
use crate::edit;
use crate::editor::underlay::{Scaling, Turning, laid};
use crate::geometry::PlanPoint;
use crate::layout::{Layout, Underlay};
use crate::session::{Session, Site, SitePicture};
use crate::units::{self, Quantity};
use egui::epaint::{Mesh, Vertex};
use egui::{
    Align2, Area, Color32, ColorImage, Frame, Id, Key, Modifiers, Order, Painter, Pos2, RichText,
    Shape, Stroke, TextEdit, TextureHandle, TextureOptions, Ui, pos2,
};
use std::path::Path;
use std::sync::Arc;

/// Width of a new picture on an empty plan, metres.
const ROOM_M: f64 = 10.0;
/// Size of the marks at the two points, points.
const MARK: f32 = 7.0;

/// State of the site picture between frames.
#[derive(Default)]
pub(super) struct UnderlayState {
    /// The texture on the graphics card, and the picture it was made from.
    texture: Option<(Arc<crate::session::Raster>, TextureHandle)>,
    scaling: Option<ScaleInput>,
    /// Why the picture is missing, already reported.
    told: Option<String>,
}

/// A scaling in progress.
#[derive(Default)]
struct ScaleInput {
    clicks: Scaling,
    distance: String,
    lie: Turning,
}

impl UnderlayState {
    /// Whether the next click on the plan marks a point of the picture.
    pub(super) fn is_scaling(&self) -> bool {
        self.scaling.is_some()
    }

    /// Handles a click on the plan during scaling.
    pub(super) fn clicked(&mut self, at: PlanPoint) {
        if let Some(scaler) = &mut self.scaling {
            scaler.clicks = scaler.clicks.clicked(at);
        }
    }

    /// Draws the picture. `screen`: converts a point of the plan to the window.
    pub(super) fn draw(
        &mut self,
        painter: &Painter,
        session: &Session,
        screen: &dyn Fn(PlanPoint) -> Pos2,
    ) {
        let layout = session.shown().layout;
        if let (Some(underlay), Site::Here(picture)) = (&layout.underlay, session.site_picture()) {
            let texture = self.texture(painter.ctx(), picture);
            painter.add(quad(texture, (underlay, picture), screen));
        }
    }

    /// Draws the points clicked so far.
    pub(super) fn marks(
        &self,
        painter: &Painter,
        color: Color32,
        screen: &dyn Fn(PlanPoint) -> Pos2,
    ) {
        let stroke = Stroke::new(2.0, color);
        for point in self.points() {
            let at = screen(point);
            painter.circle_stroke(at, MARK, stroke);
            painter.hline(at.x - MARK..=at.x + MARK, at.y, stroke);
            painter.vline(at.x, at.y - MARK..=at.y + MARK, stroke);
        }
    }

    fn points(&self) -> Vec<PlanPoint> {
        let clicks = self.scaling.as_ref().map(|scaler| scaler.clicks);
        clicks.map(Scaling::points).unwrap_or_default()
    }

    /// Returns the texture of this picture, made once and no larger than the graphics card allows.
    fn texture(&mut self, ctx: &egui::Context, picture: &SitePicture) -> &TextureHandle {
        let raster = &picture.raster;
        let kept = self.texture.take();
        let kept = kept.filter(|(of, _)| Arc::ptr_eq(of, raster));
        let (_, handle) = self.texture.insert(kept.unwrap_or_else(|| {
            let most = ctx.input(|input| input.max_texture_side);
            let small = raster.at_most(most);
            let size = [small.width, small.height];
            let image = ColorImage::from_rgba_unmultiplied(size, &small.rgba);
            let handle = ctx.load_texture("site", image, TextureOptions::LINEAR);
            (raster.clone(), handle)
        }));
        handle
    }
}

/// The picture as a rotated rectangle, with its opacity.
fn quad(
    texture: &TextureHandle,
    (underlay, picture): (&Underlay, &SitePicture),
    screen: &dyn Fn(PlanPoint) -> Pos2,
) -> Shape {
    // Pictures are small enough for a float to be exact.
    let (width, height) = (picture.width as f64, picture.height as f64);
    let ends = [
        pos2(0.0, 1.0),
        pos2(1.0, 1.0),
        pos2(1.0, 0.0),
        pos2(0.0, 0.0),
    ];
    // An opacity needs little precision, so the cast is safe.
    let color = Color32::WHITE.gamma_multiply(underlay.strength.clamp(0.0, 1.0) as f32);
    let mut mesh = Mesh::with_texture(texture.id());
    for (corner, uv) in underlay.corners(width, height).into_iter().zip(ends) {
        let pos = screen(corner);
        mesh.vertices.push(Vertex { pos, uv, color });
    }
    mesh.add_triangle(0, 1, 2);
    mesh.add_triangle(0, 2, 3);
    Shape::mesh(mesh)
}

impl App {
    /// Asks for a picture and adds it under the plan.
    pub(super) fn lay_picture(&mut self) {
        match self.choose.of_kind(FileKind::Picture, self.session.path()) {
            Chosen::Path(path) => self.lay_this_picture(&path),
            Chosen::Nothing => self.said = Some("No picture chosen.".to_owned()),
            Chosen::NoDialog => {
                self.dialog = Some(Dialog::Name {
                    wish: FileUse::Picture,
                    text: String::new(),
                });
            }
        }
    }

    /// Adds this picture under the plan, as wide as the plan.
    pub(super) fn lay_this_picture(&mut self, path: &Path) {
        let (file, width) = match self.session.try_picture(path) {
            Ok(found) => found,
            Err(error) => {
                self.dialog = Some(Dialog::Trouble {
                    head: "Cannot show this picture".to_owned(),
                    text: format!("{error}."),
                });
                return;
            }
        };
        let layout = self.session.layout();
        let (corner, room_m) = room(layout);
        // Pictures are small enough for a float to be exact.
        let picture = laid(file, width as f64, corner, room_m);
        let edit = edit::lay_picture(layout, picture);
        if self.made(edit) {
            self.show_plan();
        }
    }

    /// Starts to scale the picture.
    pub(super) fn scale_picture(&mut self) {
        self.show_plan();
        self.canvas.site.scaling = Some(ScaleInput::default());
    }

    pub(super) fn take_picture_away(&mut self) {
        self.canvas.site.scaling = None;
        let edit = edit::take_picture_away(self.session.layout());
        self.made(edit);
    }

    /// Ends the scaling on Escape.
    pub(super) fn leave_scaling(&mut self, ctx: &egui::Context) {
        let scaling = self.canvas.site.is_scaling();
        if scaling && ctx.input_mut(|input| input.consume_key(Modifiers::NONE, Key::Escape)) {
            self.canvas.site.scaling = None;
        }
    }

    /// Shows the plan, where it is hidden.
    fn show_plan(&mut self) {
        if matches!(self.views, Views::Section | Views::Grade) {
            self.views = Views::Plan;
        }
    }

    /// Asks for the points and the distance during scaling, and reports a missing picture once.
    pub(super) fn mind_picture(&mut self, ctx: &egui::Context) -> Option<Action> {
        let missing = match self.session.site_picture() {
            Site::Missing(why) => Some(why.clone()),
            _ => None,
        };
        if missing != self.canvas.site.told {
            self.said = missing.clone().or(self.said.take());
            self.canvas.site.told = missing;
        }
        let layout = self.session.layout().clone();
        let Some(underlay) = &layout.underlay else {
            self.canvas.site.scaling = None;
            return None;
        };
        let scaler = self.canvas.site.scaling.as_mut()?;
        // Over the findings and not over the drawing, where the points are; it can be dragged out of the way.
        let place = ctx.content_rect().center_bottom() + egui::vec2(-140.0, -44.0);
        let shown = Area::new(Id::unique("scale the picture"))
            .order(Order::Foreground)
            .pivot(Align2::CENTER_BOTTOM)
            .default_pos(place)
            .movable(true)
            .show(ctx, |ui| {
                let frame = Frame::popup(ui.style()).fill(ui.visuals().panel_fill);
                frame
                    .inner_margin(14.0)
                    .show(ui, |ui| scaler.show(ui, (&layout, underlay)))
            });
        let answer = shown.inner.inner;
        if answer.is_some() {
            self.canvas.site.scaling = None;
        }
        answer.flatten()
    }
}

impl ScaleInput {
    /// Shows the scaling dialog. Outer option: the scaling is over; inner: the resulting action.
    fn show(
        &mut self,
        ui: &mut Ui,
        (layout, underlay): (&Layout, &Underlay),
    ) -> Option<Option<Action>> {
        ui.set_width(380.0);
        ui.label(RichText::new("Scale site picture").font(theme::strong(theme::HEADING)));
        ui.label(self.clicks.asks());
        ui.horizontal(|ui| {
            let label = ui.label("Distance");
            let edit = TextEdit::singleline(&mut self.distance).desired_width(110.0);
            ui.add(edit)
                .labelled_by(label.id)
                .on_hover_text("Horizontal distance between the two points");
            let mut level = self.lie == Turning::Level;
            ui.checkbox(&mut level, "Turn the picture so that the points lie level")
                .on_hover_text(
                    "Rotates the picture so that the line between the points is horizontal on the page",
                );
            self.lie = if level { Turning::Level } else { Turning::AsItIs };
        });
        let wanted = self.wanted(layout, underlay);
        if let (false, Err(why)) = (self.distance.trim().is_empty(), &wanted) {
            let problem = theme::ink(ui, Ink::Problem);
            ui.add(egui::Label::new(RichText::new(why).color(problem)).wrap());
        }
        ui.horizontal(|ui| {
            let strong = RichText::new("Scale").font(theme::strong(theme::BODY));
            let scale = ui.add_enabled(wanted.is_ok(), egui::Button::new(strong));
            if scale.clicked() {
                return Some(wanted.ok());
            }
            ui.button("Cancel").clicked().then_some(None)
        })
        .inner
    }

    /// The edit, or why it cannot be made yet.
    fn wanted(&self, layout: &Layout, underlay: &Underlay) -> Result<Action, String> {
        let between_m = units::read(Quantity::Length, &self.distance, layout.units)?;
        let scaled = self.clicks.done(underlay, between_m, self.lie);
        let edit = scaled.and_then(|scaled| edit::scale_picture(layout, scaled, between_m));
        let told = |refused: edit::EditError| refused.read(&|id| id.to_string(), layout.units);
        let edit = edit.map_err(|refused| format!("{}.", told(refused)))?;
        Ok(Action::Make(edit))
    }
}

/// Default position and width of a picture, metres: those of the plan, from its lower left corner.
fn room(layout: &Layout) -> (PlanPoint, f64) {
    if layout.vessels.is_empty() && layout.joints.is_empty() {
        return (PlanPoint::default(), ROOM_M);
    }
    let bounds = Floorplan::of(layout).bounds();
    let corner = PlanPoint {
        x_m: bounds.left_m,
        y_m: bounds.low_m,
    };
    (corner, bounds.right_m - bounds.left_m)
}
