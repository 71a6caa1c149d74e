//! Pictures of the drawings, saved as files or copied.

use crate::draw::output::picture::PictureError;
use crate::draw::output::{pdf, png, svg};
use crate::draw::page::site_photo::{Dots, SitePhoto};
use crate::draw::page::theme::Theme;
use crate::edit::hyphened;
use crate::editor::DrawingKind;
use crate::session::{self, Site};
use crate::window::action::Snapshot;
use crate::window::app::App;
use crate::window::canvas::Views;
use crate::window::commands::Command;
use crate::window::dialogs::FileUse;
use crate::window::file_dialogs::Chosen;
use egui::ColorImage;
use std::path::Path;
use std::rc::Rc;
use std::sync::Arc;

/// Pixels per point: sharp on paper and on low-density screens.
const SCALE: f64 = 2.0;

/// The file format of a picture, chosen by its extension.
#[derive(Clone, Copy)]
enum PictureFormat {
    Svg,
    Png,
    Pdf,
}

impl App {
    /// Saves or copies the current drawing.
    pub(super) fn picture_of_view(&mut self, ctx: &egui::Context, command: Command) {
        let drawn = match self.views {
            Views::Grade => self.canvas.grade_line(),
            _ => self.canvas.drawing(self.sheet()),
        };
        let word = match self.views {
            Views::Grade => "grade-line",
            _ => self.sheet().word(),
        };
        match drawn {
            Some(drawn) => {
                let mut drawing = drawn.drawing.clone();
                if self.views != Views::Grade && self.sheet() == DrawingKind::Plan {
                    drawing.under = self.photo().map(Arc::new);
                }
                let drawing = Rc::new(drawing);
                self.picture(ctx, command, Snapshot { word, drawing });
            }
            None => self.said = Some("No drawing to save.".to_owned()),
        }
    }

    /// The site picture as it lies under the plan on the screen.
    fn photo(&self) -> Option<SitePhoto> {
        let layout = self.session.layout();
        let (Some(underlay), Site::Here(picture)) = (&layout.underlay, self.session.site_picture())
        else {
            return None;
        };
        let dots = Dots {
            width: picture.raster.width,
            height: picture.raster.height,
            rgba: Arc::new(picture.raster.rgba.clone()),
            in_file: (picture.width, picture.height),
        };
        Some(SitePhoto::laid(
            underlay,
            dots,
            &self.tool_state.plan.view()?,
        ))
    }

    /// Saves or copies a drawing.
    pub(super) fn picture(&mut self, ctx: &egui::Context, command: Command, shot: Snapshot) {
        match command {
            Command::CopyPicture => self.copy_picture(ctx, &shot),
            Command::CopySvg => {
                let text = svg::svg(&shot.drawing, theme(ctx));
                ctx.copy_text(text.clone());
                self.copied = Some(text);
                self.said = Some("Picture copied as SVG text.".to_owned());
            }
            _ => self.save_picture(ctx, shot),
        }
    }

    fn copy_picture(&mut self, ctx: &egui::Context, shot: &Snapshot) {
        match png::pixels(&shot.drawing, theme(ctx), SCALE) {
            Ok(pixels) => {
                let size = [pixels.width as usize, pixels.height as usize];
                ctx.copy_image(ColorImage::from_rgba_unmultiplied(size, &pixels.rgba));
                self.said = Some(format!(
                    "Picture copied, {} by {} pixels.",
                    pixels.width, pixels.height
                ));
            }
            Err(error) => self.no_picture(&error),
        }
    }

    fn save_picture(&mut self, ctx: &egui::Context, shot: Snapshot) {
        let name = format!("{}.png", self.picture_name(shot.word));
        self.shot = Some(shot);
        match self.choose.save_picture(&name, self.session.path()) {
            Chosen::Path(path) => self.save_picture_to(ctx, &path),
            Chosen::Nothing => {
                self.said = Some("Not saved: no file chosen.".to_owned());
            }
            Chosen::NoDialog => self.ask_name(FileUse::SavePicture, name),
        }
    }

    /// A file name made from the title of the layout and the word of the drawing.
    fn picture_name(&self, word: &str) -> String {
        let title = hyphened(&self.session.layout().title, 50);
        match title.is_empty() {
            true => word.to_owned(),
            false => format!("{title}-{word}"),
        }
    }

    /// Saves the drawing that was asked for last.
    pub(super) fn save_picture_to(&mut self, ctx: &egui::Context, path: &Path) {
        let Some(shot) = self.shot.take() else {
            return;
        };
        let path = match path.extension() {
            Some(_) => path.to_path_buf(),
            None => path.with_extension("png"),
        };
        let Some(form) = form(&path) else {
            self.said = Some("Choose a name that ends in .svg, .png or .pdf.".to_owned());
            return;
        };
        let bytes = match form {
            PictureFormat::Svg => Ok(svg::svg(&shot.drawing, theme(ctx)).into_bytes()),
            PictureFormat::Png => png::png(&shot.drawing, theme(ctx), SCALE),
            // Paper is white.
            PictureFormat::Pdf => pdf::pdf(&shot.drawing, Theme::Paper),
        };
        match bytes.map(|bytes| session::save_picture(&bytes, &path)) {
            Ok(Ok(())) => self.said = Some(format!("Picture saved to {}.", path.display())),
            Ok(Err(error)) => self.trouble("Cannot save the picture", &error),
            Err(error) => self.no_picture(&error),
        }
    }

    fn no_picture(&mut self, error: &PictureError) {
        self.said = Some(format!("Cannot make the picture: {error}."));
    }
}

/// The colours of the window.
fn theme(ctx: &egui::Context) -> Theme {
    match ctx.theme() {
        egui::Theme::Dark => Theme::Dark,
        egui::Theme::Light => Theme::Light,
    }
}

fn form(path: &Path) -> Option<PictureFormat> {
    let ending = path.extension()?.to_string_lossy().to_ascii_lowercase();
    match ending.as_str() {
        "svg" => Some(PictureFormat::Svg),
        "png" => Some(PictureFormat::Png),
        "pdf" => Some(PictureFormat::Pdf),
        _ => None,
    }
}
