//! The target of a drag: snapped to heights and lines of other parts, to the tape and to the grid.

use super::drag::{Aim, set_height};
use super::events::{DrawingKind, ToolContext};
use super::guide::{Axis, Guide};
use super::reach::{candidates_m, range_m};
use super::snap;
use super::snap_candidates::{self, SnapCandidate};
use crate::draw::page::shape::Point;
use crate::draw::page::view::View;
use crate::draw::section::Pick;
use crate::edit::{self, Shift};
use crate::geometry::Corner;
use crate::layout::Id;
use crate::units::{self, Quantity};

/// Snapping distance, points.
const NEAR: f64 = 6.0;

/// A drag of the pointer.
pub(super) struct PointerMove<'m> {
    pub context: &'m ToolContext<'m>,
    pub view: &'m View,
    /// The pointer, points.
    pub to: Point,
    /// Its displacement, metres.
    pub right_m: f64,
    pub up_m: f64,
}

impl PointerMove<'_> {
    fn near_m(&self) -> (f64, f64) {
        (
            NEAR / self.view.points_per_metre_along,
            NEAR / self.view.points_per_metre_up,
        )
    }

    fn write(&self, quantity: Quantity, value: f64) -> String {
        units::write(quantity, value, self.context.units)
    }

    /// A crest snaps to the other openings of its vessel and to its rim.
    pub fn crest(&self, pick: &Pick, start_m: f64) -> Option<Aim> {
        let Pick::Crest { run, end } = pick else {
            return None;
        };
        let layout = self.context.layout;
        let mut candidates = candidates_m(layout, pick);
        candidates.push(start_m);
        let tolerance_m = 2.5 / self.view.points_per_metre_up;
        let snapped = snap::snap(
            start_m + self.up_m,
            &candidates,
            tolerance_m,
            self.context.units,
        );
        let (low, high) = range_m(layout, pick)?;
        let to_m = snapped.height_m.clamp(low, high);
        Some(Aim {
            edit: edit::crest(layout, run, *end, to_m),
            guide: Guide::default(),
        })
    }

    pub fn height(&self, pick: &Pick, start_m: f64) -> Option<Aim> {
        let layout = self.context.layout;
        let mates = snap_candidates::heights(layout, std::slice::from_ref(pick.part()));
        let mut guide = Guide::default();
        let to_m = self.level(start_m + self.up_m, &mates, &mut guide);
        let words = self.write(Quantity::Height, to_m);
        guide.words(self.to.moved(14.0, 30.0), &words, self.view.page);
        Some(Aim {
            edit: set_height(layout, pick, to_m),
            guide,
        })
    }

    /// A height, snapped to a candidate or to the tape.
    fn level(&self, raw_m: f64, mates: &[SnapCandidate], guide: &mut Guide) -> f64 {
        let near_m = self.near_m().1;
        match snap_candidates::nearest(raw_m, mates, near_m) {
            Some(mate) => {
                guide.along(self.view.page, Axis::Y(self.view.y(mate.at_m)), &mate.why);
                mate.at_m
            }
            None => {
                let step_m = snap::step_m(near_m / 2.0, self.context.units);
                snap::on_tape(raw_m, step_m, self.context.units)
            }
        }
    }

    pub fn parts(&self, parts: &[Id], held: &Id, along_m: &[(Id, f64)]) -> Option<Aim> {
        match self.context.sheet {
            DrawingKind::Plan => self.parts_in_plan(parts, held),
            DrawingKind::Section => self.parts_in_section(parts, held, along_m),
        }
    }

    fn parts_in_plan(&self, parts: &[Id], held: &Id) -> Option<Aim> {
        let layout = self.context.layout;
        let place = layout.place_of(held)?;
        let (across, up) = snap_candidates::lines(layout, parts);
        let half = layout.vessel(held).map_or((0.0, 0.0), |vessel| {
            let (long, wide) = vessel.shape.footprint_m();
            (long / 2.0, wide / 2.0)
        });
        let mut guide = Guide::default();
        let near = self.near_m().0;
        let mut on = |raw: f64, mates: &[SnapCandidate], half: f64, axis: fn(f64) -> Axis| {
            let found = own_lines(half)
                .into_iter()
                .filter_map(|off| Some((off, snap_candidates::nearest(raw + off, mates, near)?)))
                .min_by(|a, b| {
                    let off = |(off, mate): &(f64, &SnapCandidate)| (mate.at_m - raw - off).abs();
                    off(a).total_cmp(&off(b))
                });
            match found {
                Some((off, mate)) => {
                    let at = match axis(0.0) {
                        Axis::X(_) => Axis::X(self.view.x(mate.at_m)),
                        Axis::Y(_) => Axis::Y(self.view.y(mate.at_m)),
                    };
                    guide.along(self.view.page, at, &mate.why);
                    mate.at_m - off
                }
                None => self.on_grid(raw),
            }
        };
        let x_m = on(place.x_m + self.right_m, &across, half.0, Axis::X);
        let y_m = on(place.y_m + self.up_m, &up, half.1, Axis::Y);
        let words = format!(
            "Centre at X {}, Y {}",
            self.write(Quantity::Length, x_m),
            self.write(Quantity::Length, y_m)
        );
        guide.words(self.to.moved(14.0, 30.0), &words, self.view.page);
        let by = Shift {
            x_m: x_m - place.x_m,
            y_m: y_m - place.y_m,
            ..Shift::default()
        };
        Some(Aim {
            edit: edit::shift(layout, parts, by),
            guide,
        })
    }

    /// Rounds to the coarsest grid step that suits the zoom.
    fn on_grid(&self, raw_m: f64) -> f64 {
        let steps = match self.context.units {
            units::UnitSystem::Metric => [0.01, 0.05, 0.1],
            units::UnitSystem::Us => [0.0127, 0.0254, 0.1524],
        };
        let near_m = self.near_m().0;
        let step = steps.iter().rev().find(|step| **step <= near_m * 1.2);
        let step = step.copied().unwrap_or(steps[0]);
        ((raw_m / step).round() * step * 1e6).round() / 1e6
    }

    fn parts_in_section(&self, parts: &[Id], held: &Id, along_m: &[(Id, f64)]) -> Option<Aim> {
        let layout = self.context.layout;
        let foot_m = layout.foot_m(held)?;
        let depth_m = layout
            .vessel(held)
            .map(|vessel| vessel.rim_m - vessel.floor_m);
        let mut mates = snap_candidates::heights(layout, parts);
        mates.push(SnapCandidate {
            at_m: foot_m,
            why: "at its old height".to_owned(),
        });
        let mut guide = Guide::default();
        let near_m = self.near_m().1;
        let raw_m = foot_m + self.up_m;
        // Where the floor does not snap, the rim may.
        let rim = depth_m.filter(|_| snap_candidates::nearest(raw_m, &mates, near_m).is_none());
        let rim = rim.and_then(|depth| {
            Some((
                depth,
                snap_candidates::nearest(raw_m + depth, &mates, near_m)?,
            ))
        });
        let to_m = match rim {
            Some((depth_m, mate)) => {
                guide.along(self.view.page, Axis::Y(self.view.y(mate.at_m)), &mate.why);
                mate.at_m - depth_m
            }
            None => self.level(raw_m, &mates, &mut guide),
        };
        let words = self.write(Quantity::Height, to_m);
        let words = match depth_m {
            Some(depth_m) => format!(
                "Floor {words}, rim {}",
                self.write(Quantity::Height, to_m + depth_m)
            ),
            None => words,
        };
        guide.words(self.to.moved(14.0, 30.0), &words, self.view.page);
        let sideways = self.right_m.abs() * self.view.points_per_metre_along > NEAR;
        let up_m = to_m - foot_m;
        let edit = if sideways {
            let by = Shift {
                along_m: (self.right_m * 100.0).round() / 100.0,
                up_m,
                ..Shift::default()
            };
            edit::shift_along(layout, along_m, (parts, by))
        } else {
            edit::shift(layout, parts, Shift::up(up_m))
        };
        Some(Aim { edit, guide })
    }

    /// A corner in the section: only up and down, because its place along the section follows from the plan.
    pub fn corner_height(&self, start: Corner) -> (Corner, Guide) {
        let mut guide = Guide::default();
        let z_m = self.level(start.z_m + self.up_m, &[], &mut guide);
        let words = self.write(Quantity::Height, z_m);
        guide.words(self.to.moved(14.0, 30.0), &words, self.view.page);
        (Corner { z_m, ..start }, guide)
    }

    /// A corner in the plan: square to the legs beside it, or on the grid.
    pub fn corner(&self, start: Corner, beside: &[Corner]) -> (Corner, Guide) {
        let square = |of: fn(&Corner) -> f64| -> Vec<SnapCandidate> {
            let mates = beside.iter().map(|corner| SnapCandidate {
                at_m: of(corner),
                why: "square to the next leg".to_owned(),
            });
            mates.collect()
        };
        let (across, up) = (square(|corner| corner.x_m), square(|corner| corner.y_m));
        let mut guide = Guide::default();
        let near_m = self.near_m().0;
        let (raw_x, raw_y) = (start.x_m + self.right_m, start.y_m + self.up_m);
        let x_m = match snap_candidates::nearest(raw_x, &across, near_m) {
            Some(mate) => {
                guide.along(self.view.page, Axis::X(self.view.x(mate.at_m)), &mate.why);
                mate.at_m
            }
            None => self.on_grid(raw_x),
        };
        let y_m = match snap_candidates::nearest(raw_y, &up, near_m) {
            Some(mate) => {
                guide.along(self.view.page, Axis::Y(self.view.y(mate.at_m)), &mate.why);
                mate.at_m
            }
            None => self.on_grid(raw_y),
        };
        let to = Corner { x_m, y_m, ..start };
        let legs: Vec<String> = beside
            .iter()
            .map(|corner| self.write(Quantity::Length, corner.distance_m(to)))
            .collect();
        guide.words(
            self.to.moved(14.0, 30.0),
            &legs.join(" and "),
            self.view.page,
        );
        (to, guide)
    }
}

/// Lines of a part that can align with others: its centre and its edges, relative to the centre.
fn own_lines(half: f64) -> Vec<f64> {
    if half > 0.0 {
        vec![0.0, -half, half]
    } else {
        vec![0.0]
    }
}
