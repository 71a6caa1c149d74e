//! Fallback positions for a label that found none near its subject.

use super::labels::{LabelLine, LabelPosition, LabelRequest, LabelSide, size};
use super::vessel_index::VesselIndex;
use crate::draw::page::shape::{Anchor, Rect, pt};
use crate::draw::page::text;

/// Distances of the rings tried, points: the rings of each band, near ones first.
const BANDS: [&[f64]; 3] = [
    &[6.0, 16.0, 28.0, 42.0],
    &[58.0, 78.0, 104.0],
    &[138.0, 180.0, 240.0, 320.0, 440.0],
];
/// Number of positions on a ring.
const AROUND: u8 = 16;
/// Widths that long names are shortened to, points. A height is never so long, and must not be cut: half of it would
/// read as another height.
const SHORTENED: [f64; 2] = [220.0, 120.0];

/// Returns all forms of the requests without duplicates, from the longest to the shortest.
pub(in crate::draw) fn whole(requests: &[LabelRequest]) -> Vec<Vec<LabelLine>> {
    let mut whole: Vec<Vec<LabelLine>> = Vec::new();
    for form in requests.iter().flat_map(|request| &request.forms) {
        if !whole.contains(form) {
            whole.push(form.clone());
        }
    }
    whole
}

/// Returns the first form cut to each shorter width; empty if it is short.
pub(in crate::draw) fn cut(whole: &[Vec<LabelLine>]) -> Vec<Vec<LabelLine>> {
    let cuts = SHORTENED.iter();
    cuts.filter_map(|most| shortened(whole.first()?, *most))
        .collect()
}

/// Tries the forms band by band, since a short text nearby is better than a full text far away. Positions inside a
/// vessel other than the one at `about` and those that fail `is_good` are left out.
pub(in crate::draw) fn find<T>(
    forms: &[Vec<LabelLine>],
    about: Rect,
    covers: &VesselIndex,
    is_good: impl Fn(Rect) -> bool,
    mut place: impl FnMut(&LabelRequest) -> Option<T>,
) -> Option<T> {
    for band in BANDS {
        for form in forms {
            let (width, height) = size(form);
            let good = |spot: &LabelPosition| {
                let label = spot.rect(width, height);
                !covers.strange(label, about) && is_good(label)
            };
            for ring in band {
                let request = LabelRequest {
                    spots: positions(about, *ring).into_iter().filter(good).collect(),
                    forms: vec![form.clone()],
                    rank: 0,
                    clear: 1.0,
                };
                if let Some(placed) = place(&request) {
                    return Some(placed);
                }
            }
        }
    }
    None
}

/// Returns the first line cut to a width; `None` if it fits already or nothing is left.
fn shortened(lines: &[LabelLine], most: f64) -> Option<Vec<LabelLine>> {
    let line = lines.first()?;
    let words = text::fit(&line.words, line.size, line.weight, most);
    (words.len() != line.words.len() && !words.is_empty()).then(|| {
        vec![LabelLine {
            words: words.into_owned(),
            ..line.clone()
        }]
    })
}

/// Returns positions all around `about` at the distance `off`.
fn positions(about: Rect, off: f64) -> Vec<LabelPosition> {
    let near = about.grown(off);
    let centre = near.centre();
    let spot = |step: u8| {
        let angle = f64::from(step) / f64::from(AROUND) * std::f64::consts::TAU;
        let (across, up) = (angle.cos(), angle.sin());
        LabelPosition {
            at: pt(
                centre.x + across * near.width() * 0.5,
                centre.y + up * near.height() * 0.5,
            ),
            across: match across {
                x if x > 0.3 => Anchor::Start,
                x if x < -0.3 => Anchor::End,
                _ => Anchor::Middle,
            },
            side: match up {
                y if y > 0.3 => LabelSide::Below,
                y if y < -0.3 => LabelSide::Above,
                _ => LabelSide::Beside,
            },
        }
    };
    (0..AROUND).map(spot).collect()
}
