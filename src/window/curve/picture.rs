//! A picture of a data sheet, with marks on its axes and points along its curve.

use super::{CurveAction, CurveDialog, files, marks, plot, remark, say_wrong, unit};
use crate::editor::curve::{self, CurveRefusal, DefaultUnits, Dot, InputPosition, MARKS, Marks};
use crate::layout::CurveForm;
use crate::session::Raster;
use egui::{Pos2, Rect, ScrollArea, Sense, TextureHandle, Ui, Vec2, pos2, vec2};

/// Space for the picture, points.
const ROOM: Vec2 = vec2(470.0, 395.0);
/// Space taken by scroll bars, so that a picture shown whole has none.
const BARS: f32 = 16.0;
/// Zoom factor of one press.
const STEP: f32 = 1.4;
/// Least and greatest zoom.
const ZOOM: std::ops::RangeInclusive<f32> = 0.05..=12.0;

/// A picture being traced.
pub(super) struct CurvePicture {
    texture: TextureHandle,
    marks: Marks,
    dots: Vec<Dot>,
    /// Points of the window per pixel of the picture.
    zoom: f32,
    /// Scroll position for the next frame, points.
    turn_to: Option<Vec2>,
    offset: Vec2,
}

impl CurvePicture {
    /// A new picture, zoomed to be visible as a whole.
    pub(super) fn new(ctx: &egui::Context, raster: &Raster) -> CurvePicture {
        let most = ctx.input(|input| input.max_texture_side);
        let raster = raster.at_most(most);
        let size = [raster.width, raster.height];
        let image = egui::ColorImage::from_rgba_unmultiplied(size, &raster.rgba);
        let texture = ctx.load_texture("sheet of a pump", image, egui::TextureOptions::LINEAR);
        let Vec2 { x, y } = texture.size_vec2();
        CurvePicture {
            texture,
            marks: Marks::default(),
            dots: Vec::new(),
            zoom: ((ROOM.x - BARS) / x)
                .min((ROOM.y - BARS) / y)
                .clamp(*ZOOM.start(), *ZOOM.end()),
            turn_to: None,
            offset: Vec2::ZERO,
        }
    }

    fn click(&mut self, dot: Dot) {
        match self.marks.next() {
            Some(next) => self.marks.set(next, dot),
            None => self.dots.push(dot),
        }
    }

    /// Zooms about the middle of the visible part.
    fn enlarge(&mut self, by: f32) {
        let zoom = (self.zoom * by).clamp(*ZOOM.start(), *ZOOM.end());
        let by = zoom / self.zoom;
        self.zoom = zoom;
        self.turn_to = Some(((self.offset + ROOM / 2.0) * by - ROOM / 2.0).max(Vec2::ZERO));
    }
}

/// The curve traced so far.
pub(super) fn curve(
    traced: Option<&CurvePicture>,
    bare: DefaultUnits<'_>,
) -> Result<CurveForm, CurveRefusal> {
    let Some(traced) = traced else {
        return Err(CurveRefusal {
            at: InputPosition::Whole,
            why: "Open a picture of the data sheet first.".to_owned(),
        });
    };
    let sheet = traced.marks.sheet(bare)?;
    curve::read_points(&sheet, &traced.dots)
}

/// The fields beside the picture.
pub(super) fn show(
    ui: &mut Ui,
    dialog: &mut CurveDialog,
    refused: Option<&CurveRefusal>,
) -> Option<CurveAction> {
    let asked = files::show(ui, dialog);
    if dialog.picture.is_none() {
        remark(
            ui,
            "A picture (.png or .jpg) of a data sheet with linear scales, scanned or photographed from the front. It may be rotated. Logarithmic scales cannot be traced.",
        );
        return asked;
    }
    unit::show(ui, dialog);
    let curve = dialog.curve().ok();
    if let Some(traced) = &mut dialog.picture {
        marks::fields(ui, &mut traced.marks, refused);
        points(ui, traced);
    }
    // Missing marks are no error.
    let begun = dialog
        .picture
        .as_ref()
        .is_some_and(|traced| traced.dots.len() > 1);
    match refused.map(|refused| (refused.at, refused.read())) {
        Some((InputPosition::Whole, why)) if !begun => remark(ui, &why),
        Some((InputPosition::Whole | InputPosition::Point(_), why)) => say_wrong(ui, &why),
        _ => {}
    }
    plot::small(ui, dialog, curve.as_ref());
    asked
}

fn points(ui: &mut Ui, traced: &mut CurvePicture) {
    ui.horizontal(|ui| {
        let count = traced.dots.len();
        let some = count > 0;
        if ui
            .add_enabled(some, egui::Button::new("Remove last point"))
            .clicked()
        {
            traced.dots.pop();
        }
        if ui
            .add_enabled(some, egui::Button::new("Remove all points"))
            .clicked()
        {
            traced.dots.clear();
        }
        remark(
            ui,
            &format!("{count} {}", if count == 1 { "point" } else { "points" }),
        );
    });
}

/// Shows the picture with its marks and points.
pub(super) fn sheet(ui: &mut Ui, dialog: &mut CurveDialog) {
    let Some(traced) = &mut dialog.picture else {
        return;
    };
    ui.horizontal(|ui| {
        if ui.button("Zoom in").clicked() {
            traced.enlarge(STEP);
        }
        if ui.button("Zoom out").clicked() {
            traced.enlarge(1.0 / STEP);
        }
        remark(ui, &caption(traced));
    });
    let mut area = ScrollArea::both()
        .max_width(ROOM.x)
        .max_height(ROOM.y)
        .auto_shrink(false);
    if let Some(offset) = traced.turn_to.take() {
        area = area.scroll_offset(offset);
    }
    let shown = area.show(ui, |ui| {
        let size = traced.texture.size_vec2() * traced.zoom;
        let (rect, response) = ui.allocate_exact_size(size, Sense::click());
        response.widget_info(|| {
            egui::WidgetInfo::labeled(
                egui::accesskit::Role::Image,
                true,
                "Picture of the data sheet",
            )
        });
        let whole = Rect::from_min_max(Pos2::ZERO, pos2(1.0, 1.0));
        ui.painter()
            .image(traced.texture.id(), rect, whole, egui::Color32::WHITE);
        marks::overlay(ui, (&traced.marks, &traced.dots), (rect, traced.zoom));
        let clicked = response
            .clicked()
            .then(|| response.interact_pointer_pos())
            .flatten();
        if let Some(at) = clicked {
            let at = (at - rect.min) / traced.zoom;
            traced.click(Dot {
                x: f64::from(at.x),
                y: f64::from(at.y),
            });
        }
        if response.hovered() {
            response.on_hover_cursor(egui::CursorIcon::Crosshair);
            ui.input(egui::InputState::zoom_delta)
        } else {
            1.0
        }
    });
    traced.offset = shown.state.clamped_offset();
    if (shown.inner - 1.0).abs() > 1e-3 {
        traced.enlarge(shown.inner);
    }
}

/// The instruction for the next click.
fn caption(traced: &CurvePicture) -> String {
    match traced.marks.next() {
        Some(next) => {
            let name = MARKS.get(next).map_or("mark", |name| name);
            format!("Click the {}.", name.to_lowercase())
        }
        None => "Click along the curve, beginning at no flow.".to_owned(),
    }
}
