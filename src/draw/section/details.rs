//! Details at the ends of runs: notches in walls, screens, the holes of siphon breaks.

use super::paper::SectionPage;
use super::run_end_points::{Connection, RunEndPoint};
use crate::draw::page::shape::{Dash, Ink, Point, Rect, Shape, Stroke, pt};
use crate::draw::page::view::at;
use crate::layout::{Id, NotchShape, Opening, Pipe, Run, RunEnd, Screen};

/// Width of the gap that a notch leaves in a wall, and of the plate in it, points.
const GAP: f64 = 4.0;
const PLATE: f64 = 1.2;
/// Half the width of the crest of a notch, points.
const CREST: f64 = 5.0;
/// Distance from an opening to the screen before it, and half the height of the screen, points.
const BEFORE: f64 = 13.0;
const SCREEN: f64 = 13.0;
/// Height of a guard above the lip it is on, points.
const ON_LIP: f64 = 2.5;
/// Radius of the hole of a siphon break, points.
const HOLE: f64 = 2.4;

pub(super) fn draw(paper: &mut SectionPage<'_>) {
    let scene = paper.scene;
    for (run, way) in scene.layout.runs.iter().zip(&scene.positions.ways) {
        for (which, spot) in RunEnd::BOTH.into_iter().zip(&way.ends) {
            end(paper, run, which, spot);
        }
    }
}

fn end(paper: &mut SectionPage<'_>, run: &Run, which: RunEnd, spot: &RunEndPoint) {
    let centre = paper.point(spot.at);
    if !paper.sees(Rect::between(centre, centre).grown(40.0)) {
        return;
    }
    let drawn = run.end(which);
    // Without a pipe, the notch at the other end is in this wall too.
    let other = &run.end(which.other()).opening;
    let through = other
        .as_ref()
        .filter(|_| run.pipe == Pipe::Open && spot.meets == Connection::Wall);
    if let Some(Opening::Notch { shape, .. }) = drawn.opening.as_ref().or(through) {
        notch(paper, &run.id, spot, centre, shape);
    }
    if let Some(given) = &drawn.screen {
        screen(paper, &run.id, spot, centre, given);
    }
    if let Some(given) = run.siphon_break.filter(|given| given.near == which) {
        hole(paper, &run.id, spot, given.height_m);
    }
}

/// Draws the wall open from the rim down to the crest; the crest of a vee is narrower.
fn notch(
    paper: &mut SectionPage<'_>,
    id: &Id,
    spot: &RunEndPoint,
    centre: Point,
    shape: &NotchShape,
) {
    let stand = &paper.scene.positions.stand.vessels;
    let rim_m = spot.vessel.and_then(|index| stand.get(index));
    let Some(rim_m) = rim_m
        .map(|one| one.rim_m)
        .filter(|rim_m| *rim_m > spot.at.z_m)
    else {
        return;
    };
    let top = paper.point(at(spot.at.along_m, rim_m));
    let cut = vec![centre, top];
    paper.line(Some(id), cut.clone(), Stroke::new(Ink::Inside, GAP));
    let plate = Stroke::new(Ink::FaintLine, PLATE).with(Dash::Dashed);
    paper.line(Some(id), cut, plate);
    let half = match shape {
        NotchShape::Rectangular { .. } => CREST,
        NotchShape::Vee { .. } => CREST / 2.0,
    };
    let crest = vec![centre.moved(-half, 0.0), centre.moved(half, 0.0)];
    paper.line(Some(id), crest, Stroke::new(Ink::Line, 1.6));
}

/// Draws a screen as a dashed line on the water side of the opening, or on both sides if the opening stands in the
/// water. On the lip it is horizontal; a cage reaches from its foot to its top and has a lid.
fn screen(paper: &mut SectionPage<'_>, id: &Id, spot: &RunEndPoint, centre: Point, given: &Screen) {
    let stroke = Stroke::new(Ink::Line, 1.4).with(Dash::Dashed);
    if given.on_the_lip {
        let bars = vec![
            centre.moved(-BEFORE, -ON_LIP),
            centre.moved(BEFORE, -ON_LIP),
        ];
        paper.line(Some(id), bars, stroke);
        return;
    }
    let (mut top, mut foot) = (centre.y - SCREEN, centre.y + SCREEN);
    let cage = given.foot_m.zip(given.height_m);
    if let Some((foot_m, height_m)) = cage {
        foot = paper.point(at(spot.at.along_m, foot_m)).y;
        top = paper.point(at(spot.at.along_m, foot_m + height_m)).y;
    }
    let before = match spot.meets {
        Connection::Wall | Connection::LevelMouth | Connection::Joint => vec![-spot.side * BEFORE],
        _ => vec![-BEFORE, BEFORE],
    };
    for aside in &before {
        let x = centre.x + aside;
        paper.line(Some(id), vec![pt(x, top), pt(x, foot)], stroke);
    }
    if cage.is_some() {
        let far = before.iter().copied().fold(0.0, f64::max);
        let near = before.iter().copied().fold(0.0, f64::min);
        let lid = vec![pt(centre.x + near, top), pt(centre.x + far, top)];
        paper.line(Some(id), lid, Stroke::new(Ink::Line, 1.4));
    }
}

/// Draws a small ring on the run at the height of the hole.
fn hole(paper: &mut SectionPage<'_>, id: &Id, spot: &RunEndPoint, height_m: f64) {
    let ring = Shape::Circle {
        centre: paper.point(at(spot.at.along_m, height_m)),
        radius: HOLE,
        fill: Some(Ink::Card),
        edge: Some(Stroke::new(Ink::Line, 1.2)),
    };
    paper.add(Some(id), ring);
}
