//! Weirs with water on both sides: notches between vessels whose water stands near one level, and rims as high as
//! those of what they spill into.

use super::parts::notch_of;
use crate::support::layouts::{at, bare, fixed, run, tank};
use crate::support::networks::Dice;
use fallwright::layout::{Id, Layout, Pipe, Run, Shape};

/// Draws a few pairs of basins beside some vessels of a layout, one notch or rim apart.
pub fn draw(layout: &mut Layout, dice: &mut Dice) {
    let vessels = layout.vessels.len();
    for pair in 0..1 + dice.below(3) {
        let beside = dice.below(vessels);
        let (floor_m, rim_m) = (layout.vessels[beside].floor_m, layout.vessels[beside].rim_m);
        let first = basin(dice, layout, [pair, 0], [floor_m, rim_m]);
        let second = basin(dice, layout, [pair, 1], [floor_m, rim_m]);
        let tail = tail(dice, layout, pair, [floor_m, rim_m]);
        let own = layout.vessels[beside].id.clone();
        let crest_m = floor_m + dice.between(0.3, 0.9) * (rim_m - floor_m);
        // A row of notches: the vessel, one basin, the next, and a level that may stand over the last sill.
        let next_m = crest_m - dice.between(-0.02, 0.1);
        let last_m = crest_m - dice.between(0.0, 0.2);
        notch(dice, layout, [&own, &first], crest_m);
        notch(dice, layout, [&first, &second], next_m);
        notch(dice, layout, [&second, &tail], last_m);
        spills(dice, layout, [&own, &first, &second]);
    }
}

/// A basin with about the rim of the vessel that it stands beside.
fn basin(
    dice: &mut Dice,
    layout: &mut Layout,
    [pair, place]: [usize; 2],
    [floor_m, rim_m]: [f64; 2],
) -> Id {
    let id = format!("basin{pair}-{place}");
    let lower_m = [0.0, 0.0, 0.003, 0.05][dice.below(4)];
    let mut drawn = tank(&id, floor_m, (rim_m - lower_m).max(floor_m + 0.05));
    drawn.shape = Shape::Prism {
        area_m2: dice.scale(0.05, 20.0),
    };
    if dice.chance(0.5) {
        drawn.rim_perimeter_m = Some(dice.scale(0.05, 5.0));
    }
    if dice.chance(0.4) {
        drawn.make_up_m3_s = dice.scale(1e-5, 5e-3);
    }
    drawn.fill_m = drawn.floor_m + dice.between(0.2, 1.02) * (drawn.rim_m - drawn.floor_m);
    layout.vessels.push(drawn);
    id.as_str().into()
}

/// A level from under the floor to near the rim.
fn tail(dice: &mut Dice, layout: &mut Layout, pair: usize, [floor_m, rim_m]: [f64; 2]) -> Id {
    let id = format!("tail{pair}");
    let level_m = floor_m + dice.between(-0.2, 0.95) * (rim_m - floor_m);
    layout.fixed.push(fixed(&id, level_m));
    id.as_str().into()
}

fn notch(dice: &mut Dice, layout: &mut Layout, [one, other]: [&Id; 2], crest_m: f64) {
    let opening = notch_of(dice, crest_m, (0.02..0.6, 0.45..0.7));
    // Drawn from either side.
    let (from, to) = if dice.chance(0.5) {
        (one, other)
    } else {
        (other, one)
    };
    let id = format!("gap{}", layout.runs.len());
    layout.runs.push(Run {
        pipe: Pipe::Open,
        length_m: None,
        ..run(&id, at(from.as_str(), opening), bare(to.as_str()))
    });
}

/// Rims one into the next, as far as they do not climb.
fn spills(dice: &mut Dice, layout: &mut Layout, row: [&Id; 3]) {
    for pair in row.windows(2) {
        let to = layout
            .vessel(pair[1])
            .map(|vessel| (vessel.id.clone(), vessel.rim_m));
        let from = layout
            .vessels
            .iter_mut()
            .find(|vessel| vessel.id == *pair[0]);
        if let (Some((to, rim_m)), Some(from)) = (to, from)
            && rim_m <= from.rim_m
            && dice.chance(0.7)
        {
            from.spills_to = Some(to);
        }
    }
}
