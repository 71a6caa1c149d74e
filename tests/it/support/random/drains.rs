//! How the water falls back: over crests, through holes and floors, alone, side by side or by a tee, and
//! between vessels that stand level.

use super::sketch::{Sketch, Spot, bore_for, mouth, part_shut};
use crate::support::layouts::{bare, submerged};
use crate::support::networks::Dice;
use fallwright::layout::{Direction, End, Opening, Turned};

/// Draws at least one drain for every vessel over the sump, highest first.
pub fn draw(sketch: &mut Sketch, sump: &Spot, upper: &mut [Spot]) {
    let mut place = upper.len();
    while place > 0 {
        place -= 1;
        equaliser(sketch, upper, place);
        let target = target(sketch, upper, place);
        let beside = place
            .checked_sub(1)
            .filter(|&other| upper[other].step == upper[place].step);
        match (sketch.dice.below(10), beside) {
            (0..=1, Some(other)) => {
                tee(sketch, (sump, upper), [place, other], target);
                place = other;
            }
            (2..=3, _) => side_by_side(sketch, (sump, upper), place, target),
            (4, _) => split(sketch, (sump, upper), place, target),
            _ => {
                let flow_m3_s = upper[place].flow_m3_s;
                to_next(sketch, (sump, upper), (place, target), flow_m3_s);
            }
        }
    }
}

/// A vessel of a lower step, mostly of the next; none: the sump.
fn target(sketch: &mut Sketch, upper: &[Spot], place: usize) -> Option<usize> {
    let step = upper[place].step;
    let next: Vec<usize> = (0..place)
        .filter(|&one| upper[one].step + 1 == step)
        .collect();
    if next.is_empty() || sketch.dice.chance(0.15) {
        return None;
    }
    Some(next[sketch.dice.below(next.len())])
}

fn spot(sump: &Spot, upper: &[Spot], target: Option<usize>) -> Spot {
    target.map_or(sump, |place| &upper[place]).clone()
}

fn expect(upper: &mut [Spot], target: Option<usize>, flow_m3_s: f64) {
    if let Some(place) = target {
        upper[place].flow_m3_s += flow_m3_s;
    }
}

type All<'a> = (&'a Spot, &'a mut [Spot]);

/// One drain, with a profile of its own in half of the cases.
fn to_next(
    sketch: &mut Sketch,
    (sump, upper): All<'_>,
    (place, target): (usize, Option<usize>),
    flow_m3_s: f64,
) {
    let (from, to) = (upper[place].clone(), spot(sump, upper, target));
    let (opening, top_m) = outlet(&mut sketch.dice, &from);
    let (inlet, end_m) = inlet(&mut sketch.dice, &to, top_m);
    let ends = [sketch.end(&from, opening), sketch.end(&to, inlet)];
    let [from_end, to_end] = ends;
    let bore_m = drain_bore(&mut sketch.dice, flow_m3_s);
    let run = sketch.run(from_end, to_end, bore_m);
    if let Some(end_m) = end_m.filter(|_| sketch.dice.chance(0.5)) {
        sketch.route(run, [&from, &to], [top_m, end_m]);
    }
    if sketch.dice.chance(0.08) {
        sketch.drawn(run).check_valve = Some(Direction::Forward);
    }
    if sketch.dice.chance(0.1) {
        let valve = part_shut(&mut sketch.dice);
        sketch.drawn(run).valves.push(valve);
    }
    expect(upper, target, flow_m3_s);
}

fn side_by_side(sketch: &mut Sketch, (sump, upper): All<'_>, place: usize, target: Option<usize>) {
    let count = 2 + sketch.dice.below(2);
    let share_m3_s = upper[place].flow_m3_s / count as f64;
    for _ in 0..count {
        to_next(sketch, (sump, upper), (place, target), share_m3_s);
    }
}

/// Two vessels that stand level meet in a tee.
fn tee(sketch: &mut Sketch, (sump, upper): All<'_>, pair: [usize; 2], target: Option<usize>) {
    let sum_m3_s = pair.iter().map(|&place| upper[place].flow_m3_s).sum();
    let to = spot(sump, upper, target);
    let lowest_m = upper[pair[0]].crest_m.min(upper[pair[1]].crest_m);
    let (inlet, end_m) = inlet(&mut sketch.dice, &to, lowest_m);
    let end_m = end_m.unwrap_or(to.floor_m);
    let elevation_m = end_m + 0.5 * (lowest_m - end_m).max(0.0);
    let joint = sketch.joint(elevation_m);
    for place in pair {
        let from = upper[place].clone();
        let (opening, _) = outlet(&mut sketch.dice, &from);
        let bore_m = drain_bore(&mut sketch.dice, from.flow_m3_s);
        let end = sketch.end(&from, opening);
        sketch.run_to_joint(end, &joint, bore_m);
    }
    let bore_m = drain_bore(&mut sketch.dice, sum_m3_s);
    let end = sketch.end(&to, inlet);
    sketch.run(bare(&joint), end, bore_m);
    expect(upper, target, sum_m3_s);
}

/// One drain that parts at a tee, to two vessels.
fn split(sketch: &mut Sketch, (sump, upper): All<'_>, place: usize, target: Option<usize>) {
    let from = upper[place].clone();
    let (opening, top_m) = outlet(&mut sketch.dice, &from);
    let joint = sketch.joint(top_m - 0.1);
    let bore_m = drain_bore(&mut sketch.dice, from.flow_m3_s);
    let end = sketch.end(&from, opening);
    sketch.run_to_joint(end, &joint, bore_m);
    for target in [target, None] {
        let to = spot(sump, upper, target);
        let (inlet, _) = inlet(&mut sketch.dice, &to, top_m);
        let end = sketch.end(&to, inlet);
        let run = sketch.run(bare(&joint), end, bore_m);
        let valve = part_shut(&mut sketch.dice);
        sketch.drawn(run).valves.push(valve);
        expect(upper, target, 0.5 * from.flow_m3_s);
    }
}

/// Under water to the vessel beside it, now and then.
fn equaliser(sketch: &mut Sketch, upper: &[Spot], place: usize) {
    let beside: Vec<usize> = (0..place)
        .filter(|&one| upper[one].step == upper[place].step)
        .collect();
    if beside.is_empty() || !sketch.dice.chance(0.3) {
        return;
    }
    let other = beside[sketch.dice.below(beside.len())];
    let ends: [End; 2] = [place, other].map(|one| {
        let low_m = upper[one].floor_m + 0.05;
        let opening = match sketch.dice.below(3) {
            0 => mouth(low_m, Turned::Horizontal, false),
            1 => Opening::SideHole {
                invert_m: low_m,
                bore_m: None,
            },
            _ => submerged(),
        };
        sketch.end(&upper[one], opening)
    });
    let [from, to] = ends;
    let bore_m = drain_bore(&mut sketch.dice, upper[place].flow_m3_s);
    let run = sketch.run(from, to, bore_m);
    if sketch.dice.chance(0.1) {
        sketch.drawn(run).check_valve = Some(Direction::Forward);
    }
}

/// Carries its flow mostly, not always.
fn drain_bore(dice: &mut Dice, flow_m3_s: f64) -> f64 {
    bore_for(flow_m3_s.max(2e-5), dice.scale(0.01, 0.12))
}

/// Where a drain leaves its vessel, and the height there, metres.
fn outlet(dice: &mut Dice, from: &Spot) -> (Opening, f64) {
    let crest_m = from.crest_m + dice.between(0.0, 0.04);
    match dice.below(10) {
        0..=5 => {
            let bell = dice.chance(0.25).then(|| dice.between(0.06, 0.2));
            let opening = Opening::Upstand {
                crest_m,
                bore_m: bell,
            };
            (opening, crest_m)
        }
        6..=8 => {
            let opening = Opening::SideHole {
                invert_m: crest_m,
                bore_m: None,
            };
            (opening, crest_m)
        }
        _ => {
            let opening = Opening::Floor {
                lip_m: None,
                bore_m: None,
            };
            (opening, from.floor_m)
        }
    }
}

/// Where it comes into the next, under `top_m`, and the height there, metres; none where that is not said.
fn inlet(dice: &mut Dice, to: &Spot, top_m: f64) -> (Opening, Option<f64>) {
    let most_m = (to.rim_m + 0.1).min(top_m - 0.03);
    let least_m = (to.floor_m + 0.03).min(most_m);
    let high_m = to.crest_m.clamp(least_m, most_m) + dice.roll() * (most_m - to.crest_m).max(0.0);
    let low_m = least_m + dice.roll() * (to.crest_m.min(most_m) - least_m);
    match dice.below(6) {
        0 => (mouth(high_m, Turned::Horizontal, true), Some(high_m)),
        1 => (mouth(high_m, Turned::Down, true), Some(high_m)),
        2 => (mouth(high_m, Turned::Horizontal, false), Some(high_m)),
        3 => (mouth(low_m, Turned::Down, false), Some(low_m)),
        4 => (mouth(low_m, Turned::Horizontal, false), Some(low_m)),
        _ => (submerged(), None),
    }
}
