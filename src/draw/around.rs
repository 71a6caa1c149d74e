//! Places for a label that found none near what it is about.

use super::covers::Covers;
use super::labels::{Line, Side, Spot, Wish};
use super::shape::{Anchor, Rect, pt};
use super::text;

/// How far off it is tried, points.
const RINGS: [f64; 12] = [
    6.0, 16.0, 28.0, 42.0, 58.0, 78.0, 104.0, 138.0, 180.0, 240.0, 320.0, 440.0,
];
/// Places on a ring.
const AROUND: u8 = 16;
/// Long words are shortened to these widths, points.
const SHORTENED: [f64; 3] = [220.0, 120.0, 64.0];

/// The wish in ever shorter words, ring by ring, never in a vessel other than the one at `about`.
pub(super) fn wishes(first: &Wish, about: Rect, covers: &Covers) -> Vec<Wish> {
    let mut forms: Vec<Vec<Line>> = first.forms.clone();
    if let Some(whole) = first.forms.first() {
        forms.extend(SHORTENED.iter().filter_map(|most| shortened(whole, *most)));
    }
    let wish = |lines: Vec<Line>| {
        let size = size(&lines);
        let spots = spots(about).into_iter();
        let spots = spots.filter(|spot| !covers.strange(spot.rect(size.0, size.1), about));
        Wish {
            spots: spots.collect(),
            forms: vec![lines],
            rank: first.rank,
            clear: 1.0,
        }
    };
    forms.into_iter().map(wish).collect()
}

/// Width and height of lines, points.
pub(super) fn size(lines: &[Line]) -> (f64, f64) {
    let widths = lines
        .iter()
        .map(|line| text::width(&line.words, line.size, line.weight));
    let height = lines.iter().map(|line| text::line_height(line.size)).sum();
    (widths.fold(0.0, f64::max), height)
}

/// The first line cut to a width; none where it fits already or nothing is left.
fn shortened(lines: &[Line], most: f64) -> Option<Vec<Line>> {
    let line = lines.first()?;
    let words = text::fit(&line.words, line.size, line.weight, most);
    (words.len() != line.words.len() && !words.is_empty()).then(|| {
        vec![Line {
            words: words.into_owned(),
            ..line.clone()
        }]
    })
}

/// Places all around, nearer ones first.
fn spots(about: Rect) -> Vec<Spot> {
    let mut spots = Vec::new();
    for ring in RINGS {
        let near = about.grown(ring);
        for step in 0..AROUND {
            let angle = f64::from(step) / f64::from(AROUND) * std::f64::consts::TAU;
            let (across, up) = (angle.cos(), angle.sin());
            let centre = near.centre();
            let at = pt(
                centre.x + across * near.width() * 0.5,
                centre.y + up * near.height() * 0.5,
            );
            spots.push(Spot {
                at,
                across: match across {
                    x if x > 0.3 => Anchor::Start,
                    x if x < -0.3 => Anchor::End,
                    _ => Anchor::Middle,
                },
                side: match up {
                    y if y > 0.3 => Side::Below,
                    y if y < -0.3 => Side::Above,
                    _ => Side::Beside,
                },
            });
        }
    }
    spots
}
