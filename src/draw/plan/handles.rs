//! Corners of hovered and selected runs, with handles to drag them.

use super::outline::apart_m;
use super::paper::PlanPage;
use super::pipes::PlanPipe;
use crate::draw::canvas::touch::{Attention, Pick, TouchArea, corner_name};
use crate::draw::page::shape::{Ink, Rect, Shape, Stroke};
use crate::geometry::Corner;
use crate::layout::Run;

/// Half the size of a handle, and the radius of its hit area, points.
const HANDLE: f64 = 4.0;
const REACH: f64 = 6.5;

pub(super) fn draw(paper: &mut PlanPage<'_>, pipes: &[PlanPipe<'_>]) {
    for pipe in pipes {
        let corners = is_looked_at(paper, pipe.run, pipe.attention);
        let Some(attention) = corners else { continue };
        for index in 0..pipe.course.corners() {
            corner(paper, pipe, index, attention);
        }
    }
}

/// Returns the attention of a run if it is selected or hovered itself, or one of its corners or ends is.
pub(super) fn is_looked_at(
    paper: &PlanPage<'_>,
    run: &Run,
    itself: Attention,
) -> Option<Attention> {
    let of_run = |pick: &Pick| {
        matches!(pick, Pick::Corner { .. } | Pick::Crest { .. }) && pick.part() == &run.id
    };
    let scene = paper.scene;
    if itself == Attention::Selected || scene.selected.iter().any(of_run) {
        return Some(Attention::Selected);
    }
    let hovered = itself == Attention::Hovered || scene.hovered.is_some_and(of_run);
    hovered.then_some(Attention::Hovered)
}

/// Returns whether a corner is right above or below an end of its run, which has a symbol.
fn is_at_an_end(pipe: &PlanPipe<'_>, place: Corner) -> bool {
    let ends = [pipe.course.points.first(), pipe.course.points.last()];
    let mut ends = ends.into_iter().flatten();
    ends.any(|end| apart_m(*end, place) < 1e-9)
}

fn corner(paper: &mut PlanPage<'_>, pipe: &PlanPipe<'_>, index: usize, of_run: Attention) {
    let Some(place) = pipe.course.corner(index) else {
        return;
    };
    let centre = paper.point(place);
    if !paper.sees(Rect::between(centre, centre).grown(REACH)) {
        return;
    }
    let pick = Pick::Corner {
        run: pipe.run.id.clone(),
        index,
    };
    if of_run == Attention::Selected && !is_at_an_end(pipe, place) {
        let (half, fill) = match paper.scene.attention(&pick) {
            Attention::Selected => (HANDLE + 1.5, Ink::Accent),
            Attention::Hovered => (HANDLE + 1.5, Ink::Card),
            Attention::None => (HANDLE, Ink::Card),
        };
        let handle = Shape::Box {
            rect: Rect::between(centre, centre).grown(half),
            radius: 1.0,
            fill: Some(fill),
            edge: Some(Stroke::new(Ink::Accent, 1.6)),
        };
        paper.add(Some(&pipe.run.id), handle);
        paper.keep(Rect::between(centre, centre).grown(half + 1.0));
    }
    let reach = TouchArea::Spot {
        centre,
        radius: REACH,
    };
    let name = corner_name(pipe.run, index, paper.scene.units);
    paper.touch(pick, reach, name);
}
