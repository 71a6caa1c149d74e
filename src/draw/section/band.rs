//! The set-height band beside the selected crest: from the lowest to the highest good height.

use super::paper::SectionPage;
use crate::draw::canvas::labels::{LabelLine, LabelPosition, LabelRequest, LabelSide};
use crate::draw::canvas::touch::Pick;
use crate::draw::page::shape::{Anchor, Ink, Rect, Stroke, pt};
use crate::draw::page::text;
use crate::layout::RunEnd;
use crate::units::{self, Quantity};

/// Distance of the band from its crest, and half the width of its ends, points.
const BAND_OFFSET: f64 = 15.0;
const END: f64 = 4.0;

pub(super) fn draw(paper: &mut SectionPage<'_>) {
    let scene = paper.scene;
    let (Some((low_m, high_m)), Some(Pick::Crest { run, end })) =
        (scene.band, scene.selected.last())
    else {
        return;
    };
    let index = scene.layout.runs.iter().position(|one| one.id == *run);
    let side = usize::from(*end == RunEnd::To);
    let Some(spot) = index.and_then(|index| scene.positions.run_end_point(index, side)) else {
        return;
    };
    let x = scene.view.x(spot.at.along_m) - spot.side * BAND_OFFSET;
    let (top, bottom) = (scene.view.y(high_m), scene.view.y(low_m));
    let stroke = Stroke::new(Ink::Good, 3.0);
    paper.line(Some(run), vec![pt(x, top), pt(x, bottom)], stroke);
    for y in [top, bottom] {
        let end = vec![pt(x - END, y), pt(x + END, y)];
        paper.line(Some(run), end, Stroke::new(Ink::Good, 2.0));
    }
    let bar = Rect::between(pt(x, top), pt(x, bottom)).grown(END);
    paper.placer.block(bar);
    for (y, height_m, down) in [(top, high_m, false), (bottom, low_m, true)] {
        if !paper.shows(Rect::between(pt(x, y), pt(x, y))) {
            continue;
        }
        let words = units::write(Quantity::Height, height_m, scene.units);
        let line = LabelLine::new(words, 11.0, Ink::Good).strong();
        let wide = text::width(&line.words, line.size, line.weight);
        let mut request = at_end(line, (x, y), down);
        // Text in another vessel would seem to belong to that.
        let own = |spot: &LabelPosition| {
            let label = spot.rect(wide, 11.0);
            let mut others = paper.covers.touching(label);
            others.all(|other| !other.overlaps(label) || other.holds(pt(x, y)))
        };
        request.spots.retain(own);
        paper.request(run, 1.0, request);
    }
}

/// Returns the label with the height at one end of the band.
fn at_end(line: LabelLine, at: (f64, f64), down: bool) -> LabelRequest {
    let (x, y) = at;
    let beside = |x: f64, across: Anchor| LabelPosition {
        at: pt(x, y),
        across,
        side: LabelSide::Beside,
    };
    let beyond = LabelPosition {
        at: pt(x, if down { y + 4.0 } else { y - 4.0 }),
        across: Anchor::Middle,
        side: if down {
            LabelSide::Below
        } else {
            LabelSide::Above
        },
    };
    LabelRequest {
        forms: vec![vec![line]],
        spots: vec![
            beside(x - 9.0, Anchor::End),
            beside(x + 9.0, Anchor::Start),
            beyond,
        ],
        rank: 97,
        clear: 1.0,
    }
}
