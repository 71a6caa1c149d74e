//! What sits in a run: valves, check valve, equipment, pump; and the joints.

use super::paper::Paper;
use super::pipes::Pipe;
use crate::catalogue::{Acts, Catalogue};
use crate::draw::labels::{Line, Side, Spot, Wish};
use crate::draw::shape::{Anchor, Ink, Point, Rect, Shape, Stroke, Weight, pt};
use crate::draw::text;
use crate::draw::touch::{Pick, Reach};
use crate::draw::touch::{called, outline};
use crate::layout::{Direction, Id, Run};
use crate::units::{self, Quantity};

/// Half the length of a valve, points.
const VALVE: f64 = 7.0;
/// The circle of a pump, points.
const PUMP: f64 = 11.0;
const EQUIPMENT_SIZE: f64 = 10.0;
/// Room that one fitting takes along a run, points.
const ROOM: f64 = 26.0;

/// One thing that sits in a run.
enum Sits<'a> {
    Valve { opening: f64 },
    Check(Direction),
    Equipment(&'a str),
}

pub(super) fn draw(paper: &mut Paper<'_>, pipes: &[Pipe<'_>]) {
    joints(paper);
    for pipe in pipes {
        fittings(paper, pipe);
        pump(paper, pipe);
    }
}

fn joints(paper: &mut Paper<'_>) {
    let scene = paper.scene;
    for (part, place) in scene.layout.joints.iter().zip(&scene.plan.stand.joints) {
        let centre = paper.point(*place);
        if !paper.sees(Rect::between(centre, centre).grown(10.0)) {
            continue;
        }
        let pick = Pick::Part(part.id.clone());
        let attention = scene.attention(&pick);
        let edge = outline(attention, Stroke::new(Ink::Line, 1.4));
        let dot = Shape::Circle {
            centre,
            radius: 4.0,
            fill: Some(Ink::Card),
            edge: Some(edge),
        };
        paper.add(Some(&part.id), dot);
        paper.keep(Rect::between(centre, centre).grown(5.0));
        let reach = Reach::Spot {
            centre,
            radius: 6.0,
        };
        paper.touch(pick, reach, called(&part.name, &part.id).to_owned());
    }
}

/// A place on a leg, 0 at its start, 1 at its end.
pub(super) fn on_leg(from: Point, to: Point, share: f64) -> Point {
    pt(
        from.x + (to.x - from.x) * share,
        from.y + (to.y - from.y) * share,
    )
}

/// A triangle whose tip is at `tip` and that points from the start of the leg to its end.
pub(super) fn triangle(tip: Point, (from, to): (Point, Point), size: f64) -> Vec<Point> {
    let length = from.distance(to).max(1e-9);
    let (ux, uy) = ((to.x - from.x) / length, (to.y - from.y) / length);
    let back = tip.moved(-ux * size * 1.5, -uy * size * 1.5);
    vec![
        tip,
        back.moved(-uy * size * 0.75, ux * size * 0.75),
        back.moved(uy * size * 0.75, -ux * size * 0.75),
    ]
}

/// Valves and equipment along the longest leg, as many as it has room for.
fn fittings(paper: &mut Paper<'_>, pipe: &Pipe<'_>) {
    let Some((from, to)) = pipe.longest else {
        return;
    };
    let all = sitting(pipe.run);
    let needed: f64 = all.iter().map(room).sum();
    let length = from.distance(to);
    if needed > length - 24.0 {
        return;
    }
    // Side by side, near the start of the leg, so that the middle is free for the flow.
    let mut along = 14.0;
    for one in all {
        let half = room(&one) / 2.0;
        let centre = on_leg(from, to, (along + half) / length);
        along += half * 2.0;
        match one {
            Sits::Valve { opening } => valve(paper, pipe, (centre, from, to), opening),
            Sits::Check(direction) => check_valve(paper, pipe, (centre, from, to), direction),
            Sits::Equipment(name) => equipment_box(paper, pipe, centre, name),
        }
    }
}

/// Valves, check valve and equipment of a run, from its start.
fn sitting(run: &Run) -> Vec<Sits<'_>> {
    // A valve that lets water pass one way only has its own sign, and only once.
    let known = Catalogue::builtin();
    let checks = |kind: &str| {
        known
            .valve(kind)
            .is_some_and(|kind| kind.acts == Acts::Check)
    };
    let way = run.check_valve;
    let valves = run.valves.iter().map(|valve| {
        if checks(&valve.kind) {
            Sits::Check(way.unwrap_or_default())
        } else {
            Sits::Valve {
                opening: valve.opening,
            }
        }
    });
    let listed = run.valves.iter().any(|valve| checks(&valve.kind));
    let check = way.filter(|_| !listed).map(Sits::Check);
    let equipment = run.equipment.iter().map(|one| Sits::Equipment(&one.name));
    valves.chain(check).chain(equipment).collect()
}

fn room(one: &Sits<'_>) -> f64 {
    match one {
        Sits::Valve { .. } | Sits::Check(_) => ROOM,
        Sits::Equipment(name) => text::width(name, EQUIPMENT_SIZE, Weight::Regular) + 24.0,
    }
}

/// Two triangles tip to tip; filled where it is shut.
fn valve(paper: &mut Paper<'_>, pipe: &Pipe<'_>, place: (Point, Point, Point), opening: f64) {
    let (centre, from, to) = place;
    let size = VALVE * 0.8;
    let fill = if opening <= 0.0 { Ink::Line } else { Ink::Card };
    let edge = Some(Stroke::new(Ink::Line, 1.3));
    for leg in [(from, to), (to, from)] {
        let mut corners = triangle(centre, leg, size);
        // Tip to tip in the middle.
        if let Some(tip) = corners.first_mut() {
            *tip = centre;
        }
        let shape = Shape::Area {
            corners,
            fill: Some(fill),
            edge,
        };
        paper.add(Some(&pipe.run.id), shape);
    }
    paper.keep(Rect::between(centre, centre).grown(VALVE));
}

/// A triangle against a bar: water passes towards the bar.
fn check_valve(
    paper: &mut Paper<'_>,
    pipe: &Pipe<'_>,
    (centre, from, to): (Point, Point, Point),
    direction: Direction,
) {
    let (from, to) = match direction {
        Direction::Forward => (from, to),
        Direction::Backward => (to, from),
    };
    let size = VALVE * 0.9;
    let length = from.distance(to).max(1e-9);
    let (ux, uy) = ((to.x - from.x) / length, (to.y - from.y) / length);
    let tip = centre.moved(ux * size * 0.6, uy * size * 0.6);
    let shape = Shape::Area {
        corners: triangle(tip, (from, to), size),
        fill: Some(Ink::Card),
        edge: Some(Stroke::new(Ink::Line, 1.3)),
    };
    paper.add(Some(&pipe.run.id), shape);
    let bar = vec![
        tip.moved(-uy * size, ux * size),
        tip.moved(uy * size, -ux * size),
    ];
    paper.line(Some(&pipe.run.id), bar, Stroke::new(Ink::Line, 1.8));
    paper.keep(Rect::between(centre, centre).grown(VALVE));
}

fn equipment_box(paper: &mut Paper<'_>, pipe: &Pipe<'_>, centre: Point, name: &str) {
    let width = text::width(name, EQUIPMENT_SIZE, Weight::Regular) + 12.0;
    let rect = Rect {
        left: centre.x - width / 2.0,
        right: centre.x + width / 2.0,
        top: centre.y - 10.0,
        bottom: centre.y + 10.0,
    };
    let shape = Shape::Box {
        rect,
        radius: 3.0,
        fill: Some(Ink::Card),
        edge: Some(Stroke::new(Ink::Line, 1.3)),
    };
    // Where there is no room for its words there is none for the box.
    let words = Wish {
        forms: vec![vec![Line::new(name, EQUIPMENT_SIZE, Ink::Text)]],
        spots: vec![Spot {
            at: centre,
            across: Anchor::Middle,
            side: Side::Beside,
        }],
        rank: 0,
        clear: 0.0,
    };
    if let Some(label) = paper.placed(&words) {
        paper.add(Some(&pipe.run.id), shape);
        paper.keep(rect);
        for line in label.lines {
            paper.add(Some(&pipe.run.id), Shape::Text(line));
        }
    }
}

/// A circle with a triangle that points where it pushes.
fn pump(paper: &mut Paper<'_>, pipe: &Pipe<'_>) {
    let Some(pump) = &pipe.run.pump else { return };
    let way = paper.scene.plan.ways.get(pipe.index);
    let Some(place) = way.and_then(|way| way.pump) else {
        return;
    };
    let centre = paper.point(place);
    let rect = Rect::between(centre, centre).grown(PUMP);
    if !paper.sees(rect) {
        return;
    }
    let pick = Pick::Part(pump.id.clone());
    let edge = outline(paper.scene.attention(&pick), Stroke::new(Ink::Line, 1.8));
    paper.add(
        Some(&pump.id),
        Shape::Circle {
            centre,
            radius: PUMP,
            fill: Some(Ink::Card),
            edge: Some(edge),
        },
    );
    let tip = centre.moved(0.0, -PUMP * 0.75);
    let up = (centre, centre.moved(0.0, -10.0));
    paper.area(Some(&pump.id), triangle(tip, up, PUMP * 0.9), Ink::Line);
    paper.keep(rect);
    let reach = Reach::Spot {
        centre,
        radius: PUMP,
    };
    let name = called(&pump.name, &pump.id).to_owned();
    paper.touch(pick, reach, name.clone());
    duty(paper, &pump.id, name, rect);
}

/// The name of a pump and its duty, beside it.
fn duty(paper: &mut Paper<'_>, id: &Id, name: String, rect: Rect) {
    let mut lines = vec![Line::new(name.clone(), 11.0, Ink::Text).strong()];
    if let Some(report) = paper.pump(id) {
        let system = paper.scene.units;
        let flow = units::write(Quantity::Flow, report.flow_m3_s, system);
        let head = units::write(Quantity::Head, report.head_m, system);
        let duty = if report.on {
            format!("{flow} at {head}")
        } else {
            "off".to_owned()
        };
        lines.push(Line::new(duty, 10.5, Ink::SoftText));
    }
    let short = vec![Line::new(name, 11.0, Ink::Text).strong()];
    let wish = Wish {
        forms: vec![lines, short],
        spots: Spot::around(rect, 5.0),
        rank: 55,
        clear: 1.0,
    };
    paper.wish(id, 1.0, wish);
}
