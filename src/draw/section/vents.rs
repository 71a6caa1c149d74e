//! Vents at corners of runs and at joints: an open stub, up to its top where that is given.

use super::paper::Paper;
use super::pipes::Pipe;
use crate::draw::shape::{Ink, Point};
use crate::draw::signs::{self, LEAST_VENT, VENT_HEIGHT};
use crate::draw::touch::{Attention, Pick, Reach, vent_name};

/// How near a vent it can be touched, points.
const REACH: f64 = 4.5;

pub(super) fn draw(paper: &mut Paper<'_>, pipes: &[Pipe<'_>]) {
    let scene = paper.scene;
    let joints = scene.layout.joints.iter().zip(&scene.plan.stand.joints);
    for (part, place) in joints.filter(|(part, _)| part.vented) {
        let pick = Pick::Part(part.id.clone());
        let name = vent_name(scene.layout.name_of(&part.id), part.vent_top_m, scene.units);
        vent(paper, (pick, name), (paper.point(*place), part.vent_top_m));
    }
    for pipe in pipes {
        let Some(way) = scene.plan.ways.get(pipe.index) else {
            continue;
        };
        let corners = pipe.run.route.iter().zip(&way.corners).enumerate();
        for (index, (corner, share)) in corners.filter(|(_, (corner, _))| corner.vented) {
            let Some((foot, _)) = pipe.at_share(*share) else {
                continue;
            };
            let pick = Pick::Corner {
                run: pipe.run.id.clone(),
                index,
            };
            let of = format!(
                "corner {} of {}",
                index + 1,
                scene.layout.name_of(&pipe.run.id)
            );
            let name = vent_name(&of, corner.vent_top_m, scene.units);
            vent(paper, (pick, name), (foot, corner.vent_top_m));
        }
    }
}

fn vent(paper: &mut Paper<'_>, (pick, name): (Pick, String), (foot, top_m): (Point, Option<f64>)) {
    let height = top_m.map_or(VENT_HEIGHT, |top_m| {
        (foot.y - paper.scene.view.y(top_m)).max(LEAST_VENT)
    });
    let reach = Reach::Line {
        points: vec![foot, foot.moved(0.0, -height)],
        half_width: REACH,
    };
    if !paper.sees(reach.bounds()) {
        return;
    }
    let ink = match paper.scene.attention(&pick) {
        Attention::None => Ink::Line,
        _ => Ink::Accent,
    };
    let part = pick.part().clone();
    for shape in signs::vent(foot, height, ink) {
        paper.add(Some(&part), shape);
    }
    paper.placer.block(reach.bounds());
    paper.touch(pick, reach, name);
}
