//! What lifts the water: pumps, straight into a vessel or through a row of joints.

use super::sketch::{BORES_M, Sketch, Spot, bore_for, mouth, part_shut};
use crate::support::layouts::{bare, pump, submerged};
use crate::support::networks::Dice;
use fallwright::layout::{CurveForm, CurvePoint, Direction, End, Opening, Pump, Turned};

/// Draws one or two pumps that lift about `flow_m3_s` from the sump, the highest vessel always fed.
pub fn draw(sketch: &mut Sketch, sump: &Spot, upper: &mut [Spot], flow_m3_s: f64) {
    let top = upper.len() - 1;
    if upper.len() > 2 && sketch.dice.chance(0.45) {
        let mut fed: Vec<usize> = (0..top).filter(|_| sketch.dice.chance(0.4)).collect();
        fed.push(top);
        fed.truncate(6);
        manifold(sketch, sump, (upper, &fed), flow_m3_s);
    } else {
        single(sketch, sump, &mut upper[top], flow_m3_s);
    }
    if upper.len() > 3 && sketch.dice.chance(0.2) {
        let other = sketch.dice.below(upper.len());
        single(sketch, sump, &mut upper[other], 0.5 * flow_m3_s);
    }
}

fn single(sketch: &mut Sketch, sump: &Spot, to: &mut Spot, flow_m3_s: f64) {
    let (opening, lip_m) = inlet(&mut sketch.dice, to);
    let from = suction(sketch, sump);
    let to_end = sketch.end(to, opening);
    to.flow_m3_s += flow_m3_s;
    lift(sketch, sump, [from, to_end], (lip_m, flow_m3_s));
}

/// A pump into a row of joints, from each of which a vessel is fed; now and then the row is a ring.
fn manifold(
    sketch: &mut Sketch,
    sump: &Spot,
    (upper, fed): (&mut [Spot], &[usize]),
    flow_m3_s: f64,
) {
    let bore_m = pumped_bore(&mut sketch.dice, flow_m3_s);
    let joints: Vec<String> = fed
        .iter()
        .map(|_| {
            let elevation_m = sump.rim_m + sketch.dice.between(-0.3, 0.5);
            sketch.joint(elevation_m)
        })
        .collect();
    for pair in joints.windows(2) {
        sketch.run(bare(&pair[0]), bare(&pair[1]), bore_m);
    }
    if joints.len() > 2 && sketch.dice.chance(0.5) {
        sketch.run(bare(&joints[joints.len() - 1]), bare(&joints[0]), bore_m);
    }
    let share_m3_s = flow_m3_s / fed.len() as f64;
    let mut highest_m = f64::NEG_INFINITY;
    for (joint, &place) in joints.iter().zip(fed) {
        let (opening, lip_m) = inlet(&mut sketch.dice, &upper[place]);
        highest_m = highest_m.max(lip_m);
        let to = sketch.end(&upper[place], opening);
        let branch_m = pumped_bore(&mut sketch.dice, share_m3_s);
        let run = sketch.run(bare(joint), to, branch_m);
        let valve = part_shut(&mut sketch.dice);
        sketch.drawn(run).valves.push(valve);
        upper[place].flow_m3_s += share_m3_s;
    }
    let from = suction(sketch, sump);
    lift(
        sketch,
        sump,
        [from, bare(&joints[0])],
        (highest_m, flow_m3_s),
    );
}

fn suction(sketch: &mut Sketch, sump: &Spot) -> End {
    let lip_m = sump.floor_m + sketch.dice.between(0.03, 0.15);
    let opening = match sketch.dice.below(4) {
        0 => Opening::SideHole {
            invert_m: lip_m,
            bore_m: None,
        },
        1 => Opening::Floor {
            lip_m: None,
            bore_m: None,
        },
        _ => mouth(lip_m, Turned::Down, false),
    };
    sketch.end(sump, opening)
}

/// How water comes into a vessel from a pump, and the height it must be lifted to, metres.
fn inlet(dice: &mut Dice, to: &Spot) -> (Opening, f64) {
    let over_m = to.rim_m + dice.between(0.02, 0.3);
    let under_m = to.floor_m + dice.between(0.05, 0.2);
    match dice.below(5) {
        0 => (mouth(over_m, Turned::Horizontal, true), over_m),
        1 => (mouth(over_m, Turned::Down, true), over_m),
        2 => (mouth(over_m, Turned::Up, false), over_m),
        3 => (mouth(under_m, Turned::Down, false), to.crest_m),
        _ => (submerged(), to.crest_m),
    }
}

fn pumped_bore(dice: &mut Dice, flow_m3_s: f64) -> f64 {
    // About 1 m/s: the head of an orifice at that.
    let bore_m = bore_for(flow_m3_s, 0.14 * dice.scale(0.3, 3.0));
    bore_m.max(BORES_M[0])
}

fn lift(sketch: &mut Sketch, sump: &Spot, [from, to]: [End; 2], (lip_m, flow_m3_s): (f64, f64)) {
    let bore_m = pumped_bore(&mut sketch.dice, flow_m3_s);
    let run = sketch.run(from, to, bore_m);
    let static_m = lip_m - (sump.floor_m + 0.4 * (sump.rim_m - sump.floor_m));
    // One in twenty cannot lift it.
    let weak = sketch.dice.chance(0.05);
    let head_m = static_m * if weak { 0.7 } else { 1.1 } + sketch.dice.between(0.3, 1.5);
    let id = format!("pump{run}");
    let pump = by_points(&mut sketch.dice, &id, (head_m, flow_m3_s));
    let check = sketch.dice.chance(0.7);
    let drawn = sketch.drawn(run);
    drawn.pump = Some(pump);
    drawn.check_valve = check.then_some(Direction::Forward);
    if sketch.dice.chance(0.3) {
        let valve = part_shut(&mut sketch.dice);
        sketch.drawn(run).valves.push(valve);
    }
}

/// A curve through its duty, falling all the way.
fn by_points(dice: &mut Dice, id: &str, (head_m, flow_m3_s): (f64, f64)) -> Pump {
    let flat = dice.between(1.15, 1.6);
    let points = [
        (0.0, flat),
        (0.5, 1.0 + 0.7 * (flat - 1.0)),
        (1.0, 1.0),
        (1.5, dice.between(0.45, 0.7)),
        (2.0, dice.between(0.05, 0.2)),
    ];
    let points = points.map(|(flow, head)| CurvePoint {
        flow_m3_s: flow * flow_m3_s,
        head_m: head * head_m,
    });
    Pump {
        id: id.into(),
        curve: CurveForm::Points(points.to_vec()),
        stops_when_dry: false,
        ..pump(Direction::Forward)
    }
}
