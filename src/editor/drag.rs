//! A drag, and the layout that follows from the pointer position.
//!
//! The position is always the start plus the pointer's displacement, never a sum of small steps.

use super::aim::PointerMove;
use super::events::{DrawingKind, ToolContext};
use super::guide::Guide;
use super::reach::crest_m;
use crate::draw::page::shape::Point;
use crate::draw::page::view::View;
use crate::draw::section::{Pick, SectionLayout};
use crate::edit::{self, Edit, EditError, propose};
use crate::geometry::Corner;
use crate::layout::{FixedField, Id, JointField, Layout, RunEnd, VesselField};

/// What is dragged, as it was at the start.
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
        /// The part.
        pick: Pick,
        /// Its height, metres.
        start_m: f64,
    },
    /// Whole parts.
    Parts {
        /// All that move.
        parts: Vec<Id>,
        /// The one under the pointer.
        held: Id,
        /// Positions of all parts along the section; none where they do not change.
        along_m: Vec<(Id, f64)>,
    },
    /// A corner of a run in the plan.
    Corner {
        /// The run.
        run: Id,
        /// Which of its corners.
        index: usize,
        /// Its old position.
        start: Corner,
    },
    /// A new corner in a leg of a run in the plan.
    Bend {
        /// The run.
        run: Id,
        /// The corner before which it is inserted.
        index: usize,
        /// Where the leg was grabbed.
        start: Corner,
    },
    /// The opening at one end of a run in the plan.
    End {
        /// The run.
        run: Id,
        /// Which end.
        end: RunEnd,
        /// Its old position.
        start: Corner,
    },
}

/// Result of a drag at the present pointer.
pub struct Aim {
    /// The edit.
    pub edit: Result<Edit, EditError>,
    /// The guides.
    pub guide: Guide,
}

/// What a press on `pick` drags; none where that cannot be dragged on this drawing.
pub fn taken(
    pick: &Pick,
    context: &ToolContext<'_>,
    selected: &[Pick],
    at: (f64, f64),
) -> Option<Drag> {
    let layout = context.layout;
    match (pick, context.sheet) {
        (Pick::Crest { .. }, DrawingKind::Section) => Some(Drag::Crest {
            pick: pick.clone(),
            start_m: crest_m(layout, pick)?,
        }),
        (Pick::Crest { run, end }, DrawingKind::Plan) => Some(Drag::End {
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
        (Pick::Part(id), DrawingKind::Plan) if layout.run(id).is_some() => bend(layout, id, at),
        (Pick::Part(id), sheet) => parts(layout, id, sheet, selected),
    }
}

/// The height of a picked rim or floor, metres.
pub fn height_m(layout: &Layout, pick: &Pick) -> Option<f64> {
    match pick {
        Pick::Rim(id) => layout.vessel(id).map(|vessel| vessel.rim_m),
        Pick::Floor(id) => layout.foot_m(id),
        crest => crest_m(layout, crest),
    }
}

fn parts(layout: &Layout, id: &Id, sheet: DrawingKind, selected: &[Pick]) -> Option<Drag> {
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
        DrawingKind::Section => standing(layout),
        DrawingKind::Plan => Vec::new(),
    };
    Some(Drag::Parts {
        parts,
        held: id.clone(),
        along_m,
    })
}

/// The position of every part along the section as drawn, metres.
pub fn standing(layout: &Layout) -> Vec<(Id, f64)> {
    let stand = SectionLayout::of(layout).stand;
    let vessels = layout.vessels.iter().map(|part| &part.id);
    let vessels = vessels.zip(stand.vessels.iter().map(|one| one.along_m));
    let fixed = layout.fixed.iter().map(|part| &part.id);
    let fixed = fixed.zip(stand.fixed.iter().map(|one| one.along_m));
    let joints = layout.joints.iter().map(|part| &part.id);
    let joints = joints.zip(stand.joints.iter().map(|one| one.along_m));
    let all = vessels.chain(fixed).chain(joints);
    all.map(|(id, along_m)| (id.clone(), along_m)).collect()
}

/// A new corner in the nearest leg of a run.
fn bend(layout: &Layout, id: &Id, to: (f64, f64)) -> Option<Drag> {
    let (x, y) = to;
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
    /// The result with the pointer moved from one point of the page to another.
    pub fn aim(&self, context: &ToolContext<'_>, view: &View, drag: (Point, Point)) -> Option<Aim> {
        let (from, to) = drag;
        let right_m = (to.x - from.x) / view.points_per_metre_along;
        let up_m = (from.y - to.y) / view.points_per_metre_up;
        let moved = PointerMove {
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
                    DrawingKind::Plan => {
                        moved.corner(*start, &around(context.layout, run, *index + 1, 1))
                    }
                    DrawingKind::Section => moved.corner_height(*start),
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

/// The corners before and after one in the line of a run, ends included: `index` counts from the first end, `skip`
/// leaves out the corner itself.
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

/// Sets the rim or floor of a vessel, the level of a fixed level or the height of a joint.
pub fn set_height(layout: &Layout, pick: &Pick, to_m: f64) -> Result<Edit, EditError> {
    match pick {
        Pick::Rim(id) => edit::number(layout, id, VesselField::Rim, to_m),
        Pick::Floor(id) if layout.vessel(id).is_some() => edit::floor(layout, id, to_m),
        Pick::Floor(id) if layout.fixed.iter().any(|part| part.id == *id) => {
            edit::number(layout, id, FixedField::Level, to_m)
        }
        other => edit::number(layout, other.part(), JointField::Elevation, to_m),
    }
}
