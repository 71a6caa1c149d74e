//! Items in a run: valves, check valve, equipment and pump; and the joints.

use super::paper::SectionPage;
use super::pipes::SectionPipe;
use super::vents;
use crate::draw::canvas::labels::{LabelLine, LabelPosition, LabelRequest, LabelSide};
use crate::draw::canvas::touch::{Pick, TouchArea};
use crate::draw::canvas::touch::{called, outline, vent_words};
use crate::draw::page::shape::{Anchor, Ink, Point, Rect, Shape, Stroke, Weight};
use crate::draw::page::text;
use crate::draw::parts::stations::{is_measured, measured};
use crate::draw::parts::symbols;
use crate::draw::parts::symbols::{
    EQUIPMENT_SIZE, PUMP, Symbol, SymbolPosition, VALVE, on_leg, sitting,
};
use crate::draw::results::reports;
use crate::layout::{Direction, Pump, RunEnd};

/// Smallest distance of the first item from the start of a leg, and the step by which the items are moved on, points.
const FIRST: f64 = 14.0;
const STEP: f64 = 8.0;
/// Most steps, since a leg may be as long as many pages when zoomed in.
const MOST_STEPS: f64 = 24.0;
/// Length of a leg kept free for its ends, points.
const ENDS: f64 = 24.0;
/// Half the height of an equipment box, and how far it extends at least beyond each side of a steep leg, points.
const HALF_BOX: f64 = 10.0;
const OVER_LEG: f64 = 9.0;
/// Room before and after a box on a steep leg together, points.
const BOX_OFFSET: f64 = 8.0;

pub(super) fn draw(paper: &mut SectionPage<'_>, pipes: &[SectionPipe<'_>]) {
    vents::draw(paper, pipes);
    joints(paper);
    for pipe in pipes {
        placed(paper, pipe);
        fittings(paper, pipe);
        pump(paper, pipe);
    }
}

fn joints(paper: &mut SectionPage<'_>) {
    let scene = paper.scene;
    for (part, place) in scene
        .layout
        .joints
        .iter()
        .zip(&scene.positions.stand.joints)
    {
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
        let reach = TouchArea::Spot {
            centre,
            radius: 6.0,
        };
        let vent = vent_words(part.vented.then_some(part.vent_top_m), scene.units);
        let name = format!("{}{vent}", called(&part.name, &part.id));
        paper.touch(pick, reach, name);
    }
}

/// A point and the leg that it is on.
type OnLeg = (Point, (Point, Point));

/// An item at its position.
struct PlacedSymbol<'a> {
    what: &'a Symbol<'a>,
    centre: Point,
    rect: Rect,
    fit: SeatQuality,
}

/// How well a position suits, best first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum SeatQuality {
    /// It covers nothing.
    Clear,
    /// It covers part of a vessel.
    OverVessel,
    /// It covers a joint, a handle or another box, or is moved off the page.
    Taken,
}

/// Draws valves and equipment along the longest leg if there is room: next to one another near its start, so that the
/// middle is free for the flow; further along or to one side where they would cover something.
fn fittings(paper: &mut SectionPage<'_>, pipe: &SectionPipe<'_>) {
    if is_measured(pipe.run) {
        return;
    }
    let all = sitting(pipe.run);
    if all.is_empty() {
        return;
    }
    let Some(leg) = pipe.longest_behind(paper, pump_on(paper, pipe)) else {
        return;
    };
    let needed: f64 = all.iter().map(|one| room(one, leg)).sum();
    let mut spare = leg.0.distance(leg.1) - ENDS - needed;
    if spare < 0.0 {
        return;
    }
    let worst = |seated: &[PlacedSymbol<'_>]| seated.iter().map(|one| one.fit).max();
    let mut best = seated(paper, &all, leg, FIRST);
    let (mut along, step) = (FIRST, STEP.max(spare / MOST_STEPS));
    while spare >= step && worst(&best) > Some(SeatQuality::Clear) {
        (along, spare) = (along + step, spare - step);
        let next = seated(paper, &all, leg, along);
        if worst(&next) < worst(&best) {
            best = next;
        }
    }
    for one in best {
        let at = (one.centre, leg);
        sign(paper, pipe, one.what, (at, one.rect, one.fit));
    }
}

/// Draws a symbol at its position; a box that would cover something else is left out.
fn sign(
    paper: &mut SectionPage<'_>,
    pipe: &SectionPipe<'_>,
    what: &Symbol<'_>,
    place: ((Point, (Point, Point)), Rect, SeatQuality),
) {
    let ((centre, leg), rect, fit) = place;
    let shapes = match what {
        Symbol::Valve { opening } => symbols::valve(centre, leg, *opening).to_vec(),
        Symbol::Check(direction) => symbols::check_valve(centre, leg, *direction).to_vec(),
        Symbol::Fitting => vec![symbols::fitting(centre, leg)],
        Symbol::Equipment(name) => {
            if fit < SeatQuality::Taken {
                equipment_box(paper, pipe, rect, name);
            }
            return;
        }
    };
    for shape in shapes {
        paper.add(Some(&pipe.run.id), shape);
    }
    paper.keep(rect);
}

/// Returns the position of the pump of a run on the page, and the direction it pushes.
fn pump_on(paper: &SectionPage<'_>, pipe: &SectionPipe<'_>) -> Option<(Point, Direction)> {
    let pump = pipe.run.pump.as_ref()?;
    let place = paper.scene.positions.ways.get(pipe.index)?.pump?;
    Some((paper.point(place), pump.pushes))
}

/// Draws the items with a given position; if any distance is given, all items but the pump.
fn placed(paper: &mut SectionPage<'_>, pipe: &SectionPipe<'_>) {
    if pipe.far_off {
        return;
    }
    let mut all: Vec<(Symbol<'_>, OnLeg)> = Vec::new();
    if is_measured(pipe.run) {
        let length_m = paper.scene.layout.length_of(pipe.run);
        for one in measured(pipe.run, length_m) {
            let place = pipe.at_share(one.share(length_m));
            all.extend(one.what.zip(place));
        }
    } else {
        let pump = pump_on(paper, pipe);
        let mut taken = [FIRST; 2];
        for (what, seat) in symbols::seated(pipe.run) {
            let SymbolPosition::Near(end) = seat else {
                continue;
            };
            // Several items near one end are drawn side by side.
            let off = &mut taken[usize::from(end == RunEnd::To)];
            let half = what.room() / 2.0;
            *off += 2.0 * half;
            let place = pipe.next_to_end(end, *off - half, pump);
            all.extend(place.map(|place| (what, place)));
        }
    }
    for (what, (centre, leg)) in all {
        let (rect, fit) = match &what {
            Symbol::Equipment(name) => box_place(paper, name, centre, is_steep(leg)),
            _ => (
                Rect::between(centre, centre).grown(VALVE),
                SeatQuality::Clear,
            ),
        };
        if paper.sees(rect) {
            sign(paper, pipe, &what, ((centre, leg), rect, fit));
        }
    }
}

fn is_steep(leg: (Point, Point)) -> bool {
    let (from, to) = leg;
    (to.y - from.y).abs() > (to.x - from.x).abs()
}

/// Returns the length that an item takes up along a leg, points: a box stays upright, and is lower than it is wide.
fn room(one: &Symbol<'_>, leg: (Point, Point)) -> f64 {
    match one {
        Symbol::Equipment(_) if is_steep(leg) => 2.0 * HALF_BOX + BOX_OFFSET,
        _ => one.room(),
    }
}

/// Returns the positions of all items along a leg, the first at a distance `along` from its start.
fn seated<'a>(
    paper: &SectionPage<'_>,
    all: &'a [Symbol<'a>],
    leg: (Point, Point),
    mut along: f64,
) -> Vec<PlacedSymbol<'a>> {
    let length = leg.0.distance(leg.1);
    let place = |what: &'a Symbol<'a>| {
        let half = room(what, leg) / 2.0;
        let centre = on_leg(leg.0, leg.1, (along + half) / length);
        along += half * 2.0;
        let (rect, fit) = match what {
            Symbol::Equipment(name) => box_place(paper, name, centre, is_steep(leg)),
            Symbol::Valve { .. } | Symbol::Check(_) | Symbol::Fitting => {
                let rect = Rect::between(centre, centre).grown(VALVE);
                let is_free = paper.is_kept_free(rect);
                (
                    rect,
                    if is_free {
                        SeatQuality::Clear
                    } else {
                        SeatQuality::Taken
                    },
                )
            }
        };
        PlacedSymbol {
            what,
            centre,
            rect,
            fit,
        }
    };
    all.iter().map(place).collect()
}

/// Returns the best position of a box at a point of its leg: centred on it, or to one side of a steep leg.
fn box_place(
    paper: &SectionPage<'_>,
    name: &str,
    centre: Point,
    is_steep: bool,
) -> (Rect, SeatQuality) {
    let half = text::width(name, EQUIPMENT_SIZE, Weight::Regular) / 2.0 + 6.0;
    let side = if is_steep { half - OVER_LEG } else { 0.0 };
    let at = |shift: f64| {
        let rect = Rect {
            left: centre.x + shift - half,
            right: centre.x + shift + half,
            top: centre.y - HALF_BOX,
            bottom: centre.y + HALF_BOX,
        };
        // A box centred on its leg goes off the page with the leg and is not moved, since it would slide during
        // panning.
        let is_off = shift != 0.0 && !paper.hard.may_hold(rect);
        let fit = if is_off || !paper.is_kept_free(rect) {
            SeatQuality::Taken
        } else if paper.covers.touching(rect).next().is_some() {
            SeatQuality::OverVessel
        } else {
            SeatQuality::Clear
        };
        (rect, fit)
    };
    let [middle, left, right] = [0.0, -side, side].map(at);
    [left, right].into_iter().fold(
        middle,
        |best, next| if next.1 < best.1 { next } else { best },
    )
}

fn equipment_box(paper: &mut SectionPage<'_>, pipe: &SectionPipe<'_>, rect: Rect, name: &str) {
    let shape = Shape::Box {
        rect,
        radius: 3.0,
        fill: Some(Ink::Card),
        edge: Some(Stroke::new(Ink::Line, 1.3)),
    };
    // Without room for its text there is none for the box either.
    let words = LabelRequest {
        forms: vec![vec![LabelLine::new(name, EQUIPMENT_SIZE, Ink::Text)]],
        spots: vec![LabelPosition {
            at: rect.centre(),
            across: Anchor::Middle,
            side: LabelSide::Beside,
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

/// Draws a pump as a circle with a triangle in the direction it pushes.
fn pump(paper: &mut SectionPage<'_>, pipe: &SectionPipe<'_>) {
    let Some(pump) = &pipe.run.pump else { return };
    let way = paper.scene.positions.ways.get(pipe.index);
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
    for shape in symbols::pump(centre, (0.0, -1.0), edge) {
        paper.add(Some(&pump.id), shape);
    }
    paper.keep(rect);
    let reach = TouchArea::Spot {
        centre,
        radius: PUMP,
    };
    let name = called(&pump.name, &pump.id).to_owned();
    paper.touch(pick, reach, name.clone());
    if paper.shows(rect) {
        duty(paper, pump, name, rect);
    }
}

/// Requests a label with the name and duty of a pump beside it.
fn duty(paper: &mut SectionPage<'_>, pump: &Pump, name: String, rect: Rect) {
    let id = &pump.id;
    let mut lines = vec![LabelLine::new(name.clone(), 11.0, Ink::Text).strong()];
    if let Some(report) = paper.pump(id) {
        let duty = reports::duty(report, &pump.curve, paper.scene.units);
        lines.push(LabelLine::new(duty, 10.5, Ink::SoftText));
    }
    let short = vec![LabelLine::new(name, 11.0, Ink::Text).strong()];
    let request = LabelRequest {
        forms: vec![lines, short],
        spots: LabelPosition::around(rect, 5.0),
        rank: 55,
        clear: 1.0,
    };
    paper.request(id, 1.0, request);
}
