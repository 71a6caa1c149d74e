//! `draw`: writes one drawing to a file.

use super::args::Draw;
use super::words::View;
use super::{Failure, Outcome, check, services};
use crate::draw::output::picture::PictureError;
use crate::draw::output::{pdf, png, svg};
use crate::draw::page::shape::Drawing;
use crate::state::State;
use std::path::Path;

/// Page of a drawing for the screen, points.
const SCREEN: (f64, f64) = (1600.0, 900.0);
/// Page of a drawing for the printer: A3 landscape, 420 by 297 mm, in points of 1/72 inch.
const A3: (f64, f64) = (1190.55, 841.89);

/// The states that a drawing needs.
const DRAWN: [State; 2] = [State::Rest, State::Running];

/// The file format of a drawing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum ImageFormat {
    Svg,
    Png,
    Pdf,
}

/// Reads, solves, draws and saves; prints nothing on success.
pub(super) fn draw(asked: &Draw) -> Outcome {
    match drawn(asked) {
        Ok(None) => Outcome::default(),
        Ok(Some(missing)) => Outcome {
            err: format!(
                "The picture of the site is not drawn. {}\n",
                missing.line_text()
            ),
            ..Outcome::default()
        },
        Err(failure) => Outcome::failed(&failure),
    }
}

/// Returns why the site picture is not under the drawing, where it could not be read.
fn drawn(asked: &Draw) -> Result<Option<Failure>, Failure> {
    path_fits(asked)?;
    let kind = image_format(asked)?;
    let mut layout = services::read(&asked.file)?;
    if let Some(units) = asked.units {
        layout.units = units.into();
    }
    let evaluation = services::evaluate_only(&layout, &DRAWN);
    if let Some(failure) = check::not_converged(&evaluation, Some(&asked.file)) {
        return Err(failure);
    }
    let page_pt = page(kind, asked.width);
    let mut missing = None;
    let drawing = match asked.view {
        View::Grade => {
            let path: Vec<&str> = asked.path.iter().map(|id| id.trim()).collect();
            let drawing = services::grade_line(&layout, &evaluation, (&path, page_pt));
            drawing.map_err(|failure| failure.in_file(&asked.file))?
        }
        view => {
            let dots = match view {
                View::Plan => services::site(&layout, &asked.file),
                View::Section | View::Grade => Ok(None),
            };
            // As on the screen, the drawing is complete without the picture, and the user is told.
            let (dots, failure) = match dots {
                Ok(dots) => (dots, None),
                Err(failure) => (None, Some(failure)),
            };
            missing = failure;
            services::drawing(&layout, &evaluation, (view, page_pt, dots))
        }
    };
    let bytes = bytes(&drawing, kind, asked).map_err(|error| picture(error, &asked.out))?;
    services::save_bytes(&bytes, &asked.out)?;
    Ok(missing)
}

/// Refuses `--path` for a view that has no use for it.
fn path_fits(asked: &Draw) -> Result<(), Failure> {
    if asked.view == View::Grade || asked.path.is_empty() {
        return Ok(());
    }
    Err(Failure::new(
        "--path goes with --view grade",
        "Leave it out for a section or a plan",
    ))
}

/// The format that the name of the file asks for.
fn image_format(asked: &Draw) -> Result<ImageFormat, Failure> {
    let ending = asked.out.extension().map(|ending| ending.to_string_lossy());
    let lower = ending.as_ref().map(|ending| ending.to_ascii_lowercase());
    let kind = match lower.as_deref() {
        Some("svg") => ImageFormat::Svg,
        Some("png") => ImageFormat::Png,
        Some("pdf") => ImageFormat::Pdf,
        _ => {
            let what = match ending {
                Some(ending) => format!("a drawing cannot be written as .{ending}"),
                None => "the name does not say what to write".to_owned(),
            };
            let failure = Failure::new(what, "End the name in .svg, .png or .pdf");
            return Err(failure.in_file(&asked.out));
        }
    };
    if asked.scale.is_some() && kind != ImageFormat::Png {
        let failure = Failure::new("--scale is for .png alone", "Leave it out, or use --width");
        return Err(failure.in_file(&asked.out));
    }
    Ok(kind)
}

/// Width and height of the page, points, in the proportions of the file format.
fn page(kind: ImageFormat, width: Option<f64>) -> (f64, f64) {
    let usual = match kind {
        ImageFormat::Svg | ImageFormat::Png => SCREEN,
        ImageFormat::Pdf => A3,
    };
    match width {
        None => usual,
        Some(width) => (width, (width * usual.1 / usual.0).round()),
    }
}

fn bytes(drawing: &Drawing, kind: ImageFormat, asked: &Draw) -> Result<Vec<u8>, PictureError> {
    let theme = asked.theme.into();
    match kind {
        ImageFormat::Svg => Ok(svg::svg(drawing, theme).into_bytes()),
        ImageFormat::Png => png::png(drawing, theme, asked.scale.unwrap_or(1.0)),
        ImageFormat::Pdf => pdf::pdf(drawing, theme),
    }
}

fn picture(error: PictureError, out: &Path) -> Failure {
    let cure = match error {
        PictureError::TooLarge { .. } => format!(
            "Ask for at most {} a side and {:.0} million in all with --width and --scale",
            png::MOST_PX,
            png::MOST_PIXELS / 1e6
        ),
        PictureError::TooLong { .. } => {
            format!("Ask for at most {} with --width", pdf::LONGEST)
        }
        PictureError::NoSize => "Give --width and --scale above 0".to_owned(),
        PictureError::Unreadable => {
            "This is a fault of the program: please report it with the layout".to_owned()
        }
    };
    Failure::new(error.to_string(), cure).in_file(out)
}
