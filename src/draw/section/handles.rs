//! Crests: a lip where each is drilled or cut, with a handle to drag it by.

use super::paper::Paper;
use super::plan::settable;
use super::spots::{Meets, Spot};
use crate::draw::labels::{self, Line, Wish};
use crate::draw::shape::{Ink, Rect, Shape, Stroke};
use crate::draw::text::begun;
use crate::draw::touch::called;
use crate::draw::touch::{Attention, Pick, Reach};
use crate::finding::Severity;
use crate::layout::{Opening, RunEnd};
use crate::units::{self, Quantity};

/// The handle of a crest, points.
const HANDLE: f64 = 4.5;
/// Half the lip drawn under it, points.
const LIP: f64 = 9.0;

pub(super) fn draw(paper: &mut Paper<'_>) {
    let scene = paper.scene;
    for (run, end, spot) in settable(scene.plan) {
        let end = if end == 0 { RunEnd::From } else { RunEnd::To };
        handle(paper, run, end, spot);
    }
}

fn handle(paper: &mut Paper<'_>, run: usize, end: RunEnd, spot: &Spot) {
    let scene = paper.scene;
    let Some(part) = scene.layout.runs.get(run) else {
        return;
    };
    let centre = paper.point(spot.at);
    let rect = Rect::between(centre, centre).grown(HANDLE + 2.0);
    if !paper.sees(rect) {
        return;
    }
    let pick = Pick::Crest {
        run: part.id.clone(),
        end,
    };
    let attention = scene.attention(&pick);
    let blamed = blamed(paper, run).filter(|_| end == RunEnd::From);
    let plain = attention == Attention::None && blamed.is_none();
    let quiet = plain && (lets_in(spot, end) || paper.is_crowded());
    let ink = match (attention, blamed) {
        (Attention::None, Some(ink)) => ink,
        (Attention::None, None) => Ink::Line,
        _ => Ink::Accent,
    };
    let lip = vec![centre.moved(-LIP, 0.0), centre.moved(LIP, 0.0)];
    if !quiet {
        paper.line(Some(&part.id), lip, Stroke::new(ink, 1.4));
    }
    knob(paper, &part.id, (centre, quiet), (attention, ink));
    let opening = part.end(end).opening.as_ref();
    let what = opening.map_or("lip", Opening::height_word);
    let name = format!("{} of {}", begun(what), called(&part.name, &part.id));
    let reach = Reach::Spot {
        centre,
        radius: HANDLE + 2.0,
    };
    paper.touch(pick, reach, name);
    if attention != Attention::None || blamed.is_some() {
        let number = units::write(Quantity::Height, spot.at.z_m, scene.units);
        let words = format!("{} {number}", what);
        label(paper, &part.id, (centre, rect), (words, ink, attention));
    }
}

fn knob(
    paper: &mut Paper<'_>,
    id: &crate::layout::Id,
    (centre, quiet): (crate::draw::shape::Point, bool),
    (attention, ink): (Attention, Ink),
) {
    let (radius, fill) = match attention {
        Attention::Selected => (HANDLE + 1.5, Ink::Accent),
        Attention::Hovered => (HANDLE + 1.5, Ink::Card),
        Attention::None if quiet => return,
        Attention::None => (HANDLE, Ink::Card),
    };
    let knob = Shape::Circle {
        centre,
        radius,
        fill: Some(fill),
        edge: Some(Stroke::new(ink, 1.6)),
    };
    paper.add(Some(id), knob);
    paper.keep(Rect::between(centre, centre).grown(HANDLE + 2.0));
}

fn label(
    paper: &mut Paper<'_>,
    id: &crate::layout::Id,
    (centre, rect): (crate::draw::shape::Point, Rect),
    (words, ink, attention): (String, Ink, Attention),
) {
    let mut spots = labels::Spot::around(rect, 8.0);
    // Further off where it is crowded.
    spots.extend(labels::Spot::around(
        Rect::between(centre, centre).grown(26.0),
        8.0,
    ));
    spots.extend(labels::Spot::around(
        Rect::between(centre, centre).grown(60.0),
        8.0,
    ));
    let wish = Wish {
        forms: vec![vec![Line::new(words, 12.0, ink).strong()]],
        spots,
        rank: 100,
        clear: 5.0,
    };
    if attention == Attention::None {
        paper.wish(
            id,
            1.0,
            Wish {
                rank: 80,
                clear: 2.0,
                ..wish
            },
        );
    } else {
        paper.wish_on_card(id, wish);
    }
}

/// An end that water comes in by: its height matters less.
fn lets_in(spot: &Spot, end: RunEnd) -> bool {
    let mouth = matches!(
        spot.meets,
        Meets::DownMouth | Meets::LevelMouth | Meets::UpMouth
    );
    mouth || (end == RunEnd::To && spot.meets == Meets::Wall)
}

/// The ink of the worst finding that names this run second: the one to blame.
fn blamed(paper: &Paper<'_>, run: usize) -> Option<Ink> {
    let id = &paper.scene.layout.runs.get(run)?.id;
    let worst = paper.reports.blamed(id)?;
    match worst {
        Severity::Problem => Some(Ink::Problem),
        Severity::Warning => Some(Ink::Warning),
        Severity::Note => None,
    }
}
