//! Works: vessels in steps over a sump, water lifted by pumps and falling back.

use super::sketch::{Sketch, Spot};
use super::{drains, feeds};
use fallwright::layout::Shape;

/// Draws `count` vessels (at least 2), the runs between them and the pumps.
pub fn draw(sketch: &mut Sketch, count: usize) {
    let flow_m3_s = sketch.dice.scale(2e-4, 4e-3);
    let mut upper = steps(sketch, count - 1);
    let sump = sump(sketch, &upper);
    feeds::draw(sketch, &sump, &mut upper, flow_m3_s);
    drains::draw(sketch, &sump, &mut upper);
}

/// Vessels over the sump, lowest step first.
fn steps(sketch: &mut Sketch, count: usize) -> Vec<Spot> {
    let mut spots: Vec<Spot> = Vec::new();
    let mut step = 0;
    while spots.len() < count {
        step += 1;
        let below = spots.iter().filter(|spot| spot.step + 1 == step);
        let crest_below_m = below.fold(0.5, |most: f64, spot| most.max(spot.crest_m));
        let floor_m = crest_below_m + sketch.dice.between(-0.2, 1.0);
        let beside = 1 + sketch.dice.below(4);
        for _ in 0..beside.min(count - spots.len()) {
            let spot = spot(sketch, step, floor_m, crest_below_m);
            spots.push(spot);
        }
    }
    spots
}

fn spot(sketch: &mut Sketch, step: usize, floor_m: f64, above_m: f64) -> Spot {
    let dice = &mut sketch.dice;
    let floor_m = floor_m + dice.between(-0.05, 0.05);
    let crest_m = (floor_m + dice.between(0.25, 0.9)).max(above_m + 0.08);
    let rim_m = crest_m + dice.scale(0.06, 0.4);
    let fill_m = floor_m + dice.roll() * (crest_m - floor_m);
    let area_m2 = dice.scale(0.15, 5.0);
    let shape = straight(sketch, area_m2);
    let spot = Spot {
        index: 0,
        step,
        floor_m,
        crest_m,
        rim_m,
        flow_m3_s: 0.0,
    };
    sketch.vessel(spot, shape, fill_m)
}

fn straight(sketch: &mut Sketch, area_m2: f64) -> Shape {
    if sketch.dice.chance(0.5) {
        return Shape::Prism { area_m2 };
    }
    Shape::Round {
        diameter_m: (4.0 * area_m2 / std::f64::consts::PI).sqrt(),
    }
}

/// A sump that holds what the others lack, mostly.
fn sump(sketch: &mut Sketch, upper: &[Spot]) -> Spot {
    let lacking = upper.iter().map(|spot| {
        let vessel = &sketch.layout.vessels[spot.index];
        let area_m2 = match vessel.shape {
            Shape::Prism { area_m2 } => area_m2,
            Shape::Round { diameter_m } => std::f64::consts::FRAC_PI_4 * diameter_m * diameter_m,
            _ => 1.0,
        };
        area_m2 * (spot.crest_m + 0.05 - vessel.fill_m)
    });
    let lacking_m3: f64 = lacking.sum();
    let depth_m = sketch.dice.between(0.6, 1.5);
    let area_m2 = lacking_m3 / (0.6 * depth_m) * sketch.dice.scale(0.7, 3.0);
    let area_m2 = area_m2.max(0.3);
    let rim_m = 0.45;
    let spot = Spot {
        index: 0,
        step: 0,
        floor_m: rim_m - depth_m,
        crest_m: rim_m - 0.1,
        rim_m,
        flow_m3_s: 0.0,
    };
    let fill_m = rim_m - depth_m * sketch.dice.between(0.05, 0.3);
    let shape = straight(sketch, area_m2);
    sketch.vessel(spot, shape, fill_m)
}
