//! Site photo below a drawing, in files made from it. In the window it is a texture.

use super::shape::{Drawing, Ink, Point};
use super::theme::{Colour, Theme, colour};
use super::view::{View, at};
use crate::geometry::PlanPoint;
use crate::layout::Underlay;
use resvg::tiny_skia::{Color, FilterQuality, Pixmap, PixmapPaint, Transform};
use std::sync::Arc;

/// Most pixels per side in a file: sharp on a page and small enough to be sent.
const MOST_SIDE: usize = 1600;

/// A picture with its position on the page.
#[derive(Clone, Debug, PartialEq)]
pub struct SitePhoto {
    /// Width in pixels.
    pub width: usize,
    /// Height in pixels.
    pub height: usize,
    /// Red, green, blue and opacity of every pixel, row by row from the top.
    pub rgba: Arc<Vec<u8>>,
    /// Its upper left, upper right and lower left corner on the page.
    pub corners: [Point; 3],
    /// Opacity, 0 to 1.
    pub strength: f64,
}

/// Pixels of a picture that was read.
#[derive(Clone, Debug, PartialEq)]
pub struct Dots {
    /// Width in pixels.
    pub width: usize,
    /// Height in pixels.
    pub height: usize,
    /// Red, green, blue and opacity of every pixel, row by row from the top.
    pub rgba: Arc<Vec<u8>>,
    /// Width and height of the picture in its file, in pixels, which its scale refers to.
    pub in_file: (usize, usize),
}

impl SitePhoto {
    /// Places a picture on the page of a plan.
    pub fn laid(underlay: &Underlay, dots: Dots, view: &View) -> SitePhoto {
        // A picture has far fewer pixels than f64 can count exactly.
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

    /// Returns its pixels blended with the page colour, all opaque, and reduced in number if there are very many;
    /// `None` if there is nothing to draw.
    pub(in crate::draw) fn dots(&self, theme: Theme) -> Option<Pixmap> {
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
                // Between 0 and 255, so the cast is in range.
                let mixed = (page + (f64::from(*own) - page) * share).round() as u8;
                *to = mixed;
            }
            *dot.get_mut(3)? = 255;
        }
        Some(dots)
    }

    /// Returns the transform from a picture of this size in pixels to the page: `x' = a·x + c·y + e`,
    /// `y' = b·x + d·y + f`.
    pub(in crate::draw) fn placed(&self, width: f64, height: f64) -> [f64; 6] {
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

/// Fills the page and draws the site photo on it, before anything else.
pub(in crate::draw) fn ground(drawing: &Drawing, theme: Theme, pixels: &mut Pixmap, scale: f32) {
    let Colour(red, green, blue) = colour(theme, Ink::Page);
    pixels.fill(Color::from_rgba8(red, green, blue, 255));
    let Some(photo) = &drawing.under else { return };
    let Some(dots) = photo.dots(theme) else {
        return;
    };
    // f32 is exact enough for a position on a page.
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
