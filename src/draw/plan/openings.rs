//! Openings: a symbol of each at the size of its bore, with a touch target.

use super::mouths::PlanMouth;
use super::names;
use super::outline::Outline;
use super::paper::PlanPage;
use super::pipes::PlanPipe;
use crate::draw::canvas::touch::{Attention, Pick, TouchArea};
use crate::draw::page::shape::{Dash, Ink, Point, Rect, Stroke};
use crate::draw::parts::symbols;
use crate::geometry::Corner;
use crate::layout::{Opening, RunEnd};

/// Smallest and largest radius of a symbol, points.
const LEAST: f64 = 3.2;
const MOST: f64 = 60.0;
/// Size of a vessel below which its openings are left out, points.
const LEAST_VESSEL: f64 = 26.0;
/// Smallest and largest radius of the hit area of an opening, points.
const HANDLE: f64 = 6.0;
const MOST_REACH: f64 = 16.0;

/// Opening of an end at a fixed level for which none is given.
static DEEP: Opening = Opening::Submerged {
    lip_m: None,
    bore_m: None,
};

pub(super) fn draw(paper: &mut PlanPage<'_>, pipes: &[PlanPipe<'_>]) {
    for pipe in pipes {
        for which in RunEnd::BOTH {
            end(paper, pipe, which);
        }
    }
}

fn end(paper: &mut PlanPage<'_>, pipe: &PlanPipe<'_>, which: RunEnd) {
    let run = pipe.run;
    let centre = paper.point(pipe.course.opening(which));
    if !paper.sees(Rect::between(centre, centre).grown(MOST)) {
        return;
    }
    let Some(opening) = &run.end(which).opening else {
        if pipe.course.at_fixed[usize::from(which == RunEnd::To)] {
            under_water(paper, pipe, which, centre);
        }
        return;
    };
    let pick = Pick::Crest {
        run: run.id.clone(),
        end: which,
    };
    let attention = paper.scene.attention(&pick);
    let looked_at = attention != Attention::None || pipe.attention != Attention::None;
    if !looked_at && is_small(paper, pipe, which) {
        return;
    }
    let ink = if looked_at { Ink::Accent } else { Ink::Line };
    let mouth = mouth(paper, pipe, which, opening, ink);
    // Below the symbol, which stays visible.
    if attention == Attention::Selected {
        let stroke = Stroke::new(Ink::Accent, 2.2);
        mouth.ring(paper, mouth.half.max(HANDLE) + 1.5, stroke);
    }
    mouth.draw(paper);
    if run.end(which).screen.is_some() {
        let bars = Stroke::new(mouth.ink, 1.2).with(Dash::Dashed);
        mouth.ring(paper, mouth.half + 3.4, bars);
    }
    let radius = mouth.half.max(HANDLE);
    paper.keep(Rect::between(centre, centre).grown(radius));
    let radius = radius.min(MOST_REACH);
    let reach = TouchArea::Spot { centre, radius };
    let name = names::crest(run, which, paper.scene.units);
    paper.touch(pick, reach, name);
}

/// Returns the vessel at an end.
fn vessel<'s>(paper: &PlanPage<'s>, pipe: &PlanPipe<'_>, which: RunEnd) -> Option<&'s Outline> {
    let index = pipe.course.vessels[usize::from(which == RunEnd::To)]?;
    paper.scene.positions.vessels.get(index)
}

/// Returns whether the vessel is so small that its openings would hide it.
fn is_small(paper: &PlanPage<'_>, pipe: &PlanPipe<'_>, which: RunEnd) -> bool {
    vessel(paper, pipe, which).is_some_and(|one| {
        let rect = paper.rect(one);
        rect.width().min(rect.height()) < LEAST_VESSEL
    })
}

fn mouth<'a>(
    paper: &PlanPage<'_>,
    pipe: &PlanPipe<'a>,
    which: RunEnd,
    opening: &'a Opening,
    ink: Ink,
) -> PlanMouth<'a> {
    let place = pipe.course.opening(which);
    let out = direction(paper, pipe, which);
    let bore_m = opening.bore_m().unwrap_or(pipe.course.bore_m);
    let wall = vessel(paper, pipe, which).map_or((-out.1, out.0), |one| {
        let (dx, dy) = one.along_wall(place);
        (dx, -dy)
    });
    PlanMouth {
        id: &pipe.run.id,
        opening,
        centre: paper.point(place),
        out,
        wall,
        half: (bore_m * paper.scale() / 2.0).clamp(LEAST, MOST),
        ink,
        which,
    }
}

/// Draws an end at a fixed level without an opening: it is under water and has no setting.
fn under_water(paper: &mut PlanPage<'_>, pipe: &PlanPipe<'_>, which: RunEnd, centre: Point) {
    let ink = match pipe.attention {
        Attention::None => Ink::Line,
        _ => Ink::Accent,
    };
    mouth(paper, pipe, which, &DEEP, ink).arrow(paper);
    paper.keep(Rect::between(centre, centre).grown(HANDLE));
}

/// Returns the unit vector out of the pipe at an end, on the page; to the right if the run has no length in the plan.
fn direction(paper: &PlanPage<'_>, pipe: &PlanPipe<'_>, which: RunEnd) -> (f64, f64) {
    let legs = &pipe.course.legs;
    let leg: Option<(Corner, Corner)> = match which {
        RunEnd::From => legs.first().map(|leg| (leg.to, leg.from)),
        RunEnd::To => legs.last().map(|leg| (leg.from, leg.to)),
    };
    match leg {
        Some((from, to)) => symbols::along(paper.point(from), paper.point(to)),
        None => (1.0, 0.0),
    }
}
