//! What builders make of a layout: pipes that hump and dip, inverted U's, hoses, joints along a drain, vents, valves
//! somewhere along a run. It changes a layout that is drawn already, so that seeds of those stay as they are.

use crate::support::networks::Dice;
use fallwright::edit::propose;
use fallwright::geometry::Corner;
use fallwright::layout::{Layout, Pipe, Run, RunEnd};

/// Lets some of its runs rise, and puts what is in them somewhere.
pub fn draw(layout: &mut Layout, dice: &mut Dice) {
    joints(layout, dice);
    for index in 0..layout.runs.len() {
        if layout.runs[index].pipe == Pipe::Open {
            continue;
        }
        let corners = layout.corners_of(&layout.runs[index]);
        let ends = [corners[0], corners[corners.len() - 1]];
        if dice.chance(0.4) {
            route(&mut layout.runs[index], ends, dice);
        }
        let length_m = layout.length_of(&layout.runs[index]);
        places(&mut layout.runs[index], length_m, dice);
        layout.runs[index].starts_primed = dice.chance(0.1);
    }
    for joint in &mut layout.joints {
        joint.vented = dice.chance(0.1);
        joint.vent_top_m =
            (joint.vented && dice.chance(0.5)).then(|| joint.elevation_m + dice.between(0.0, 1.0));
    }
}

/// Splits some runs by a tee that nothing else meets.
fn joints(layout: &mut Layout, dice: &mut Dice) {
    let runs: Vec<_> = layout.runs.iter().map(|run| run.id.clone()).collect();
    for run in runs {
        if !dice.chance(0.12) {
            continue;
        }
        let drawn = layout.run(&run).unwrap();
        let corners = layout.corners_of(drawn);
        let leg = dice.below(corners.len() - 1);
        let share = dice.between(0.1, 0.9);
        let (a, b) = (corners[leg], corners[leg + 1]);
        let near = (
            a.x_m + share * (b.x_m - a.x_m),
            a.y_m + share * (b.y_m - a.y_m),
        );
        if let Ok((edit, _)) = propose::split(layout, &run, near)
            && let Ok(after) = edit.apply(layout)
        {
            *layout = after;
        }
    }
}

/// Another way from end to end.
fn route(run: &mut Run, [from, to]: [Corner; 2], dice: &mut Dice) {
    let (low_m, high_m) = (from.z_m.min(to.z_m), from.z_m.max(to.z_m));
    let between = |share: f64, z_m: f64| {
        let on = |a: f64, b: f64| a + share * (b - a);
        Corner::at(on(from.x_m, to.x_m), on(from.y_m, to.y_m), z_m)
    };
    let over_m = dice.scale(0.002, 1.5);
    let mut corners = match dice.below(5) {
        // A hump, a pipe that sags, an inverted U, a hose, a level reach over both ends.
        0 => vec![between(dice.between(0.1, 0.9), high_m + over_m)],
        1 => vec![between(dice.between(0.1, 0.9), low_m - over_m)],
        2 => vec![between(0.0, high_m + over_m), between(1.0, high_m + over_m)],
        3 => (1..=3 + dice.below(3))
            .map(|n| {
                between(
                    n as f64 / 7.0,
                    dice.between(low_m - over_m, high_m + over_m),
                )
            })
            .collect(),
        _ => vec![between(0.3, high_m + over_m), between(0.7, high_m + over_m)],
    };
    for corner in &mut corners {
        corner.vented = dice.chance(0.15);
        corner.vent_top_m =
            (corner.vented && dice.chance(0.5)).then(|| corner.z_m + dice.between(0.0, 1.0));
    }
    run.route = corners;
    // Hoses and pipes that are drawn at one place have a length of their own.
    if dice.chance(0.5) {
        run.length_m = None;
    }
}

/// Valves, filters and bends somewhere along the run, or near an end.
fn places(run: &mut Run, length_m: f64, dice: &mut Dice) {
    let mut place = || match dice.below(4) {
        0 => (Some(dice.roll() * length_m), None),
        1 => (None, Some([RunEnd::From, RunEnd::To][dice.below(2)])),
        _ => (None, None),
    };
    for valve in &mut run.valves {
        (valve.at_m, valve.near) = place();
    }
    for piece in &mut run.equipment {
        (piece.at_m, piece.near) = place();
    }
    for fitting in &mut run.fittings {
        if !fitting.is_entrance_or_exit() {
            (fitting.at_m, fitting.near) = place();
        }
    }
}
