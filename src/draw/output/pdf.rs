//! PDF output of a drawing, one page with text that can be searched and copied.

use super::picture::{PictureError, tree};
use crate::draw::page::shape::{Drawing, Ink};
use crate::draw::page::theme::{Colour, Theme, colour};
use pdf_writer::{Content, Finish, Name, Pdf, Rect, Ref, TextStr};
use std::collections::HashMap;
use svg2pdf::{ConversionOptions, to_chunk};

/// Longest side of a page that a PDF reader must accept, points: 200 inches [@iso-32000, annex C].
pub const LONGEST: f64 = 14_400.0;

/// Resource name of the drawing.
const DRAWING: Name<'static> = Name(b"Drawing");
/// Resource name of the site photo below it.
const PHOTO: Name<'static> = Name(b"Site");

/// Returns the drawing as a PDF file of one page, at the drawing's size in points. The page is always the same; the
/// order of the fonts in the file may vary.
///
/// # Errors
/// [`PictureError::TooLong`] if a side of the page is over [`LONGEST`], [`PictureError::NoSize`] if it is not a number
/// above 0.
pub fn pdf(drawing: &Drawing, theme: Theme) -> Result<Vec<u8>, PictureError> {
    let page_size = size(drawing)?;
    let tree = tree(drawing, theme)?;
    let (chunk, root) =
        to_chunk(&tree, ConversionOptions::default()).map_err(|_| PictureError::Unreadable)?;

    let mut next = Ref::new(1);
    let [catalog, pages, page, content, about, picture] = std::array::from_fn(|_| next.bump());
    let mut numbers = HashMap::new();
    let chunk = chunk.renumber(|old| *numbers.entry(old).or_insert_with(|| next.bump()));
    let root = numbers.get(&root).ok_or(PictureError::Unreadable)?;

    let mut pdf = Pdf::new();
    pdf.catalog(catalog).pages(pages);
    pdf.pages(pages).kids([page]).count(1);
    pdf.document_info(about)
        .title(TextStr(&drawing.title))
        .creator(TextStr("Fallwright"));
    let [width, height] = page_size;
    let mut sheet = pdf.page(page);
    sheet.media_box(Rect::new(0.0, 0.0, width, height));
    sheet.parent(pages);
    sheet.contents(content);
    let under = drawing
        .under
        .as_ref()
        .and_then(|photo| Some((photo, photo.dots(theme)?)));
    let mut resources = sheet.resources();
    let mut objects = resources.x_objects();
    objects.pair(DRAWING, *root);
    if under.is_some() {
        objects.pair(PHOTO, picture);
    }
    objects.finish();
    resources.finish();
    sheet.finish();
    let mut shown = Content::new();
    let Colour(red, green, blue) = colour(theme, Ink::Page);
    let [red, green, blue] = [red, green, blue].map(|part| f32::from(part) / 255.0);
    shown.save_state();
    shown.set_fill_rgb(red, green, blue);
    shown.rect(0.0, 0.0, width, height).fill_nonzero();
    shown.restore_state();
    if let Some((photo, dots)) = &under {
        // f32 is exact enough for a position on a page. The image is a unit square with its origin at the bottom, and
        // PDF coordinates start at the bottom of the page.
        let [a, b, c, d, e, f] = photo.placed(1.0, 1.0).map(|one| one as f32);
        shown.save_state();
        shown.transform([a, -b, -c, d, e + c, height - f - d]);
        shown.x_object(PHOTO);
        shown.restore_state();
        let rgb: Vec<u8> = dots
            .data()
            .chunks_exact(4)
            .flat_map(|dot| dot.iter().take(3).copied())
            .collect();
        let mut image = pdf.image_xobject(picture, &rgb);
        image.width(dots.width().cast_signed());
        image.height(dots.height().cast_signed());
        image.color_space().device_rgb();
        image.bits_per_component(8);
        image.finish();
    }
    // The drawing is a unit square, which is scaled to the page.
    shown
        .transform([width, 0.0, 0.0, height, 0.0, 0.0])
        .x_object(DRAWING);
    pdf.stream(content, &shown.finish());
    pdf.extend(&chunk);
    Ok(pdf.finish())
}

/// Returns width and height of the page, points.
fn size(drawing: &Drawing) -> Result<[f32; 2], PictureError> {
    let sides = [drawing.width, drawing.height];
    if !sides.iter().all(|side| side.is_finite() && *side > 0.0) {
        return Err(PictureError::NoSize);
    }
    if sides.iter().any(|side| *side > LONGEST) {
        return Err(PictureError::TooLong {
            width_pt: drawing.width,
            height_pt: drawing.height,
        });
    }
    Ok(sides.map(|side| side as f32))
}
