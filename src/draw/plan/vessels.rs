//! Vessels in the plan: wall and water.

use super::bodies::{body, shrunk};
use super::clip;
use super::fixed;
use super::grains;
use super::names;
use super::outline::Outline;
use super::paper::PlanPage;
use super::pipes;
use super::shapes::{PlanShape, surface};
use crate::draw::canvas::touch::{Attention, Pick, TouchArea, called, outline};
use crate::draw::page::shape::{Dash, Ink, Stroke};
use crate::draw::parts::spilling::spills;
use crate::layout::{Shape as Built, Vessel};
use crate::states::report::VesselReport;

/// Thickness of the wall of a vessel, and of one that spills, points.
const WALL: f64 = 2.2;
const SPILLING: f64 = 4.0;
/// Size below which only the outline of a vessel is drawn, points.
const LEAST: f64 = 9.0;
/// Distance from the wall to the second line of an already built vessel, and the thickness of that line, points.
const SECOND: f64 = 4.0;
const BUILT: f64 = 0.9;

/// Draws all vessels from the lowest up, and the edges that are under others.
pub(super) fn draw(paper: &mut PlanPage<'_>) {
    let scene = paper.scene;
    for index in &scene.positions.order {
        let part = scene.layout.vessels.get(*index);
        if let (Some(part), Some(one)) = (part, scene.positions.vessels.get(*index))
            && paper.sees(paper.rect(one).grown(WALL))
        {
            vessel(paper, part, one);
        }
    }
    for (index, edge) in &scene.positions.covered {
        let Some(part) = scene.layout.vessels.get(*index) else {
            continue;
        };
        let stroke = Stroke::new(Ink::Line, 1.0).with(Dash::Dashed);
        for points in clip::line(paper.points(edge), paper.page) {
            paper.line(Some(&part.id), points, stroke);
        }
    }
    fixed::draw(paper);
}

fn vessel(paper: &mut PlanPage<'_>, part: &Vessel, one: &Outline) {
    let id = &part.id;
    let report = paper.reports.vessel(id);
    let rect = paper.rect(one);
    let large = rect.width().min(rect.height()) >= LEAST;
    body(paper, id, one, one.form, (1.0, Some(Ink::Inside), None));
    if large {
        water(paper, part, one, report);
        grains::draw(paper, part, one);
        inner_lines(paper, part, one);
    }
    let pick = Pick::Part(id.clone());
    let over = spills(part, &paper.reports);
    let plain = if over {
        Stroke::new(Ink::Problem, SPILLING)
    } else if large {
        Stroke::new(Ink::Line, WALL)
    } else {
        Stroke::new(Ink::Line, 1.2)
    };
    let attention = paper.scene.attention(&pick);
    let edge = outline(attention, plain);
    body(paper, id, one, one.form, (1.0, None, Some(edge)));
    if part.already_built && large {
        let inner = shrunk(one.form, SECOND / paper.scale());
        let second = Stroke::new(Ink::Line, BUILT);
        body(paper, id, one, inner, (1.0, None, Some(second)));
    }
    keep_words_off(paper, one);
    let reach = reach(paper, one);
    let name = if paper.is_crowded() && attention == Attention::None {
        called(&part.name, &part.id).to_owned()
    } else {
        names::vessel(part, report, paper.scene.units)
    };
    paper.touch(pick, reach, name);
}

/// Keeps text off the wall, across which it cannot be read.
fn keep_words_off(paper: &mut PlanPage<'_>, one: &Outline) {
    if paper.is_crowded() {
        return;
    }
    let corners = match one.form {
        PlanShape::Round { radius_m } => one.round(radius_m, 32),
        PlanShape::Box { .. } => one.corners(one.form),
    };
    let mut around = paper.points(&corners);
    around.extend(around.first().copied());
    for line in clip::line(around, paper.page) {
        pipes::block(paper, &line, WALL / 2.0);
    }
}

/// Draws the water surface at its level, as far as it is visible from above.
fn water(paper: &mut PlanPage<'_>, part: &Vessel, one: &Outline, report: Option<&VesselReport>) {
    let Some(report) = report else { return };
    let level_m = report.stands_m().unwrap_or(part.rim_m).min(part.rim_m);
    if level_m <= part.floor_m {
        return;
    }
    let seen = match (
        surface(&part.shape, level_m - part.floor_m),
        surface(&part.shape, part.rim_m - part.floor_m),
    ) {
        // Visible only through the opening of a drum.
        (
            PlanShape::Box { half_x_m, half_y_m },
            PlanShape::Box {
                half_y_m: most_m, ..
            },
        ) if matches!(part.shape, Built::LyingDrum { .. }) => PlanShape::Box {
            half_x_m,
            half_y_m: half_y_m.min(most_m),
        },
        (surface, _) => surface,
    };
    let strength = paper.scene.strength();
    body(
        paper,
        &part.id,
        one,
        seen,
        (strength, Some(Ink::Water), None),
    );
    // The edge of the water is visible where it does not reach the wall.
    if seen != one.form {
        let edge = Stroke::new(Ink::WaterLine, 1.0);
        body(paper, &part.id, one, seen, (strength, None, Some(edge)));
    }
}

/// Draws the cone of a vessel and the opening of a drum.
fn inner_lines(paper: &mut PlanPage<'_>, part: &Vessel, one: &Outline) {
    let thin = Stroke::new(Ink::Line, 0.9);
    match (&part.shape, one.form) {
        (Built::ConeBottom { .. }, PlanShape::Round { radius_m }) => {
            let half = PlanShape::Round {
                radius_m: radius_m / 2.0,
            };
            let faint = Some(Stroke::new(Ink::FaintLine, 1.0));
            body(paper, &part.id, one, half, (1.0, None, faint));
            let centre = paper.point(one.middle);
            let arm = (radius_m * paper.scale() * 0.12).clamp(3.0, 9.0);
            for (dx, dy) in [(arm, 0.0), (0.0, arm)] {
                let line = vec![centre.moved(-dx, -dy), centre.moved(dx, dy)];
                paper.line(Some(&part.id), line, thin);
            }
        }
        (Built::LyingDrum { .. }, _) => {
            let opening = surface(&part.shape, part.rim_m - part.floor_m);
            body(paper, &part.id, one, opening, (1.0, None, Some(thin)));
        }
        _ => {}
    }
}

fn reach(paper: &PlanPage<'_>, one: &Outline) -> TouchArea {
    match one.form {
        PlanShape::Round { radius_m } => TouchArea::Disc {
            centre: paper.point(one.middle),
            radius: radius_m * paper.scale(),
        },
        PlanShape::Box { .. } => TouchArea::Polygon(paper.points(&one.corners(one.form))),
    }
}
