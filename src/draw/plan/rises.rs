//! Symbols for the vertical rises of runs.

use super::outline::apart_m;
use super::paper::PlanPage;
use super::pipes::PlanPipe;
use super::plan_run::Rise;
use crate::draw::canvas::labels::{LabelLine, LabelPosition, LabelRequest};
use crate::draw::canvas::touch::Attention;
use crate::draw::page::shape::{Ink, Rect, Shape, Stroke};
use crate::draw::results::reports::NO_FLOW_M3_S;
use crate::geometry::Corner;
use crate::units::{self, Quantity};

/// Scale from which all rises are marked, points per metre.
const LEAST_SCALE: f64 = 30.0;
const SIZE: f64 = 9.5;

/// Draws a small ring where a run rises or falls, with the height, in the direction of flow if there is any.
pub(super) fn draw(paper: &mut PlanPage<'_>, pipes: &[PlanPipe<'_>]) {
    let quiet = paper.scale() < LEAST_SCALE || paper.is_crowded();
    for pipe in pipes {
        if quiet && pipe.attention == Attention::None {
            continue;
        }
        for rise in &pipe.course.rises {
            if !is_hidden(pipe, rise.at) {
                mark(paper, pipe, rise);
            }
        }
    }
}

fn mark(paper: &mut PlanPage<'_>, pipe: &PlanPipe<'_>, rise: &Rise) {
    let centre = paper.point(rise.at);
    let radius = (pipe.width / 2.0 + 0.6).clamp(3.0, 9.0);
    let rect = Rect::between(centre, centre).grown(radius + 1.0);
    if !paper.sees(rect) {
        return;
    }
    let (ink, soft, rank) = match pipe.attention {
        Attention::None => (Ink::Line, Ink::SoftText, 16),
        _ => (Ink::Accent, Ink::Accent, 84),
    };
    let ring = Shape::Circle {
        centre,
        radius,
        fill: Some(Ink::Card),
        edge: Some(Stroke::new(ink, 1.2)),
    };
    paper.add(Some(&pipe.run.id), ring);
    paper.keep(rect);
    if !paper.shows(rect) {
        return;
    }
    let backward = pipe
        .report
        .is_some_and(|report| report.flow_m3_s < -NO_FLOW_M3_S);
    let word = if (rise.by_m > 0.0) != backward {
        "rise"
    } else {
        "drop"
    };
    let how_far = units::write(Quantity::Height, rise.by_m.abs(), paper.scene.units);
    let request = LabelRequest {
        forms: vec![vec![LabelLine::new(
            format!("{word} {how_far}"),
            SIZE,
            soft,
        )]],
        spots: LabelPosition::around(rect, 2.0),
        rank,
        clear: 1.5,
    };
    paper.request(&pipe.run.id, 1.0, request);
}

/// Returns whether the run is under a vessel at this point.
fn is_hidden(pipe: &PlanPipe<'_>, at: Corner) -> bool {
    let course = pipe.course;
    let leg = course.legs.iter().find(|leg| apart_m(leg.from, at) < 1e-9);
    let along = leg.map(|leg| leg.start_m);
    along.is_some_and(|along| {
        let mut hidden = course.hidden.iter();
        hidden.any(|(from, to)| (*from..=*to).contains(&along))
    })
}
