//! Grips on the rim and floor of a selected vessel, which set their heights.

use super::paper::SectionPage;
use crate::draw::canvas::labels;
use crate::draw::canvas::labels::{LabelLine, LabelRequest};
use crate::draw::canvas::touch::{Attention, Pick, TouchArea, called};
use crate::draw::page::shape::{Ink, Point, Rect, Shape, Stroke};
use crate::draw::page::view::at;
use crate::units::{self, Quantity};

/// Half the size of a grip, points.
const HALF: f64 = 5.0;

pub(super) fn draw(paper: &mut SectionPage<'_>) {
    let scene = paper.scene;
    // With several items selected no heights are set, and grips would only hide them.
    if scene.selected.len() != 1 {
        return;
    }
    let parts = scene
        .layout
        .vessels
        .iter()
        .zip(&scene.positions.stand.vessels);
    for (part, standing) in parts {
        let picks = [Pick::Rim(part.id.clone()), Pick::Floor(part.id.clone())];
        let looked_at = |pick: &Pick| scene.attention(pick) == Attention::Selected;
        let whole = looked_at(&Pick::Part(part.id.clone()));
        if !(whole || picks.iter().any(looked_at)) {
            continue;
        }
        let heights = [part.rim_m, part.floor_m];
        let name = called(&part.name, &part.id);
        let words = [format!("Rim of {name}"), format!("Floor of {name}")];
        for ((pick, height_m), words) in picks.into_iter().zip(heights).zip(words) {
            let half_m = standing.half_width_m(height_m.clamp(standing.floor_m, standing.rim_m));
            let place = at(standing.along_m - half_m, height_m);
            grip(paper, pick, words, paper.point(place), height_m);
        }
    }
}

fn grip(paper: &mut SectionPage<'_>, pick: Pick, words: String, centre: Point, height_m: f64) {
    let rect = Rect::between(centre, centre).grown(HALF);
    if !paper.sees(rect) {
        return;
    }
    let attention = paper.scene.attention(&pick);
    let fill = match attention {
        Attention::Selected => Ink::Accent,
        _ => Ink::Card,
    };
    let id = pick.part().clone();
    paper.add(
        Some(&id),
        Shape::Box {
            rect,
            radius: 2.0,
            fill: Some(fill),
            edge: Some(Stroke::new(Ink::Accent, 1.6)),
        },
    );
    paper.keep(rect.grown(1.0));
    paper.touch(
        pick,
        TouchArea::Spot {
            centre,
            radius: HALF + 2.0,
        },
        words,
    );
    if !paper.shows(rect) {
        return;
    }
    let number = units::write(Quantity::Height, height_m, paper.scene.units);
    let request = LabelRequest {
        forms: vec![vec![LabelLine::new(number, 11.5, Ink::Accent).strong()]],
        spots: labels::LabelPosition::around(rect, 7.0),
        rank: 96,
        clear: 3.0,
    };
    paper.request(&id, 1.0, request);
}
