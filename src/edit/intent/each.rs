//! Moves several parts, each by its own shift, with everything fixed to them.

use super::shift::{Shift, move_all, move_along, move_end, move_place, move_vessel, up};
use crate::geometry::Corner;
use crate::layout::{Direction, Id, Layout, Run, RunEnd};
use std::collections::HashMap;

/// The layout with each of these vessels, joints and fixed levels moved by its own shift; others stay.
///
/// As [`shift`](super::shift::shift), except for runs between parts that move differently: the whole run moves by the
/// common share, and each end moves its own corners by the rest.
pub(super) fn moved_each(layout: &Layout, by: &HashMap<Id, Shift>) -> Layout {
    let mut outcome = layout.clone();
    for vessel in &mut outcome.vessels {
        if let Some(by) = by.get(&vessel.id) {
            move_vessel(vessel, *by);
        }
    }
    for joint in &mut outcome.joints {
        if let Some(by) = by.get(&joint.id) {
            joint.elevation_m = up(joint.elevation_m, by.up_m);
            joint.vent_top_m = joint.vent_top_m.map(|top_m| up(top_m, by.up_m));
            move_place(&mut joint.place, *by);
        }
    }
    for fixed in &mut outcome.fixed {
        if let Some(by) = by.get(&fixed.id) {
            fixed.level_m = up(fixed.level_m, by.up_m);
            move_place(&mut fixed.place, *by);
        }
    }
    for run in &mut outcome.runs {
        move_run(layout, run, by);
    }
    outcome
}

fn move_run(layout: &Layout, run: &mut Run, by: &HashMap<Id, Shift>) {
    let of = |id: &Id| by.get(id).copied().unwrap_or_default();
    let [from, to] = RunEnd::BOTH.map(|which| of(&run.end(which).at));
    if from == Shift::default() && to == Shift::default() {
        return moved_switch(run, of);
    }
    let shared = shared(from, to);
    let starts = RunEnd::BOTH.map(|which| moved(layout.corner_at(run.end(which)), shared));
    for (which, by) in RunEnd::BOTH.into_iter().zip([from, to]) {
        move_end(run.end_mut(which), by);
        if let Some(hole) = run.siphon_break.as_mut().filter(|hole| hole.near == which) {
            hole.height_m = up(hole.height_m, by.up_m);
        }
    }
    move_all(run, shared);
    let [first, last] = starts;
    move_along(run.route.iter_mut(), first, less(from, shared));
    move_along(run.route.iter_mut().rev(), last, less(to, shared));
    moved_switch(run, of);
}

/// A float switch moves with its vessel.
fn moved_switch(run: &mut Run, of: impl Fn(&Id) -> Shift) {
    let Run { from, to, pump, .. } = run;
    let Some(pump) = pump else { return };
    let draws_from = match pump.pushes {
        Direction::Forward => &from.at,
        Direction::Backward => &to.at,
    };
    if let Some(float) = &mut pump.float {
        let up_m = of(float.at.as_ref().unwrap_or(draws_from)).up_m;
        float.on_m = up(float.on_m, up_m);
        float.off_m = up(float.off_m, up_m);
    }
}

fn moved(corner: Corner, by: Shift) -> Corner {
    Corner::at(
        corner.x_m + by.x_m,
        corner.y_m + by.y_m,
        corner.z_m + by.up_m,
    )
}

/// The common share of both shifts, per direction.
fn shared(a: Shift, b: Shift) -> Shift {
    let one = |a: f64, b: f64| match a * b > 0.0 {
        true => a.signum() * a.abs().min(b.abs()),
        false => 0.0,
    };
    Shift {
        x_m: one(a.x_m, b.x_m),
        y_m: one(a.y_m, b.y_m),
        along_m: one(a.along_m, b.along_m),
        up_m: one(a.up_m, b.up_m),
    }
}

fn less(whole: Shift, part: Shift) -> Shift {
    Shift {
        x_m: whole.x_m - part.x_m,
        y_m: whole.y_m - part.y_m,
        along_m: whole.along_m - part.along_m,
        up_m: whole.up_m - part.up_m,
    }
}
