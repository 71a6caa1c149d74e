//! What is dragged, and what the layout would be with it where the pointer is.
//!
//! A place is always where the pointer has moved from where it was taken: never summed from small steps.

use super::guide::{Axis, Guide};
use super::hand::{Ground, Sheet};
use super::mates::{self, Mate};
use super::reach::{candidates_m, crest_m, range_m};
use super::snap;
use crate::draw::section::{Pick, Plan};
use crate::draw::shape::Point;
use crate::draw::view::View;
use crate::edit::{self, Edit, EditError, Shift, propose};
use crate::geometry::Corner;
use crate::layout::{Id, Layout, RunEnd};
use crate::units::{self, Quantity};

/// How near something has to be to be meant, points.
const NEAR: f64 = 6.0;

/// Something that is dragged, as it stood when it was taken.
#[derive(Clone, Debug, PartialEq)]
pub enum Drag {
    /// A crest, up and down.
    Crest {
        /// The crest.
        pick: Pick,
        /// Its height, metres.
        start_m: f64,
    },
    /// A rim, a floor or a fixed level, up and down.
    Height {
        /// Which.
        pick: Pick,
        /// Its height, metres.
        start_m: f64,
    },
    /// Whole parts.
    Parts {
        /// All that move.
        parts: Vec<Id>,
        /// The one that was taken.
        held: Id,
        /// Where everything stands along the section; none where that does not change.
        along_m: Vec<(Id, f64)>,
    },
    /// A corner of a run in the plan.
    Corner {
        /// The run.
        run: Id,
        /// Which of its corners.
        index: usize,
        /// Where it stood.
        start: Corner,
    },
    /// A new corner in a leg of a run in the plan.
    Bend {
        /// The run.
        run: Id,
        /// The corner that it is put in before.
        index: usize,
        /// Where the leg was taken.
        start: Corner,
    },
    /// The opening at one end of a run in the plan.
    End {
        /// The run.
        run: Id,
        /// Which end.
        end: RunEnd,
        /// Where it was.
        start: Corner,
    },
}

/// What a drag comes to where the pointer is.
pub struct Aim {
    /// The edit that would make it so.
    pub edit: Result<Edit, EditError>,
    /// What is shown beside it.
    pub guide: Guide,
}

/// What is taken by a press on `pick`; none where that cannot be dragged on this drawing.
pub fn taken(pick: &Pick, ground: &Ground<'_>, selected: &[Pick], at: (f64, f64)) -> Option<Drag> {
    let layout = ground.layout;
    match (pick, ground.sheet) {
        (Pick::Crest { .. }, Sheet::Section) => Some(Drag::Crest {
            pick: pick.clone(),
            start_m: crest_m(layout, pick)?,
        }),
        (Pick::Crest { run, end }, Sheet::Plan) => Some(Drag::End {
            start: layout.corner_at(layout.run(run)?.end(*end)),
            run: run.clone(),
            end: *end,
        }),
        (Pick::Rim(_) | Pick::Floor(_), _) => Some(Drag::Height {
            pick: pick.clone(),
            start_m: height_m(layout, pick)?,
        }),
        (Pick::Corner { run, index }, _) => Some(Drag::Corner {
            start: *layout.run(run)?.route.get(*index)?,
            run: run.clone(),
            index: *index,
        }),
        (Pick::Part(id), Sheet::Plan) if layout.run(id).is_some() => bend(layout, id, at),
        (Pick::Part(id), sheet) => parts(layout, (id, sheet), selected),
    }
}

/// The height of a rim or floor that is picked, metres.
pub fn height_m(layout: &Layout, pick: &Pick) -> Option<f64> {
    match pick {
        Pick::Rim(id) => layout.vessel(id).map(|vessel| vessel.rim_m),
        Pick::Floor(id) => layout.foot_m(id),
        crest => crest_m(layout, crest),
    }
}

fn parts(layout: &Layout, (id, sheet): (&Id, Sheet), selected: &[Pick]) -> Option<Drag> {
    layout.place_of(id)?;
    let mut parts: Vec<Id> = selected
        .iter()
        .filter_map(|pick| match pick {
            Pick::Part(id) => Some(id.clone()),
            _ => None,
        })
        .collect();
    if !parts.contains(id) {
        parts = vec![id.clone()];
    }
    let along_m = match sheet {
        Sheet::Section => standing(layout),
        Sheet::Plan => Vec::new(),
    };
    Some(Drag::Parts {
        parts,
        held: id.clone(),
        along_m,
    })
}

/// Where every part stands along the section as it is drawn, metres.
pub fn standing(layout: &Layout) -> Vec<(Id, f64)> {
    let stand = Plan::of(layout).stand;
    let vessels = layout.vessels.iter().map(|part| &part.id);
    let vessels = vessels.zip(stand.vessels.iter().map(|one| one.along_m));
    let fixed = layout.fixed.iter().map(|part| &part.id);
    let fixed = fixed.zip(stand.fixed.iter().map(|one| one.along_m));
    let joints = layout.joints.iter().map(|part| &part.id);
    let joints = joints.zip(stand.joints.iter().map(|one| one.along_m));
    let all = vessels.chain(fixed).chain(joints);
    all.map(|(id, along_m)| (id.clone(), along_m)).collect()
}

/// A new corner in the leg of a run that is nearest to a place.
fn bend(layout: &Layout, id: &Id, (x, y): (f64, f64)) -> Option<Drag> {
    let corners = layout.corners_of(layout.run(id)?);
    let mut best: Option<(usize, Corner, f64)> = None;
    for (leg, pair) in corners.windows(2).enumerate() {
        let [a, b] = *pair else { continue };
        let (dx, dy) = (b.x_m - a.x_m, b.y_m - a.y_m);
        let length2 = dx * dx + dy * dy;
        if length2 <= 0.0 {
            continue;
        }
        let share = (((x - a.x_m) * dx + (y - a.y_m) * dy) / length2).clamp(0.0, 1.0);
        let at = Corner {
            x_m: a.x_m + share * dx,
            y_m: a.y_m + share * dy,
            z_m: a.z_m + share * (b.z_m - a.z_m),
        };
        let off = (at.x_m - x).hypot(at.y_m - y);
        if best.is_none_or(|(_, _, least)| off < least) {
            best = Some((leg, at, off));
        }
    }
    best.map(|(index, start, _)| Drag::Bend {
        run: id.clone(),
        index,
        start,
    })
}

impl Drag {
    /// What it comes to with the pointer moved from one point of the page to another.
    pub fn aim(&self, ground: &Ground<'_>, view: &View, (from, to): (Point, Point)) -> Option<Aim> {
        let right_m = (to.x - from.x) / view.points_per_metre_along;
        let up_m = (from.y - to.y) / view.points_per_metre_up;
        let moved = Moved {
            ground,
            view,
            to,
            right_m,
            up_m,
        };
        match self {
            Drag::Crest { pick, start_m } => moved.crest(pick, *start_m),
            Drag::Height { pick, start_m } => moved.height(pick, *start_m),
            Drag::Parts {
                parts,
                held,
                along_m,
            } => moved.parts(parts, held, along_m),
            Drag::Corner { run, index, start } => {
                let (to, guide) = moved.corner(*start, &around(ground.layout, run, *index + 1, 1));
                let edit = propose::corner(ground.layout, run, *index, to);
                Some(Aim { edit, guide })
            }
            Drag::Bend { run, index, start } => {
                let (to, guide) = moved.corner(*start, &around(ground.layout, run, *index, 0));
                let mut corners = ground.layout.run(run)?.route.clone();
                corners.insert((*index).min(corners.len()), to);
                let edit = propose::reroute(ground.layout, run, &corners);
                Some(Aim { edit, guide })
            }
            Drag::End { run, end, start } => {
                let index = match end {
                    RunEnd::From => 0,
                    RunEnd::To => ground.layout.run(run)?.route.len() + 1,
                };
                let (to, guide) = moved.corner(*start, &around(ground.layout, run, index, 1));
                let place = (to.x_m, to.y_m);
                let edit = propose::place_end(ground.layout, run, *end, place);
                Some(Aim { edit, guide })
            }
        }
    }
}

/// The corners before and behind one in the line of a run, ends counted: `index` counts from the first end,
/// `skip` passes over the corner itself.
fn around(layout: &Layout, run: &Id, index: usize, skip: usize) -> Vec<Corner> {
    let Some(run) = layout.run(run) else {
        return Vec::new();
    };
    let corners = layout.corners_of(run);
    let before = match skip {
        0 => corners.get(index),
        _ => index.checked_sub(1).and_then(|before| corners.get(before)),
    };
    let behind = corners.get(index + 1);
    before.into_iter().chain(behind).copied().collect()
}

/// A pointer that has moved.
struct Moved<'m> {
    ground: &'m Ground<'m>,
    view: &'m View,
    to: Point,
    right_m: f64,
    up_m: f64,
}

impl Moved<'_> {
    fn near_m(&self) -> (f64, f64) {
        (
            NEAR / self.view.points_per_metre_along,
            NEAR / self.view.points_per_metre_up,
        )
    }

    fn write(&self, quantity: Quantity, value: f64) -> String {
        units::write(quantity, value, self.ground.units)
    }

    /// A crest is drawn to the other openings of its vessel and to its rim.
    fn crest(&self, pick: &Pick, start_m: f64) -> Option<Aim> {
        let Pick::Crest { run, end } = pick else {
            return None;
        };
        let layout = self.ground.layout;
        let mut candidates = candidates_m(layout, pick);
        candidates.push(start_m);
        let tolerance_m = 2.5 / self.view.points_per_metre_up;
        let snapped = snap::snap(
            start_m + self.up_m,
            &candidates,
            tolerance_m,
            self.ground.units,
        );
        let (low, high) = range_m(layout, pick)?;
        let to_m = snapped.height_m.clamp(low, high);
        Some(Aim {
            edit: edit::crest(layout, run, *end, to_m),
            guide: Guide::default(),
        })
    }

    fn height(&self, pick: &Pick, start_m: f64) -> Option<Aim> {
        let layout = self.ground.layout;
        let mates = mates::heights(layout, std::slice::from_ref(pick.part()));
        let mut guide = Guide::default();
        let to_m = self.level(start_m + self.up_m, &mates, &mut guide);
        let words = self.write(Quantity::Height, to_m);
        guide.words(self.to.moved(14.0, 30.0), &words, self.view.page);
        Some(Aim {
            edit: set_height(layout, pick, to_m),
            guide,
        })
    }

    /// A height, drawn to a mate or to the tape.
    fn level(&self, raw_m: f64, mates: &[Mate], guide: &mut Guide) -> f64 {
        let near_m = self.near_m().1;
        match mates::nearest(raw_m, mates, near_m) {
            Some(mate) => {
                guide.along(self.view.page, Axis::Y(self.view.y(mate.at_m)), &mate.why);
                mate.at_m
            }
            None => {
                let step_m = snap::step_m(near_m / 2.0, self.ground.units);
                snap::on_tape(raw_m, step_m, self.ground.units)
            }
        }
    }

    fn parts(&self, parts: &[Id], held: &Id, along_m: &[(Id, f64)]) -> Option<Aim> {
        match self.ground.sheet {
            Sheet::Plan => self.parts_in_plan(parts, held),
            Sheet::Section => self.parts_in_section(parts, held, along_m),
        }
    }

    fn parts_in_plan(&self, parts: &[Id], held: &Id) -> Option<Aim> {
        let layout = self.ground.layout;
        let place = layout.place_of(held)?;
        let (across, up) = mates::lines(layout, parts);
        let half = layout.vessel(held).map_or((0.0, 0.0), |vessel| {
            let (long, wide) = edit::footprint_m(&vessel.shape);
            (long / 2.0, wide / 2.0)
        });
        let mut guide = Guide::default();
        let near = self.near_m().0;
        let mut on = |raw: f64, mates: &[Mate], half: f64, axis: fn(f64) -> Axis| {
            let found = own_lines(half)
                .into_iter()
                .filter_map(|off| Some((off, mates::nearest(raw + off, mates, near)?)))
                .min_by(|a, b| {
                    let off = |(off, mate): &(f64, &Mate)| (mate.at_m - raw - off).abs();
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
            "its middle at {} across, {} up the page",
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

    /// To a step of the squared paper that the hand can place.
    fn on_grid(&self, raw_m: f64) -> f64 {
        let steps = match self.ground.units {
            units::UnitSystem::Metric => [0.01, 0.05, 0.1],
            units::UnitSystem::Us => [0.0127, 0.0254, 0.1524],
        };
        let near_m = self.near_m().0;
        let step = steps.iter().rev().find(|step| **step <= near_m * 1.2);
        let step = step.copied().unwrap_or(steps[0]);
        ((raw_m / step).round() * step * 1e6).round() / 1e6
    }

    fn parts_in_section(&self, parts: &[Id], held: &Id, along_m: &[(Id, f64)]) -> Option<Aim> {
        let layout = self.ground.layout;
        let foot_m = layout.foot_m(held)?;
        let depth_m = layout
            .vessel(held)
            .map(|vessel| vessel.rim_m - vessel.floor_m);
        let mut mates = mates::heights(layout, parts);
        mates.push(Mate {
            at_m: foot_m,
            why: "at the height that it had".to_owned(),
        });
        let mut guide = Guide::default();
        let near_m = self.near_m().1;
        let raw_m = foot_m + self.up_m;
        // The rim is drawn to what the floor is not.
        let rim = depth_m.filter(|_| mates::nearest(raw_m, &mates, near_m).is_none());
        let rim =
            rim.and_then(|depth| Some((depth, mates::nearest(raw_m + depth, &mates, near_m)?)));
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
                "floor {words}, rim {}",
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

    /// A corner in the plan: square to the legs beside it, or on the squared paper.
    fn corner(&self, start: Corner, beside: &[Corner]) -> (Corner, Guide) {
        let square = |of: fn(&Corner) -> f64| -> Vec<Mate> {
            let mates = beside.iter().map(|corner| Mate {
                at_m: of(corner),
                why: "square to the leg beside it".to_owned(),
            });
            mates.collect()
        };
        let (across, up) = (square(|corner| corner.x_m), square(|corner| corner.y_m));
        let mut guide = Guide::default();
        let near_m = self.near_m().0;
        let (raw_x, raw_y) = (start.x_m + self.right_m, start.y_m + self.up_m);
        let x_m = match mates::nearest(raw_x, &across, near_m) {
            Some(mate) => {
                guide.along(self.view.page, Axis::X(self.view.x(mate.at_m)), &mate.why);
                mate.at_m
            }
            None => self.on_grid(raw_x),
        };
        let y_m = match mates::nearest(raw_y, &up, near_m) {
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

/// Lines of a part's own that can come in line with others: its middle and its edges, from its middle.
fn own_lines(half: f64) -> Vec<f64> {
    if half > 0.0 {
        vec![0.0, -half, half]
    } else {
        vec![0.0]
    }
}

/// Sets the rim or the floor of a vessel, the level of a fixed part, the height of a joint.
pub fn set_height(layout: &Layout, pick: &Pick, to_m: f64) -> Result<Edit, EditError> {
    match pick {
        Pick::Rim(id) => edit::number(layout, id, "rim_m", to_m, Quantity::Height),
        Pick::Floor(id) if layout.vessel(id).is_some() => edit::floor(layout, id, to_m),
        Pick::Floor(id) if layout.fixed.iter().any(|part| part.id == *id) => {
            edit::number(layout, id, "level_m", to_m, Quantity::Height)
        }
        other => edit::number(layout, other.part(), "elevation_m", to_m, Quantity::Height),
    }
}
