//! A drawing as a page of PDF, with letters that can be searched and copied.

use super::picture::{PictureError, tree};
use super::shape::Drawing;
use super::theme::Theme;
use pdf_writer::{Content, Finish, Name, Pdf, Rect, Ref, TextStr};
use std::collections::HashMap;
use svg2pdf::{ConversionOptions, to_chunk};

/// The longest side of a page that readers of PDF must take, points: 200 inches [@iso-32000, annex C].
pub const LONGEST: f64 = 14_400.0;

/// What the drawing is called on its page.
const DRAWING: Name<'static> = Name(b"Drawing");

/// The drawing as a PDF file of one page, one point to the point. The page is the same each time; the
/// fonts in the file may stand in another order.
///
/// # Errors
/// [`PictureError::TooLong`] where a side of the page is over [`LONGEST`],
/// [`PictureError::NoSize`] where it is not a number above 0.
pub fn pdf(drawing: &Drawing, theme: Theme) -> Result<Vec<u8>, PictureError> {
    let page_size = size(drawing)?;
    let tree = tree(drawing, theme)?;
    let (chunk, root) =
        to_chunk(&tree, ConversionOptions::default()).map_err(|_| PictureError::Unreadable)?;

    let mut next = Ref::new(1);
    let [catalog, pages, page, content, about] = std::array::from_fn(|_| next.bump());
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
    sheet.resources().x_objects().pair(DRAWING, *root);
    sheet.finish();
    let mut shown = Content::new();
    // The drawing comes as a square of one point, which is stretched to the page.
    shown
        .transform([width, 0.0, 0.0, height, 0.0, 0.0])
        .x_object(DRAWING);
    pdf.stream(content, &shown.finish());
    pdf.extend(&chunk);
    Ok(pdf.finish())
}

/// Width and height of the page, points.
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
