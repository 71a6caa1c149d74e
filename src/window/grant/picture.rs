//! Pictures of what is on the screen: saved as files, or copied.

use crate::draw::picture::PictureError;
use crate::draw::shape::Drawing;
use crate::draw::theme::Theme;
use crate::draw::touch::Drawn;
use crate::draw::{pdf, png, svg};
use crate::edit::hyphened;
use crate::session;
use crate::window::app::App;
use crate::window::choose::Chosen;
use crate::window::commands::Command;
use crate::window::dialogs::Wish;
use egui::ColorImage;
use std::path::Path;
use std::rc::Rc;

/// Pixels to the point: sharp on paper and on screens of small pixels.
const SCALE: f64 = 2.0;

/// What a picture is saved as, by the ending of its name.
#[derive(Clone, Copy)]
enum Form {
    Svg,
    Png,
    Pdf,
}

impl App {
    pub(super) fn picture(&mut self, ctx: &egui::Context, command: Command) {
        let Some(drawn) = self.drawing() else {
            self.said = Some("There is no drawing on the screen.".to_owned());
            return;
        };
        let (drawing, theme) = (&drawn.drawing, theme(ctx));
        match command {
            Command::CopyPicture => self.copy_picture(ctx, (drawing, theme)),
            Command::CopySvg => {
                let text = svg::svg(drawing, theme);
                ctx.copy_text(text.clone());
                self.copied = Some(text);
                self.said = Some("The picture was copied as SVG text.".to_owned());
            }
            _ => self.save_picture(ctx),
        }
    }

    fn copy_picture(&mut self, ctx: &egui::Context, (drawing, theme): (&Drawing, Theme)) {
        match png::pixels(drawing, theme, SCALE) {
            Ok(pixels) => {
                let size = [pixels.width as usize, pixels.height as usize];
                ctx.copy_image(ColorImage::from_rgba_unmultiplied(size, &pixels.rgba));
                self.said = Some(format!(
                    "The picture was copied, {} by {} pixels.",
                    pixels.width, pixels.height
                ));
            }
            Err(error) => self.no_picture(&error),
        }
    }

    fn save_picture(&mut self, ctx: &egui::Context) {
        let name = format!("{}.png", self.picture_name());
        match self.choose.save_picture(&name, self.session.path()) {
            Chosen::Path(path) => self.save_picture_to(ctx, &path),
            Chosen::Nothing => {
                self.said = Some("Nothing was saved: no place was chosen.".to_owned());
            }
            Chosen::NoDialog => self.ask_name(Wish::SavePicture, name),
        }
    }

    /// From the title of the layout and the drawing.
    fn picture_name(&self) -> String {
        let title = hyphened(&self.session.layout().title, 50);
        let drawing = self.sheet().word();
        match title.is_empty() {
            true => drawing.to_owned(),
            false => format!("{title}-{drawing}"),
        }
    }

    pub(super) fn save_picture_to(&mut self, ctx: &egui::Context, path: &Path) {
        let Some(drawn) = self.drawing() else {
            return;
        };
        let (drawing, theme) = (&drawn.drawing, theme(ctx));
        let path = match path.extension() {
            Some(_) => path.to_path_buf(),
            None => path.with_extension("png"),
        };
        let Some(form) = form(&path) else {
            self.said = Some(
                "A picture can be saved as .svg, .png or .pdf: end its name in one of them."
                    .to_owned(),
            );
            return;
        };
        let bytes = match form {
            Form::Svg => Ok(svg::svg(drawing, theme).into_bytes()),
            Form::Png => png::png(drawing, theme, SCALE),
            // Paper is white.
            Form::Pdf => pdf::pdf(drawing, Theme::Paper),
        };
        match bytes.map(|bytes| session::save_picture(&bytes, &path)) {
            Ok(Ok(())) => self.said = Some(format!("The picture was saved to {}.", path.display())),
            Ok(Err(error)) => self.trouble("The picture could not be saved", &error),
            Err(error) => self.no_picture(&error),
        }
    }

    fn no_picture(&mut self, error: &PictureError) {
        self.said = Some(format!("No picture was made: {error}."));
    }

    /// The drawing that is looked at, as it is on the screen.
    fn drawing(&self) -> Option<Rc<Drawn>> {
        self.canvas.drawing(self.sheet())
    }
}

/// As the window has it.
fn theme(ctx: &egui::Context) -> Theme {
    match ctx.theme() {
        egui::Theme::Dark => Theme::Dark,
        egui::Theme::Light => Theme::Light,
    }
}

fn form(path: &Path) -> Option<Form> {
    let ending = path.extension()?.to_string_lossy().to_ascii_lowercase();
    match ending.as_str() {
        "svg" => Some(Form::Svg),
        "png" => Some(Form::Png),
        "pdf" => Some(Form::Pdf),
        _ => None,
    }
}
