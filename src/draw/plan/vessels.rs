//! Vessels from above: wall, water, medium; fixed levels as a sign.

use super::clip;
use super::names;
use super::outline::{Form, Outline, surface};
use super::paper::Paper;
use crate::draw::shape::{Dash, Ink, Point, Rect, Shape, Stroke, pt};
use crate::draw::spilling::spills;
use crate::draw::touch::{Attention, Pick, Reach, outline};
use crate::draw::view::at;
use crate::layout::{Id, Shape as Built, Vessel};
use crate::states::report::VesselReport;

/// The wall of a vessel, and of one that spills, points.
const WALL: f64 = 2.2;
const SPILLING: f64 = 4.0;
/// A vessel smaller than this is drawn as its outline alone, points.
const LEAST: f64 = 9.0;
/// From the wall to the second line of what stands already, and that line, points.
const SECOND: f64 = 4.0;
const BUILT: f64 = 0.9;
/// A circle larger than this is drawn in straight pieces, points.
const MOST_RADIUS: f64 = 3000.0;
/// From grain to grain of a medium at least, points; the most of one vessel.
const GRAIN: f64 = 13.0;
const MOST_GRAINS: f64 = 1500.0;
/// The sign of a fixed level, points.
const FIXED: (f64, f64) = (30.0, 16.0);

/// Every vessel from the lowest up, and the edges that lie under others.
pub(super) fn draw(paper: &mut Paper<'_>) {
    let scene = paper.scene;
    for index in &scene.ground.order {
        let part = scene.layout.vessels.get(*index);
        if let (Some(part), Some(one)) = (part, scene.ground.vessels.get(*index))
            && paper.sees(paper.rect(one).grown(WALL))
        {
            vessel(paper, part, one);
        }
    }
    for (index, edge) in &scene.ground.covered {
        let Some(part) = scene.layout.vessels.get(*index) else {
            continue;
        };
        let stroke = Stroke::new(Ink::Line, 1.0).with(Dash::Dashed);
        for points in clip::line(paper.points(edge), paper.page) {
            paper.line(Some(&part.id), points, stroke);
        }
    }
    fixed(paper);
}

fn vessel(paper: &mut Paper<'_>, part: &Vessel, one: &Outline) {
    let id = &part.id;
    let report = paper.reports.vessel(id);
    let rect = paper.rect(one);
    let large = rect.width().min(rect.height()) >= LEAST;
    body(paper, (id, one), one.form, (1.0, Some(Ink::Inside), None));
    if large {
        water(paper, part, one, report);
        medium(paper, part, one);
        inner_lines(paper, part, one);
    }
    let pick = Pick::Part(id.clone());
    let over = report.is_some_and(|report| spills(part, report));
    let plain = if over {
        Stroke::new(Ink::Problem, SPILLING)
    } else if large {
        Stroke::new(Ink::Line, WALL)
    } else {
        Stroke::new(Ink::Line, 1.2)
    };
    let edge = outline(paper.scene.attention(&pick), plain);
    body(paper, (id, one), one.form, (1.0, None, Some(edge)));
    if part.already_built && large {
        let inner = shrunk(one.form, SECOND / paper.scale);
        let second = Stroke::new(Ink::Line, BUILT);
        body(paper, (id, one), inner, (1.0, None, Some(second)));
    }
    let reach = reach(paper, one);
    let name = names::vessel(part, report, paper.scene.units);
    paper.touch(pick, reach, name);
}

/// The water as large as it stands, as far as it can be seen from above.
fn water(paper: &mut Paper<'_>, part: &Vessel, one: &Outline, report: Option<&VesselReport>) {
    let Some(report) = report else { return };
    let level_m = report.level_m.unwrap_or(part.rim_m).min(part.rim_m);
    if level_m <= part.floor_m {
        return;
    }
    let seen = match (
        surface(&part.shape, level_m - part.floor_m),
        surface(&part.shape, part.rim_m - part.floor_m),
    ) {
        // Through the opening of a drum.
        (
            Form::Box { half_x_m, half_y_m },
            Form::Box {
                half_y_m: most_m, ..
            },
        ) if matches!(part.shape, Built::LyingDrum { .. }) => Form::Box {
            half_x_m,
            half_y_m: half_y_m.min(most_m),
        },
        (surface, _) => surface,
    };
    let strength = paper.scene.strength();
    body(
        paper,
        (&part.id, one),
        seen,
        (strength, Some(Ink::Water), None),
    );
    // Where the water does not reach the wall its edge is seen.
    if seen != one.form {
        let edge = Stroke::new(Ink::WaterLine, 1.0);
        body(paper, (&part.id, one), seen, (strength, None, Some(edge)));
    }
}

/// Grains, so that gravel does not read as another water.
fn medium(paper: &mut Paper<'_>, part: &Vessel, one: &Outline) {
    let filled = part
        .medium
        .is_some_and(|medium| medium.top_m > part.floor_m);
    let rect = paper.rect(one);
    let seen = Rect {
        left: rect.left.max(paper.page.left),
        right: rect.right.min(paper.page.right),
        top: rect.top.max(paper.page.top),
        bottom: rect.bottom.min(paper.page.bottom),
    };
    let area = seen.width() * seen.height();
    if !filled || area.is_nan() || rect.width().min(rect.height()) < 2.0 * GRAIN {
        return;
    }
    let step = GRAIN.max((area / MOST_GRAINS).sqrt());
    let middle = paper.point(one.middle);
    let inner = shrunk(one.form, 4.0 / paper.scale);
    let (first, last) = (
        steps(seen.top - middle.y, step),
        steps(seen.bottom - middle.y, step),
    );
    let mut row = first;
    while row <= last {
        let shift = if row.rem_euclid(2.0) < 0.5 {
            0.0
        } else {
            step / 2.0
        };
        let mut x = middle.x + shift + steps(seen.left - middle.x, step) * step;
        while x <= seen.right {
            let grain = pt(x, middle.y + row * step);
            if is_in(paper, one, inner, grain) {
                let grain = Shape::Circle {
                    centre: grain,
                    radius: 1.1,
                    fill: Some(Ink::Medium),
                    edge: None,
                };
                paper.add_faint(Some(&part.id), 0.8, grain);
            }
            x += step;
        }
        row += 1.0;
    }
}

fn steps(length: f64, step: f64) -> f64 {
    (length / step).floor()
}

fn is_in(paper: &Paper<'_>, one: &Outline, form: Form, point: Point) -> bool {
    let place = paper.place(point);
    one.holds(form, place)
}

/// The cone of a vessel and the opening of a drum.
fn inner_lines(paper: &mut Paper<'_>, part: &Vessel, one: &Outline) {
    let thin = Stroke::new(Ink::Line, 0.9);
    match (&part.shape, one.form) {
        (Built::ConeBottom { .. }, Form::Round { radius_m }) => {
            let half = Form::Round {
                radius_m: radius_m / 2.0,
            };
            let faint = Some(Stroke::new(Ink::FaintLine, 1.0));
            body(paper, (&part.id, one), half, (1.0, None, faint));
            let centre = paper.point(one.middle);
            let arm = (radius_m * paper.scale * 0.12).clamp(3.0, 9.0);
            for (dx, dy) in [(arm, 0.0), (0.0, arm)] {
                let line = vec![centre.moved(-dx, -dy), centre.moved(dx, dy)];
                paper.line(Some(&part.id), line, thin);
            }
        }
        (Built::LyingDrum { .. }, _) => {
            let opening = surface(&part.shape, part.rim_m - part.floor_m);
            body(paper, (&part.id, one), opening, (1.0, None, Some(thin)));
        }
        _ => {}
    }
}

/// A form smaller by `by_m` on every side.
fn shrunk(form: Form, by_m: f64) -> Form {
    match form {
        Form::Round { radius_m } => Form::Round {
            radius_m: (radius_m - by_m).max(0.0),
        },
        Form::Box { half_x_m, half_y_m } => Form::Box {
            half_x_m: (half_x_m - by_m).max(0.0),
            half_y_m: (half_y_m - by_m).max(0.0),
        },
    }
}

/// A form in a vessel: its strength, its fill and its edge.
fn body(
    paper: &mut Paper<'_>,
    (id, one): (&Id, &Outline),
    form: Form,
    (strength, fill, edge): (f64, Option<Ink>, Option<Stroke>),
) {
    let corners = match form {
        Form::Round { radius_m } if radius_m * paper.scale < MOST_RADIUS => {
            let circle = Shape::Circle {
                centre: paper.point(one.middle),
                radius: radius_m * paper.scale,
                fill,
                edge,
            };
            return paper.add_faint(Some(id), strength, circle);
        }
        Form::Round { radius_m } => one.round(radius_m, 720),
        Form::Box { .. } => one.corners(form),
    };
    let (corners, page) = (paper.points(&corners), paper.page);
    if clip::is_whole(&corners, page) {
        let whole = Shape::Area {
            corners,
            fill,
            edge,
        };
        return paper.add_faint(Some(id), strength, whole);
    }
    let mut around = corners.clone();
    around.extend(corners.first());
    let corners = clip::area(corners, page);
    if fill.is_some() && corners.len() > 2 {
        let inside = Shape::Area {
            corners,
            fill,
            edge: None,
        };
        paper.add_faint(Some(id), strength, inside);
    }
    let Some(stroke) = edge else { return };
    for points in clip::line(around, page) {
        paper.add_faint(Some(id), strength, Shape::Line { points, stroke });
    }
}

fn reach(paper: &Paper<'_>, one: &Outline) -> Reach {
    match one.form {
        Form::Round { radius_m } => Reach::Disc {
            centre: paper.point(one.middle),
            radius: radius_m * paper.scale,
        },
        Form::Box { .. } => Reach::Polygon(paper.points(&one.corners(one.form))),
    }
}

/// A box of water with a broken edge: nobody knows how large it is.
fn fixed(paper: &mut Paper<'_>) {
    let scene = paper.scene;
    for (part, place) in scene.layout.fixed.iter().zip(&scene.ground.fixed) {
        let centre = scene.view.page_from_section(at(place.x_m, place.y_m));
        let (width, height) = FIXED;
        let rect = Rect {
            left: centre.x - width / 2.0,
            right: centre.x + width / 2.0,
            top: centre.y - height / 2.0,
            bottom: centre.y + height / 2.0,
        };
        if !paper.sees(rect) {
            continue;
        }
        let pick = Pick::Part(part.id.clone());
        let attention = scene.attention(&pick);
        let dashed = outline(attention, Stroke::new(Ink::Line, 1.2));
        let edge = match attention {
            Attention::None => dashed.with(Dash::Dashed),
            _ => dashed,
        };
        let water = Shape::Box {
            rect,
            radius: 3.0,
            fill: Some(Ink::Water),
            edge: Some(edge),
        };
        paper.add(Some(&part.id), water);
        let sign = vec![
            centre.moved(-4.5, -4.5),
            centre.moved(4.5, -4.5),
            centre.moved(0.0, 3.5),
        ];
        paper.area(Some(&part.id), sign, Ink::WaterLine);
        paper.keep(rect.grown(1.0));
        let name = names::fixed(part, scene.units);
        paper.touch(pick, Reach::Area(rect), name);
    }
}
