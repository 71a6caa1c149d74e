//! What the makers of pictures and paper share: a drawing read once, with our letters and no others.

use super::shape::{Drawing, Weight};
use super::svg::without_fonts;
use super::text::{FAMILY, font};
use super::theme::Theme;
use resvg::usvg::fontdb::{Database, Source};
use resvg::usvg::{Options, Tree};
use std::sync::{Arc, OnceLock};
use thiserror::Error;

/// Why a drawing did not become a file.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum PictureError {
    /// More pixels than can be held.
    #[error("the picture would be {width_px:.0} by {height_px:.0} pixels")]
    TooLarge {
        /// Width, pixels.
        width_px: f64,
        /// Height, pixels.
        height_px: f64,
    },
    /// A page longer than paper can be.
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
    /// The drawing was written in a way that could not be read: a fault of the program.
    #[error("the drawing could not be turned into a picture")]
    Unreadable,
}

/// The drawing, ready to be rendered.
pub(super) fn tree(drawing: &Drawing, theme: Theme) -> Result<Tree, PictureError> {
    let options = Options {
        fontdb: fonts(),
        font_family: FAMILY.to_owned(),
        ..Options::default()
    };
    Tree::from_str(&without_fonts(drawing, theme), &options).map_err(|_| PictureError::Unreadable)
}

/// Our fonts and none of the machine's, so that a picture is the same everywhere.
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
