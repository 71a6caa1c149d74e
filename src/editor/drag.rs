//! What is dragged, and what the layout would be with it where the pointer is.
//!
//! A place is always where the pointer has moved from where it was taken: never summed from small steps.

use super::aim::Moved;
use super::events::{Ground, Sheet};
use super::guide::Guide;
use super::reach::crest_m;
use crate::draw::section::{Pick, Plan};
use crate::draw::shape::Point;
use crate::draw::view::View;
use crate::edit::{self, Edit, EditError, propose};
use crate::geometry::Corner;
use crate::layout::{Id, Layout, RunEnd};
use crate::units::Quantity;

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
pub fn taken(pick: &Pick, context: &Ground<'_>, selected: &[Pick], at: (f64, f64)) -> Option<Drag> {
    let layout = context.layout;
    match (pick, context.sheet) {
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
        let at = Corner::at(
            a.x_m + share * dx,
            a.y_m + share * dy,
            a.z_m + share * (b.z_m - a.z_m),
        );
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
    pub fn aim(
        &self,
        context: &Ground<'_>,
        view: &View,
        (from, to): (Point, Point),
    ) -> Option<Aim> {
        let right_m = (to.x - from.x) / view.points_per_metre_along;
        let up_m = (from.y - to.y) / view.points_per_metre_up;
        let moved = Moved {
            context,
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
                let (to, guide) = match context.sheet {
                    Sheet::Plan => {
                        moved.corner(*start, &around(context.layout, run, *index + 1, 1))
                    }
                    Sheet::Section => moved.corner_height(*start),
                };
                let edit = propose::corner(context.layout, run, *index, to);
                Some(Aim { edit, guide })
            }
            Drag::Bend { run, index, start } => {
                let (to, guide) = moved.corner(*start, &around(context.layout, run, *index, 0));
                let mut corners = context.layout.run(run)?.route.clone();
                corners.insert((*index).min(corners.len()), to);
                let edit = propose::reroute(context.layout, run, &corners);
                Some(Aim { edit, guide })
            }
            Drag::End { run, end, start } => {
                let index = match end {
                    RunEnd::From => 0,
                    RunEnd::To => context.layout.run(run)?.route.len() + 1,
                };
                let (to, guide) = moved.corner(*start, &around(context.layout, run, index, 1));
                let place = (to.x_m, to.y_m);
                let edit = propose::place_end(context.layout, run, *end, place);
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
