//! Vents at corners of runs and at joints: an open stub, drawn upright on the page.

use super::handles::is_looked_at;
use super::paper::PlanPage;
use super::pipes::PlanPipe;
use crate::draw::canvas::touch::{Attention, Pick, TouchArea, corner_name};
use crate::draw::page::shape::{Ink, Point};
use crate::draw::parts::symbols;
use crate::draw::parts::symbols::VENT_HEIGHT;
use crate::layout::Id;

/// Half width of the hit area of a vent, points.
const REACH: f64 = 4.5;

pub(super) fn draw(paper: &mut PlanPage<'_>, pipes: &[PlanPipe<'_>]) {
    if !paper.is_crowded() {
        joints(paper);
    }
    for pipe in pipes.iter().filter(|pipe| !pipe.far_off) {
        corners(paper, pipe);
    }
}

/// Draws the vents of joints; they have no touch target, since a joint is picked by its dot.
fn joints(paper: &mut PlanPage<'_>) {
    let scene = paper.scene;
    let joints = scene.layout.joints.iter().zip(&scene.positions.joints);
    for (part, place) in joints.filter(|(part, _)| part.vented) {
        let pick = Pick::Part(part.id.clone());
        let foot = paper.point(*place);
        let ink = ink(paper.scene.attention(&pick));
        vent(paper, &part.id, foot, ink);
    }
}

fn corners(paper: &mut PlanPage<'_>, pipe: &PlanPipe<'_>) {
    let run = pipe.run;
    let corners = run.route.iter().enumerate();
    for (index, _) in corners.filter(|(_, corner)| corner.vented) {
        let Some(place) = pipe.course.corner(index) else {
            continue;
        };
        let pick = Pick::Corner {
            run: run.id.clone(),
            index,
        };
        let attention = paper.scene.attention(&pick);
        let foot = paper.point(place);
        let Some(reach) = vent(paper, &run.id, foot, ink(attention)) else {
            continue;
        };
        // A hovered or selected run has a handle there that picks the same corner.
        if is_looked_at(paper, run, pipe.attention).is_none() {
            let name = corner_name(run, index, paper.scene.units);
            paper.touch(pick, reach, name);
        }
    }
}

fn ink(attention: Attention) -> Ink {
    match attention {
        Attention::None => Ink::Line,
        _ => Ink::Accent,
    }
}

/// Draws the stub and returns its hit area; `None` off the page.
fn vent(paper: &mut PlanPage<'_>, part: &Id, foot: Point, ink: Ink) -> Option<TouchArea> {
    let reach = TouchArea::Line {
        points: vec![foot, foot.moved(0.0, -VENT_HEIGHT)],
        half_width: REACH,
    };
    if !paper.sees(reach.bounds()) {
        return None;
    }
    for shape in symbols::vent(foot, VENT_HEIGHT, ink) {
        paper.add(Some(part), shape);
    }
    paper.placer.block(reach.bounds());
    Some(reach)
}
