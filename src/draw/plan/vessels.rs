//! Vessels from above: wall, water, medium.

use super::outline::{Form, Outline};
use super::paper::Paper;
use crate::draw::shape::{Ink, Point, Shape, Stroke};
use crate::draw::touch::{Pick, Reach, called, outline};

/// The wall of a vessel, points.
const WALL: f64 = 2.2;

pub(super) fn draw(paper: &mut Paper<'_>) {
    let scene = paper.scene;
    for index in &scene.ground.order {
        let part = scene.layout.vessels.get(*index);
        let (Some(part), Some(one)) = (part, scene.ground.vessels.get(*index)) else {
            continue;
        };
        if !paper.sees(paper.rect(one).grown(8.0)) {
            continue;
        }
        let pick = Pick::Part(part.id.clone());
        let edge = outline(scene.attention(&pick), Stroke::new(Ink::Line, WALL));
        let inside = form(paper, one, one.form, (Some(Ink::Inside), Some(edge)));
        paper.add(Some(&part.id), inside);
        let reach = reach(paper, one);
        paper.touch(pick, reach, called(&part.name, &part.id).to_owned());
    }
}

/// A form of a vessel as a shape.
fn form(
    paper: &Paper<'_>,
    one: &Outline,
    form: Form,
    (fill, edge): (Option<Ink>, Option<Stroke>),
) -> Shape {
    match form {
        Form::Round { radius_m } => Shape::Circle {
            centre: paper.point(one.middle),
            radius: radius_m * paper.scale,
            fill,
            edge,
        },
        Form::Box { .. } => Shape::Area {
            corners: corners(paper, one, form),
            fill,
            edge,
        },
    }
}

fn corners(paper: &Paper<'_>, one: &Outline, form: Form) -> Vec<Point> {
    paper.points(&one.corners(form))
}

fn reach(paper: &Paper<'_>, one: &Outline) -> Reach {
    match one.form {
        Form::Round { radius_m } => Reach::Disc {
            centre: paper.point(one.middle),
            radius: radius_m * paper.scale,
        },
        Form::Box { .. } => Reach::Polygon(corners(paper, one, one.form)),
    }
}
