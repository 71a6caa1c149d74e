//! Vents at corners of runs and at joints: an open stub, up to its top where that is given.

use super::paper::SectionPage;
use super::pipes::SectionPipe;
use crate::draw::canvas::touch::{Attention, Pick, TouchArea, corner_name};
use crate::draw::page::shape::{Ink, Point};
use crate::draw::parts::symbols;
use crate::draw::parts::symbols::{LEAST_VENT, VENT_HEIGHT};

/// Half width of the hit area of a vent, points.
const REACH: f64 = 4.5;

pub(super) fn draw(paper: &mut SectionPage<'_>, pipes: &[SectionPipe<'_>]) {
    let scene = paper.scene;
    let joints = scene
        .layout
        .joints
        .iter()
        .zip(&scene.positions.stand.joints);
    for (part, place) in joints.filter(|(part, _)| part.vented) {
        // A joint is picked by its dot, so its vent has no touch target.
        vent(
            paper,
            &Pick::Part(part.id.clone()),
            paper.point(*place),
            part.vent_top_m,
        );
    }
    for pipe in pipes {
        if let Some(way) = scene.positions.ways.get(pipe.index) {
            corners(paper, pipe, &way.corners);
        }
    }
}

/// Draws the vents of a run; `shares`: the position of each corner along it.
fn corners(paper: &mut SectionPage<'_>, pipe: &SectionPipe<'_>, shares: &[f64]) {
    let corners = pipe.run.route.iter().zip(shares).enumerate();
    for (index, (corner, share)) in corners.filter(|(_, (corner, _))| corner.vented) {
        let Some((foot, _)) = pipe.at_share(*share) else {
            continue;
        };
        let pick = Pick::Corner {
            run: pipe.run.id.clone(),
            index,
        };
        if let Some(reach) = vent(paper, &pick, foot, corner.vent_top_m) {
            let name = corner_name(pipe.run, index, paper.scene.units);
            paper.touch(pick, reach, name);
        }
    }
}

/// Draws the stub and returns its hit area; `None` off the page.
fn vent(
    paper: &mut SectionPage<'_>,
    pick: &Pick,
    foot: Point,
    top_m: Option<f64>,
) -> Option<TouchArea> {
    let height = top_m.map_or(VENT_HEIGHT, |top_m| {
        (foot.y - paper.scene.view.y(top_m)).max(LEAST_VENT)
    });
    let reach = TouchArea::Line {
        points: vec![foot, foot.moved(0.0, -height)],
        half_width: REACH,
    };
    if !paper.sees(reach.bounds()) {
        return None;
    }
    let ink = match paper.scene.attention(pick) {
        Attention::None => Ink::Line,
        _ => Ink::Accent,
    };
    for shape in symbols::vent(foot, height, ink) {
        paper.add(Some(pick.part()), shape);
    }
    paper.placer.block(reach.bounds());
    Some(reach)
}
