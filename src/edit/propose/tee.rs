//! Splits a run by a tee, so that another run can begin or end there.

use super::elbows::{Elbows, elbows};
use super::ends::millimetres;
use super::pipe::bore_m;
use super::shared::share_placed;
use crate::edit::field::no_part;
use crate::edit::intent::fresh::{fresh_id, fresh_name, next_name, stem_of};
use crate::edit::{Edit, EditError};
use crate::finding::Sentence;
use crate::geometry::Corner;
use crate::layout::{Edge, End, FittingUse, Id, Joint, Layout, Place, Run, RunEnd};

/// Splits a run by a tee at its point nearest to a place in the plan. Returns the edit and the id of the tee.
///
/// Items with a place along the run stay at that place, and operating modes follow. The other contents (pump, check
/// valve, valves, equipment) stay before the tee; elbows follow the bends, and other fittings stay before the tee.
///
/// # Errors
/// A missing run, or one without a pipe.
pub fn split(layout: &Layout, run: &Id, near: (f64, f64)) -> Result<(Edit, Id), EditError> {
    let (after, joint) = with_tee(layout, run, near)?;
    let name = Sentence(vec!["Add a tee to ".into(), run.into()]);
    let edit = Edit::between(name, layout, &after).tried_on(layout)?;
    Ok((edit, joint))
}

/// The layout with the run split, and the tee.
pub(super) fn with_tee(
    layout: &Layout,
    run: &Id,
    near: (f64, f64),
) -> Result<(Layout, Id), EditError> {
    let whole = layout.run(run).ok_or_else(|| no_part(run))?;
    if whole.pipe == crate::layout::Pipe::Open {
        let what = "the run has no pipe for a tee";
        return Err(EditError::new(what, "give it a pipe first").part(run));
    }
    let corners = inverts(layout, whole);
    let (leg, at) = nearest(&corners, near);
    let joint = joint(layout, whole, at);
    let id = joint.id.clone();
    let mut after = layout.clone();
    after.joints.push(joint);
    let rest_name = next_name(&after, &whole.name);
    let rest_id = fresh_id(&after, &stem_of(&rest_name));
    let (mut first, mut second) = halves(whole, (&corners, leg, at), &id, (rest_id, rest_name));
    let before_m = layout.length_of(whole) * share_of(&corners, leg, at);
    let moved = share_placed(&mut first, &mut second, before_m);
    moved.renamed(&mut after.ways, (run, &second.id));
    let place = after
        .runs
        .iter()
        .position(|one| one.id == *run)
        .unwrap_or(0);
    if let Some(slot) = after.runs.get_mut(place) {
        *slot = first;
    }
    after.runs.insert(place + 1, second);
    // The opening of a siphon break near the far end moves with that end.
    Ok((after, id))
}

/// The corners of a run with its ends, at invert height throughout.
fn inverts(layout: &Layout, run: &Run) -> Vec<Corner> {
    let mut corners = layout.corners_of(run);
    let is_joint = |end: &End| layout.joints.iter().any(|joint| joint.id == end.at);
    let under_m = 0.5 * bore_m(&run.pipe);
    if let Some(first) = corners.first_mut().filter(|_| is_joint(&run.from)) {
        first.z_m -= under_m;
    }
    if let Some(last) = corners.last_mut().filter(|_| is_joint(&run.to)) {
        last.z_m -= under_m;
    }
    corners
}

fn joint(layout: &Layout, run: &Run, at: Corner) -> Joint {
    let along = |end: &End| layout.place_of(&end.at).map_or(0.0, |place| place.along_m);
    let name = fresh_name(layout, "Tee");
    Joint {
        id: fresh_id(layout, &stem_of(&name)),
        name,
        // Corners of a run are inverts; a joint is at the centre of its pipes.
        elevation_m: millimetres(at.z_m + 0.5 * bore_m(&run.pipe)),
        place: Place {
            x_m: millimetres(at.x_m),
            y_m: millimetres(at.y_m),
            along_m: millimetres((along(&run.from) + along(&run.to)) / 2.0),
            ..Place::default()
        },
        ..Joint::default()
    }
}

fn at_joint(joint: &Id) -> End {
    End {
        at: joint.clone(),
        opening: None,
        place: None,
        screen: None,
        edge: Edge::Plain,
        orifice: None,
        entrance_k: None,
    }
}

/// The run up to the tee and the run after it.
fn halves(
    whole: &Run,
    (corners, leg, at): (&[Corner], usize, Corner),
    joint: &Id,
    (rest_id, rest_name): (Id, String),
) -> (Run, Run) {
    let end = || at_joint(joint);
    let before = corners.get(..=leg).unwrap_or_default();
    let behind = corners.get(leg + 1..).unwrap_or_default();
    let share = share_of(corners, leg, at);
    let mut first = whole.clone();
    first.to = end();
    first.route = before.iter().skip(1).copied().collect();
    first.length_m = whole.length_m.map(|length| length * share);
    let mut second = super::plain(
        rest_id,
        rest_name,
        (end(), whole.to.clone()),
        whole.pipe.clone(),
    );
    second.route = behind
        .iter()
        .take(behind.len().saturating_sub(1))
        .copied()
        .collect();
    second.length_m = whole.length_m.map(|length| length * (1.0 - share));
    second.friction = whole.friction;
    second.friction_factor = whole.friction_factor;
    second.carries_solids = whole.carries_solids;
    second.already_built = whole.already_built;
    second.starts_primed = whole.starts_primed;
    if whole
        .siphon_break
        .is_some_and(|hole| hole.near == RunEnd::To)
    {
        second.siphon_break = first.siphon_break.take();
    }
    share_elbows(
        whole,
        corners,
        (&mut first, before, at),
        (&mut second, behind),
    );
    (first, second)
}

/// The share of the route before the tee.
fn share_of(corners: &[Corner], leg: usize, at: Corner) -> f64 {
    let mut one: Vec<Corner> = corners.get(..=leg).unwrap_or_default().to_vec();
    one.push(at);
    let mut two = vec![at];
    two.extend(corners.get(leg + 1..).unwrap_or_default());
    let (one, two) = (
        crate::geometry::route_length_m(&one),
        crate::geometry::route_length_m(&two),
    );
    if one + two > 0.0 {
        one / (one + two)
    } else {
        0.5
    }
}

/// Elbows follow their bends; any beyond those of the route stay before the tee.
fn share_elbows(
    whole: &Run,
    corners: &[Corner],
    (first, before, at): (&mut Run, &[Corner], Corner),
    (second, behind): (&mut Run, &[Corner]),
) {
    let mut line = vec![at];
    line.extend(behind);
    let after = elbows(&line);
    let mut line = before.to_vec();
    line.push(at);
    // The bend at a tee in a corner is made by the tee itself.
    let (all, ahead) = (elbows(corners), elbows(&line));
    let lost = Elbows {
        quarters: all.quarters.saturating_sub(ahead.quarters),
        eighths: all.eighths.saturating_sub(ahead.eighths),
    };
    let moved = [
        ("elbow-90", lost.quarters, after.quarters),
        ("elbow-45", lost.eighths, after.eighths),
    ];
    second.fittings = Vec::new();
    for (kind, less, more) in moved {
        let Some(had) = whole.fittings.iter().find(|one| is_counted(one, kind)) else {
            continue;
        };
        let goes = more.min(had.count);
        if let Some(one) = first.fittings.iter_mut().find(|one| is_counted(one, kind)) {
            one.count = had.count.saturating_sub(less.max(goes));
        }
        if goes > 0 {
            second.fittings.push(FittingUse {
                count: goes,
                ..had.clone()
            });
        }
    }
    first.fittings.retain(|one| one.count > 0);
}

/// An elbow without a place of its own follows the bends.
fn is_counted(one: &FittingUse, kind: &str) -> bool {
    one.kind == kind && !one.is_placed()
}

/// The leg of a line, and the point on it, nearest to a place in the plan.
fn nearest(corners: &[Corner], near: (f64, f64)) -> (usize, Corner) {
    let mut best = (
        0,
        corners.first().copied().unwrap_or_default(),
        f64::INFINITY,
    );
    for (leg, pair) in corners.windows(2).enumerate() {
        let [a, b] = *pair else { continue };
        let (dx, dy) = (b.x_m - a.x_m, b.y_m - a.y_m);
        let length2 = dx * dx + dy * dy;
        let share = if length2 > 0.0 {
            (((near.0 - a.x_m) * dx + (near.1 - a.y_m) * dy) / length2).clamp(0.0, 1.0)
        } else {
            0.5
        };
        let at = Corner::at(
            a.x_m + dx * share,
            a.y_m + dy * share,
            a.z_m + (b.z_m - a.z_m) * share,
        );
        let off = (at.x_m - near.0).hypot(at.y_m - near.1);
        // Where a vertical leg and a level one are at the same place, the level one is meant.
        if off < best.2 - 1e-9 || (off <= best.2 + 1e-9 && length2 > 0.0) {
            best = (leg, at, off);
        }
    }
    (best.0, best.1)
}
