//! Changes the route of a run: moves, adds or removes a corner. Elbows and length follow.

use super::about;
use super::elbows::fit_to_route;
use crate::edit::field::no_part;
use crate::edit::intent::shift::up;
use crate::edit::{Edit, EditError};
use crate::geometry::Corner;
use crate::layout::{Id, Layout, Place, Run, RunEnd};

/// Sets the corners of a run between its ends. Its elbows follow the bends, and an explicit length is removed,
/// because the drawing now gives it.
///
/// # Errors
/// A missing run, or an invalid corner.
pub fn reroute(layout: &Layout, run: &Id, corners: &[Corner]) -> Result<Edit, EditError> {
    let before = found(layout, run)?;
    changed(layout, before, corners.to_vec(), about("Reroute ", run, ""))
}

/// Moves one corner of a run, counted from 0. The top of its vent moves up and down with it, unless given.
///
/// # Errors
/// A missing run or corner, or an invalid place.
pub fn corner(layout: &Layout, run: &Id, index: usize, to: Corner) -> Result<Edit, EditError> {
    let before = found(layout, run)?;
    let mut corners = before.route.clone();
    match corners.get_mut(index) {
        Some(corner) => *corner = with_its_vent(*corner, to),
        None => return Err(no_corner(run)),
    }
    changed(layout, before, corners, about("Move a corner of ", run, ""))
}

/// Removes a corner, counted from 0: its neighbours are joined by a straight leg.
///
/// # Errors
/// A missing run or corner.
pub fn unbend(layout: &Layout, run: &Id, index: usize) -> Result<Edit, EditError> {
    let before = found(layout, run)?;
    let mut corners = before.route.clone();
    if index >= corners.len() {
        return Err(no_corner(run));
    }
    corners.remove(index);
    changed(
        layout,
        before,
        corners,
        about("Remove a corner from ", run, ""),
    )
}

/// Moves the opening at one end of a run in the plan, metres in X and Y.
///
/// # Errors
/// A missing run, or an invalid place.
pub fn place_end(
    layout: &Layout,
    run: &Id,
    end: RunEnd,
    (x_m, y_m): (f64, f64),
) -> Result<Edit, EditError> {
    let before = found(layout, run)?;
    let mut after = before.clone();
    let old = before.end(end).place.unwrap_or_default();
    after.end_mut(end).place = Some(Place { x_m, y_m, ..old });
    after.length_m = None;
    let (old, new) = (layout.corners_of(before), layout.corners_of(&after));
    fit_to_route(&mut after, &old, &new);
    crate::edit::replace(layout, after, about("Move an end of ", run, ""))
}

/// A moved corner, with the top of its vent at the same height above it.
fn with_its_vent(was: Corner, mut to: Corner) -> Corner {
    if to.vent_top_m == was.vent_top_m {
        let up_m = to.z_m - was.z_m;
        to.vent_top_m = was.vent_top_m.map(|top_m| up(top_m, up_m));
    }
    to
}

fn found<'a>(layout: &'a Layout, run: &Id) -> Result<&'a Run, EditError> {
    layout.run(run).ok_or_else(|| no_part(run))
}

fn no_corner(run: &Id) -> EditError {
    EditError::new("the run has no such corner", "choose an existing corner").part(run)
}

fn changed(
    layout: &Layout,
    before: &Run,
    corners: Vec<Corner>,
    name: crate::finding::Sentence,
) -> Result<Edit, EditError> {
    let mut after = before.clone();
    after.route = corners;
    after.length_m = None;
    let (old, new) = (layout.corners_of(before), layout.corners_of(&after));
    fit_to_route(&mut after, &old, &new);
    crate::edit::replace(layout, after, name)
}
