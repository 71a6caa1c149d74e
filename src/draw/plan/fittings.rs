//! What sits in a run, along its longest leg that is seen: pump, valves, check valve, equipment; and the joints.

use super::names;
use super::paper::Paper;
use super::pipes::Pipe;
use crate::draw::labels::{Line, Spot, Wish};
use crate::draw::shape::{Ink, Point, Rect, Shape, Stroke, Weight};
use crate::draw::signs::{self, EQUIPMENT_SIZE, PUMP, Sits, VALVE, on_leg};
use crate::draw::text;
use crate::draw::touch::{Attention, Pick, Reach, called, outline};
use crate::layout::{Direction, Pump};

/// Half the height of a box with a word, points; half of one without.
const TALL: f64 = 9.0;
const BLANK: f64 = 6.0;
/// Left free at both ends of a leg, points.
const ENDS: f64 = 6.0;
/// A leg along which more than this is taken up in all is too short, as a share.
const CROWDED: f64 = 0.86;

/// A sign that waits for its place on a leg.
enum Sign<'a> {
    Pump(&'a Pump),
    Sits(Sits<'a>),
}

pub(super) fn draw(paper: &mut Paper<'_>, pipes: &[Pipe<'_>]) {
    joints(paper);
    for pipe in pipes {
        along(paper, pipe);
    }
}

/// Spreads the signs of a run along its longest leg. Where they find no room only the pump is drawn.
fn along(paper: &mut Paper<'_>, pipe: &Pipe<'_>) {
    let mut signs: Vec<Sign<'_>> = Vec::new();
    signs.extend(pipe.run.pump.as_ref().map(Sign::Pump));
    signs.extend(signs::sitting(pipe.run).into_iter().map(Sign::Sits));
    if signs.is_empty() {
        return;
    }
    let Some((from, to)) = pipe.longest else {
        return;
    };
    let length = from.distance(to);
    let level = (to.x - from.x).abs() / length.max(1e-9);
    let mut with_words = true;
    let needs = |signs: &[Sign<'_>], words| -> f64 {
        signs.iter().map(|sign| room(sign, level, words)).sum()
    };
    let free = (length - 2.0 * ENDS) * CROWDED;
    if needs(&signs, with_words) > free {
        with_words = false;
    }
    if needs(&signs, with_words) > free {
        signs.retain(|sign| matches!(sign, Sign::Pump(_)));
    }
    let backward = |pump: &Pump| pump.pushes == Direction::Backward;
    if pipe.run.pump.as_ref().is_some_and(backward) {
        signs.reverse();
    }
    // What is left over is shared out between them.
    let spare = (length - needs(&signs, with_words)).max(0.0);
    // A few signs: a cast that loses nothing.
    #[allow(clippy::cast_precision_loss)]
    let between = spare / (signs.len() + 1) as f64;
    let mut at = between;
    for sign in signs {
        let half = room(&sign, level, with_words) / 2.0;
        let place = (on_leg(from, to, (at + half) / length.max(1e-9)), from, to);
        at += 2.0 * half + between;
        put(paper, pipe, (sign, with_words), place);
    }
}

/// Room that a sign takes along a leg, points. `level`: 1 where it is level on the page, 0 where upright.
fn room(sign: &Sign<'_>, level: f64, words: bool) -> f64 {
    match sign {
        Sign::Pump(_) => 2.0 * PUMP + 8.0,
        Sign::Sits(Sits::Equipment(name)) if words => {
            let wide = text::width(name, EQUIPMENT_SIZE, Weight::Regular) + 20.0;
            level * wide + (1.0 - level) * (2.0 * TALL + 8.0)
        }
        Sign::Sits(Sits::Equipment(_)) => 2.0 * BLANK + 6.0,
        Sign::Sits(_) => 2.0 * VALVE + 6.0,
    }
}

fn put(
    paper: &mut Paper<'_>,
    pipe: &Pipe<'_>,
    (sign, words): (Sign<'_>, bool),
    (centre, from, to): (Point, Point, Point),
) {
    let rect = Rect::between(centre, centre).grown(VALVE);
    if !paper.sees(rect) {
        return;
    }
    let shapes = match sign {
        Sign::Pump(part) => return pump(paper, part, (centre, from, to)),
        Sign::Sits(Sits::Valve { opening }) => signs::valve(centre, (from, to), opening),
        Sign::Sits(Sits::Check(direction)) => signs::check_valve(centre, (from, to), direction),
        Sign::Sits(Sits::Equipment(name)) => {
            return equipment(paper, pipe, centre, words.then_some(name));
        }
    };
    for shape in shapes {
        paper.add(Some(&pipe.run.id), shape);
    }
    paper.keep(rect);
}

/// A box with its name, or without where there is no room.
fn equipment(paper: &mut Paper<'_>, pipe: &Pipe<'_>, centre: Point, name: Option<&str>) {
    let wide = name.map_or(0.0, |name| {
        text::width(name, EQUIPMENT_SIZE, Weight::Regular)
    });
    let (half_x, half_y) = match name {
        Some(_) => (wide / 2.0 + 6.0, TALL),
        None => (BLANK, BLANK),
    };
    let rect = Rect {
        left: centre.x - half_x,
        right: centre.x + half_x,
        top: centre.y - half_y,
        bottom: centre.y + half_y,
    };
    let free = paper.is_kept_free(rect);
    let around = Shape::Box {
        rect,
        radius: 3.0,
        fill: Some(Ink::Card),
        edge: Some(Stroke::new(Ink::Line, 1.3)),
    };
    let Some(name) = name.filter(|_| free) else {
        let small = Rect::between(centre, centre).grown(BLANK);
        if paper.is_kept_free(small) {
            paper.keep(small);
            let blank = Shape::Box {
                rect: small,
                radius: 2.0,
                fill: Some(Ink::Card),
                edge: Some(Stroke::new(Ink::Line, 1.3)),
            };
            paper.add(Some(&pipe.run.id), blank);
        }
        return;
    };
    paper.add(Some(&pipe.run.id), around);
    paper.keep(rect);
    let words = crate::draw::shape::Text {
        at: centre.moved(0.0, text::cap_height(EQUIPMENT_SIZE) / 2.0),
        anchor: crate::draw::shape::Anchor::Middle,
        words: name.to_owned(),
        size: EQUIPMENT_SIZE,
        weight: Weight::Regular,
        ink: Ink::Text,
    };
    paper.add(Some(&pipe.run.id), Shape::Text(words));
}

fn pump(paper: &mut Paper<'_>, part: &Pump, (centre, from, to): (Point, Point, Point)) {
    let pick = Pick::Part(part.id.clone());
    let edge = outline(paper.scene.attention(&pick), Stroke::new(Ink::Line, 1.8));
    let (ux, uy) = signs::along(from, to);
    let towards = match part.pushes {
        Direction::Forward => (ux, uy),
        Direction::Backward => (-ux, -uy),
    };
    for shape in signs::pump(centre, towards, edge) {
        paper.add(Some(&part.id), shape);
    }
    let rect = Rect::between(centre, centre).grown(PUMP);
    paper.keep(rect);
    let (report, system) = (paper.reports.pump(&part.id), paper.scene.units);
    let name = called(&part.name, &part.id);
    let reach = Reach::Spot {
        centre,
        radius: PUMP,
    };
    paper.touch(pick, reach, names::pump(name, report, system));
    let line = |words: &str| Line::new(words, 11.0, Ink::Text).strong();
    let mut forms = vec![vec![line(name)]];
    if let Some(report) = report {
        let duty = Line::new(names::duty(report, system), 10.5, Ink::SoftText);
        forms.insert(0, vec![line(name), duty]);
    }
    let wish = Wish {
        forms,
        spots: Spot::around(rect, 5.0),
        rank: 60,
        clear: 1.0,
    };
    paper.wish(&part.id, 1.0, wish);
}

/// A dot where runs meet.
fn joints(paper: &mut Paper<'_>) {
    let scene = paper.scene;
    let crowded = paper.is_crowded();
    for (part, place) in scene.layout.joints.iter().zip(&scene.ground.joints) {
        let centre = paper.point(*place);
        let rect = Rect::between(centre, centre).grown(5.0);
        if !paper.sees(rect) {
            continue;
        }
        let pick = Pick::Part(part.id.clone());
        let attention = scene.attention(&pick);
        let edge = outline(attention, Stroke::new(Ink::Line, 1.4));
        let dot = Shape::Circle {
            centre,
            radius: if crowded { 2.4 } else { 3.6 },
            fill: Some(Ink::Card),
            edge: Some(edge),
        };
        paper.add(Some(&part.id), dot);
        paper.keep(rect);
        let reach = Reach::Spot {
            centre,
            radius: 6.0,
        };
        paper.touch(pick, reach, names::joint(part, scene.units));
        let looked_at = attention != Attention::None;
        if looked_at || !crowded {
            let ink = if looked_at {
                Ink::Accent
            } else {
                Ink::SoftText
            };
            let name = called(&part.name, &part.id).to_owned();
            let wish = Wish {
                forms: vec![vec![Line::new(name, 10.5, ink)]],
                spots: Spot::around(rect, 3.0),
                rank: if looked_at { 90 } else { 30 },
                clear: 2.0,
            };
            paper.wish(&part.id, 1.0, wish);
        }
    }
}
