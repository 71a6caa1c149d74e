//! A run being drawn: its start, its corners so far and the pointer.

use super::events::{DrawingKind, ToolContext};
use super::guide::{Axis, Guide};
use super::snap_candidates::{self, SnapCandidate};
use crate::draw::page::shape::{Point, pt};
use crate::draw::page::view::{View, at};
use crate::draw::section::{Pick, TouchTarget};
use crate::edit::propose::PipeEnd;
use crate::layout::Layout;
use crate::units::{self, Quantity};

/// Distance within which a leg snaps square to the one before, points.
const NEAR: f64 = 8.0;

/// A run being drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct Draft {
    /// Its start.
    pub from: PipeEnd,
    /// Its start on the drawing, metres: x and y in the plan, along and height in the section.
    pub start: (f64, f64),
    /// Corners so far, in the plan.
    pub via: Vec<(f64, f64)>,
    /// The pointer.
    pub pointer: Point,
}

/// Where a run can begin or end at `target`, with the pointer at a place of the plan.
///
/// The section shows no place where a run could be split.
pub fn spot(
    layout: &Layout,
    target: &TouchTarget,
    sheet: DrawingKind,
    place: (f64, f64),
) -> Option<PipeEnd> {
    let part = match &target.pick {
        Pick::Crest { run, end } => layout.run(run)?.end(*end).at.clone(),
        other => other.part().clone(),
    };
    if layout.place_of(&part).is_some() {
        return Some(PipeEnd::Part(part));
    }
    let run = match layout.run(&part) {
        Some(run) => run.id.clone(),
        None => layout.run_of_pump(&part)?.id.clone(),
    };
    (sheet == DrawingKind::Plan).then_some(PipeEnd::On(run, place))
}

impl Draft {
    /// The place in the plan of a click: square to the previous leg or in line with another part where close to that,
    /// else to the centimetre; with its guide.
    pub fn meant(
        &self,
        context: &ToolContext<'_>,
        view: &View,
        point: Point,
    ) -> ((f64, f64), Guide) {
        let raw = view.section_from_page(point);
        let last = self.via.last().copied().unwrap_or(self.start);
        let near_m = NEAR / view.points_per_metre_along;
        let mut guide = Guide::default();
        let square = |at_m: f64| {
            vec![SnapCandidate {
                at_m,
                why: "square to the last leg".to_owned(),
            }]
        };
        let (across, up) = snap_candidates::lines(context.layout, &[]);
        let x = square(last.0).into_iter().chain(across).collect::<Vec<_>>();
        let y = square(last.1).into_iter().chain(up).collect::<Vec<_>>();
        let mut on =
            |raw_m: f64, mates: &[SnapCandidate], upright: bool| match snap_candidates::nearest(
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

    /// The line so far, up to the pointer, with the length of the current leg.
    pub fn guide(&self, context: &ToolContext<'_>, view: &View) -> Guide {
        let page = |(x, y): (f64, f64)| view.page_from_section(at(x, y));
        let mut points: Vec<Point> = vec![page(self.start)];
        if context.sheet == DrawingKind::Section {
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
