//! A picture of the site under a drawing, in the files that are made of it. In the window it is a texture.

use super::shape::{Drawing, Ink, Point};
use super::theme::{Colour, Theme, colour};
use super::view::{View, at};
use crate::geometry::PlanPoint;
use crate::layout::Underlay;
use resvg::tiny_skia::{Color, FilterQuality, Pixmap, PixmapPaint, Transform};
use std::sync::Arc;

/// Most dots a side that a file gets: sharp on a page, and small enough to be sent.
const MOST_SIDE: usize = 1600;

/// Dots with their place on the page.
#[derive(Clone, Debug, PartialEq)]
pub struct SitePhoto {
    /// Dots from left to right.
    pub width: usize,
    /// Dots from top to bottom.
    pub height: usize,
    /// Red, green, blue and opacity of every dot, row by row from the top.
    pub rgba: Arc<Vec<u8>>,
    /// Its upper left, upper right and lower left corner on the page.
    pub corners: [Point; 3],
    /// How strongly it is drawn, 0 to 1.
    pub strength: f64,
}

/// The dots of a picture that was read.
#[derive(Clone, Debug, PartialEq)]
pub struct Dots {
    /// From left to right.
    pub width: usize,
    /// From top to bottom.
    pub height: usize,
    /// Red, green, blue and opacity of every dot, row by row from the top.
    pub rgba: Arc<Vec<u8>>,
    /// How many there are in the file, across and down: what its scale is about.
    pub in_file: (usize, usize),
}

impl SitePhoto {
    /// A picture as it lies on the page of a plan.
    pub fn laid(underlay: &Underlay, dots: Dots, view: &View) -> SitePhoto {
        // Pictures have far fewer dots than would not fit in a float.
        let (width, height) = (dots.in_file.0 as f64, dots.in_file.1 as f64);
        let on_page = |spot: PlanPoint| view.page_from_section(at(spot.x_m, spot.y_m));
        let [low_left, _, right, left] = underlay.corners(width, height).map(on_page);
        SitePhoto {
            width: dots.width,
            height: dots.height,
            rgba: dots.rgba,
            corners: [left, right, low_left],
            strength: underlay.strength,
        }
    }

    /// Its dots on the ground of the page, none of them clear; fewer where there are very many. None where there is
    /// nothing to be seen.
    pub(super) fn dots(&self, theme: Theme) -> Option<Pixmap> {
        if self.rgba.len() != 4 * self.width * self.height {
            return None;
        }
        let by = self.width.max(self.height).div_ceil(MOST_SIDE).max(1);
        let (width, height) = (self.width / by, self.height / by);
        let sides = u32::try_from(width).ok().zip(u32::try_from(height).ok());
        let mut dots = sides.and_then(|(width, height)| Pixmap::new(width, height))?;
        let Colour(red, green, blue) = colour(theme, Ink::Page);
        let page = [red, green, blue].map(f64::from);
        let mut places = (0..height).flat_map(|y| (0..width).map(move |x| (x * by, y * by)));
        for dot in dots.data_mut().chunks_exact_mut(4) {
            let (x, y) = places.next()?;
            let at = 4 * (y * self.width + x);
            let own = self.rgba.get(at..at + 4)?;
            let share = self.strength.clamp(0.0, 1.0) * f64::from(*own.get(3)?) / 255.0;
            for ((to, own), page) in dot.iter_mut().zip(own).zip(page) {
                // Between 0 and 255.
                let mixed = (page + (f64::from(*own) - page) * share).round() as u8;
                *to = mixed;
            }
            *dot.get_mut(3)? = 255;
        }
        Some(dots)
    }

    /// From a picture of so many dots to the page: `x' = a·x + c·y + e`, `y' = b·x + d·y + f`.
    pub(super) fn placed(&self, width: f64, height: f64) -> [f64; 6] {
        let [corner, right, down] = self.corners;
        let (across, along) = (width.max(1.0), height.max(1.0));
        [
            (right.x - corner.x) / across,
            (right.y - corner.y) / across,
            (down.x - corner.x) / along,
            (down.y - corner.y) / along,
            corner.x,
            corner.y,
        ]
    }
}

/// Fills a page and lays the picture on it, before anything is drawn.
pub(super) fn ground(drawing: &Drawing, theme: Theme, pixels: &mut Pixmap, scale: f32) {
    let Colour(red, green, blue) = colour(theme, Ink::Page);
    pixels.fill(Color::from_rgba8(red, green, blue, 255));
    let Some(photo) = &drawing.under else { return };
    let Some(dots) = photo.dots(theme) else {
        return;
    };
    // A place on a page: nothing is lost that is seen.
    let [a, b, c, d, e, f] = photo
        .placed(f64::from(dots.width()), f64::from(dots.height()))
        .map(|one| one as f32);
    let place = Transform::from_row(a, b, c, d, e, f).post_scale(scale, scale);
    let paint = PixmapPaint {
        quality: FilterQuality::Bilinear,
        ..PixmapPaint::default()
    };
    pixels.draw_pixmap(0, 0, dots.as_ref(), &paint, place, None);
}
