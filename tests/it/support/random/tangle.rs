//! Vessels and joints tied together without any plan.

use super::sketch::{BORES_M, Sketch, Spot, mouth};
use crate::support::layouts::{bare, pump, submerged};
use crate::support::networks::Dice;
use fallwright::layout::{CurveForm, Direction, End, Opening, Pump, Shape, Turned};

/// A node that a run can end at.
#[derive(Clone)]
enum Node {
    Vessel(Spot),
    Joint(String),
}

pub fn draw(sketch: &mut Sketch, vessels: usize) {
    let mut nodes: Vec<Node> = (0..vessels).map(|_| Node::Vessel(spot(sketch))).collect();
    let joints = sketch.dice.below(1 + vessels / 3);
    for _ in 0..joints {
        let elevation_m = sketch.dice.between(-2.0, 3.0);
        let id = sketch.joint(elevation_m);
        nodes.push(Node::Joint(id));
    }
    let runs = vessels + 2 * joints + sketch.dice.below(vessels);
    for index in 0..runs {
        let from = if index < nodes.len() {
            index
        } else {
            sketch.dice.below(nodes.len())
        };
        let to = sketch.dice.below(nodes.len());
        tie(sketch, [&nodes[from].clone(), &nodes[to].clone()]);
    }
}

fn spot(sketch: &mut Sketch) -> Spot {
    let dice = &mut sketch.dice;
    let floor_m = dice.between(-2.0, 3.0);
    let rim_m = floor_m + dice.between(0.3, 1.5);
    let fill_m = floor_m + dice.roll() * (rim_m - floor_m);
    let shape = Shape::Prism {
        area_m2: dice.scale(0.02, 60.0),
    };
    let spot = Spot {
        index: 0,
        step: dice.below(4),
        floor_m,
        crest_m: 0.6 * rim_m + 0.4 * floor_m,
        rim_m,
        flow_m3_s: 1e-3,
    };
    sketch.vessel(spot, shape, fill_m)
}

fn tie(sketch: &mut Sketch, nodes: [&Node; 2]) {
    let bore_m = BORES_M[sketch.dice.below(BORES_M.len())];
    let [from, to] = nodes.map(|node| match node {
        Node::Vessel(spot) => {
            let opening = any_opening(&mut sketch.dice, spot.floor_m, spot.rim_m);
            sketch.end(spot, opening)
        }
        Node::Joint(id) => bare(id),
    });
    let run = sketch.run(from, to, bore_m);
    if sketch.dice.chance(0.15) {
        let id = format!("pump{run}");
        sketch.drawn(run).pump = Some(any_pump(&mut sketch.dice, &id));
    }
    if sketch.dice.chance(0.12) {
        let way = [Direction::Forward, Direction::Backward][sketch.dice.below(2)];
        sketch.drawn(run).check_valve = Some(way);
    }
}

/// A run between any vessel and `other`, either way.
pub fn run_to(sketch: &mut Sketch, other: &str) {
    let vessel = &sketch.layout.vessels[sketch.dice.below(sketch.layout.vessels.len())];
    let (id, floor_m, rim_m) = (vessel.id.as_str().to_owned(), vessel.floor_m, vessel.rim_m);
    let here = crate::support::layouts::at(&id, any_opening(&mut sketch.dice, floor_m, rim_m));
    let there: End = bare(other);
    let bore_m = BORES_M[sketch.dice.below(BORES_M.len())];
    if sketch.dice.chance(0.7) {
        sketch.run(here, there, bore_m);
    } else {
        sketch.run(there, here, bore_m);
    }
}

/// Any opening at a height from a little under the floor to a little over the rim.
pub fn any_opening(dice: &mut Dice, floor_m: f64, rim_m: f64) -> Opening {
    let height_m = floor_m + dice.between(-0.1, 1.2) * (rim_m - floor_m);
    let bore_m = dice.chance(0.2).then(|| dice.scale(0.01, 0.3));
    let turned = [Turned::Horizontal, Turned::Up, Turned::Down][dice.below(3)];
    match dice.below(8) {
        0 | 1 => Opening::Upstand {
            crest_m: height_m,
            bore_m,
        },
        2 | 3 => Opening::SideHole {
            invert_m: height_m,
            bore_m,
        },
        4 => Opening::Floor {
            lip_m: dice.chance(0.3).then_some(height_m),
            bore_m,
        },
        5 => mouth(height_m, turned, true),
        6 => mouth(height_m, turned, false),
        _ if dice.chance(0.5) => submerged(),
        _ => Opening::Submerged {
            lip_m: Some(height_m),
            bore_m,
        },
    }
}

pub fn any_pump(dice: &mut Dice, id: &str) -> Pump {
    Pump {
        id: id.into(),
        curve: CurveForm::Power {
            h0_m: dice.between(1.0, 14.0),
            c: dice.scale(1e4, 3e6),
            n: dice.between(1.0, 3.0),
        },
        stops_when_dry: dice.chance(0.7),
        ..pump(Direction::Forward)
    }
}
