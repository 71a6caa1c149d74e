//! Shared by the picture and PDF output: a drawing parsed once, with the built-in fonts only.

use super::svg::without_fonts;
use crate::draw::page::shape::{Drawing, Weight};
use crate::draw::page::text::{FAMILY, font};
use crate::draw::page::theme::Theme;
use resvg::usvg::fontdb::{Database, Source};
use resvg::usvg::{Options, Tree};
use std::sync::{Arc, OnceLock};
use thiserror::Error;

/// Reason why a drawing could not be written.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum PictureError {
    /// The picture has too many pixels.
    #[error("the picture would be {width_px:.0} by {height_px:.0} pixels")]
    TooLarge {
        /// Width, pixels.
        width_px: f64,
        /// Height, pixels.
        height_px: f64,
    },
    /// A side of the page is longer than allowed.
    #[error("the page would be {width_pt:.0} by {height_pt:.0} points")]
    TooLong {
        /// Width, points.
        width_pt: f64,
        /// Height, points.
        height_pt: f64,
    },
    /// The page or the scale is not a number above 0.
    #[error("the page has no size")]
    NoSize,
    /// The SVG of the drawing could not be parsed: a bug in the program.
    #[error("the drawing could not be turned into a picture")]
    Unreadable,
}

/// Returns the drawing as a tree ready for rendering.
pub(in crate::draw) fn tree(drawing: &Drawing, theme: Theme) -> Result<Tree, PictureError> {
    let options = Options {
        fontdb: fonts(),
        font_family: FAMILY.to_owned(),
        ..Options::default()
    };
    Tree::from_str(&without_fonts(drawing, theme), &options).map_err(|_| PictureError::Unreadable)
}

/// Returns the built-in fonts and none of the system's, so that a picture is the same everywhere.
fn fonts() -> Arc<Database> {
    static FONTS: OnceLock<Arc<Database>> = OnceLock::new();
    let made = FONTS.get_or_init(|| {
        let mut fonts = Database::new();
        for weight in [Weight::Regular, Weight::Strong] {
            fonts.load_font_source(Source::Binary(Arc::new(font(weight))));
        }
        fonts.set_sans_serif_family(FAMILY);
        Arc::new(fonts)
    });
    Arc::clone(made)
}
