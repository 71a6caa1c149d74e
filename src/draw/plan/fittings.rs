//! Items in a run: the pump beside the vessel that it draws from, as in the section, and valves, check valve and
//! equipment in order along the longest visible leg.

use super::names;
use super::paper::PlanPage;
use super::pipes::PlanPipe;
use super::plan_run::PlanLeg;
use crate::draw::canvas::labels::{LabelLine, LabelPosition, LabelRequest};
use crate::draw::canvas::touch::{Pick, TouchArea, called, outline};
use crate::draw::page::shape::{Anchor, Ink, Point, Rect, Shape, Stroke, Text, Weight};
use crate::draw::page::text;
use crate::draw::parts::stations::{is_measured, measured};
use crate::draw::parts::symbols;
use crate::draw::parts::symbols::{EQUIPMENT_SIZE, PUMP, Symbol, SymbolPosition, VALVE, on_leg};
use crate::draw::results::reports;
use crate::geometry::Corner;
use crate::layout::{Direction, Id, Pump, RunEnd};

/// Half the height of a box with text, and half the side of an empty box, points.
const TALL: f64 = 9.0;
const BLANK: f64 = 6.0;
/// Room left free at both ends of a leg, points.
const ENDS: f64 = 6.0;
/// Largest share of a leg that its items may take up.
const CROWDED: f64 = 0.86;

/// Content of the boxes of equipment.
#[derive(Clone, Copy, PartialEq, Eq)]
enum EquipmentBoxes {
    Named,
    Blank,
}

/// A symbol to be placed on a leg.
enum PlanSymbol<'a> {
    Pump(&'a Pump),
    Sits(Symbol<'a>),
}

pub(super) fn draw(paper: &mut PlanPage<'_>, pipes: &[PlanPipe<'_>]) {
    for pipe in pipes {
        let pump = placed(paper, pipe);
        along(paper, pipe, pump);
    }
}

/// Draws the items with a given position and the pump; returns the position of the pump.
fn placed(paper: &mut PlanPage<'_>, pipe: &PlanPipe<'_>) -> Option<Corner> {
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
    // Items near the end that the pump draws from come before the pump.
    for (what, seat) in symbols::seated(pipe.run) {
        match seat {
            SymbolPosition::Near(end) if Some(end) == draws_from => {
                next_to(paper, pipe, what, end, &mut taken)
            }
            SymbolPosition::Near(end) => others.push((what, end)),
            SymbolPosition::At(_) => {}
        }
    }
    if pump.is_none() {
        pump = next_to_suction(paper, pipe, &mut taken);
    }
    for one in others {
        next_to(paper, pipe, one.0, one.1, &mut taken);
    }
    pump
}

/// Draws an item near an end of its run, side by side with others there.
fn next_to(
    paper: &mut PlanPage<'_>,
    pipe: &PlanPipe<'_>,
    what: Symbol<'_>,
    end: RunEnd,
    taken: &mut [f64; 2],
) {
    let sign = PlanSymbol::Sits(what);
    let off = &mut taken[usize::from(end == RunEnd::To)];
    let half = room(&sign, 1.0, EquipmentBoxes::Named) / 2.0;
    *off += 2.0 * half;
    let off_m = (*off - half) / paper.scale();
    let vessels = &paper.scene.positions.vessels;
    if let Some(place) = pipe.course.next_to_end(end, off_m, vessels) {
        put_on(paper, pipe, sign, place.0, place.1);
    }
}

/// Draws all items at their distances, if any distance is given; returns the position of the pump.
fn by_distance(paper: &mut PlanPage<'_>, pipe: &PlanPipe<'_>) -> Option<Corner> {
    let length_m = pipe.course.length_m;
    let mut stands = under_water(paper, pipe);
    for one in measured(pipe.run, length_m) {
        let Some(place) = pipe.course.at_share(one.share(length_m)) else {
            continue;
        };
        match (one.what, &pipe.run.pump) {
            (Some(what), _) => put_on(paper, pipe, PlanSymbol::Sits(what), place.0, place.1),
            (None, Some(part)) if stands.is_none() => {
                stands = Some(place.0);
                put_on(paper, pipe, PlanSymbol::Pump(part), place.0, place.1);
            }
            (None, _) => {}
        }
    }
    stands
}

/// Draws a symbol at its position in the plan.
fn put_on(
    paper: &mut PlanPage<'_>,
    pipe: &PlanPipe<'_>,
    sign: PlanSymbol<'_>,
    at: Corner,
    leg: PlanLeg,
) {
    let [centre, from, to] = [at, leg.from, leg.to].map(|place| paper.point(place));
    put(paper, pipe, sign, EquipmentBoxes::Named, (centre, from, to));
}

/// Draws a submersible pump at the mouth of its run in its vessel; `None` if there is no such pump or no such vessel.
fn under_water(paper: &mut PlanPage<'_>, pipe: &PlanPipe<'_>) -> Option<Corner> {
    let part = pipe.run.pump.as_ref().filter(|part| part.is_wet())?;
    let (end, share) = match part.pushes {
        Direction::Forward => (&pipe.run.from, 0.0),
        Direction::Backward => (&pipe.run.to, 1.0),
    };
    paper.scene.layout.vessel(&end.at)?;
    let place = pipe.course.at_share(share)?;
    put_on(paper, pipe, PlanSymbol::Pump(part), place.0, place.1);
    Some(place.0)
}

/// Draws the pump outside the vessel that it draws from.
fn next_to_suction(
    paper: &mut PlanPage<'_>,
    pipe: &PlanPipe<'_>,
    taken: &mut [f64; 2],
) -> Option<Corner> {
    let part = pipe.run.pump.as_ref()?;
    let end = match part.pushes {
        Direction::Forward => RunEnd::From,
        Direction::Backward => RunEnd::To,
    };
    let sign = PlanSymbol::Pump(part);
    let half = room(&sign, 1.0, EquipmentBoxes::Named) / 2.0;
    let off = &mut taken[usize::from(end == RunEnd::To)];
    *off += 2.0 * half;
    let off_m = (*off - half) / paper.scale();
    let vessels = &paper.scene.positions.vessels;
    let place = pipe.course.next_to_end(end, off_m, vessels)?;
    put_on(paper, pipe, sign, place.0, place.1);
    Some(place.0)
}

/// Spreads the symbols of a run along its longest leg if there is room. `pump`: position of the pump, which the symbols
/// follow.
fn along(paper: &mut PlanPage<'_>, pipe: &PlanPipe<'_>, pump: Option<Corner>) {
    let symbols = symbols::sitting(pipe.run).into_iter().map(PlanSymbol::Sits);
    let symbols: Vec<PlanSymbol<'_>> = symbols.collect();
    if symbols.is_empty() || is_measured(pipe.run) {
        return;
    }
    let pushes = pipe.run.pump.as_ref().map(|part| part.pushes);
    let Some((from, to)) = pipe.longest_behind(paper, pump.zip(pushes)) else {
        return;
    };
    let length = from.distance(to);
    let level = (to.x - from.x).abs() / length.max(1e-9);
    let mut boxes = EquipmentBoxes::Named;
    let needs = |symbols: &[PlanSymbol<'_>], boxes: EquipmentBoxes| -> f64 {
        symbols.iter().map(|sign| room(sign, level, boxes)).sum()
    };
    let free = (length - 2.0 * ENDS) * CROWDED;
    if needs(&symbols, boxes) > free {
        boxes = EquipmentBoxes::Blank;
    }
    if needs(&symbols, boxes) > free {
        return;
    }
    // The remaining length is divided equally between them.
    let spare = (length - needs(&symbols, boxes)).max(0.0);
    // There are few symbols, so the cast is exact.
    let between = spare / (symbols.len() + 1) as f64;
    let mut at = between;
    for sign in symbols {
        let half = room(&sign, level, boxes) / 2.0;
        let place = (on_leg(from, to, (at + half) / length.max(1e-9)), from, to);
        at += 2.0 * half + between;
        put(paper, pipe, sign, boxes, place);
    }
}

/// Returns the length that a symbol takes up along a leg, points. `level`: 1 for a leg that is horizontal on the page,
/// 0 for a vertical one.
fn room(sign: &PlanSymbol<'_>, level: f64, boxes: EquipmentBoxes) -> f64 {
    match sign {
        PlanSymbol::Pump(_) => 2.0 * PUMP + 8.0,
        PlanSymbol::Sits(Symbol::Equipment(name)) if boxes == EquipmentBoxes::Named => {
            let wide = text::width(name, EQUIPMENT_SIZE, Weight::Regular) + 20.0;
            level * wide + (1.0 - level) * (2.0 * TALL + 8.0)
        }
        PlanSymbol::Sits(Symbol::Equipment(_)) => 2.0 * BLANK + 6.0,
        PlanSymbol::Sits(_) => 2.0 * VALVE + 6.0,
    }
}

fn put(
    paper: &mut PlanPage<'_>,
    pipe: &PlanPipe<'_>,
    sign: PlanSymbol<'_>,
    boxes: EquipmentBoxes,
    place: (Point, Point, Point),
) {
    let (centre, from, to) = place;
    let rect = Rect::between(centre, centre).grown(VALVE);
    if !paper.sees(rect) {
        return;
    }
    let shapes = match sign {
        PlanSymbol::Pump(part) => return pump(paper, part, (centre, from, to)),
        PlanSymbol::Sits(Symbol::Valve { opening }) => {
            symbols::valve(centre, (from, to), opening).to_vec()
        }
        PlanSymbol::Sits(Symbol::Check(direction)) => {
            symbols::check_valve(centre, (from, to), direction).to_vec()
        }
        PlanSymbol::Sits(Symbol::Fitting) => vec![symbols::fitting(centre, (from, to))],
        PlanSymbol::Sits(Symbol::Equipment(name)) => {
            let name = Some(name).filter(|_| boxes == EquipmentBoxes::Named);
            return equipment(paper, &pipe.run.id, centre, name);
        }
    };
    for shape in shapes {
        paper.add(Some(&pipe.run.id), shape);
    }
    paper.keep(rect);
}

/// Draws a box with its name, or an empty one if there is no room.
fn equipment(paper: &mut PlanPage<'_>, id: &Id, centre: Point, name: Option<&str>) {
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

fn pump(paper: &mut PlanPage<'_>, part: &Pump, place: (Point, Point, Point)) {
    let (centre, from, to) = place;
    let pick = Pick::Part(part.id.clone());
    let edge = outline(paper.scene.attention(&pick), Stroke::new(Ink::Line, 1.8));
    let (ux, uy) = symbols::along(from, to);
    let towards = match part.pushes {
        Direction::Forward => (ux, uy),
        Direction::Backward => (-ux, -uy),
    };
    for shape in symbols::pump(centre, towards, edge) {
        paper.add(Some(&part.id), shape);
    }
    let rect = Rect::between(centre, centre).grown(PUMP);
    paper.keep(rect);
    let (report, system) = (paper.reports.pump(&part.id), paper.scene.units);
    let name = called(&part.name, &part.id);
    let reach = TouchArea::Spot {
        centre,
        radius: PUMP,
    };
    paper.touch(pick, reach, names::pump(part, report, system));
    if !paper.shows(rect) {
        return;
    }
    let line = |words: &str| LabelLine::new(words, 11.0, Ink::Text).strong();
    let mut forms = vec![vec![line(name)]];
    if let Some(report) = report {
        let duty = reports::duty(report, &part.curve, system);
        let duty = LabelLine::new(duty, 10.5, Ink::SoftText);
        forms.insert(0, vec![line(name), duty]);
    }
    let request = LabelRequest {
        forms,
        spots: LabelPosition::around(rect, 5.0),
        rank: 60,
        clear: 1.0,
    };
    paper.request(&part.id, 1.0, request);
}
