//! Pipes of the path: invert, crown, and the water in them.

use super::{GradePage, PathRun, path_parts};
use crate::draw::canvas::touch::{Attention, Pick, TouchArea};
use crate::draw::page::shape::{Dash, Ink, Point, Rect, Shape, Stroke, pt};
use crate::draw::results::reports::is_wet;
use crate::states::GradePoint;

/// Smallest drawn height of a pipe, points.
const LEAST: f64 = 3.2;
const WALL: f64 = 1.3;

pub(super) fn draw(paper: &mut GradePage<'_>) {
    for leg in &paper.scene.profile.legs {
        pipe(paper, leg);
    }
    path_parts::joints(paper);
    path_parts::surfaces(paper);
}

/// A cross-section of a pipe on the page.
#[derive(Clone, Copy)]
struct PipeCut {
    x: f64,
    invert: f64,
    crown: f64,
    /// Water surface; `None` if the pipe is dry.
    surface: Option<f64>,
}

/// Returns the cross-sections of a run where its pipe is known.
fn cuts(paper: &GradePage<'_>, leg: &PathRun) -> Vec<PipeCut> {
    let view = paper.scene.view;
    let dry = !is_wet(paper.reports.run(&leg.run));
    let cut = |point: &GradePoint| {
        let (invert_m, crown_m) = (point.invert_m?, point.crown_m?);
        let (invert, crown) = (view.y(invert_m), view.y(crown_m));
        let crown = crown.min(invert - LEAST);
        let surface_m = if leg.full && (leg.pumped || leg.sucks(point)) {
            crown_m
        } else {
            point.grade_m?.clamp(invert_m, crown_m.max(invert_m))
        };
        let share = (surface_m - invert_m) / (crown_m - invert_m).max(1e-9);
        let wet = !dry && point.grade_m.is_some();
        Some(PipeCut {
            x: view.x(point.distance_m + leg.shift_m),
            invert,
            crown,
            surface: wet.then_some(invert + (crown - invert) * share),
        })
    };
    let known = leg.points.iter().filter(|point| point.invert_m.is_some());
    // A pipe without a grade is drawn dry.
    let dry_cut = |point: &GradePoint| {
        let (invert_m, crown_m) = (point.invert_m?, point.crown_m?);
        let invert = view.y(invert_m);
        Some(PipeCut {
            x: view.x(point.distance_m + leg.shift_m),
            invert,
            crown: view.y(crown_m).min(invert - LEAST),
            surface: None,
        })
    };
    known
        .filter_map(|point| cut(point).or_else(|| dry_cut(point)))
        .collect()
}

fn pipe(paper: &mut GradePage<'_>, leg: &PathRun) {
    let cuts = cuts(paper, leg);
    let id = Some(&leg.run);
    for pair in cuts.windows(2) {
        let [a, b] = *pair else { continue };
        if (b.x - a.x).abs() < 1e-9 && (a.invert - b.invert).abs() < 1e-9 {
            continue;
        }
        paper
            .context
            .area(id, four(a, a.crown, b, b.crown), Ink::Inside);
        keep_words_off(paper, a, b);
        if let (Some(left), Some(right)) = (a.surface, b.surface) {
            let area = Shape::Area {
                corners: four(a, left, b, right),
                fill: Some(Ink::Water),
                edge: None,
            };
            paper.context.add_faint(id, paper.strength, area);
        }
    }
    let (ink, width) = match paper.attention(&leg.run) {
        Attention::None => (Ink::Line, WALL),
        Attention::Hovered => (Ink::Accent, WALL),
        Attention::Selected => (Ink::Accent, WALL + 1.0),
    };
    let edge = |of: fn(&PipeCut) -> f64| -> Vec<Point> {
        cuts.iter().map(|cut| pt(cut.x, of(cut))).collect()
    };
    for line in [edge(|cut| cut.invert), edge(|cut| cut.crown)] {
        paper.context.placer.avoid(&line);
        paper.context.line(id, line, Stroke::new(ink, width));
    }
    let middle = edge(|cut| (cut.invert + cut.crown) / 2.0);
    let high = cuts
        .iter()
        .map(|cut| cut.invert - cut.crown)
        .fold(0.0, f64::max);
    let name = path_parts::name(paper.scene.layout, &leg.run).to_owned();
    if middle.len() > 1 {
        let reach = TouchArea::Line {
            points: middle,
            half_width: high / 2.0,
        };
        paper
            .context
            .touch(Pick::Part(leg.run.clone()), reach, name);
    }
    hatch(paper, leg);
}

/// Length of the pieces by which labels are kept off a sloping pipe, points.
const PIECE: f64 = 10.0;
/// Most pieces of one leg; no page is wider.
const MOST_PIECES: f64 = 400.0;

/// Keeps labels off a piece of pipe.
fn keep_words_off(paper: &mut GradePage<'_>, a: PipeCut, b: PipeCut) {
    let room = paper.room;
    let count = ((b.x - a.x).abs().max((b.invert - a.invert).abs()) / PIECE).ceil();
    let count = count.clamp(1.0, MOST_PIECES);
    let mut step = 0.0;
    while step < count {
        let at = |of: fn(&PipeCut) -> f64, step: f64| of(&a) + (of(&b) - of(&a)) * step / count;
        let sides = [step, step + 1.0];
        let low = sides.map(|step| pt(at(|cut| cut.x, step), at(|cut| cut.invert, step)));
        let high = sides.map(|step| pt(at(|cut| cut.x, step), at(|cut| cut.crown, step)));
        let rect = Rect::around(&[low[0], low[1], high[0], high[1]]);
        if rect.overlaps(room) {
            paper.context.placer.block(rect);
        }
        step += 1.0;
    }
}

/// Returns the corners of a piece of pipe, or of the water in it, from the invert up to a height at each side.
fn four(a: PipeCut, left: f64, b: PipeCut, right: f64) -> Vec<Point> {
    vec![
        pt(a.x, a.invert),
        pt(b.x, b.invert),
        pt(b.x, right),
        pt(a.x, left),
    ]
}

/// Spacing of the hatch lines, points.
const STEP: f64 = 9.0;
/// Smallest height of a pressure that is hatched, points.
const LEAST_HIGH: f64 = 5.0;

/// Hatches the pressure from the crown up to the grade, and dotted the suction from the grade up to the crown.
fn hatch(paper: &mut GradePage<'_>, leg: &PathRun) {
    let view = paper.scene.view;
    let (left, right) = leg.reach_m();
    let (left, right) = (
        view.x(left).max(paper.room.left),
        view.x(right).min(paper.room.right),
    );
    let mut x = left + STEP / 2.0;
    while x < right {
        let along_m = view.section_from_page(pt(x, 0.0)).along_m;
        let here = super::profile::at_leg(leg, along_m);
        if let (Some(grade_m), Some(crown_m)) = (here.grade_m, here.crown_m) {
            let (grade, crown) = (view.y(grade_m), view.y(crown_m));
            let stroke = if crown - grade > LEAST_HIGH {
                Some(Stroke::new(Ink::WaterLine, 0.7))
            } else if leg.sucks(&here) && grade - crown > 1.0 {
                Some(Stroke::new(Ink::Warning, 1.3).with(Dash::Dotted))
            } else {
                None
            };
            if let Some(stroke) = stroke {
                let line = Shape::Line {
                    points: vec![pt(x, crown), pt(x, grade)],
                    stroke,
                };
                paper
                    .context
                    .add_faint(Some(&leg.run), 0.7 * paper.strength, line);
            }
        }
        x += STEP;
    }
}
