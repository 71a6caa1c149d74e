//! Water in runs, shown by shape and not by colour: a full pipe is filled from wall to wall, a part-full one has a
//! surface, in a drop water runs along the walls, and a surging run has slugs.

use super::paper::SectionPage;
use super::pipes::SectionPipe;
use crate::draw::page::shape::{Dash, Ink, Point, Shape, Stroke};
use crate::draw::parts::symbols::{along, on_leg};
use crate::draw::results::reports::{depth_share, has_check_valve, is_wet};
use crate::state::State;
use crate::states::report::{Control, Regime, RunReport};
use crate::states::{StandingWater, standing_water};

/// Longest piece of a pipe drawn with one surface slope, points, and most pieces per leg.
const PIECE: f64 = 24.0;
const MOST_PIECES: f64 = 24.0;
/// Length of a slug, and half the gap between two, points.
const SLUG: f64 = 9.0;
/// Smallest visible depth of water, points.
const LEAST: f64 = 1.2;
/// Thickness of the water surface in a pipe, points.
const SURFACE: f64 = 0.9;
/// Ratio of height to width from which a leg is steep.
const STEEP: f64 = 1.5;

/// Draws the water in a part of a pipe: `points` of its line, which starts at the index `first`.
pub(super) fn water(
    paper: &mut SectionPage<'_>,
    pipe: &SectionPipe<'_>,
    points: &[Point],
    first: usize,
) {
    let Some(report) = pipe.report.filter(|report| is_wet(Some(report))) else {
        return;
    };
    let ways = lengths(&pipe.line);
    if report.control == Control::Still {
        return still(paper, pipe, report, &ways, points.len(), first);
    }
    if matches!(report.regime, Regime::Full | Regime::None) {
        return full(paper, pipe, points);
    }
    let whole = ways.last().copied().unwrap_or(0.0).max(1.0);
    let share = |index: usize| ways.get(index).copied().unwrap_or(0.0) / whole;
    for (place, pair) in points.windows(2).enumerate() {
        let [from, to] = *pair else { continue };
        let shares = (share(first + place), share(first + place + 1));
        leg(
            paper,
            &FillingLeg {
                pipe,
                report,
                from,
                to,
                shares,
            },
        );
    }
}

fn full(paper: &mut SectionPage<'_>, pipe: &SectionPipe<'_>, points: &[Point]) {
    let stroke = Stroke::new(Ink::Water, pipe.width);
    let strength = paper.scene.strength();
    paper.faint_line(&pipe.run.id, strength, points.to_vec(), stroke);
}

/// Draws water at rest in a pipe, as far as it is below the levels at its ends.
fn still(
    paper: &mut SectionPage<'_>,
    pipe: &SectionPipe<'_>,
    report: &RunReport,
    ways: &[f64],
    count: usize,
    first: usize,
) {
    let scene = paper.scene;
    let Some(way) = scene.positions.ways.get(pipe.index) else {
        return;
    };
    let corners = ways.iter().zip(&way.line);
    let corners: Vec<(f64, f64)> = corners.map(|(way, place)| (*way, place.z_m)).collect();
    let how = StandingWater {
        ends_m: [&report.from, &report.to].map(|id| paper.level_m(id)),
        // At rest nothing has flowed yet that a check valve could retain.
        held: has_check_valve(pipe.run)
            && scene.water.is_some_and(|water| water.state != State::Rest),
    };
    let at = |index: usize| ways.get(index).copied().unwrap_or(0.0);
    let (begin, end) = (at(first), at((first + count).saturating_sub(1)));
    let places = standing_water(&corners, &how);
    for pair in places.windows(2) {
        let [a, b] = pair else { continue };
        let piece = [a.distance_m.max(begin), b.distance_m.min(end)];
        if a.level_m.is_some() && b.level_m.is_some() && piece[0] < piece[1] {
            full(
                paper,
                pipe,
                &piece.map(|way| on_line(&pipe.line, ways, way)),
            );
        }
    }
}

/// Returns the point of a line at a distance from its start.
fn on_line(line: &[Point], ways: &[f64], way: f64) -> Point {
    let after = ways.partition_point(|one| *one < way).max(1);
    let (from, to) = (after - 1, after.min(line.len().saturating_sub(1)));
    let of = |index: usize| ways.get(index).copied().unwrap_or(way);
    let share = (way - of(from)) / (of(to) - of(from)).max(1e-9);
    let point = |index: usize| line.get(index).copied().unwrap_or_default();
    on_leg(point(from), point(to), share.clamp(0.0, 1.0))
}

/// Returns the distance of each point of a line from its start, points.
fn lengths(line: &[Point]) -> Vec<f64> {
    let mut way = 0.0;
    let mut ways = vec![0.0; line.len().min(1)];
    for pair in line.windows(2) {
        if let [from, to] = pair {
            way += from.distance(*to);
            ways.push(way);
        }
    }
    ways
}

/// A straight part of a run that is not full.
struct FillingLeg<'p> {
    pipe: &'p SectionPipe<'p>,
    report: &'p RunReport,
    from: Point,
    to: Point,
    /// Start and end along the run: 0 to 1.
    shares: (f64, f64),
}

impl FillingLeg<'_> {
    fn is_steep(&self) -> bool {
        (self.to.y - self.from.y).abs() > STEEP * (self.to.x - self.from.x).abs()
    }

    /// Returns whether the water rises in it, which it does with no air above it.
    fn rises(&self) -> bool {
        let up = self.from.y - self.to.y;
        self.is_steep() && up * self.report.flow_m3_s > 0.0
    }

    /// Returns the point on the page at a share of the leg, and the depth there, from 0 to the width of the pipe.
    fn at(&self, share: f64) -> (Point, f64) {
        let (start, end) = self.shares;
        let depth = depth_share(self.report, start + (end - start) * share) * self.pipe.width;
        let least = LEAST.min(self.pipe.width);
        (on_leg(self.from, self.to, share), depth.max(least))
    }
}

fn leg(paper: &mut SectionPage<'_>, leg: &FillingLeg<'_>) {
    let length = leg.from.distance(leg.to);
    if length < 0.5 {
        return;
    }
    if leg.rises() {
        return full(paper, leg.pipe, &[leg.from, leg.to]);
    }
    // On a crowded page the pieces would not be distinguishable and there would be thousands.
    let crowded = paper.is_crowded();
    let count = match crowded {
        true => 1.0,
        false => (length / PIECE).ceil().clamp(1.0, MOST_PIECES),
    };
    let mut piece = 0.0;
    while piece < count {
        let ends = [piece / count, (piece + 1.0) / count].map(|share| leg.at(share));
        if leg.is_steep() {
            thin_water(paper, leg, ends);
        } else {
            bed(paper, leg, ends);
        }
        piece += 1.0;
    }
    match leg.report.regime {
        _ if crowded => {}
        Regime::Surging => slugs(paper, leg, length),
        Regime::Free if leg.is_steep() => drops(paper, leg),
        _ => {}
    }
}

/// Returns the normal of a leg that points down the page.
fn down(leg: &FillingLeg<'_>) -> (f64, f64) {
    let (ux, uy) = along(leg.from, leg.to);
    if ux >= 0.0 { (-uy, ux) } else { (uy, -ux) }
}

/// Draws water on the lower side of a pipe, with its surface.
fn bed(
    paper: &mut SectionPage<'_>,
    leg: &FillingLeg<'_>,
    [(a, a_deep), (b, b_deep)]: [(Point, f64); 2],
) {
    let (nx, ny) = down(leg);
    let half = leg.pipe.width / 2.0;
    let off = |point: Point, by: f64| point.moved(nx * by, ny * by);
    let surface = [off(a, half - a_deep), off(b, half - b_deep)];
    let corners = vec![off(a, half), off(b, half), surface[1], surface[0]];
    fill(paper, leg, corners);
    let stroke = Stroke::new(Ink::WaterLine, SURFACE);
    let strength = paper.scene.strength();
    paper.faint_line(&leg.pipe.run.id, strength, surface.to_vec(), stroke);
}

/// Draws water that runs down the walls of a drop.
fn thin_water(
    paper: &mut SectionPage<'_>,
    leg: &FillingLeg<'_>,
    [(a, a_deep), (b, b_deep)]: [(Point, f64); 2],
) {
    let (nx, ny) = down(leg);
    let half = leg.pipe.width / 2.0;
    let off = |point: Point, by: f64| point.moved(nx * by, ny * by);
    for side in [1.0, -1.0] {
        let wall = side * half;
        let inner = |deep: f64| side * (half - deep / 2.0);
        let corners = vec![
            off(a, wall),
            off(b, wall),
            off(b, inner(b_deep)),
            off(a, inner(a_deep)),
        ];
        fill(paper, leg, corners);
    }
}

/// Draws drops falling freely between the walls.
fn drops(paper: &mut SectionPage<'_>, leg: &FillingLeg<'_>) {
    let width = (leg.pipe.width * 0.16).clamp(0.8, 2.0);
    let line = Shape::Line {
        points: vec![leg.from, leg.to],
        stroke: Stroke::new(Ink::WaterLine, width).with(Dash::Dotted),
    };
    let strength = paper.scene.strength();
    paper.add_faint(Some(&leg.pipe.run.id), strength, line);
}

/// Draws slugs that fill the bore at intervals.
fn slugs(paper: &mut SectionPage<'_>, leg: &FillingLeg<'_>, length: f64) {
    let mut at = SLUG;
    while at + SLUG < length && at < 4000.0 {
        let ends = [at / length, (at + SLUG) / length];
        let points = ends.map(|share| on_leg(leg.from, leg.to, share));
        let stroke = Stroke::new(Ink::WaterLine, leg.pipe.width * 0.8);
        let strength = paper.scene.strength() * 0.55;
        paper.faint_line(&leg.pipe.run.id, strength, points.to_vec(), stroke);
        at += 2.0 * SLUG + SLUG;
    }
}

fn fill(paper: &mut SectionPage<'_>, leg: &FillingLeg<'_>, corners: Vec<Point>) {
    let water = Shape::Area {
        corners,
        fill: Some(Ink::Water),
        edge: None,
    };
    let strength = paper.scene.strength();
    paper.add_faint(Some(&leg.pipe.run.id), strength, water);
}
