//! SVG 1.1 output of a drawing, self-contained with its fonts.
//!
//! Values that are not finite or too far away for readers are left out.

use super::xml::{escaped, length, number, side};
use crate::draw::page::shape::{
    Anchor, Drawing, Ink, Mark, Point, Rect, Shape, Stroke, Text, Weight,
};
use crate::draw::page::text::{FAMILY, font};
use crate::draw::page::theme::{Colour, Theme, colour};
use base64::Engine;
use base64::engine::general_purpose::STANDARD;

/// Returns the drawing as the text of an SVG file with the fonts that it uses embedded.
///
/// Parts can be found by the class `part-` and their id. A page whose size is not above 0 becomes 1 by 1.
pub fn svg(drawing: &Drawing, theme: Theme) -> String {
    let fonts: String = [Weight::Regular, Weight::Strong]
        .into_iter()
        .filter(|weight| uses(drawing, *weight))
        .map(face)
        .collect();
    written(drawing, theme, &fonts, &ground(drawing, theme))
}

/// Like [`svg`], but without the fonts, for a renderer that has them, and without what is below the marks.
pub(in crate::draw) fn without_fonts(drawing: &Drawing, theme: Theme) -> String {
    written(drawing, theme, "", "")
}

/// Returns the page background with the site photo on it.
fn ground(drawing: &Drawing, theme: Theme) -> String {
    let (width, height) = (side(drawing.width), side(drawing.height));
    let page = hex(theme, Ink::Page);
    let mut out = format!("<rect width=\"{width}\" height=\"{height}\" fill=\"{page}\"/>\n");
    let dots = drawing
        .under
        .as_ref()
        .and_then(|photo| Some((photo, photo.dots(theme)?)));
    let Some((photo, dots)) = dots else {
        return out;
    };
    let (across, down) = (dots.width(), dots.height());
    let place = photo.placed(f64::from(across), f64::from(down));
    let place: Option<Vec<String>> = place.into_iter().map(exact).collect();
    if let (Some(place), Ok(png)) = (place, dots.encode_png()) {
        out.push_str(&format!(
            "<image width=\"{across}\" height=\"{down}\" preserveAspectRatio=\"none\" \
             transform=\"matrix({})\" xlink:href=\"data:image/png;base64,{}\"/>\n",
            place.join(" "),
            STANDARD.encode(png)
        ));
    }
    out
}

/// Formats a factor, which may be small; `None` if it is not finite.
fn exact(value: f64) -> Option<String> {
    value.is_finite().then(|| format!("{value:.6}"))
}

fn written(drawing: &Drawing, theme: Theme, fonts: &str, ground: &str) -> String {
    let (width, height) = (side(drawing.width), side(drawing.height));
    // The namespace is declared only if it is used.
    let links = match ground.contains("xlink:") {
        true => " xmlns:xlink=\"http://www.w3.org/1999/xlink\"",
        false => "",
    };
    let mut out = format!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n\
         <svg xmlns=\"http://www.w3.org/2000/svg\"{links} version=\"1.1\" width=\"{width}\" height=\"{height}\" \
         viewBox=\"0 0 {width} {height}\" xml:space=\"preserve\">\n\
         <title>{}</title>\n",
        escaped(&drawing.title)
    );
    if !fonts.is_empty() {
        out.push_str(&format!("<style type=\"text/css\">{fonts}</style>\n"));
    }
    out.push_str(ground);
    out.push_str(&format!(
        "<g font-family=\"'{FAMILY}', sans-serif\" style=\"font-kerning:none\" \
         stroke-linejoin=\"round\">\n"
    ));
    out.push_str(&marks(&drawing.marks, theme));
    out.push_str("</g>\n</svg>\n");
    out
}

/// Returns the shapes; consecutive shapes of one part are grouped.
fn marks(marks: &[Mark], theme: Theme) -> String {
    let mut out = String::new();
    for run in marks.chunk_by(|one, next| one.part == next.part) {
        let inside: String = run.iter().filter_map(|mark| element(mark, theme)).collect();
        let part = run.first().and_then(|mark| mark.part.as_ref());
        match part {
            _ if inside.is_empty() => {}
            None => out.push_str(&inside),
            Some(id) => {
                // A class may occur many times and an id only once, and a part is drawn as several groups.
                let class = escaped(id.as_str()).replace(' ', "_");
                out.push_str(&format!("<g class=\"part-{class}\">\n{inside}</g>\n"));
            }
        }
    }
    out
}

/// Returns one shape; `None` if it is invisible or has no valid position.
fn element(mark: &Mark, theme: Theme) -> Option<String> {
    let strength = number(mark.strength.clamp(0.0, 1.0))?;
    let opacity = match strength.as_str() {
        "0" => return None,
        "1" => String::new(),
        _ => format!(" opacity=\"{strength}\""),
    };
    match &mark.shape {
        Shape::Text(text) => {
            let (start, words) = line_of_text(text, theme)?;
            Some(format!("{start}{opacity}>{words}</text>\n"))
        }
        shape => Some(format!("{}{opacity}/>\n", outline(shape, theme)?)),
    }
}

/// Returns a shape other than text, with its tag still open.
fn outline(shape: &Shape, theme: Theme) -> Option<String> {
    let (place, fill, edge) = match shape {
        Shape::Line { points, stroke } if points.len() > 1 => {
            let points = places(points)?;
            (
                format!("<polyline points=\"{points}\""),
                None,
                Some(*stroke),
            )
        }
        Shape::Area {
            corners,
            fill,
            edge,
        } if corners.len() > 2 => {
            let points = places(corners)?;
            (format!("<polygon points=\"{points}\""), *fill, *edge)
        }
        Shape::Box {
            rect,
            radius,
            fill,
            edge,
        } => (area(*rect, *radius)?, *fill, *edge),
        Shape::Circle {
            centre,
            radius,
            fill,
            edge,
        } => (circle(*centre, *radius)?, *fill, *edge),
        Shape::Line { .. } | Shape::Area { .. } | Shape::Text(_) => return None,
    };
    Some(format!("{place}{}", paint(theme, fill, edge)?))
}

fn circle(centre: Point, radius: f64) -> Option<String> {
    Some(format!(
        "<circle cx=\"{}\" cy=\"{}\" r=\"{}\"",
        number(centre.x)?,
        number(centre.y)?,
        length(radius)?
    ))
}

fn area(rect: Rect, radius: f64) -> Option<String> {
    let round = match number(radius.max(0.0))?.as_str() {
        "0" => String::new(),
        radius => format!(" rx=\"{radius}\""),
    };
    Some(format!(
        "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"{round}",
        number(rect.left)?,
        number(rect.top)?,
        length(rect.width())?,
        length(rect.height())?
    ))
}

/// Returns the open tag of a line of text, and its escaped text.
fn line_of_text(text: &Text, theme: Theme) -> Option<(String, String)> {
    let words = escaped(&text.words);
    if words.trim().is_empty() {
        return None;
    }
    let anchor = match text.anchor {
        Anchor::Start => "",
        Anchor::Middle => " text-anchor=\"middle\"",
        Anchor::End => " text-anchor=\"end\"",
    };
    let weight = match text.weight {
        Weight::Regular => "",
        Weight::Strong => " font-weight=\"600\"",
    };
    let start = format!(
        "<text x=\"{}\" y=\"{}\" font-size=\"{}\"{weight}{anchor} fill=\"{}\"",
        number(text.at.x)?,
        number(text.at.y)?,
        length(text.size)?,
        hex(theme, text.ink)
    );
    Some((start, words))
}

/// Returns fill and edge as attributes; `None` if there is neither or the edge is not finite.
fn paint(theme: Theme, fill: Option<Ink>, edge: Option<Stroke>) -> Option<String> {
    let fill = fill.map_or("none".to_owned(), |ink| hex(theme, ink));
    let edge = match edge {
        None => String::new(),
        Some(stroke) => stroked(theme, stroke)?,
    };
    let seen = fill != "none" || !edge.is_empty();
    seen.then(|| format!(" fill=\"{fill}\"{edge}"))
}

/// Returns an edge as attributes: empty if it has no width, `None` if its width is not finite.
fn stroked(theme: Theme, stroke: Stroke) -> Option<String> {
    let width = number(stroke.width)?;
    if width == "0" || stroke.width < 0.0 {
        return Some(String::new());
    }
    let dashes = match stroke.pattern() {
        None => String::new(),
        Some((on, off)) => format!(" stroke-dasharray=\"{} {}\"", number(on)?, number(off)?),
    };
    let ink = hex(theme, stroke.ink);
    Some(format!(
        " stroke=\"{ink}\" stroke-width=\"{width}\"{dashes}"
    ))
}

fn places(points: &[Point]) -> Option<String> {
    let pairs: Option<Vec<String>> = points
        .iter()
        .map(|point| Some(format!("{},{}", number(point.x)?, number(point.y)?)))
        .collect();
    Some(pairs?.join(" "))
}

fn hex(theme: Theme, ink: Ink) -> String {
    let Colour(red, green, blue) = colour(theme, ink);
    format!("#{red:02x}{green:02x}{blue:02x}")
}

fn uses(drawing: &Drawing, weight: Weight) -> bool {
    let mut shapes = drawing.marks.iter().map(|mark| &mark.shape);
    shapes.any(|shape| matches!(shape, Shape::Text(text) if text.weight == weight))
}

/// Returns the style rule that embeds a font.
fn face(weight: Weight) -> String {
    let number = match weight {
        Weight::Regular => 400,
        Weight::Strong => 600,
    };
    format!(
        "@font-face{{font-family:'{FAMILY}';font-weight:{number};\
         src:url(data:font/otf;base64,{}) format('opentype')}}",
        STANDARD.encode(font(weight))
    )
}
