//! Flow arrows and flows of runs, and the lengths of legs.

use super::paper::PlanPage;
use super::pipes::PlanPipe;
use crate::draw::canvas::labels::{LabelLine, LabelPosition, LabelRequest, LabelSide};
use crate::draw::canvas::touch::Attention;
use crate::draw::canvas::vessel_index::inside;
use crate::draw::page::shape::{Anchor, Ink, Point, Rect};
use crate::draw::parts::symbols;
use crate::draw::parts::symbols::on_leg;
use crate::draw::results::reports::NO_FLOW_M3_S;
use crate::units::{self, Quantity};

/// Smallest length of a leg with an arrow, with its flow and with its length, points.
const ARROW_LEG: f64 = 20.0;
const WORDS_LEG: f64 = 46.0;
const LENGTH_LEG: f64 = 26.0;
const FLOW_SIZE: f64 = 10.5;

pub(super) fn draw(paper: &mut PlanPage<'_>, pipes: &[PlanPipe<'_>]) {
    for pipe in pipes {
        arrow(paper, pipe);
        if pipe.attention == Attention::None {
            flow(paper, pipe);
        } else {
            lengths(paper, pipe);
        }
    }
}

/// Draws the flow direction as a small triangle on the longest visible leg, between its symbols.
fn arrow(paper: &mut PlanPage<'_>, pipe: &PlanPipe<'_>) {
    let flow_m3_s = pipe.report.map_or(0.0, |report| report.flow_m3_s);
    let Some((from, to)) = pipe.longest else {
        return;
    };
    if flow_m3_s.abs() < NO_FLOW_M3_S || from.distance(to) < ARROW_LEG {
        return;
    }
    let leg = if flow_m3_s < 0.0 {
        (to, from)
    } else {
        (from, to)
    };
    let size = (pipe.width * 0.5 + 2.4).clamp(3.6, 7.0);
    let places = [0.62, 0.5, 0.4, 0.75, 0.3, 0.85, 0.2, 0.93];
    let tips = places.map(|share| on_leg(leg.0, leg.1, share));
    let around = |tip: &Point| {
        let corners = symbols::triangle(*tip, leg, size);
        Rect::around(&corners)
    };
    let free = tips.iter().find(|tip| paper.is_kept_free(around(tip)));
    let Some(tip) = free.copied() else { return };
    let strength = paper.scene.strength();
    paper.keep(around(&tip));
    let arrow = symbols::arrow(tip, leg, size);
    paper.add_faint(Some(&pipe.run.id), strength, arrow);
}

/// Requests a label with the flow beside the longest leg.
fn flow(paper: &mut PlanPage<'_>, pipe: &PlanPipe<'_>) {
    let flow_m3_s = pipe.report.map_or(0.0, |report| report.flow_m3_s.abs());
    let Some((from, to)) = pipe.longest else {
        return;
    };
    let short = from.distance(to) < WORDS_LEG;
    if flow_m3_s < NO_FLOW_M3_S || short || paper.is_crowded() {
        return;
    }
    let words = units::write(Quantity::Flow, flow_m3_s, paper.scene.units);
    let strength = paper.scene.strength();
    let request = LabelRequest {
        forms: vec![vec![LabelLine::new(words, FLOW_SIZE, Ink::SoftText)]],
        spots: next_to(pipe, from, to),
        rank: 20,
        clear: 3.0,
    };
    paper.request(&pipe.run.id, strength, request);
}

/// Returns positions beside a leg, from its middle outwards.
fn next_to(pipe: &PlanPipe<'_>, from: Point, to: Point) -> Vec<LabelPosition> {
    let (ux, uy) = symbols::along(from, to);
    let off = pipe.width.max(2.0) / 2.0 + 4.0;
    let mut spots = Vec::new();
    for share in [0.5, 0.35, 0.65, 0.2, 0.8] {
        let middle = on_leg(from, to, share);
        for side in [1.0, -1.0] {
            let (nx, ny) = (uy * side, -ux * side);
            let at = middle.moved(nx * off, ny * off);
            // The text extends away from the leg.
            let across = match nx {
                nx if nx > 0.3 => Anchor::Start,
                nx if nx < -0.3 => Anchor::End,
                _ => Anchor::Middle,
            };
            let side = match ny {
                ny if ny > 0.3 => LabelSide::Below,
                ny if ny < -0.3 => LabelSide::Above,
                _ => LabelSide::Beside,
            };
            spots.push(LabelPosition { at, across, side });
        }
    }
    spots
}

/// Requests labels with the length of each leg and the flow of a run that is hovered or selected.
fn lengths(paper: &mut PlanPage<'_>, pipe: &PlanPipe<'_>) {
    let system = paper.scene.units;
    for leg in &pipe.course.legs {
        let (from, to) = (paper.point(leg.from), paper.point(leg.to));
        if from.distance(to) < LENGTH_LEG || inside(from, to, paper.shown()).is_none() {
            continue;
        }
        let words = units::write(Quantity::Length, leg.from.distance_m(leg.to), system);
        let request = LabelRequest {
            forms: vec![vec![LabelLine::new(words, FLOW_SIZE, Ink::Accent)]],
            spots: next_to(pipe, from, to),
            rank: 88,
            clear: 2.0,
        };
        paper.request(&pipe.run.id, 1.0, request);
    }
    let (Some(report), Some((from, to))) = (pipe.report, pipe.longest) else {
        return;
    };
    let flow = units::write(Quantity::Flow, report.flow_m3_s.abs(), system);
    let speed = units::write(Quantity::Velocity, report.velocity_m_s.abs(), system);
    let line = |words: String| vec![LabelLine::new(words, FLOW_SIZE, Ink::Accent).strong()];
    let request = LabelRequest {
        forms: vec![line(format!("{flow} · {speed}")), line(flow)],
        spots: next_to(pipe, from, to),
        rank: 86,
        clear: 2.0,
    };
    let strength = paper.scene.strength();
    paper.request(&pipe.run.id, strength, request);
}
