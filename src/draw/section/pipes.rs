//! Runs: pipe to its bore, what flows in it and which way.

use super::aside::{Aside, Lanes};
use super::covers::inside;
use super::fittings;
use super::paper::{Paper, called};
use super::scene::{Attention, Pick, Reach};
use crate::draw::labels::{Line, Side, Spot, Wish};
use crate::draw::shape::{Anchor, Dash, Ink, Point, Rect, Shape, Stroke, Weight};
use crate::draw::text;
use crate::layout::Id;
use crate::states::report::{Control, Regime, RunReport};
use crate::units::{self, Quantity};
use std::collections::HashSet;

/// Least and most width of a pipe on the page, points.
const LEAST: f64 = 3.4;
const MOST: f64 = 16.0;
/// The wall of a pipe, points.
const WALL: f64 = 1.3;
/// A level part of a run must be this long to carry an arrow, points.
const ARROW_LEG: f64 = 26.0;
/// A sloping pipe is kept free of words in pieces of this length, points.
const SLOPE_PIECE: f64 = 20.0;
/// Less than this does not count as flow, m³/s.
const STILL_M3_S: f64 = 1e-7;
const FLOW_SIZE: f64 = 10.5;

/// Runs that lie on one another are moved aside by at most this at a time, points.
const MOST_ASIDE: f64 = 5.5;

/// A run as it is drawn.
pub(super) struct Pipe<'s> {
    pub index: usize,
    pub run: &'s crate::layout::Run,
    pub report: Option<&'s RunReport>,
    /// Width of the water in it, points.
    pub width: f64,
    pub attention: Attention,
    /// All of its way on the page.
    pub line: Vec<Point>,
    /// How many points at the start and end of the line lie inside the vessels of its ends.
    inside: [usize; 2],
    /// The longest straight piece that no vessel hides and that is on the page, in the order of the run.
    pub longest: Option<(Point, Point)>,
}

impl Pipe<'_> {
    /// The part outside the vessels at its ends.
    fn outside(&self) -> &[Point] {
        let start = self.inside[0].saturating_sub(1);
        let end = self
            .line
            .len()
            .saturating_sub(self.inside[1].saturating_sub(1));
        self.line.get(start..end.max(start)).unwrap_or_default()
    }
}

/// The runs whose way is on the page.
pub(super) fn pipes<'s>(paper: &Paper<'s>) -> Vec<Pipe<'s>> {
    let scene = paper.scene;
    let joints: HashSet<&Id> = scene.layout.joints.iter().map(|joint| &joint.id).collect();
    let mut lanes = Lanes::default();
    let mut pipes = Vec::new();
    for (index, (run, way)) in scene.layout.runs.iter().zip(&scene.plan.ways).enumerate() {
        let mut line: Vec<Point> = way.line.iter().map(|place| paper.point(*place)).collect();
        let reach = Reach::Line {
            points: line,
            half_width: MOST,
        };
        let seen = paper.sees(reach.bounds());
        let Reach::Line { points, .. } = reach else {
            continue;
        };
        if !seen {
            continue;
        }
        line = points;
        let report = paper.run(&run.id);
        let drawn = scene.plan.bores_m.get(index).copied().unwrap_or(0.05);
        let bore_m = report.map_or(drawn, |report| report.bore_m);
        let width = (bore_m * scene.view.points_per_metre_up).clamp(LEAST, MOST);
        lanes.set(&mut Aside {
            points: &mut line,
            step: (width * 0.6 + 1.5).min(MOST_ASIDE),
            joints: [&run.from.at, &run.to.at].map(|id| joints.get(id).copied()),
        });
        let mut pipe = Pipe {
            index,
            run,
            report,
            width,
            attention: scene.attention(&Pick::Part(run.id.clone())),
            line,
            inside: way.inside,
            longest: None,
        };
        pipe.longest = longest_seen(paper, pipe.outside());
        pipes.push(pipe);
    }
    pipes
}

/// What lies outside the vessels: drawn before them, so that they hide what runs behind them.
pub(super) fn behind(paper: &mut Paper<'_>, pipes: &[Pipe<'_>]) {
    for pipe in pipes {
        let points = pipe.outside();
        draw(paper, pipe, points);
        // Behind a vessel a pipe is a thin broken line, and words may cross it for want of room.
        paper.placer.avoid(points);
        for pair in points.windows(2) {
            let [from, to] = *pair else { continue };
            for (from, to) in seen(paper, from, to) {
                block(paper, &[from, to], pipe.width);
            }
        }
        let target = Reach::Line {
            points: pipe.line.clone(),
            half_width: pipe.width / 2.0 + WALL,
        };
        let name = called(&pipe.run.name, &pipe.run.id).to_owned();
        paper.touch(Pick::Part(pipe.run.id.clone()), target, name);
    }
}

/// What lies inside the vessels at its ends, and a broken line where it runs behind others.
pub(super) fn in_front(paper: &mut Paper<'_>, pipes: &[Pipe<'_>]) {
    for pipe in pipes {
        hidden(paper, pipe);
    }
    for pipe in pipes {
        let [front, back] = pipe.inside;
        let start = pipe.line.len().saturating_sub(back);
        let front = pipe.line.get(..front).unwrap_or_default();
        let back = pipe.line.get(start..).unwrap_or_default();
        for inside in [front, back] {
            draw(paper, pipe, inside);
            paper.placer.avoid(inside);
            block(paper, inside, pipe.width);
        }
        arrows(paper, pipe);
        flow(paper, pipe);
    }
}

/// Words stay off a pipe.
pub(super) fn block(paper: &mut Paper<'_>, points: &[Point], width: f64) {
    for pair in points.windows(2) {
        let [from, to] = *pair else { continue };
        let rect = Rect::between(from, to);
        // A sloping pipe is kept free piece by piece, else words would stay far from it.
        let pieces = if rect.width().min(rect.height()) < 4.0 {
            1
        } else {
            whole(from.distance(to) / SLOPE_PIECE)
        };
        for piece in 0..pieces {
            let share = |step: u16| f64::from(step) / f64::from(pieces);
            let a = fittings::on_leg(from, to, share(piece));
            let b = fittings::on_leg(from, to, share(piece + 1));
            paper
                .placer
                .block(Rect::between(a, b).grown(width / 2.0 + WALL));
        }
    }
}

/// A count of pieces, 1 to 100.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
fn whole(count: f64) -> u16 {
    count.clamp(1.0, 100.0) as u16
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
    for pair in pipe.outside().windows(2) {
        let [from, to] = *pair else { continue };
        for (enter, leave) in paper.covers.along(from, to) {
            let (a, b) = (
                fittings::on_leg(from, to, enter),
                fittings::on_leg(from, to, leave),
            );
            if a.distance(b) > 3.0 {
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

fn longest_seen(paper: &Paper<'_>, points: &[Point]) -> Option<(Point, Point)> {
    let legs = points.windows(2).filter_map(|pair| match *pair {
        [from, to] => Some((from, to)),
        _ => None,
    });
    let pieces = legs.flat_map(|(from, to)| seen(paper, from, to));
    pieces.max_by(|a, b| a.0.distance(a.1).total_cmp(&b.0.distance(b.1)))
}

/// What is left of a leg where vessels and the edge of the page are taken away.
fn seen(paper: &Paper<'_>, from: Point, to: Point) -> Vec<(Point, Point)> {
    let Some((start, end)) = inside(from, to, paper.page) else {
        return Vec::new();
    };
    let mut covered = paper.covers.along(from, to);
    covered.sort_by(|a, b| a.0.total_cmp(&b.0));
    covered.push((end, end));
    let mut pieces = Vec::new();
    let mut at = start;
    for (enter, leave) in covered {
        let stop = enter.min(end);
        if stop > at {
            pieces.push((
                fittings::on_leg(from, to, at),
                fittings::on_leg(from, to, stop),
            ));
        }
        at = at.max(leave);
    }
    pieces
}

/// Which way the water goes: a small triangle on the longest leg of what is seen.
fn arrows(paper: &mut Paper<'_>, pipe: &Pipe<'_>) {
    let Some(report) = pipe.report else { return };
    if report.flow_m3_s.abs() < STILL_M3_S {
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
    let Some((from, to)) = pipe.longest else {
        return;
    };
    let looked_at = pipe.attention != Attention::None;
    if report.flow_m3_s.abs() < STILL_M3_S && !looked_at {
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
    let words = |words: String| vec![Line::new(words, FLOW_SIZE, ink)];
    let mut forms = vec![words(flow.clone())];
    if looked_at {
        forms.insert(0, words(format!("{flow} · {speed}")));
    }
    let spots = flow_spots(paper, pipe, (from, to), &flow);
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

/// Beside the longest leg, from its middle outwards, and never across the wall of a vessel.
fn flow_spots(
    paper: &Paper<'_>,
    pipe: &Pipe<'_>,
    (from, to): (Point, Point),
    words: &str,
) -> Vec<Spot> {
    let level = (from.x - to.x).abs() >= (from.y - to.y).abs();
    // Beside a sloping pipe the words stand further off, by what it falls over half their width.
    let slope = (to.y - from.y).abs() / (to.x - from.x).abs().max(1.0);
    let half = text::width(words, FLOW_SIZE, Weight::Regular) / 2.0;
    let slant = if level { slope * half } else { 0.0 };
    let off = pipe.width / 2.0 + WALL + 5.0 + slant;
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
    // Words across the wall of a vessel would be read as its own.
    let wide = text::width(words, FLOW_SIZE, Weight::Regular);
    let apart = |spot: &Spot| {
        let label = spot.rect(wide, FLOW_SIZE);
        !paper
            .covers
            .touching(label)
            .any(|vessel| vessel.overlaps(label))
    };
    if pipe.attention != Attention::None {
        spots
    } else {
        spots.into_iter().filter(apart).collect()
    }
}
