//! Runs in the section: pipes at the width of their bore, with the water in them.

use super::aside::{LegLanes, MovableLeg};
use super::filling;
use super::flows;
use super::paper::SectionPage;
use super::run_end_points::Connection;
use super::section_runs::{SectionRun, on_line};
use crate::draw::canvas::touch::called;
use crate::draw::canvas::touch::{Attention, Pick, TouchArea};
use crate::draw::canvas::vessel_index::inside;
use crate::draw::page::shape::{Dash, Ink, Point, Rect, Shape, Stroke};
use crate::draw::parts::symbols;
use crate::draw::parts::symbols::on_leg;
use crate::draw::results::reports::is_wet;
use crate::layout::{Direction, Id, RunEnd};
use crate::states::report::RunReport;
use std::collections::HashSet;

/// Smallest and largest width of a pipe on the page, points.
const LEAST: f64 = 3.4;
const MOST: f64 = 16.0;
/// Thickness of the wall of a pipe, points.
pub(super) const WALL: f64 = 1.3;
/// Width of the single line of a pipe that is too thin for walls, points.
const FAR_OFF: f64 = 1.2;
/// Width of the line along the middle of an already built pipe, points.
const BUILT: f64 = 0.9;
/// Length of the pieces by which text is kept off a sloping pipe, points.
const SLOPE_PIECE: f64 = 20.0;

/// Largest step by which overlapping runs are offset, points.
const MOST_ASIDE: f64 = 5.5;

/// A run as drawn.
pub(super) struct SectionPipe<'s> {
    pub index: usize,
    pub run: &'s crate::layout::Run,
    pub report: Option<&'s RunReport>,
    /// Width of the bore, points.
    pub width: f64,
    pub attention: Attention,
    /// Whether it is so thin on a crowded page that it is a single line, whole and behind the vessels.
    pub far_off: bool,
    /// Its whole line on the page.
    pub line: Vec<Point>,
    /// Position of each point of `line` along the run, as a share of its length.
    shares: &'s [f64],
    /// Number of points at the start and end of the line that are inside the vessels at its ends.
    inside: [usize; 2],
    /// Longest straight piece on the page that no vessel hides, in the order of the run.
    pub longest: Option<(Point, Point)>,
}

impl SectionPipe<'_> {
    /// Returns the part outside the vessels at its ends.
    fn outside(&self) -> &[Point] {
        let start = self.first_outside();
        let end = self
            .line
            .len()
            .saturating_sub(self.inside[1].saturating_sub(1));
        self.line.get(start..end.max(start)).unwrap_or_default()
    }

    /// Returns the point at a share of the length of the run, with its leg.
    pub fn at_share(&self, share: f64) -> Option<(Point, (Point, Point))> {
        on_line(&self.line, self.shares, share, on_leg)
    }

    /// Returns the point `off` outside the vessel at an end, points, but no further than the middle of the first leg
    /// there, with that leg in the order of the run. The point is before `pump` if the pump is on the leg and draws
    /// from that end.
    pub fn next_to_end(
        &self,
        end: RunEnd,
        off: f64,
        pump: Option<(Point, Direction)>,
    ) -> Option<(Point, (Point, Point))> {
        let mut legs = self.outside().windows(2).filter_map(|pair| match *pair {
            [from, to] if from.distance(to) > 0.0 => Some((from, to)),
            _ => None,
        });
        let leg = match end {
            RunEnd::From => legs.next(),
            RunEnd::To => legs.next_back(),
        };
        let (from, to) = leg?;
        let length = from.distance(to);
        let start = match end {
            RunEnd::From => from,
            RunEnd::To => to,
        };
        let draws = |pushes: Direction| (pushes == Direction::Forward) == (end == RunEnd::From);
        let most = pump.filter(|(pump, pushes)| {
            let off_leg = from.distance(*pump) + to.distance(*pump) - length;
            draws(*pushes) && off_leg < symbols::PUMP
        });
        let most = most.map_or(0.5 * length, |(pump, _)| {
            let before = start.distance(pump);
            (before - symbols::PUMP - symbols::VALVE).max(0.5 * before)
        });
        let share = (off.min(most) / length).clamp(0.0, 1.0);
        let share = match end {
            RunEnd::From => share,
            RunEnd::To => 1.0 - share,
        };
        Some((on_leg(from, to, share), (from, to)))
    }

    /// Returns the longest visible straight piece downstream of the pump, or of the whole run without a pump.
    pub fn longest_behind(
        &self,
        paper: &SectionPage<'_>,
        pump: Option<(Point, Direction)>,
    ) -> Option<(Point, Point)> {
        let Some(pump) = pump else {
            return self.longest;
        };
        longest_of(paper, symbols::behind_pump(self.outside(), pump.0, pump.1))
    }

    /// Returns the index in its line of the first point outside.
    fn first_outside(&self) -> usize {
        self.inside[0].saturating_sub(1)
    }
}

/// Returns the line of a run on the page; `None` if none of it is visible.
fn line_on_page(paper: &SectionPage<'_>, way: &SectionRun) -> Option<Vec<Point>> {
    let reach = TouchArea::Line {
        points: way.line.iter().map(|place| paper.point(*place)).collect(),
        half_width: MOST,
    };
    let seen = paper.sees(reach.bounds());
    match reach {
        TouchArea::Line { points, .. } if seen => Some(points),
        _ => None,
    }
}

/// Returns the runs that are on the page.
pub(super) fn pipes<'s>(paper: &SectionPage<'s>) -> Vec<SectionPipe<'s>> {
    let scene = paper.scene;
    let joints: HashSet<&Id> = scene.layout.joints.iter().map(|joint| &joint.id).collect();
    let crowded = paper.is_crowded();
    let mut lanes = LegLanes::default();
    let mut pipes = Vec::new();
    for (index, (run, way)) in scene
        .layout
        .runs
        .iter()
        .zip(&scene.positions.ways)
        .enumerate()
    {
        let Some(mut line) = line_on_page(paper, way) else {
            continue;
        };
        let report = paper.run(&run.id);
        let drawn = scene.positions.bores_m.get(index).copied().unwrap_or(0.05);
        let bore_m = report.map_or(drawn, |report| report.bore_m);
        let width = (bore_m * scene.view.points_per_metre_up).clamp(LEAST, MOST);
        lanes.set(&mut MovableLeg {
            points: &mut line,
            step: (width * 0.6 + 1.5).min(MOST_ASIDE),
            joints: [&run.from.at, &run.to.at].map(|id| joints.get(id).copied()),
        });
        let mut inside = way.inside;
        if let Some(surface) = falls_to(paper, run, way, report) {
            line.extend(line.last().map(|last| Point {
                y: surface,
                ..*last
            }));
            inside[1] += 1;
        }
        let attention = scene.attention(&Pick::Part(run.id.clone()));
        let mut pipe = SectionPipe {
            index,
            run,
            report,
            width,
            attention,
            far_off: crowded && width <= LEAST && attention == Attention::None,
            line,
            shares: &way.shares,
            inside,
            longest: None,
        };
        pipe.longest = longest_visible(paper, pipe.outside());
        pipes.push(pipe);
    }
    pipes
}

/// Returns the y of the water surface that water meets when it falls over a rim without a pipe.
fn falls_to(
    paper: &SectionPage<'_>,
    run: &crate::layout::Run,
    way: &SectionRun,
    report: Option<&RunReport>,
) -> Option<f64> {
    let spot = &way.ends[1];
    let falls = run.pipe == crate::layout::Pipe::Open && spot.meets == Connection::DownMouth;
    if !falls || !is_wet(report) {
        return None;
    }
    let fixed = paper.scene.layout.fixed.iter();
    let fixed = fixed.filter(|part| part.id == run.to.at);
    let level_m = match paper.vessel(&run.to.at) {
        Some(vessel) => vessel.stands_m()?,
        None => fixed.map(|part| part.level_m).next()?,
    };
    (level_m < spot.at.z_m).then(|| paper.scene.view.y(level_m))
}

/// Draws the parts outside the vessels at the ends, before the vessels, which hide runs behind them.
pub(super) fn behind(paper: &mut SectionPage<'_>, pipes: &[SectionPipe<'_>]) {
    for pipe in pipes {
        let (points, first) = if pipe.far_off {
            (pipe.line.as_slice(), 0)
        } else {
            (pipe.outside(), pipe.first_outside())
        };
        draw(paper, pipe, points, first);
        // Behind a vessel a pipe is a thin dashed line, which text may cross if there is no room.
        paper.placer.avoid(points);
        for pair in points.windows(2) {
            let [from, to] = *pair else { continue };
            for (from, to) in seen(paper, from, to) {
                block(paper, &[from, to], pipe.width);
            }
        }
        let target = TouchArea::Line {
            points: pipe.line.clone(),
            half_width: pipe.width / 2.0 + WALL,
        };
        let name = called(&pipe.run.name, &pipe.run.id).to_owned();
        paper.touch(Pick::Part(pipe.run.id.clone()), target, name);
    }
}

/// Draws the parts inside the vessels at the ends, and a dashed line where a run is behind another vessel.
pub(super) fn in_front(paper: &mut SectionPage<'_>, pipes: &[SectionPipe<'_>]) {
    let near = || pipes.iter().filter(|pipe| !pipe.far_off);
    for pipe in near() {
        hidden(paper, pipe);
    }
    for pipe in near() {
        let [front, back] = pipe.inside;
        let start = pipe.line.len().saturating_sub(back);
        let front = pipe.line.get(..front).unwrap_or_default();
        let back = pipe.line.get(start..).unwrap_or_default();
        for (inside, first) in [(front, 0), (back, start)] {
            draw(paper, pipe, inside, first);
            paper.placer.avoid(inside);
            block(paper, inside, pipe.width);
        }
        flows::arrows(paper, pipe);
        flows::flow(paper, pipe);
    }
}

/// Keeps text off a pipe.
pub(super) fn block(paper: &mut SectionPage<'_>, points: &[Point], width: f64) {
    for pair in points.windows(2) {
        let [from, to] = *pair else { continue };
        let rect = Rect::between(from, to);
        // A sloping pipe is blocked piece by piece, since one rectangle would keep text far from it.
        let pieces = if rect.width().min(rect.height()) < 4.0 {
            1
        } else {
            whole(from.distance(to) / SLOPE_PIECE)
        };
        for piece in 0..pieces {
            let share = |step: u16| f64::from(step) / f64::from(pieces);
            let a = on_leg(from, to, share(piece));
            let b = on_leg(from, to, share(piece + 1));
            paper
                .placer
                .block(Rect::between(a, b).grown(width / 2.0 + WALL));
        }
    }
}

/// Converts a count of pieces, clamped to 1 to 100, so that the cast only drops a fraction.
fn whole(count: f64) -> u16 {
    count.clamp(1.0, 100.0) as u16
}

/// Draws a part of a pipe: `points` of its line, which starts at the index `first`.
fn draw(paper: &mut SectionPage<'_>, pipe: &SectionPipe<'_>, points: &[Point], first: usize) {
    if points.len() < 2 {
        return;
    }
    if pipe.run.pipe == crate::layout::Pipe::Open {
        return sheet(paper, pipe, points);
    }
    let id = Some(&pipe.run.id);
    if pipe.far_off {
        let wet = is_wet(pipe.report);
        let ink = if wet { Ink::WaterLine } else { Ink::FaintLine };
        return paper.line(id, points.to_vec(), Stroke::new(ink, FAR_OFF));
    }
    let wall = match pipe.attention {
        Attention::None => Stroke::new(Ink::Line, pipe.width + 2.0 * WALL),
        Attention::Hovered => Stroke::new(Ink::Accent, pipe.width + 2.0 * WALL),
        Attention::Selected => Stroke::new(Ink::Accent, pipe.width + 2.0 * WALL + 2.0),
    };
    paper.line(id, points.to_vec(), wall);
    paper.line(id, points.to_vec(), Stroke::new(Ink::Inside, pipe.width));
    filling::water(paper, pipe, points, first);
    if pipe.run.already_built {
        paper.line(id, points.to_vec(), Stroke::new(Ink::Line, BUILT));
    }
}

/// Draws water that passes through an opening without a pipe, or a dashed line if there is none.
fn sheet(paper: &mut SectionPage<'_>, pipe: &SectionPipe<'_>, points: &[Point]) {
    let id = Some(&pipe.run.id);
    if pipe.attention != Attention::None {
        let around = Stroke::new(Ink::Accent, LEAST + 2.0 * WALL);
        paper.line(id, points.to_vec(), around);
    }
    if is_wet(pipe.report) {
        let strength = paper.scene.strength();
        let water = Shape::Line {
            points: points.to_vec(),
            stroke: Stroke::new(Ink::WaterLine, LEAST),
        };
        paper.add_faint(id, strength, water);
    } else {
        let dry = Stroke::new(Ink::FaintLine, 1.2).with(Dash::Dashed);
        paper.line(id, points.to_vec(), dry);
    }
}

/// Draws a dashed line where a run is behind a vessel that is not at its ends.
fn hidden(paper: &mut SectionPage<'_>, pipe: &SectionPipe<'_>) {
    for pair in pipe.outside().windows(2) {
        let [from, to] = *pair else { continue };
        for (enter, leave) in paper.covers.along(from, to) {
            let (a, b) = (on_leg(from, to, enter), on_leg(from, to, leave));
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

fn longest_visible(paper: &SectionPage<'_>, points: &[Point]) -> Option<(Point, Point)> {
    let legs = points.windows(2).filter_map(|pair| match *pair {
        [from, to] => Some((from, to)),
        _ => None,
    });
    longest_of(paper, legs.collect())
}

/// Returns the longest visible piece of the legs; of equal ones, the last.
fn longest_of(paper: &SectionPage<'_>, legs: Vec<(Point, Point)>) -> Option<(Point, Point)> {
    let pieces = legs.into_iter();
    let pieces = pieces.flat_map(|(from, to)| seen(paper, from, to));
    pieces.max_by(|a, b| a.0.distance(a.1).total_cmp(&b.0.distance(b.1)))
}

/// Returns the pieces of a leg that are on the page and not hidden by vessels.
fn seen(paper: &SectionPage<'_>, from: Point, to: Point) -> Vec<(Point, Point)> {
    let Some((start, end)) = inside(from, to, paper.shown()) else {
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
            pieces.push((on_leg(from, to, at), on_leg(from, to, stop)));
        }
        at = at.max(leave);
    }
    pieces
}
