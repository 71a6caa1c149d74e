//! Runs in the plan: pipes at true width, with gaps where they pass under another and dashed under a vessel.

use super::clip;
use super::crossings::joined;
use super::names;
use super::paper::PlanPage;
use super::plan_run::PlanRun;
use crate::draw::canvas::touch::{Attention, Pick, TouchArea, called};
use crate::draw::canvas::vessel_index::inside;
use crate::draw::page::shape::{Dash, Ink, Point, Rect, Shape, Stroke};
use crate::draw::parts::symbols::{PUMP, along, on_leg};
use crate::draw::results::reports::{depth_share, is_wet};
use crate::geometry::Corner;
use crate::layout::{Direction, Pipe as Built, Run};
use crate::states::report::{Regime, RunReport};

/// Width below which a pipe is a single line, points; the width of that line, and of the walls of a wider pipe.
const LEAST: f64 = 3.0;
const THIN: f64 = 1.6;
const WALL: f64 = 1.2;
/// Clearance on both sides of a pipe that passes over, and the largest half gap beyond its wall, points.
const CLEAR: f64 = 3.0;
const MOST_GAP: f64 = 16.0;
/// Line along the middle of an already built wide pipe, and the spacing and size of the strokes across a narrow one,
/// points.
const BUILT: f64 = 0.9;
const STROKE_STEP: f64 = 18.0;
const STROKE: f64 = 3.0;

/// Smallest width of visible water in a wide pipe, points.
const LEAST_SURFACE: f64 = 1.5;

/// Start and end along a run in the plan, metres.
type Span = (f64, f64);

/// A run as drawn.
pub(super) struct PlanPipe<'s> {
    pub run: &'s Run,
    pub course: &'s PlanRun,
    pub report: Option<&'s RunReport>,
    pub attention: Attention,
    /// Whether it is one of many thin lines, whose gaps and dashes would be an unreadable mesh; it is then drawn whole
    /// and behind the vessels.
    pub far_off: bool,
    /// Outside width on the page, points.
    pub width: f64,
    /// Visible pieces, as points in the order of the run.
    pub seen: Vec<Vec<Point>>,
    /// Pieces under a vessel.
    pub under: Vec<Vec<Point>>,
    /// Spans where it is visible, metres along it in the plan.
    shown: Vec<(f64, f64)>,
    /// Longest visible straight piece.
    pub longest: Option<(Point, Point)>,
}

impl PlanPipe<'_> {
    fn is_wide(&self) -> bool {
        self.width >= LEAST && self.run.pipe != Built::Open
    }

    fn ink(&self) -> Ink {
        match self.attention {
            Attention::None => Ink::Line,
            _ => Ink::Accent,
        }
    }

    /// Returns the longest visible straight piece downstream of the pump, or of the whole run without a pump.
    pub fn longest_behind(
        &self,
        paper: &PlanPage<'_>,
        pump: Option<(Corner, Direction)>,
    ) -> Option<(Point, Point)> {
        let Some((pump, pushes)) = pump else {
            return self.longest;
        };
        let at_m = self.course.passes_m(pump);
        let sign_m = PUMP / paper.scale().max(1e-9);
        let (from_m, to_m) = match pushes {
            Direction::Forward => (at_m + sign_m, f64::INFINITY),
            Direction::Backward => (0.0, at_m - sign_m),
        };
        let spans = self.shown.iter();
        let spans = spans.map(|(start, end)| (start.max(from_m), end.min(to_m)));
        let spans = spans.filter(|(start, end)| start < end).collect();
        longest(paper.shown(), &on_page(paper, self.course, spans))
    }

    /// Returns the extra wall width of a selected run, points.
    fn more(&self) -> f64 {
        if self.attention == Attention::Selected {
            1.4
        } else {
            0.0
        }
    }
}

/// Returns the runs that are on the page.
pub(super) fn pipes<'s>(paper: &PlanPage<'s>) -> Vec<PlanPipe<'s>> {
    let scene = paper.scene;
    let runs = scene.layout.runs.iter().zip(&scene.positions.courses);
    let mut pipes = Vec::new();
    for (run, course) in runs {
        let width = course.outside_m * paper.scale();
        let around = Rect::around(&paper.points(&course.points));
        if !paper.sees(around.grown(width.max(12.0))) {
            continue;
        }
        let attention = scene.attention(&Pick::Part(run.id.clone()));
        let far_off = paper.is_crowded() && width < LEAST / 2.0 && attention == Attention::None;
        let (shown, hidden) = if far_off {
            (vec![course.drawn_m], Vec::new())
        } else {
            pieces(paper, course)
        };
        let seen = on_page(paper, course, shown.clone());
        let under = on_page(paper, course, hidden);
        let mut pipe = PlanPipe {
            run,
            course,
            report: paper.reports.run(&run.id),
            attention,
            far_off,
            width,
            seen,
            under,
            shown,
            longest: None,
        };
        pipe.longest = longest(paper.shown(), &pipe.seen);
        pipes.push(pipe);
    }
    pipes
}

/// Splits a run at vessels and runs above it; returns the visible spans and those under vessels.
fn pieces(paper: &PlanPage<'_>, course: &PlanRun) -> (Vec<Span>, Vec<Span>) {
    let gaps = course.gaps.iter().map(|gap| {
        let half = half_gap(paper, course, gap) / paper.scale();
        (gap.at_m - half, gap.at_m + half)
    });
    let gaps = joined(gaps.collect());
    let hidden = without(&course.hidden, &gaps);
    let mut cuts = gaps;
    cuts.extend(&course.hidden);
    let shown = without(&[course.drawn_m], &joined(cuts));
    (shown, hidden)
}

/// Returns spans of a run, metres along it, as lines on the page.
fn on_page(paper: &PlanPage<'_>, course: &PlanRun, spans: Vec<(f64, f64)>) -> Vec<Vec<Point>> {
    let lines = spans.into_iter().map(|(from, to)| course.piece(from, to));
    let lines = lines.flat_map(|line| clip::line(paper.points(&line), paper.page));
    lines.filter(|line| line.len() > 1).collect()
}

/// Returns half of the gap under another run, points.
fn half_gap(paper: &PlanPage<'_>, course: &PlanRun, gap: &super::plan_run::Gap) -> f64 {
    let over = paper.scene.positions.courses.get(gap.over);
    let over = over
        .map_or(0.0, |over| over.outside_m * paper.scale())
        .max(THIN);
    let own = (course.outside_m * paper.scale()).max(THIN);
    let cosine = (1.0 - gap.sine * gap.sine).max(0.0).sqrt();
    ((over / 2.0 + CLEAR + own / 2.0 * cosine) / gap.sine).min(over / 2.0 + MOST_GAP)
}

/// Returns spans without the cuts; both are in order and disjoint.
fn without(spans: &[(f64, f64)], cuts: &[(f64, f64)]) -> Vec<(f64, f64)> {
    let mut left = Vec::new();
    for &(from, to) in spans {
        let mut at = from;
        for &(start, end) in cuts.iter().filter(|cut| cut.1 > from && cut.0 < to) {
            if start > at {
                left.push((at, start));
            }
            at = at.max(end);
        }
        if to > at {
            left.push((at, to));
        }
    }
    left
}

/// Returns the longest straight piece of the lines, clipped to the page.
fn longest(page: Rect, lines: &[Vec<Point>]) -> Option<(Point, Point)> {
    let legs = lines.iter().flat_map(|line| line.windows(2));
    let seen = legs.filter_map(|pair| match *pair {
        [from, to] => {
            let (enter, leave) = inside(from, to, page)?;
            Some((on_leg(from, to, enter), on_leg(from, to, leave)))
        }
        _ => None,
    });
    seen.max_by(|a, b| a.0.distance(a.1).total_cmp(&b.0.distance(b.1)))
}

/// Draws the runs too thin and too many to be distinguished, before the vessels, which hide them.
pub(super) fn behind(paper: &mut PlanPage<'_>, pipes: &[PlanPipe<'_>]) {
    for pipe in pipes.iter().filter(|pipe| pipe.far_off) {
        walls(paper, pipe);
    }
}

/// Draws all walls before all water, so that runs that meet in a joint are open to one another, and hovered and
/// selected runs last.
pub(super) fn draw(paper: &mut PlanPage<'_>, pipes: &[PlanPipe<'_>]) {
    for pipe in pipes {
        under(paper, pipe);
    }
    let quiet = |pipe: &&PlanPipe<'_>| pipe.attention == Attention::None && !pipe.far_off;
    let looked_at = |pipe: &&PlanPipe<'_>| pipe.attention != Attention::None;
    for pipe in pipes.iter().filter(quiet) {
        walls(paper, pipe);
    }
    for pipe in pipes.iter().filter(quiet) {
        water(paper, pipe);
    }
    for pipe in pipes.iter().filter(looked_at) {
        walls(paper, pipe);
        water(paper, pipe);
    }
    for pipe in pipes {
        touch(paper, pipe);
    }
}

/// Draws the pieces under vessels, dashed as hidden edges.
fn under(paper: &mut PlanPage<'_>, pipe: &PlanPipe<'_>) {
    let stroke = Stroke::new(pipe.ink(), 1.1).with(Dash::Dashed);
    for line in &pipe.under {
        paper.placer.avoid(line);
        let hidden = Shape::Line {
            points: line.clone(),
            stroke,
        };
        paper.add_faint(Some(&pipe.run.id), 0.75, hidden);
    }
}

fn walls(paper: &mut PlanPage<'_>, pipe: &PlanPipe<'_>) {
    let id = Some(&pipe.run.id);
    let (stroke, half) = if pipe.run.pipe == Built::Open {
        // There is no pipe, only water that passes through an opening.
        let dotted = Stroke::new(pipe.ink(), THIN + pipe.more()).with(Dash::Dotted);
        (dotted, THIN)
    } else if pipe.is_wide() {
        let width = pipe.width + pipe.more();
        (Stroke::new(pipe.ink(), width), width / 2.0)
    } else {
        (Stroke::new(pipe.ink(), THIN + pipe.more()), THIN)
    };
    for line in &pipe.seen {
        block(paper, line, half);
        paper.line(id, line.clone(), stroke);
        if pipe.run.already_built && !pipe.is_wide() {
            strokes(paper, pipe, line);
        }
    }
}

/// Draws the inside of a wide pipe with the water in it.
fn water(paper: &mut PlanPage<'_>, pipe: &PlanPipe<'_>) {
    if !pipe.is_wide() {
        return;
    }
    let id = Some(&pipe.run.id);
    let wall = WALL.min(pipe.width * 0.28);
    let bore = Stroke::new(Ink::Inside, pipe.width - 2.0 * wall);
    let strength = paper.scene.strength();
    let surface = pipe.report.and_then(|report| surface(report, bore.width));
    for line in &pipe.seen {
        paper.line(id, line.clone(), bore);
        if let Some(stroke) = surface {
            let water = Shape::Line {
                points: line.clone(),
                stroke,
            };
            paper.add_faint(id, strength, water);
        }
        if pipe.run.already_built {
            paper.line(id, line.clone(), Stroke::new(Ink::Line, BUILT));
        }
    }
}

/// Returns the stroke of the water in a pipe seen from above: as wide as its surface, or as the bore if full; dashed if
/// surging, dotted if it falls freely; `None` if dry.
fn surface(report: &RunReport, bore: f64) -> Option<Stroke> {
    if !is_wet(Some(report)) {
        return None;
    }
    let deep = depth_share(report, 0.5);
    let (share, dash) = match report.regime {
        Regime::Full | Regime::None => (1.0, Dash::Solid),
        // Chord of a circle at that depth.
        Regime::PartFull => (2.0 * (deep * (1.0 - deep)).sqrt(), Dash::Solid),
        Regime::Surging => (0.8, Dash::Dashed),
        Regime::Free => (0.5, Dash::Dotted),
    };
    let least = LEAST_SURFACE / bore.max(LEAST_SURFACE);
    let width = bore * share.clamp(least, 1.0);
    Some(Stroke::new(Ink::Water, width).with(dash))
}

/// Draws short strokes across the line of an already built pipe.
fn strokes(paper: &mut PlanPage<'_>, pipe: &PlanPipe<'_>, line: &[Point]) {
    for pair in line.windows(2) {
        let &[from, to] = pair else { continue };
        let length = from.distance(to);
        let (ux, uy) = along(from, to);
        let mut at = STROKE_STEP / 2.0;
        while at < length && length < 1e5 {
            let centre = from.moved(ux * at, uy * at);
            let (dx, dy) = ((ux - uy) * STROKE, (uy + ux) * STROKE);
            if paper.sees(Rect::between(centre, centre).grown(STROKE)) {
                let stroke = vec![centre.moved(-dx, -dy), centre.moved(dx, dy)];
                paper.line(Some(&pipe.run.id), stroke, Stroke::new(pipe.ink(), 1.0));
            }
            at += STROKE_STEP;
        }
    }
}

/// Keeps text off a pipe; a sloping one is blocked piece by piece, since one rectangle would keep text far from it.
pub(super) fn block(paper: &mut PlanPage<'_>, line: &[Point], half: f64) {
    const PIECE: f64 = 16.0;
    for pair in line.windows(2) {
        let &[from, to] = pair else { continue };
        let rect = Rect::between(from, to);
        if rect.width().min(rect.height()) < 4.0 {
            paper.placer.block(rect.grown(half + 1.0));
            continue;
        }
        let count = (from.distance(to) / PIECE).ceil().clamp(1.0, 100.0);
        let mut piece = 0.0;
        while piece < count {
            let a = on_leg(from, to, piece / count);
            let b = on_leg(from, to, (piece + 1.0) / count);
            paper.placer.block(Rect::between(a, b).grown(half + 1.0));
            piece += 1.0;
        }
    }
}

fn touch(paper: &mut PlanPage<'_>, pipe: &PlanPipe<'_>) {
    let reach = TouchArea::Line {
        points: paper.points(&pipe.course.points),
        half_width: (pipe.width / 2.0).max(2.0),
    };
    // If there are too many runs, only hovered and selected ones are described with their numbers.
    let name = if paper.is_crowded() && pipe.attention == Attention::None {
        called(&pipe.run.name, &pipe.run.id).to_owned()
    } else {
        names::run(pipe.run, pipe.course, pipe.report, paper.scene.units)
    };
    paper.touch(Pick::Part(pipe.run.id.clone()), reach, name);
}
