//! Vessels made otherwise than straight and clean.

use crate::support::networks::Dice;
use fallwright::layout::{FloatValve, Layout, Medium, Shape, TableRow, Vessel};

pub fn vary(dice: &mut Dice, layout: &mut Layout) {
    for index in 0..layout.vessels.len() {
        let vessel = &mut layout.vessels[index];
        if dice.chance(0.4) {
            shape(dice, vessel);
        }
        if dice.chance(0.15) {
            vessel.medium = Some(Medium {
                top_m: vessel.floor_m + dice.between(0.3, 1.2) * (vessel.rim_m - vessel.floor_m),
                porosity: dice.between(0.25, 0.9),
            });
        }
        water(dice, vessel);
        if dice.chance(0.08) {
            let other = dice.below(layout.vessels.len());
            if other != index {
                layout.vessels[index].spills_to = Some(layout.vessels[other].id.clone());
            }
        }
    }
    for joint in &mut layout.joints {
        if dice.chance(0.05) {
            joint.make_up_m3_s = dice.between(-1e-3, 1e-3);
        }
    }
    if dice.chance(0.05) {
        layout.weather.rain_m_s = dice.scale(1e-7, 3e-5);
    }
}

/// What comes into it from outside, and how full it is at first.
fn water(dice: &mut Dice, vessel: &mut Vessel) {
    let depth_m = vessel.rim_m - vessel.floor_m;
    if dice.chance(0.05) {
        vessel.make_up_m3_s = dice.between(-5e-4, 1e-3);
    }
    if dice.chance(0.06) {
        let open_m = vessel.floor_m + dice.between(0.0, 1.0) * depth_m;
        vessel.float_valve = Some(FloatValve {
            open_m,
            shut_m: open_m + dice.scale(2e-3, 0.2),
            flow_m3_s: dice.scale(1e-5, 2e-3),
            outlet_m: None,
            drinking_water: false,
        });
    }
    if dice.chance(0.05) {
        vessel.rim_perimeter_m = Some([0.0, 0.02, 3.0][dice.below(3)]);
    }
    if dice.chance(0.1) {
        vessel.fill_m = match dice.below(3) {
            0 => vessel.floor_m,
            1 => vessel.rim_m,
            _ => vessel.rim_m + dice.between(0.0, 0.3),
        };
    }
    vessel.under_cover = dice.chance(0.3);
}

fn shape(dice: &mut Dice, vessel: &mut Vessel) {
    let depth_m = vessel.rim_m - vessel.floor_m;
    let width_m = dice.scale(0.2, 3.0);
    vessel.shape = match dice.below(4) {
        0 => Shape::Rectangular {
            length_m: width_m,
            width_m: dice.scale(0.2, 3.0),
        },
        1 => Shape::ConeBottom {
            diameter_m: width_m,
            cone_height_m: depth_m * dice.between(0.2, 1.3),
        },
        2 => Shape::LyingDrum {
            diameter_m: depth_m * dice.between(1.0, 1.4),
            length_m: width_m,
        },
        _ => pond(dice, depth_m),
    };
}

/// A pond with sloping banks; now and then one with a waist.
fn pond(dice: &mut Dice, depth_m: f64) -> Shape {
    let area_m2 = dice.scale(0.3, 200.0);
    let waist = dice.chance(0.2);
    let rows = [
        (
            0.0,
            if waist {
                1.0
            } else {
                [0.0, 0.3, 0.6][dice.below(3)]
            },
        ),
        (dice.between(0.2, 0.8), if waist { 0.2 } else { 0.8 }),
        (1.1, 1.0),
    ];
    let rows = rows.map(|(depth, area)| TableRow {
        depth_m: depth * depth_m,
        area_m2: area * area_m2,
    });
    Shape::Table {
        rows: rows.to_vec(),
    }
}
