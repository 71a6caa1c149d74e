//! Moves the selection by steps.

use super::drag::{height_m, set_height, standing};
use super::events::{DrawingKind, NudgeSize, ToolContext};
use super::picks;
use super::reach::{crest_m, range_m};
use super::snap;
use crate::draw::section::Pick;
use crate::edit::{self, Edit, EditError, Shift, propose};
use crate::geometry::Corner;

/// The edit that moves the selection by steps to the right and up; none where nothing of it can move so.
pub fn nudge(
    context: &ToolContext<'_>,
    selected: &[Pick],
    steps: (i32, i32),
    step: NudgeSize,
) -> Option<Result<Edit, EditError>> {
    let (right, up) = steps;
    let layout = context.layout;
    let fine_m = snap::step_m(0.0, context.units);
    let step_m = match step {
        NudgeSize::Fine => fine_m,
        NudgeSize::Coarse => snap::step_m(f64::INFINITY, context.units),
    };
    let (right_m, up_m) = (f64::from(right) * step_m, f64::from(up) * step_m);
    let on_tape = |now_m: f64| {
        let raw_m = snap::on_tape(now_m, fine_m, context.units) + up_m;
        snap::on_tape(raw_m, fine_m, context.units)
    };
    match selected.last()? {
        pick @ Pick::Crest { run, end } => {
            let now_m = crest_m(layout, pick).filter(|_| up != 0)?;
            let (low, high) = range_m(layout, pick)?;
            Some(edit::crest(
                layout,
                run,
                *end,
                on_tape(now_m).clamp(low, high),
            ))
        }
        pick @ (Pick::Rim(_) | Pick::Floor(_)) => {
            let now_m = height_m(layout, pick).filter(|_| up != 0)?;
            Some(set_height(layout, pick, on_tape(now_m)))
        }
        Pick::Corner { run, index } => {
            let now = *layout.run(run)?.route.get(*index)?;
            let to = match context.sheet {
                DrawingKind::Plan => Corner {
                    x_m: now.x_m + right_m,
                    y_m: now.y_m + up_m,
                    ..now
                },
                DrawingKind::Section => Corner {
                    z_m: now.z_m + up_m,
                    ..now
                },
            };
            Some(propose::corner(layout, run, *index, to))
        }
        Pick::Part(_) => {
            let parts = picks::parts(selected);
            let movable = parts.iter().any(|id| layout.place_of(id).is_some());
            movable.then(|| match context.sheet {
                DrawingKind::Plan => {
                    let by = Shift {
                        x_m: right_m,
                        y_m: up_m,
                        ..Shift::default()
                    };
                    edit::shift(layout, &parts, by)
                }
                DrawingKind::Section if right == 0 => edit::shift(layout, &parts, Shift::up(up_m)),
                DrawingKind::Section => {
                    let by = Shift {
                        along_m: right_m * 10.0,
                        up_m,
                        ..Shift::default()
                    };
                    edit::shift_along(layout, &standing(layout), (&parts, by))
                }
            })
        }
    }
}
