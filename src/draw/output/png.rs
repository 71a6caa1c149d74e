//! PNG output of a drawing.

use super::picture::{PictureError, tree};
use crate::draw::page::shape::Drawing;
use crate::draw::page::site_photo::ground;
use crate::draw::page::theme::Theme;
use resvg::tiny_skia::{Pixmap, Transform};

/// Most pixels along a side: a choice.
pub const MOST_PX: f64 = 16_000.0;
/// Most pixels in total, which take 256 MiB while the picture is made: a choice.
pub const MOST_PIXELS: f64 = 64.0 * 1024.0 * 1024.0;

/// Returns the drawing as a PNG file, with `scale` pixels per point; sides are rounded to whole pixels.
///
/// # Errors
/// [`PictureError::TooLarge`] if a side is over [`MOST_PX`] or the total over [`MOST_PIXELS`], [`PictureError::NoSize`]
/// if the page or the scale is not a number above 0.
pub fn png(drawing: &Drawing, theme: Theme, scale: f64) -> Result<Vec<u8>, PictureError> {
    let pixels = rendered(drawing, theme, scale)?;
    pixels.encode_png().map_err(|_| PictureError::Unreadable)
}

/// A picture as raw pixels.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pixels {
    /// Width in pixels.
    pub width: u32,
    /// Height in pixels.
    pub height: u32,
    /// Red, green, blue and opacity of each pixel, row by row from the top left.
    pub rgba: Vec<u8>,
}

/// Returns the drawing as raw pixels, otherwise like [`png`].
///
/// # Errors
/// Like [`png`].
pub fn pixels(drawing: &Drawing, theme: Theme, scale: f64) -> Result<Pixels, PictureError> {
    let pixels = rendered(drawing, theme, scale)?;
    let plain = pixels.pixels().iter().map(|pixel| pixel.demultiply());
    let bytes = |one: resvg::tiny_skia::ColorU8| [one.red(), one.green(), one.blue(), one.alpha()];
    Ok(Pixels {
        width: pixels.width(),
        height: pixels.height(),
        rgba: plain.flat_map(bytes).collect(),
    })
}

fn rendered(drawing: &Drawing, theme: Theme, scale: f64) -> Result<Pixmap, PictureError> {
    let (width, height) = size_px(drawing, scale)?;
    let tree = tree(drawing, theme)?;
    let mut pixels = Pixmap::new(width, height).ok_or(PictureError::NoSize)?;
    let scale = scale as f32;
    ground(drawing, theme, &mut pixels, scale);
    resvg::render(
        &tree,
        Transform::from_scale(scale, scale),
        &mut pixels.as_mut(),
    );
    Ok(pixels)
}

fn size_px(drawing: &Drawing, scale: f64) -> Result<(u32, u32), PictureError> {
    let sides = [drawing.width, drawing.height].map(|side| (side * scale).round().max(1.0));
    let [width_px, height_px] = sides;
    let given = [drawing.width, drawing.height, scale];
    if !given.iter().all(|one| one.is_finite() && *one > 0.0) {
        return Err(PictureError::NoSize);
    }
    if width_px > MOST_PX || height_px > MOST_PX || width_px * height_px > MOST_PIXELS {
        return Err(PictureError::TooLarge {
            width_px,
            height_px,
        });
    }
    Ok((width_px as u32, height_px as u32))
}
