//! Joints, drawn as dots.

use super::names;
use super::paper::PlanPage;
use crate::draw::canvas::labels::{LabelLine, LabelPosition, LabelRequest};
use crate::draw::canvas::touch::{Attention, Pick, TouchArea, called, outline};
use crate::draw::page::shape::{Ink, Point, Rect, Shape, Stroke};
use crate::layout::Joint;

/// Radius of the dot on a normal and on a crowded page, points.
const DOT: f64 = 3.6;
const SMALL: f64 = 2.4;
const SIZE: f64 = 10.5;

pub(super) fn draw(paper: &mut PlanPage<'_>) {
    let scene = paper.scene;
    for (part, place) in scene.layout.joints.iter().zip(&scene.positions.joints) {
        let centre = paper.point(*place);
        if paper.sees(around(centre)) {
            joint(paper, part, centre);
        }
    }
}

fn around(centre: Point) -> Rect {
    Rect::between(centre, centre).grown(5.0)
}

fn joint(paper: &mut PlanPage<'_>, part: &Joint, centre: Point) {
    let crowded = paper.is_crowded();
    let pick = Pick::Part(part.id.clone());
    let attention = paper.scene.attention(&pick);
    let dot = Shape::Circle {
        centre,
        radius: if crowded { SMALL } else { DOT },
        fill: Some(Ink::Card),
        edge: Some(outline(attention, Stroke::new(Ink::Line, 1.4))),
    };
    paper.add(Some(&part.id), dot);
    paper.keep(around(centre));
    let reach = TouchArea::Spot {
        centre,
        radius: 6.0,
    };
    let name = names::joint(part, paper.scene.units);
    paper.touch(pick, reach, name);
    if !paper.shows(around(centre)) {
        return;
    }
    let (ink, rank) = match attention {
        Attention::None if crowded => return,
        Attention::None => (Ink::SoftText, 30),
        _ => (Ink::Accent, 90),
    };
    let words = called(&part.name, &part.id).to_owned();
    let spots = [3.0, 8.0].into_iter();
    let request = LabelRequest {
        forms: vec![vec![LabelLine::new(words, SIZE, ink)]],
        spots: spots
            .flat_map(|gap| LabelPosition::around(around(centre), gap))
            .collect(),
        rank,
        clear: 2.0,
    };
    paper.request(&part.id, 1.0, request);
}
