//! The grade line and energy line between levels, and the pump's step in them.

use super::profile::{self, PathItem};
use super::{GradePage, PathRun};
use crate::draw::canvas::touch::{Pick, TouchArea, outline};
use crate::draw::page::shape::{Dash, Ink, Point, Rect, Shape, Stroke, pt};
use crate::draw::page::view::at;
use crate::draw::parts::symbols;
use crate::layout::{Direction, Pump};
use crate::states::GradePoint;

pub(super) const GRADE: Stroke = Stroke {
    ink: Ink::WaterLine,
    width: 2.2,
    dash: Dash::Solid,
};
pub(super) const ENERGY: Stroke = Stroke {
    ink: Ink::Text,
    width: 1.1,
    dash: Dash::Dashed,
};
/// Vertical line where water falls freely or loses head at the end of a run.
const STEP: Stroke = Stroke {
    ink: Ink::WaterLine,
    width: 1.5,
    dash: Dash::Dotted,
};

/// Height above the invert at which freely falling water is drawn, points; its depth is not computed.
const THIN_WATER: f64 = 2.4;

/// Smallest pump step that is drawn, metres.
const LEAST_STEP_M: f64 = 1e-6;

pub(super) fn draw(paper: &mut GradePage<'_>) {
    ends(paper);
    for leg in &paper.scene.profile.legs {
        line(paper, leg, |point| point.energy_m, ENERGY);
    }
    for leg in &paper.scene.profile.legs {
        line(paper, leg, |point| point.grade_m, GRADE);
    }
    surfaces(paper);
    for leg in &paper.scene.profile.legs {
        seated(paper, leg);
        sign(paper, leg);
    }
}

/// Draws a line along a run in pieces; where water falls freely it is dotted and has no energy.
fn line(
    paper: &mut GradePage<'_>,
    leg: &PathRun,
    of: fn(&GradePoint) -> Option<f64>,
    stroke: Stroke,
) {
    let view = paper.scene.view;
    let mut pieces: Vec<(Vec<Point>, Stroke)> = Vec::new();
    for pair in leg.points.windows(2) {
        let [a, b] = pair else { continue };
        let (Some(from_m), Some(to_m)) = (of(a), of(b)) else {
            continue;
        };
        let place = |point: &GradePoint, z_m: f64| {
            view.page_from_section(at(point.distance_m + leg.shift_m, z_m))
        };
        let (mut from, mut to) = (place(a, from_m), place(b, to_m));
        let falls = a.energy_m.is_none() || b.energy_m.is_none();
        if falls {
            // A line on the invert itself could not be seen.
            (from, to) = (from.moved(0.0, -THIN_WATER), to.moved(0.0, -THIN_WATER));
        }
        let stroke = if falls { STEP } else { stroke };
        match pieces.last_mut() {
            Some((points, same)) if *same == stroke && points.last() == Some(&from) => {
                points.push(to);
            }
            _ => pieces.push((vec![from, to], stroke)),
        }
    }
    for (points, stroke) in pieces {
        paper.context.placer.avoid(&points);
        let strength = paper.strength;
        let line = Shape::Line { points, stroke };
        paper.context.add_faint(Some(&leg.run), strength, line);
    }
}

/// Draws the level across each vessel.
fn surfaces(paper: &mut GradePage<'_>) {
    let view = paper.scene.view;
    for stand in &paper.scene.profile.stands {
        let (Some(level_m), Some(_)) = (stand.level_m, stand.walls_m) else {
            continue;
        };
        let y = view.y(level_m);
        let points = vec![
            pt(view.x(stand.along_m), y),
            pt(view.x(stand.along_m + stand.width_m), y),
        ];
        let strength = paper.strength;
        paper
            .context
            .faint_line(&stand.part, strength, points, GRADE);
    }
}

/// Draws the losses and free falls at the ends of runs.
fn ends(paper: &mut GradePage<'_>) {
    let view = paper.scene.view;
    let profile = paper.scene.profile;
    for (at, leg) in profile.legs.iter().enumerate() {
        let sides = [
            (leg.points.first(), before(paper, leg)),
            (leg.points.last(), after(paper, at, leg)),
        ];
        for (point, level_m) in sides {
            let known =
                point.and_then(|point| Some((point.distance_m + leg.shift_m, point.grade_m?)));
            let (Some((along_m, grade_m)), Some(level_m)) = (known, level_m) else {
                continue;
            };
            let x = view.x(along_m);
            let points = vec![pt(x, view.y(grade_m)), pt(x, view.y(level_m))];
            if (grade_m - level_m).abs() * view.points_per_metre_up > 1.0 {
                paper.context.placer.avoid(&points);
                let strength = paper.strength;
                paper.context.faint_line(&leg.run, strength, points, STEP);
            }
        }
    }
}

/// Returns the level of the part that a leg comes from: the last one that ends where the leg begins.
fn before(paper: &GradePage<'_>, leg: &PathRun) -> Option<f64> {
    let (start_m, _) = leg.reach_m();
    let stands = paper.scene.profile.stands.iter().rev();
    let mut there = stands.filter(|stand| (stand.along_m + stand.width_m - start_m).abs() < 1e-6);
    there.next().and_then(|stand| stand.level_m)
}

/// Returns the level of the part that a leg leads to: the one after it.
fn after(paper: &GradePage<'_>, at: usize, leg: &PathRun) -> Option<f64> {
    // `stands` has one part before each leg and one after the last.
    let stand = paper.scene.profile.stands.get(at + 1)?;
    ((stand.along_m - leg.reach_m().1).abs() < 1e-6).then_some(stand.level_m)?
}

/// Position of a pump along a leg, and the energy levels before and after its lift, lower first, metres.
pub(super) struct PumpLift {
    pub along_m: f64,
    pub low_m: f64,
    pub high_m: f64,
}

/// Returns the pump of a leg and its lift, if the pump is on.
pub(super) fn pump<'s>(paper: &GradePage<'s>, leg: &PathRun) -> Option<(&'s Pump, PumpLift)> {
    let pump = paper.scene.layout.run(&leg.run)?.pump.as_ref()?;
    paper.reports.pump(&pump.id).filter(|report| report.on)?;
    let steps = leg.points.windows(2).filter_map(|pair| match pair {
        [a, b] if (a.distance_m - b.distance_m).abs() < 1e-9 => {
            let (from_m, to_m) = (a.energy_m?, b.energy_m?);
            ((to_m - from_m).abs() > LEAST_STEP_M).then(|| PumpLift {
                along_m: a.distance_m + leg.shift_m,
                low_m: from_m.min(to_m),
                high_m: from_m.max(to_m),
            })
        }
        _ => None,
    });
    let lift = steps.max_by(|a, b| (a.high_m - a.low_m).total_cmp(&(b.high_m - b.low_m)))?;
    Some((pump, lift))
}

/// Draws the pump symbol, whether the pump is on or off.
fn sign(paper: &mut GradePage<'_>, leg: &PathRun) {
    let pump = paper.scene.layout.run(&leg.run);
    let pump = pump.and_then(|run| run.pump.as_ref());
    let (Some(pump), Some(along_m)) = (pump, leg.pump_m()) else {
        return;
    };
    let Some((centre, [from, to])) = on_pipe(paper, leg, along_m) else {
        return;
    };
    let id = &pump.id;
    let forward = (pump.pushes == Direction::Forward) == leg.forward;
    let (ux, uy) = symbols::along(from, to);
    let way = if forward { (ux, uy) } else { (-ux, -uy) };
    let edge = outline(paper.attention(id), Stroke::new(Ink::Line, 1.6));
    for shape in symbols::pump(centre, way, edge) {
        paper.context.add(Some(id), shape);
    }
    let reach = TouchArea::Spot {
        centre,
        radius: symbols::PUMP,
    };
    paper.context.keep(reach.bounds());
    let name = super::path_parts::name(paper.scene.layout, id).to_owned();
    paper.context.touch(Pick::Part(id.clone()), reach, name);
}

/// Smallest spacing of two symbols on a leg, points; if any are closer, only the pump is drawn.
const LEAST_APART: f64 = 2.0 * symbols::VALVE;
/// Half the size of the box of a piece of equipment, points.
const BOX: f64 = 5.0;

/// Draws the valves, check valve, fittings and equipment on the pipe in their order.
fn seated(paper: &mut GradePage<'_>, leg: &PathRun) {
    let view = paper.scene.view;
    let places = leg.seated.iter();
    let places: Vec<f64> = places.map(|one| view.x(one.distance_m)).collect();
    let mut gaps = places.windows(2).filter_map(|pair| match *pair {
        [left, right] => Some((right - left).abs()),
        _ => None,
    });
    if gaps.any(|gap| gap < LEAST_APART) {
        return;
    }
    for one in &leg.seated {
        let Some((centre, [from, to])) = on_pipe(paper, leg, one.distance_m + leg.shift_m) else {
            continue;
        };
        let leg_there = (from, to);
        let with_path = |with_path: bool| match with_path {
            true => Direction::Forward,
            false => Direction::Backward,
        };
        let shapes = match one.what {
            PathItem::Pump => continue,
            PathItem::Valve(opening) => symbols::valve(centre, leg_there, opening).to_vec(),
            PathItem::Check { with_path: with } => {
                symbols::check_valve(centre, leg_there, with_path(with)).to_vec()
            }
            PathItem::Fitting => vec![symbols::fitting(centre, leg_there)],
            PathItem::Equipment => vec![Shape::Box {
                rect: Rect::between(centre, centre).grown(BOX),
                radius: 2.0,
                fill: Some(Ink::Card),
                edge: Some(Stroke::new(Ink::Line, 1.3)),
            }],
        };
        for shape in shapes {
            paper.context.add(Some(&leg.run), shape);
        }
        let rect = Rect::between(centre, centre).grown(symbols::VALVE);
        paper.context.keep(rect);
    }
}

/// Half the length of pipe from which a symbol takes its slope, points.
const PIECE: f64 = 6.0;

/// Returns the middle of the pipe at a distance along the drawing and two points on both sides of it; `None` off the
/// page.
fn on_pipe(paper: &GradePage<'_>, leg: &PathRun, along_m: f64) -> Option<(Point, [Point; 2])> {
    let view = paper.scene.view;
    let middle = |along_m: f64| {
        let here = profile::at_leg(leg, along_m);
        let middle_m = (here.invert_m? + here.crown_m?) / 2.0;
        Some(pt(view.x(along_m), view.y(middle_m)))
    };
    let centre = middle(along_m)?;
    let page = paper.context.page;
    if !Rect::between(centre, centre)
        .grown(symbols::PUMP)
        .overlaps(page)
    {
        return None;
    }
    let off_m = PIECE / view.points_per_metre_along.max(1e-9);
    let (start_m, end_m) = leg.reach_m();
    let sides = [(along_m - off_m).max(start_m), (along_m + off_m).min(end_m)];
    let [from, to] = sides.map(middle);
    Some((centre, [from?, to?]))
}
