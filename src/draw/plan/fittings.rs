//! What sits in a run: its pump beside the vessel that it draws from, as in the section, and along the longest leg that
//! is seen valves, check valve and equipment in their order.

use super::course::Leg;
use super::names;
use super::paper::Paper;
use super::pipes::Pipe;
use crate::draw::labels::{Line, Spot, Wish};
use crate::draw::reports;
use crate::draw::shape::{Anchor, Ink, Point, Rect, Shape, Stroke, Text, Weight};
use crate::draw::signs::{self, EQUIPMENT_SIZE, PUMP, Seat, Sits, VALVE, on_leg};
use crate::draw::stations::{is_measured, measured};
use crate::draw::text;
use crate::draw::touch::{Pick, Reach, called, outline};
use crate::geometry::Corner;
use crate::layout::{Direction, Id, Pump, RunEnd};

/// Half the height of a box with a word, points; half of one without.
const TALL: f64 = 9.0;
const BLANK: f64 = 6.0;
/// Left free at both ends of a leg, points.
const ENDS: f64 = 6.0;
/// A leg along which more than this is taken up in all is too short, as a share.
const CROWDED: f64 = 0.86;

/// What is written in the boxes of equipment.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Boxes {
    Named,
    Blank,
}

/// A sign that waits for its place on a leg.
enum Sign<'a> {
    Pump(&'a Pump),
    Sits(Sits<'a>),
}

pub(super) fn draw(paper: &mut Paper<'_>, pipes: &[Pipe<'_>]) {
    for pipe in pipes {
        let pump = placed(paper, pipe);
        along(paper, pipe, pump);
    }
}

/// What sits where somebody said so, and the pump: where that is.
fn placed(paper: &mut Paper<'_>, pipe: &Pipe<'_>) -> Option<Corner> {
    if pipe.far_off {
        return None;
    }
    if is_measured(pipe.run) {
        return by_distance(paper, pipe);
    }
    let mut taken = [ENDS; 2];
    let draws_from = pipe.run.pump.as_ref().map(|part| match part.pushes {
        Direction::Forward => RunEnd::From,
        Direction::Backward => RunEnd::To,
    });
    let mut pump = under_water(paper, pipe);
    let mut others = Vec::new();
    // What is near the end that the pump draws from comes before it.
    for (what, seat) in signs::seated(pipe.run) {
        match seat {
            Seat::Near(end) if Some(end) == draws_from => {
                beside(paper, pipe, (what, end), &mut taken)
            }
            Seat::Near(end) => others.push((what, end)),
            Seat::At(_) => {}
        }
    }
    if pump.is_none() {
        pump = beside_suction(paper, pipe, &mut taken);
    }
    for one in others {
        beside(paper, pipe, one, &mut taken);
    }
    pump
}

/// Something beside an end of its run, side by side where there are several.
fn beside(
    paper: &mut Paper<'_>,
    pipe: &Pipe<'_>,
    (what, end): (Sits<'_>, RunEnd),
    taken: &mut [f64; 2],
) {
    let sign = Sign::Sits(what);
    let off = &mut taken[usize::from(end == RunEnd::To)];
    let half = room(&sign, 1.0, Boxes::Named) / 2.0;
    *off += 2.0 * half;
    let off_m = (*off - half) / paper.scale;
    let vessels = &paper.scene.ground.vessels;
    if let Some(place) = pipe.course.beside_end(end, off_m, vessels) {
        put_on(paper, pipe, sign, place);
    }
}

/// Everything, where a distance was said.
fn by_distance(paper: &mut Paper<'_>, pipe: &Pipe<'_>) -> Option<Corner> {
    let length_m = pipe.course.length_m;
    let mut stands = under_water(paper, pipe);
    for one in measured(pipe.run, length_m) {
        let Some(place) = pipe.course.at_share(one.share(length_m)) else {
            continue;
        };
        match (one.what, &pipe.run.pump) {
            (Some(what), _) => put_on(paper, pipe, Sign::Sits(what), place),
            (None, Some(part)) if stands.is_none() => {
                stands = Some(place.0);
                put_on(paper, pipe, Sign::Pump(part), place);
            }
            (None, _) => {}
        }
    }
    stands
}

/// A sign where it is in the plan.
fn put_on(paper: &mut Paper<'_>, pipe: &Pipe<'_>, sign: Sign<'_>, (at, leg): (Corner, Leg)) {
    let [centre, from, to] = [at, leg.from, leg.to].map(|place| paper.point(place));
    put(paper, pipe, (sign, Boxes::Named), (centre, from, to));
}

/// A pump that stands under water is drawn where it stands: at the mouth of its run in its vessel. None where there is
/// none, or no such vessel.
fn under_water(paper: &mut Paper<'_>, pipe: &Pipe<'_>) -> Option<Corner> {
    let part = pipe.run.pump.as_ref().filter(|part| part.is_wet())?;
    let (end, share) = match part.pushes {
        Direction::Forward => (&pipe.run.from, 0.0),
        Direction::Backward => (&pipe.run.to, 1.0),
    };
    paper.scene.layout.vessel(&end.at)?;
    let place = pipe.course.at_share(share)?;
    put_on(paper, pipe, Sign::Pump(part), place);
    Some(place.0)
}

/// The pump, outside the vessel that it draws from.
fn beside_suction(paper: &mut Paper<'_>, pipe: &Pipe<'_>, taken: &mut [f64; 2]) -> Option<Corner> {
    let part = pipe.run.pump.as_ref()?;
    let end = match part.pushes {
        Direction::Forward => RunEnd::From,
        Direction::Backward => RunEnd::To,
    };
    let sign = Sign::Pump(part);
    let half = room(&sign, 1.0, Boxes::Named) / 2.0;
    let off = &mut taken[usize::from(end == RunEnd::To)];
    *off += 2.0 * half;
    let off_m = (*off - half) / paper.scale;
    let vessels = &paper.scene.ground.vessels;
    let place = pipe.course.beside_end(end, off_m, vessels)?;
    put_on(paper, pipe, sign, place);
    Some(place.0)
}

/// Spreads the signs of a run along its longest leg, where they find room. `pump`: where it stands, and they behind it.
fn along(paper: &mut Paper<'_>, pipe: &Pipe<'_>, pump: Option<Corner>) {
    let signs = signs::sitting(pipe.run).into_iter().map(Sign::Sits);
    let signs: Vec<Sign<'_>> = signs.collect();
    if signs.is_empty() || is_measured(pipe.run) {
        return;
    }
    let pushes = pipe.run.pump.as_ref().map(|part| part.pushes);
    let Some((from, to)) = pipe.longest_behind(paper, pump.zip(pushes)) else {
        return;
    };
    let length = from.distance(to);
    let level = (to.x - from.x).abs() / length.max(1e-9);
    let mut boxes = Boxes::Named;
    let needs = |signs: &[Sign<'_>], boxes: Boxes| -> f64 {
        signs.iter().map(|sign| room(sign, level, boxes)).sum()
    };
    let free = (length - 2.0 * ENDS) * CROWDED;
    if needs(&signs, boxes) > free {
        boxes = Boxes::Blank;
    }
    if needs(&signs, boxes) > free {
        return;
    }
    // What is left over is shared out between them.
    let spare = (length - needs(&signs, boxes)).max(0.0);
    // A few signs: a cast that loses nothing.
    let between = spare / (signs.len() + 1) as f64;
    let mut at = between;
    for sign in signs {
        let half = room(&sign, level, boxes) / 2.0;
        let place = (on_leg(from, to, (at + half) / length.max(1e-9)), from, to);
        at += 2.0 * half + between;
        put(paper, pipe, (sign, boxes), place);
    }
}

/// Room that a sign takes along a leg, points. `level`: 1 where it is level on the page, 0 where upright.
fn room(sign: &Sign<'_>, level: f64, boxes: Boxes) -> f64 {
    match sign {
        Sign::Pump(_) => 2.0 * PUMP + 8.0,
        Sign::Sits(Sits::Equipment(name)) if boxes == Boxes::Named => {
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
    (sign, boxes): (Sign<'_>, Boxes),
    (centre, from, to): (Point, Point, Point),
) {
    let rect = Rect::between(centre, centre).grown(VALVE);
    if !paper.sees(rect) {
        return;
    }
    let shapes = match sign {
        Sign::Pump(part) => return pump(paper, part, (centre, from, to)),
        Sign::Sits(Sits::Valve { opening }) => signs::valve(centre, (from, to), opening).to_vec(),
        Sign::Sits(Sits::Check(direction)) => {
            signs::check_valve(centre, (from, to), direction).to_vec()
        }
        Sign::Sits(Sits::Fitting) => vec![signs::fitting(centre, (from, to))],
        Sign::Sits(Sits::Equipment(name)) => {
            let name = Some(name).filter(|_| boxes == Boxes::Named);
            return equipment(paper, &pipe.run.id, centre, name);
        }
    };
    for shape in shapes {
        paper.add(Some(&pipe.run.id), shape);
    }
    paper.keep(rect);
}

/// A box with its name; blank where there is no room.
fn equipment(paper: &mut Paper<'_>, id: &Id, centre: Point, name: Option<&str>) {
    let wide = |name: &str| text::width(name, EQUIPMENT_SIZE, Weight::Regular);
    let named = |name: &str| {
        let half = wide(name) / 2.0 + 6.0;
        Rect::between(centre.moved(-half, -TALL), centre.moved(half, TALL))
    };
    let name = name.filter(|name| paper.is_kept_free(named(name)));
    let rect = name.map_or(Rect::between(centre, centre).grown(BLANK), named);
    if !paper.is_kept_free(rect) {
        return;
    }
    let around = Shape::Box {
        rect,
        radius: 3.0,
        fill: Some(Ink::Card),
        edge: Some(Stroke::new(Ink::Line, 1.3)),
    };
    paper.add(Some(id), around);
    paper.keep(rect);
    let Some(name) = name else { return };
    let words = Text {
        at: centre.moved(0.0, text::cap_height(EQUIPMENT_SIZE) / 2.0),
        anchor: Anchor::Middle,
        words: name.to_owned(),
        size: EQUIPMENT_SIZE,
        weight: Weight::Regular,
        ink: Ink::Text,
    };
    paper.add(Some(id), Shape::Text(words));
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
    paper.touch(pick, reach, names::pump(part, report, system));
    if !paper.shows(rect) {
        return;
    }
    let line = |words: &str| Line::new(words, 11.0, Ink::Text).strong();
    let mut forms = vec![vec![line(name)]];
    if let Some(report) = report {
        let duty = reports::duty(report, &part.curve, system);
        let duty = Line::new(duty, 10.5, Ink::SoftText);
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
