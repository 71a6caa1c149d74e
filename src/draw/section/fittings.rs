//! What sits in a run: valves, check valve, equipment, pump; and the joints.

use super::paper::Paper;
use super::pipes::Pipe;
use crate::draw::labels::{Line, Side, Spot, Wish};
use crate::draw::reports;
use crate::draw::shape::{Anchor, Ink, Point, Rect, Shape, Stroke, Weight};
use crate::draw::signs::{self, EQUIPMENT_SIZE, PUMP, Sits, VALVE, on_leg, sitting};
use crate::draw::text;
use crate::draw::touch::{Pick, Reach};
use crate::draw::touch::{called, outline};
use crate::layout::Pump;

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

/// Valves and equipment along the longest leg, as many as it has room for.
fn fittings(paper: &mut Paper<'_>, pipe: &Pipe<'_>) {
    let Some((from, to)) = pipe.longest else {
        return;
    };
    let all = sitting(pipe.run);
    let needed: f64 = all.iter().map(Sits::room).sum();
    let length = from.distance(to);
    if needed > length - 24.0 {
        return;
    }
    // Side by side, near the start of the leg, so that the middle is free for the flow.
    let mut along = 14.0;
    for one in all {
        let half = one.room() / 2.0;
        let centre = on_leg(from, to, (along + half) / length);
        along += half * 2.0;
        let shapes = match one {
            Sits::Valve { opening } => signs::valve(centre, (from, to), opening),
            Sits::Check(direction) => signs::check_valve(centre, (from, to), direction),
            Sits::Equipment(name) => {
                equipment_box(paper, pipe, centre, name);
                continue;
            }
        };
        for shape in shapes {
            paper.add(Some(&pipe.run.id), shape);
        }
        paper.keep(Rect::between(centre, centre).grown(VALVE));
    }
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
    for shape in signs::pump(centre, (0.0, -1.0), edge) {
        paper.add(Some(&pump.id), shape);
    }
    paper.keep(rect);
    let reach = Reach::Spot {
        centre,
        radius: PUMP,
    };
    let name = called(&pump.name, &pump.id).to_owned();
    paper.touch(pick, reach, name.clone());
    duty(paper, pump, name, rect);
}

/// The name of a pump and its duty, beside it.
fn duty(paper: &mut Paper<'_>, pump: &Pump, name: String, rect: Rect) {
    let id = &pump.id;
    let mut lines = vec![Line::new(name.clone(), 11.0, Ink::Text).strong()];
    if let Some(report) = paper.pump(id) {
        let duty = reports::duty(report, &pump.curve, paper.scene.units);
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
