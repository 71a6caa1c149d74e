//! Places new parts at the pointer.

use super::drag::standing;
use super::events::{DrawingKind, ToolContext};
use super::{snap, snap_candidates};
use crate::draw::page::shape::{Point, Rect, pt};
use crate::draw::page::view::View;
use crate::draw::section::SectionLayout;
use crate::edit::{self, Edit, EditError, Preset};
use crate::layout::{Fixed, Id, Joint, Layout, Place};

/// A drag shorter than this is a click, points.
const CLICK: f64 = 6.0;
/// Gap between a new vessel and existing ones, metres.
const GAP_M: f64 = 0.4;
/// Snapping distance of heights, points.
const NEAR: f64 = 7.0;

/// The place of a new part, and its floor, level or centre height, metres.
struct NewPosition {
    place: Place,
    height_m: f64,
}

/// Places a vessel from the shelf by a click, or by a drag across its area.
///
/// # Errors
/// As [`edit::add`].
pub fn vessel(
    context: &ToolContext<'_>,
    view: &View,
    preset: Preset,
    from: Point,
    to: Point,
) -> Result<(Edit, Id), EditError> {
    let drawn = from.distance(to) > CLICK;
    let (a, b) = (view.section_from_page(from), view.section_from_page(to));
    let middle = pt((from.x + to.x) / 2.0, (from.y + to.y) / 2.0);
    let size = (
        tape(context, (a.along_m - b.along_m).abs()),
        (a.z_m - b.z_m).abs(),
    );
    match (context.sheet, drawn) {
        (DrawingKind::Plan, true) => {
            let spot = spot(context, view, middle, preset.floor_m());
            let size = (size.0.max(0.05), tape(context, size.1).max(0.05));
            let new = preset.sized(size, spot.height_m, spot.place);
            put(context.layout, new, preset.stem())
        }
        (DrawingKind::Plan, false) => {
            let spot = spot(context, view, to, preset.floor_m());
            let new = preset.vessel(spot.height_m, spot.place);
            put(context.layout, new, preset.stem())
        }
        (DrawingKind::Section, drawn) => {
            let low = if drawn {
                pt(middle.x, from.y.max(to.y))
            } else {
                to
            };
            let spot = spot(context, view, low, preset.floor_m());
            let (_, wide) = preset.footprint_m();
            let mut new = if drawn {
                preset.sized((size.0.max(0.05), wide), spot.height_m, spot.place)
            } else {
                preset.vessel(spot.height_m, spot.place)
            };
            if drawn {
                let deeper = tape(context, size.1).max(0.05) / preset.depth_m();
                let up = |height_m: f64| spot.height_m + (height_m - spot.height_m) * deeper;
                (new.rim_m, new.fill_m) = (up(new.rim_m), up(new.fill_m));
                new.medium
                    .iter_mut()
                    .for_each(|medium| medium.top_m = up(medium.top_m));
            }
            put_along(context.layout, new, preset.stem())
        }
    }
}

/// Places a tee without runs by a click.
///
/// # Errors
/// As [`edit::add`].
pub fn joint(context: &ToolContext<'_>, view: &View, to: Point) -> Result<(Edit, Id), EditError> {
    let spot = spot(context, view, to, 0.3);
    let part = Joint {
        elevation_m: spot.height_m,
        place: spot.place,
        ..Joint::default()
    };
    match context.sheet {
        DrawingKind::Plan => edit::add(context.layout, part, "Tee"),
        DrawingKind::Section => edit::add(&set_out(context.layout), part, "Tee")
            .map(|one| whole(context.layout, one.0, one.1)),
    }
}

/// Places a fixed level by a click.
///
/// # Errors
/// As [`edit::add`].
pub fn fixed(context: &ToolContext<'_>, view: &View, to: Point) -> Result<(Edit, Id), EditError> {
    let spot = spot(context, view, to, 0.0);
    let part = Fixed {
        level_m: spot.height_m,
        place: spot.place,
        ..Fixed::default()
    };
    match context.sheet {
        DrawingKind::Plan => edit::add(context.layout, part, "Level"),
        DrawingKind::Section => edit::add(&set_out(context.layout), part, "Level")
            .map(|one| whole(context.layout, one.0, one.1)),
    }
}

/// The height that a click in the section gives to a new part, metres.
pub fn height_m(context: &ToolContext<'_>, view: &View, at: Point) -> f64 {
    spot(context, view, at, 0.0).height_m
}

/// The outline of the part that a drag or a click would place, on the page.
pub fn outline(
    view: &View,
    preset: Preset,
    from: Point,
    to: Point,
    sheet: DrawingKind,
) -> Vec<Point> {
    if from.distance(to) > CLICK {
        return Rect::between(from, to).corners();
    }
    let (long, wide) = preset.footprint_m();
    let half_x = long / 2.0 * view.points_per_metre_along;
    let (up, down) = match sheet {
        DrawingKind::Plan => {
            let half = wide / 2.0 * view.points_per_metre_up;
            (half, half)
        }
        DrawingKind::Section => (preset.depth_m() * view.points_per_metre_up, 0.0),
    };
    Rect {
        left: to.x - half_x,
        top: to.y - up,
        right: to.x + half_x,
        bottom: to.y + down,
    }
    .corners()
}

/// Places a vessel from the shelf clear of all others, for use from the keyboard.
///
/// # Errors
/// As [`edit::add`].
pub fn free_position(layout: &Layout, preset: Preset) -> Result<(Edit, Id), EditError> {
    let place = Place {
        x_m: free_x_m(layout, preset.footprint_m().0),
        along_m: free_along_m(layout),
        ..Place::default()
    };
    put(
        layout,
        preset.vessel(preset.floor_m(), place),
        preset.stem(),
    )
}

fn put(layout: &Layout, new: crate::layout::Vessel, stem: &str) -> Result<(Edit, Id), EditError> {
    edit::add(layout, new, stem)
}

/// A part placed in the section: positions along the section are fixed for all others in the same step.
fn put_along(
    layout: &Layout,
    new: crate::layout::Vessel,
    stem: &str,
) -> Result<(Edit, Id), EditError> {
    let out = set_out(layout);
    edit::add(&out, new, stem).map(|one| whole(layout, one.0, one.1))
}

fn set_out(layout: &Layout) -> Layout {
    edit::set_out(layout, &standing(layout))
}

/// The edit from the layout itself to the result of an edit on the one with fixed positions.
fn whole(layout: &Layout, edit: Edit, id: Id) -> (Edit, Id) {
    let after = edit.apply(&set_out(layout));
    match after {
        Ok(after) => (Edit::between(edit.name, layout, &after), id),
        Err(_) => (edit, id),
    }
}

/// The position that a click gives to a new part.
fn spot(context: &ToolContext<'_>, view: &View, to: Point, own_height_m: f64) -> NewPosition {
    let raw = view.section_from_page(to);
    match context.sheet {
        DrawingKind::Plan => NewPosition {
            place: Place {
                x_m: tape(context, raw.along_m),
                y_m: tape(context, raw.z_m),
                along_m: free_along_m(context.layout),
                ..Place::default()
            },
            height_m: own_height_m,
        },
        DrawingKind::Section => {
            let near_m = NEAR / view.points_per_metre_up;
            let mates = snap_candidates::heights(context.layout, &[]);
            let height_m = match snap_candidates::nearest(raw.z_m, &mates, near_m) {
                Some(mate) => mate.at_m,
                None => snap::on_tape(
                    raw.z_m,
                    snap::step_m(f64::INFINITY, context.units),
                    context.units,
                ),
            };
            NewPosition {
                place: Place {
                    x_m: free_x_m(context.layout, 1.0),
                    along_m: tape(context, raw.along_m),
                    ..Place::default()
                },
                height_m,
            }
        }
    }
}

fn tape(context: &ToolContext<'_>, raw_m: f64) -> f64 {
    let step_m = match context.units {
        crate::units::UnitSystem::Metric => 0.05,
        crate::units::UnitSystem::Us => 0.0254,
    };
    ((raw_m / step_m).round() * step_m * 1e6).round() / 1e6
}

/// Position along the section right of everything, metres, where positions are set by the user; else 0, so that the
/// part is placed automatically.
fn free_along_m(layout: &Layout) -> f64 {
    let by_hand = layout.vessels.iter().any(|part| part.place.along_m != 0.0);
    if !by_hand {
        return 0.0;
    }
    let stand = SectionLayout::of(layout).stand;
    let right = stand
        .vessels
        .iter()
        .chain(&stand.fixed)
        .map(|one| one.right_m());
    ((right.fold(0.0, f64::max) + GAP_M + 0.5) * 100.0).round() / 100.0
}

/// X in the plan right of all vessels, metres; 0 without any.
fn free_x_m(layout: &Layout, wide_m: f64) -> f64 {
    let right = layout.vessels.iter().map(|part| {
        let (long, wide) = part.shape.footprint_m();
        part.place.x_m + long.max(wide) / 2.0
    });
    let right = right.fold(f64::NEG_INFINITY, f64::max);
    if right.is_finite() {
        ((right + GAP_M + wide_m / 2.0) * 20.0).round() / 20.0
    } else {
        0.0
    }
}
