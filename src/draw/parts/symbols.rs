//! Symbols for the items of a run and for findings, the same in section and plan, distinguished by shape alone.

use crate::catalogue::{Actuation, Catalogue};
use crate::draw::page::shape::{Ink, Point, Rect, Shape, Stroke, Weight, pt};
use crate::draw::page::text;
use crate::finding::Severity;
use crate::layout::{Direction, Run, RunEnd};

/// Half the length of a valve, points.
pub(in crate::draw) const VALVE: f64 = 7.0;
/// Radius of the circle of a pump, points.
pub(in crate::draw) const PUMP: f64 = 11.0;
/// Font size in the box of a piece of equipment, points.
pub(in crate::draw) const EQUIPMENT_SIZE: f64 = 10.0;
/// Length that one fitting takes up along a run, points.
const ROOM: f64 = 26.0;

/// An item of a run that has a symbol.
pub(in crate::draw) enum Symbol<'a> {
    Valve {
        opening: f64,
    },
    Check(Direction),
    Equipment(&'a str),
    /// Only with a given position: most fittings are bends, which the drawing shows anyway.
    Fitting,
}

/// Given position of an item along its run.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::draw) enum SymbolPosition {
    Near(RunEnd),
    /// Distance from the start, metres.
    At(f64),
}

impl SymbolPosition {
    fn of(at_m: Option<f64>, near: Option<RunEnd>) -> Option<SymbolPosition> {
        at_m.map(SymbolPosition::At)
            .or(near.map(SymbolPosition::Near))
    }
}

impl Symbol<'_> {
    /// Returns the length that it takes up along a horizontal run, points.
    pub fn room(&self) -> f64 {
        match self {
            Symbol::Valve { .. } | Symbol::Check(_) | Symbol::Fitting => ROOM,
            Symbol::Equipment(name) => text::width(name, EQUIPMENT_SIZE, Weight::Regular) + 24.0,
        }
    }
}

/// Returns the valves, check valve and equipment of a run without a given position, from its start.
pub(in crate::draw) fn sitting(run: &Run) -> Vec<Symbol<'_>> {
    let unplaced = all(run).filter(|(_, seat)| seat.is_none());
    unplaced.map(|(what, _)| what).collect()
}

/// Returns the items of a run with a given position.
pub(in crate::draw) fn seated(run: &Run) -> Vec<(Symbol<'_>, SymbolPosition)> {
    let placed = all(run).filter_map(|(what, seat)| Some((what, seat?)));
    placed.collect()
}

/// Returns all items, from the start of the run as far as their order is known: valves and equipment are two lists, and
/// a check valve without a given position is beside the pump that it guards, on its discharge side.
pub(in crate::draw) fn all(
    run: &Run,
) -> impl Iterator<Item = (Symbol<'_>, Option<SymbolPosition>)> {
    // A check valve in the list of valves has the check valve symbol, which is drawn only once.
    let known = Catalogue::builtin();
    let checks = |kind: &str| {
        known
            .valve(kind)
            .is_some_and(|kind| kind.acts == Actuation::Check)
    };
    let way = run.check_valve;
    let valves = run.valves.iter().map(move |valve| {
        let what = if checks(&valve.kind) {
            Symbol::Check(way.unwrap_or_default())
        } else {
            Symbol::Valve {
                opening: valve.opening,
            }
        };
        (what, SymbolPosition::of(valve.at_m, valve.near))
    });
    let listed = run.valves.iter().any(|valve| checks(&valve.kind));
    let check = way.filter(|_| !listed).map(Symbol::Check);
    let check = check.map(|what| (what, None));
    let pushes = run.pump.as_ref().map(|pump| pump.pushes);
    let (first, last) = match pushes {
        Some(Direction::Forward) => (check, None),
        Some(Direction::Backward) | None => (None, check),
    };
    let equipment = run.equipment.iter().map(|one| {
        let seat = SymbolPosition::of(one.at_m, one.near);
        (Symbol::Equipment(&one.name), seat)
    });
    let fittings = run.fittings.iter();
    let fittings = fittings.filter(|one| one.is_placed() && !one.is_entrance_or_exit());
    let fittings = fittings.map(|one| (Symbol::Fitting, SymbolPosition::of(one.at_m, one.near)));
    let valves = first.into_iter().chain(valves).chain(last);
    let mut list: Vec<_> = match pushes {
        Some(Direction::Backward) => equipment.chain(valves).collect(),
        Some(Direction::Forward) | None => valves.chain(equipment).collect(),
    };
    list.extend(fittings);
    list.into_iter()
}

/// Returns the point at a share of a leg: 0 at its start, 1 at its end.
pub(in crate::draw) fn on_leg(from: Point, to: Point, share: f64) -> Point {
    pt(
        from.x + (to.x - from.x) * share,
        from.y + (to.y - from.y) * share,
    )
}

/// Returns the legs downstream of a pump, of a line in the order of its run; the leg of the pump is cut at its symbol.
/// Returns all legs if the pump is on none.
pub(in crate::draw) fn behind_pump(
    line: &[Point],
    pump: Point,
    pushes: Direction,
) -> Vec<(Point, Point)> {
    let legs = line.windows(2).filter_map(|pair| match *pair {
        [from, to] => Some((from, to)),
        _ => None,
    });
    let mut legs: Vec<(Point, Point)> = legs.collect();
    let off =
        |(from, to): &(Point, Point)| from.distance(pump) + to.distance(pump) - from.distance(*to);
    let nearest = legs.iter().enumerate();
    let Some((at, leg)) = nearest.min_by(|a, b| off(a.1).total_cmp(&off(b.1))) else {
        return legs;
    };
    let (from, to) = *leg;
    if off(leg) > PUMP {
        return legs;
    }
    let length = from.distance(to).max(1e-9);
    let share = |off: f64| ((from.distance(pump) + off) / length).clamp(0.0, 1.0);
    match pushes {
        Direction::Forward => {
            legs.drain(..at);
            if let Some(first) = legs.first_mut() {
                first.0 = on_leg(from, to, share(PUMP));
            }
        }
        Direction::Backward => {
            legs.truncate(at + 1);
            if let Some(last) = legs.last_mut() {
                last.1 = on_leg(from, to, share(-PUMP));
            }
        }
    }
    legs
}

/// Returns the unit vector along a leg, or 0 if it has no length.
pub(in crate::draw) fn along(from: Point, to: Point) -> (f64, f64) {
    let length = from.distance(to).max(1e-9);
    ((to.x - from.x) / length, (to.y - from.y) / length)
}

/// Returns a triangle with its tip at `tip` that points from the start of the leg to its end.
pub(in crate::draw) fn triangle(tip: Point, leg: (Point, Point), size: f64) -> Vec<Point> {
    let (from, to) = leg;
    let (ux, uy) = along(from, to);
    let back = tip.moved(-ux * size * 1.5, -uy * size * 1.5);
    vec![
        tip,
        back.moved(-uy * size * 0.75, ux * size * 0.75),
        back.moved(uy * size * 0.75, -ux * size * 0.75),
    ]
}

/// Returns a filled triangle in the ink of flow.
pub(in crate::draw) fn arrow(tip: Point, leg: (Point, Point), size: f64) -> Shape {
    Shape::Area {
        corners: triangle(tip, leg, size),
        fill: Some(Ink::WaterLine),
        edge: None,
    }
}

/// Returns two triangles tip to tip, filled if the valve is shut.
pub(in crate::draw) fn valve(centre: Point, leg: (Point, Point), opening: f64) -> [Shape; 2] {
    let (from, to) = leg;
    let fill = if opening <= 0.0 { Ink::Line } else { Ink::Card };
    [(from, to), (to, from)].map(|leg| {
        let mut corners = triangle(centre, leg, VALVE * 0.8);
        // Both tips meet at the centre.
        if let Some(tip) = corners.first_mut() {
            *tip = centre;
        }
        Shape::Area {
            corners,
            fill: Some(fill),
            edge: Some(Stroke::new(Ink::Line, 1.3)),
        }
    })
}

/// Returns a triangle against a bar; water passes towards the bar.
pub(in crate::draw) fn check_valve(
    centre: Point,
    leg: (Point, Point),
    direction: Direction,
) -> [Shape; 2] {
    let (from, to) = leg;
    let (from, to) = match direction {
        Direction::Forward => (from, to),
        Direction::Backward => (to, from),
    };
    let size = VALVE * 0.9;
    let (ux, uy) = along(from, to);
    let tip = centre.moved(ux * size * 0.6, uy * size * 0.6);
    let bar = vec![
        tip.moved(-uy * size, ux * size),
        tip.moved(uy * size, -ux * size),
    ];
    [
        Shape::Area {
            corners: triangle(tip, (from, to), size),
            fill: Some(Ink::Card),
            edge: Some(Stroke::new(Ink::Line, 1.3)),
        },
        Shape::Line {
            points: bar,
            stroke: Stroke::new(Ink::Line, 1.8),
        },
    ]
}

/// Returns a bar across the pipe.
pub(in crate::draw) fn fitting(centre: Point, leg: (Point, Point)) -> Shape {
    let (from, to) = leg;
    let (ux, uy) = along(from, to);
    let size = VALVE * 0.9;
    Shape::Line {
        points: vec![
            centre.moved(-uy * size, ux * size),
            centre.moved(uy * size, -ux * size),
        ],
        stroke: Stroke::new(Ink::Line, 2.2),
    }
}

/// Half the bore of a vent, points.
const VENT: f64 = 2.2;
/// Drawn height of a vent without a given top, and the smallest height of one to scale, points.
pub(in crate::draw) const VENT_HEIGHT: f64 = 16.0;
pub(in crate::draw) const LEAST_VENT: f64 = 5.0;

/// Outward turn of the rim of a vent, points; without it the stub above a vertical pipe would look like part of the
/// pipe.
const VENT_RIM: f64 = 3.0;

/// Returns a short upright stub on a pipe, open at the top and with an outward rim.
pub(in crate::draw) fn vent(foot: Point, height: f64, ink: Ink) -> [Shape; 5] {
    let line = |aside: f64, stroke: Stroke| Shape::Line {
        points: vec![foot.moved(aside, 0.0), foot.moved(aside, -height)],
        stroke,
    };
    let wall = Stroke::new(ink, 1.2);
    let top = foot.moved(0.0, -height);
    let rim = |side: f64| Shape::Line {
        points: vec![
            top.moved(side * VENT, 0.0),
            top.moved(side * (VENT + VENT_RIM), 0.0),
        ],
        stroke: wall,
    };
    [
        line(0.0, Stroke::new(Ink::Inside, 2.0 * VENT)),
        line(-VENT, wall),
        line(VENT, wall),
        rim(-1.0),
        rim(1.0),
    ]
}

/// Returns a circle with a triangle in the direction the pump pushes, a unit vector on the page.
pub(in crate::draw) fn pump(centre: Point, towards: (f64, f64), edge: Stroke) -> [Shape; 2] {
    let (ux, uy) = towards;
    let tip = centre.moved(ux * PUMP * 0.75, uy * PUMP * 0.75);
    [
        Shape::Circle {
            centre,
            radius: PUMP,
            fill: Some(Ink::Card),
            edge: Some(edge),
        },
        Shape::Area {
            corners: triangle(tip, (centre, tip), PUMP * 0.9),
            fill: Some(Ink::Line),
            edge: None,
        },
    ]
}

/// Returns a triangle with an exclamation mark as the symbol of a severity, filled for a problem.
pub(in crate::draw) fn severity(rect: Rect, severity: Severity) -> [Shape; 3] {
    let x = rect.centre().x;
    let corners = vec![
        pt(x, rect.top),
        pt(rect.right, rect.bottom - 1.0),
        pt(rect.left, rect.bottom - 1.0),
    ];
    let (fill, edge, stroke) = match severity {
        Severity::Problem => (Ink::Problem, Ink::Problem, Ink::Page),
        _ => (Ink::Page, Ink::Warning, Ink::Warning),
    };
    [
        Shape::Area {
            corners,
            fill: Some(fill),
            edge: Some(Stroke::new(edge, 1.8)),
        },
        Shape::Line {
            points: vec![pt(x, rect.top + 5.5), pt(x, rect.bottom - 6.5)],
            stroke: Stroke::new(stroke, 2.0),
        },
        Shape::Circle {
            centre: pt(x, rect.bottom - 3.6),
            radius: 1.2,
            fill: Some(stroke),
            edge: None,
        },
    ]
}
