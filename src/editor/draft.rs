//! A run that is being drawn: where it began, the places on the way, and where the pointer is.

use super::events::{Ground, Sheet};
use super::guide::{Axis, Guide};
use super::mates::{self, Mate};
use crate::draw::section::{Pick, Target};
use crate::draw::shape::{Point, pt};
use crate::draw::view::{View, at};
use crate::edit::propose::Spot;
use crate::layout::Layout;
use crate::units::{self, Quantity};

/// How near a place has to be to be square to the leg before, points.
const NEAR: f64 = 8.0;

/// A run on its way.
#[derive(Clone, Debug, PartialEq)]
pub struct Draft {
    /// Where it begins.
    pub from: Spot,
    /// Where it began on the drawing, metres: x and y in the plan, along and height in the section.
    pub start: (f64, f64),
    /// Places on the way, in the plan.
    pub via: Vec<(f64, f64)>,
    /// Where the pointer is.
    pub pointer: Point,
}

/// Where a run can begin or end at `target`, with the pointer at a place of the plan.
///
/// In the section a run has no place where it could be split.
pub fn spot(layout: &Layout, target: &Target, sheet: Sheet, place: (f64, f64)) -> Option<Spot> {
    let part = match &target.pick {
        Pick::Crest { run, end } => layout.run(run)?.end(*end).at.clone(),
        other => other.part().clone(),
    };
    if layout.place_of(&part).is_some() {
        return Some(Spot::Part(part));
    }
    let run = match layout.run(&part) {
        Some(run) => run.id.clone(),
        None => layout.run_of_pump(&part)?.id.clone(),
    };
    (sheet == Sheet::Plan).then_some(Spot::On(run, place))
}

impl Draft {
    /// The place in the plan that a click means: square to the leg before where it is near to it, else on the
    /// squared paper; with what is shown beside it.
    pub fn meant(&self, context: &Ground<'_>, view: &View, point: Point) -> ((f64, f64), Guide) {
        let raw = view.section_from_page(point);
        let last = self.via.last().copied().unwrap_or(self.start);
        let near_m = NEAR / view.points_per_metre_along;
        let mut guide = Guide::default();
        let square = |at_m: f64| {
            vec![Mate {
                at_m,
                why: "square to the leg before".to_owned(),
            }]
        };
        let (across, up) = mates::lines(context.layout, &[]);
        let x = square(last.0).into_iter().chain(across).collect::<Vec<_>>();
        let y = square(last.1).into_iter().chain(up).collect::<Vec<_>>();
        let mut on = |raw_m: f64, mates: &[Mate], upright: bool| match mates::nearest(
            raw_m, mates, near_m,
        ) {
            Some(mate) => {
                let axis = if upright {
                    Axis::X(view.x(mate.at_m))
                } else {
                    Axis::Y(view.y(mate.at_m))
                };
                guide.along(view.page, axis, &mate.why);
                mate.at_m
            }
            None => (raw_m * 100.0).round() / 100.0,
        };
        let place = (on(raw.along_m, &x, true), on(raw.z_m, &y, false));
        (place, guide)
    }

    /// The line so far, up to where the pointer is, with the length of the leg in hand.
    pub fn guide(&self, context: &Ground<'_>, view: &View) -> Guide {
        let page = |(x, y): (f64, f64)| view.page_from_section(at(x, y));
        let mut points: Vec<Point> = vec![page(self.start)];
        if context.sheet == Sheet::Section {
            points.push(self.pointer);
            let mut guide = Guide::default();
            guide.line(points);
            return guide;
        }
        points.extend(self.via.iter().copied().map(page));
        let (place, mut guide) = self.meant(context, view, self.pointer);
        let last = self.via.last().copied().unwrap_or(self.start);
        points.push(page(place));
        guide.line(points);
        let leg_m = (place.0 - last.0).hypot(place.1 - last.1);
        let words = units::write(Quantity::Length, leg_m, context.units);
        guide.words(
            pt(self.pointer.x + 14.0, self.pointer.y + 30.0),
            &words,
            view.page,
        );
        guide
    }
}
