//! Runs: pipe to its bore, what flows in it and which way.

use super::fittings;
use super::paper::{Paper, called};
use super::scene::{Attention, Pick, Reach};
use crate::draw::labels::{Line, Side, Spot, Wish};
use crate::draw::shape::{Anchor, Dash, Ink, Point, Rect, Shape, Stroke, pt};
use crate::draw::view::At;
use crate::states::report::{Control, Regime, RunReport};
use crate::units::{self, Quantity};

/// Least and most width of a pipe on the page, points.
const LEAST: f64 = 3.4;
const MOST: f64 = 22.0;
/// The wall of a pipe, points.
const WALL: f64 = 1.3;
/// A level part of a run must be this long to carry an arrow, points.
const ARROW_LEG: f64 = 26.0;
/// Less than this does not count as flow, m³/s.
const STILL_M3_S: f64 = 1e-7;
const FLOW_SIZE: f64 = 10.5;

/// A run as it is drawn.
pub(super) struct Pipe<'s> {
    pub index: usize,
    pub run: &'s crate::layout::Run,
    pub report: Option<&'s RunReport>,
    /// Width of the water in it, points.
    pub width: f64,
    pub attention: Attention,
}

/// The runs whose way is on the page.
pub(super) fn pipes<'s>(paper: &Paper<'s>) -> Vec<Pipe<'s>> {
    let scene = paper.scene;
    let runs = scene.layout.runs.iter().enumerate();
    runs.filter(|(index, _)| {
        let points = line(paper, *index);
        let reach = Reach::Line {
            points,
            half_width: MOST,
        };
        paper.sees(reach.bounds())
    })
    .map(|(index, run)| {
        let report = paper.run(&run.id);
        let drawn = scene.plan.bores_m.get(index).copied().unwrap_or(0.05);
        let bore_m = report.map_or(drawn, |report| report.bore_m);
        Pipe {
            index,
            run,
            report,
            width: (bore_m * scene.view.points_per_metre_up).clamp(LEAST, MOST),
            attention: scene.attention(&Pick::Part(run.id.clone())),
        }
    })
    .collect()
}

/// All of a run's way on the page.
pub(super) fn line(paper: &Paper<'_>, run: usize) -> Vec<Point> {
    places(paper, run, |way| (0, way.line.len()))
}

/// The part outside the vessels at its ends.
pub(super) fn outside(paper: &Paper<'_>, run: usize) -> Vec<Point> {
    places(paper, run, |way| {
        let start = way.inside[0].saturating_sub(1);
        let end = way.line.len() - way.inside[1].saturating_sub(1).min(way.line.len());
        (start, end.max(start))
    })
}

fn places(
    paper: &Paper<'_>,
    run: usize,
    part: fn(&super::ways::Way) -> (usize, usize),
) -> Vec<Point> {
    let Some(way) = paper.scene.plan.ways.get(run) else {
        return Vec::new();
    };
    let (start, end) = part(way);
    let shown = way.line.get(start..end).unwrap_or_default();
    shown.iter().map(|place: &At| paper.point(*place)).collect()
}

/// What lies outside the vessels: drawn before them, so that they hide what runs behind them.
pub(super) fn behind(paper: &mut Paper<'_>) {
    for pipe in pipes(paper) {
        let points = outside(paper, pipe.index);
        draw(paper, &pipe, &points);
        paper.placer.avoid(&points);
        let target = Reach::Line {
            points: line(paper, pipe.index),
            half_width: pipe.width / 2.0 + WALL,
        };
        let name = called(&pipe.run.name, &pipe.run.id).to_owned();
        paper.touch(Pick::Part(pipe.run.id.clone()), target, name);
    }
}

/// What lies inside the vessels at its ends, and a broken line where it runs behind others.
pub(super) fn in_front(paper: &mut Paper<'_>) {
    let all = pipes(paper);
    for pipe in &all {
        hidden(paper, pipe);
    }
    for pipe in &all {
        let Some(way) = paper.scene.plan.ways.get(pipe.index) else {
            continue;
        };
        let [front, back] = way.inside;
        let whole = line(paper, pipe.index);
        let front = whole.get(..front).unwrap_or_default().to_vec();
        let back = whole.get(whole.len().saturating_sub(back)..).unwrap_or_default().to_vec();
        draw(paper, pipe, &front);
        draw(paper, pipe, &back);
        arrows(paper, pipe);
        flow(paper, pipe);
    }
}

fn draw(paper: &mut Paper<'_>, pipe: &Pipe<'_>, points: &[Point]) {
    if points.len() < 2 {
        return;
    }
    let id = Some(&pipe.run.id);
    let wall = match pipe.attention {
        Attention::None => Stroke::new(Ink::Line, pipe.width + 2.0 * WALL),
        Attention::Hovered => Stroke::new(Ink::Accent, pipe.width + 2.0 * WALL),
        Attention::Selected => Stroke::new(Ink::Accent, pipe.width + 2.0 * WALL + 2.0),
    };
    paper.line(id, points.to_vec(), wall);
    paper.line(id, points.to_vec(), Stroke::new(Ink::Inside, pipe.width));
    let strength = paper.scene.strength() * wetness(pipe.report);
    if strength > 0.0 {
        let water = Shape::Line {
            points: points.to_vec(),
            stroke: Stroke::new(Ink::Water, pipe.width),
        };
        paper.add_faint(id, strength, water);
    }
}

/// How full of water a run is drawn.
fn wetness(report: Option<&RunReport>) -> f64 {
    match report {
        None => 0.0,
        Some(report) => match (report.control, report.regime) {
            (Control::Dry, _) => 0.0,
            (_, Regime::Free | Regime::PartFull | Regime::Surging) => 0.65,
            _ => 1.0,
        },
    }
}

/// Where a run passes behind a vessel that is not its own.
fn hidden(paper: &mut Paper<'_>, pipe: &Pipe<'_>) {
    let scene = paper.scene;
    let vessels = scene.layout.vessels.iter().zip(&scene.plan.stand.vessels);
    let boxes: Vec<Rect> = vessels
        .map(|(_, one)| Rect {
            left: scene.view.x(one.left_m()),
            right: scene.view.x(one.right_m()),
            top: scene.view.y(one.rim_m),
            bottom: scene.view.y(one.floor_m),
        })
        .collect();
    let points = outside(paper, pipe.index);
    for pair in points.windows(2) {
        let [from, to] = *pair else { continue };
        for rect in &boxes {
            if let Some((a, b)) = inside(from, to, *rect)
                && a.distance(b) > 3.0
            {
                let ink = match pipe.attention {
                    Attention::None => Ink::FaintLine,
                    _ => Ink::Accent,
                };
                let stroke = Stroke::new(ink, 1.2).with(Dash::Dashed);
                paper.line(Some(&pipe.run.id), vec![a, b], stroke);
            }
        }
    }
}

/// The part of a line that lies in a rectangle.
fn inside(from: Point, to: Point, rect: Rect) -> Option<(Point, Point)> {
    let (dx, dy) = (to.x - from.x, to.y - from.y);
    let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
    let sides = [
        (-dx, from.x - rect.left),
        (dx, rect.right - from.x),
        (-dy, from.y - rect.top),
        (dy, rect.bottom - from.y),
    ];
    for (step, room) in sides {
        if step == 0.0 {
            if room < 0.0 {
                return None;
            }
        } else {
            let share = room / step;
            if step < 0.0 {
                enter = enter.max(share);
            } else {
                leave = leave.min(share);
            }
        }
    }
    let place = |share: f64| pt(from.x + dx * share, from.y + dy * share);
    (enter < leave).then(|| (place(enter), place(leave)))
}

/// Which way the water goes: a small triangle on the longest leg of what is seen.
fn arrows(paper: &mut Paper<'_>, pipe: &Pipe<'_>) {
    let Some(report) = pipe.report else { return };
    if report.flow_m3_s.abs() < STILL_M3_S {
        return;
    }
    let mut points = outside(paper, pipe.index);
    if report.flow_m3_s < 0.0 {
        points.reverse();
    }
    let Some((from, to)) = fittings::longest_leg(&points) else {
        return;
    };
    if from.distance(to) < ARROW_LEG {
        return;
    }
    let size = (pipe.width * 0.5 + 2.6).min(7.0);
    let tip = fittings::on_leg(from, to, 0.62);
    let strength = paper.scene.strength();
    let corners = fittings::triangle(tip, (from, to), size);
    paper.add_faint(
        Some(&pipe.run.id),
        strength,
        Shape::Area {
            corners,
            fill: Some(Ink::WaterLine),
            edge: None,
        },
    );
}

/// What flows, beside the longest leg.
fn flow(paper: &mut Paper<'_>, pipe: &Pipe<'_>) {
    let Some(report) = pipe.report else { return };
    let points = outside(paper, pipe.index);
    let Some((from, to)) = fittings::longest_leg(&points) else {
        return;
    };
    let looked_at = pipe.attention != Attention::None;
    if report.flow_m3_s.abs() < STILL_M3_S && !looked_at {
        return;
    }
    let system = paper.scene.units;
    let flow = units::write(Quantity::Flow, report.flow_m3_s.abs(), system);
    let speed = units::write(Quantity::Velocity, report.velocity_m_s.abs(), system);
    let ink = if looked_at { Ink::Accent } else { Ink::SoftText };
    let words = |words: String| vec![Line::new(words, FLOW_SIZE, ink)];
    let forms = vec![words(format!("{flow} · {speed}")), words(flow)];
    let level = (from.x - to.x).abs() >= (from.y - to.y).abs();
    let off = pipe.width / 2.0 + 4.0;
    let mut spots = Vec::new();
    for share in [0.5, 0.35, 0.65, 0.2, 0.8] {
        let middle = fittings::on_leg(from, to, share);
        let spot = |dx: f64, dy: f64, across: Anchor, side: Side| Spot {
            at: middle.moved(dx, dy),
            across,
            side,
        };
        if level {
            spots.push(spot(0.0, -off, Anchor::Middle, Side::Above));
            spots.push(spot(0.0, off, Anchor::Middle, Side::Below));
        } else {
            spots.push(spot(off, 0.0, Anchor::Start, Side::Beside));
            spots.push(spot(-off, 0.0, Anchor::End, Side::Beside));
        }
    }
    let rank = if looked_at { 90 } else { 20 };
    let strength = paper.scene.strength();
    let wish = Wish {
        forms,
        spots,
        rank,
        clear: 3.0,
    };
    paper.wish(&pipe.run.id, strength, wish);
}
