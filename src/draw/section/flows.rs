//! Flow of a run and its direction.

use super::paper::SectionPage;
use super::pipes::{SectionPipe, WALL};
use crate::draw::canvas::labels::{LabelLine, LabelPosition, LabelRequest, LabelSide};
use crate::draw::canvas::touch::Attention;
use crate::draw::page::shape::{Anchor, Ink, Point, Shape, Stroke, Weight};
use crate::draw::page::text;
use crate::draw::parts::symbols;
use crate::draw::parts::symbols::on_leg;
use crate::draw::results::reports::by_how_much;
use crate::draw::results::reports::{NO_FLOW_M3_S, filled, is_blocked};
use crate::units::{self, Quantity};

/// Smallest length of a leg with an arrow, points.
const ARROW_LEG: f64 = 26.0;
const FLOW_SIZE: f64 = 10.5;

/// Draws the flow direction as a small triangle on the longest visible leg.
pub(super) fn arrows(paper: &mut SectionPage<'_>, pipe: &SectionPipe<'_>) {
    let Some(report) = pipe.report else { return };
    if report.flow_m3_s.abs() < NO_FLOW_M3_S {
        return;
    }
    let Some((from, to)) = pipe.longest else {
        return;
    };
    let (from, to) = if report.flow_m3_s < 0.0 {
        (to, from)
    } else {
        (from, to)
    };
    if from.distance(to) < ARROW_LEG {
        return;
    }
    let size = (pipe.width * 0.5 + 2.6).min(7.0);
    let tip = on_leg(from, to, 0.62);
    let strength = paper.scene.strength();
    let arrow = symbols::arrow(tip, (from, to), size);
    paper.add_faint(Some(&pipe.run.id), strength, arrow);
}

/// Marks a blocked run with a bar through it and the word.
fn shut(paper: &mut SectionPage<'_>, pipe: &SectionPipe<'_>, leg: (Point, Point)) {
    let (from, to) = leg;
    let (ux, uy) = symbols::along(from, to);
    let middle = on_leg(from, to, 0.5);
    let half = pipe.width / 2.0 + 5.0;
    let ends = [-half, half].map(|by| middle.moved(-uy * by, ux * by));
    let strength = paper.scene.strength();
    let bar = Shape::Line {
        points: ends.to_vec(),
        stroke: Stroke::new(Ink::Problem, 3.5),
    };
    paper.add_faint(Some(&pipe.run.id), strength, bar);
    let request = LabelRequest {
        forms: vec![vec![LabelLine::new("shut", FLOW_SIZE, Ink::Problem)]],
        spots: flow_positions(paper, pipe, (from, to), "shut"),
        rank: 92,
        clear: 3.0,
    };
    paper.request(&pipe.run.id, strength, request);
}

/// Requests a label with the flow beside the longest leg.
pub(super) fn flow(paper: &mut SectionPage<'_>, pipe: &SectionPipe<'_>) {
    let Some(report) = pipe.report else { return };
    let Some((from, to)) = pipe.longest else {
        return;
    };
    if is_blocked(paper.scene.water, pipe.run, report) {
        return shut(paper, pipe, (from, to));
    }
    let looked_at = pipe.attention != Attention::None;
    let crowded = paper.is_crowded();
    if (report.flow_m3_s.abs() < NO_FLOW_M3_S || crowded) && !looked_at {
        return;
    }
    let system = paper.scene.units;
    let flow = units::write(Quantity::Flow, report.flow_m3_s.abs(), system);
    let speed = units::write(Quantity::Velocity, report.velocity_m_s.abs(), system);
    let ink = if looked_at {
        Ink::Accent
    } else {
        Ink::SoftText
    };
    let words = |words: String| vec![LabelLine::new(words, FLOW_SIZE, ink)];
    let mut forms = vec![words(flow.clone())];
    if let Some(was) = paper.reports.other_flow_m3_s(&pipe.run.id) {
        let by = report.flow_m3_s.abs() - was.abs();
        let by = by_how_much(Quantity::Flow, by, system);
        forms.insert(0, words(format!("{flow} ({by})")));
    }
    if looked_at {
        let filled = filled(report.regime);
        forms.insert(0, words(format!("{flow} · {speed}")));
        forms.insert(0, words(format!("{flow} · {speed} · {filled}")));
    }
    let spots = flow_positions(paper, pipe, (from, to), &flow);
    let rank = if looked_at { 90 } else { 20 };
    let strength = paper.scene.strength();
    let request = LabelRequest {
        forms,
        spots,
        rank,
        clear: 3.0,
    };
    paper.request(&pipe.run.id, strength, request);
}

/// Returns positions beside the longest leg, from its middle outwards, but not across the wall of a vessel.
fn flow_positions(
    paper: &SectionPage<'_>,
    pipe: &SectionPipe<'_>,
    leg: (Point, Point),
    words: &str,
) -> Vec<LabelPosition> {
    let (from, to) = leg;
    let level = (from.x - to.x).abs() >= (from.y - to.y).abs();
    // Beside a sloping pipe the text is further away, by the fall over half the width of the text.
    let slope = (to.y - from.y).abs() / (to.x - from.x).abs().max(1.0);
    let half = text::width(words, FLOW_SIZE, Weight::Regular) / 2.0;
    let slant = if level { slope * half } else { 0.0 };
    let off = pipe.width / 2.0 + WALL + 5.0 + slant;
    let mut spots = Vec::new();
    for share in [0.5, 0.35, 0.65, 0.2, 0.8] {
        let middle = on_leg(from, to, share);
        let spot = |dx: f64, dy: f64, across: Anchor, side: LabelSide| LabelPosition {
            at: middle.moved(dx, dy),
            across,
            side,
        };
        if level {
            spots.push(spot(0.0, -off, Anchor::Middle, LabelSide::Above));
            spots.push(spot(0.0, off, Anchor::Middle, LabelSide::Below));
        } else {
            spots.push(spot(off, 0.0, Anchor::Start, LabelSide::Beside));
            spots.push(spot(-off, 0.0, Anchor::End, LabelSide::Beside));
        }
    }
    if pipe.attention != Attention::None {
        return spots;
    }
    spots.retain(|spot| apart(paper, *spot, words));
    spots
}

/// Returns whether a label overlaps no vessel, to which it would seem to belong.
fn apart(paper: &SectionPage<'_>, spot: LabelPosition, words: &str) -> bool {
    let wide = text::width(words, FLOW_SIZE, Weight::Regular);
    let label = spot.rect(wide, FLOW_SIZE);
    let mut vessels = paper.covers.touching(label);
    !vessels.any(|vessel| vessel.overlaps(label))
}
