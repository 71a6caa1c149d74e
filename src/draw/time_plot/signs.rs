//! Symbols of events: each kind has a shape, filled where something begins and outlined where it ends.

use crate::draw::page::shape::{Ink, Point, Shape, Stroke, pt};
use crate::states::EventKind;

/// Half the size of a symbol, points.
pub const HALF: f64 = 5.0;
const EDGE: f64 = 1.5;

/// Returns the priority of an event where there is no room for all: the smaller, the more important.
pub(super) fn rank(what: EventKind) -> u8 {
    match what {
        EventKind::SpillBegins | EventKind::PumpRunsDry => 0,
        EventKind::RimReached
        | EventKind::SuctionStarved
        | EventKind::IntakeUncovered
        | EventKind::SiphonPrimed => 1,
        EventKind::Still => 2,
        EventKind::FloatOn
        | EventKind::FloatOff
        | EventKind::PumpRestarts
        | EventKind::SiphonBroken => 3,
        EventKind::SpillEnds | EventKind::IntakeCovered | EventKind::SuctionRecovered => 4,
    }
}

/// Returns the symbol of an event around its middle.
pub fn sign(what: EventKind, at: Point) -> Vec<Shape> {
    match what {
        EventKind::SpillBegins => vec![area(triangle(at), Some(Ink::Problem), Ink::Problem)],
        EventKind::RimReached => vec![area(triangle(at), None, Ink::Problem)],
        EventKind::SpillEnds => vec![area(triangle(at), None, Ink::SoftText)],
        EventKind::PumpRunsDry => vec![area(square(at), Some(Ink::Problem), Ink::Problem)],
        EventKind::PumpRestarts => vec![area(square(at), None, Ink::SoftText)],
        EventKind::SuctionStarved => vec![area(diamond(at), Some(Ink::Warning), Ink::Warning)],
        EventKind::IntakeUncovered => vec![area(diamond(at), None, Ink::Warning)],
        EventKind::IntakeCovered | EventKind::SuctionRecovered => {
            vec![area(diamond(at), None, Ink::SoftText)]
        }
        EventKind::FloatOn => vec![circle(at, Some(Ink::Text))],
        EventKind::FloatOff => vec![circle(at, None)],
        EventKind::SiphonPrimed => vec![circle(at, None), bar(at, 0.0, HALF)],
        EventKind::SiphonBroken => vec![circle(at, None), bar(at, 0.0, HALF * 0.5)],
        EventKind::Still => vec![bar(at, -2.0, HALF), bar(at, 2.0, HALF)],
    }
}

fn area(corners: Vec<Point>, fill: Option<Ink>, edge: Ink) -> Shape {
    Shape::Area {
        corners,
        fill,
        edge: Some(Stroke::new(edge, EDGE)),
    }
}

fn triangle(at: Point) -> Vec<Point> {
    vec![
        at.moved(0.0, -HALF),
        at.moved(HALF, HALF * 0.8),
        at.moved(-HALF, HALF * 0.8),
    ]
}

fn square(at: Point) -> Vec<Point> {
    let half = HALF * 0.8;
    vec![
        at.moved(-half, -half),
        at.moved(half, -half),
        at.moved(half, half),
        at.moved(-half, half),
    ]
}

fn diamond(at: Point) -> Vec<Point> {
    vec![
        at.moved(0.0, -HALF),
        at.moved(HALF, 0.0),
        at.moved(0.0, HALF),
        at.moved(-HALF, 0.0),
    ]
}

fn circle(centre: Point, fill: Option<Ink>) -> Shape {
    Shape::Circle {
        centre,
        radius: HALF * 0.85,
        fill,
        edge: Some(Stroke::new(Ink::Text, EDGE)),
    }
}

fn bar(at: Point, aside: f64, half: f64) -> Shape {
    Shape::Line {
        points: vec![pt(at.x + aside, at.y - half), pt(at.x + aside, at.y + half)],
        stroke: Stroke::new(Ink::Text, EDGE),
    }
}
