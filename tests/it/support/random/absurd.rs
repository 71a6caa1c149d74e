//! What nobody would build.

use super::parts::heights;
use super::sketch::mouth;
use super::tangle::any_opening;
use crate::support::layouts::{bare, joint, run, submerged};
use crate::support::networks::Dice;
use fallwright::layout::{CurveForm, Id, Layout, Opening, Pipe, Shape, Turned};

type Absurdity = fn(&mut Dice, &mut Layout);

const ALL: [Absurdity; 14] = [
    crest_over_rim,
    end_under_floor,
    out_of_reach,
    kilometres,
    far_away,
    tiny,
    river,
    great_pump,
    lake,
    odd_bore,
    into_itself,
    dead_end,
    lip_over_its_vessel,
    anywhere,
];

/// One to four of them.
pub fn vary(dice: &mut Dice, layout: &mut Layout) {
    for _ in 0..1 + dice.below(4) {
        ALL[dice.below(ALL.len())](dice, layout);
    }
}

fn crest_over_rim(dice: &mut Dice, layout: &mut Layout) {
    let index = dice.below(layout.runs.len());
    let [Some((_, rim_m)), _] = heights(layout, &layout.runs[index]) else {
        return;
    };
    let crest_m = rim_m + dice.scale(0.01, 3.0);
    let run = &mut layout.runs[index];
    run.route.clear();
    run.length_m = Some(2.0);
    run.from.opening = Some(Opening::Upstand {
        crest_m,
        bore_m: None,
    });
    if run.pipe == Pipe::Open {
        run.pipe = own(0.05);
    }
    if run.to.opening.is_none() && layout.vessels.iter().any(|one| one.id == run.to.at) {
        run.to.opening = Some(submerged());
    }
}

fn own(bore_m: f64) -> Pipe {
    Pipe::Own {
        bore_m,
        roughness_m: None,
        hazen_williams_c: None,
    }
}

fn end_under_floor(dice: &mut Dice, layout: &mut Layout) {
    let index = dice.below(layout.runs.len());
    let [_, Some((floor_m, _))] = heights(layout, &layout.runs[index]) else {
        return;
    };
    let run = &mut layout.runs[index];
    if run.to.opening.is_none() {
        return;
    }
    run.route.clear();
    run.length_m = Some(2.0);
    let turned = [Turned::Horizontal, Turned::Down, Turned::Up][dice.below(3)];
    run.to.opening = Some(mouth(floor_m - dice.scale(0.1, 10.0), turned, false));
}

/// Moves a vessel and every opening in it.
fn shift(layout: &mut Layout, index: usize, by_m: f64) {
    let vessel = &mut layout.vessels[index];
    let held = vessel.floor_m + by_m;
    if !(-15_000.0..15_000.0).contains(&held) {
        return;
    }
    vessel.floor_m += by_m;
    vessel.rim_m += by_m;
    vessel.fill_m += by_m;
    if let Some(medium) = &mut vessel.medium {
        medium.top_m += by_m;
    }
    if let Some(valve) = &mut vessel.float_valve {
        valve.open_m += by_m;
        valve.shut_m += by_m;
    }
    let id = vessel.id.clone();
    for run in &mut layout.runs {
        if run.from.at != id && run.to.at != id {
            continue;
        }
        run.route.clear();
        run.length_m.get_or_insert(3.0);
        for end in [&mut run.from, &mut run.to] {
            if let Some(opening) = end.opening.as_mut().filter(|_| end.at == id) {
                move_opening(opening, by_m);
            }
        }
    }
}

fn move_opening(opening: &mut Opening, by_m: f64) {
    match opening {
        Opening::Upstand { crest_m, .. } | Opening::Notch { crest_m, .. } => *crest_m += by_m,
        Opening::SideHole { invert_m, .. } => *invert_m += by_m,
        Opening::Floor { lip_m, .. } | Opening::Submerged { lip_m, .. } => {
            if let Some(lip_m) = lip_m {
                *lip_m += by_m;
            }
        }
        Opening::Mouth { lip_m, .. } => *lip_m += by_m,
        Opening::RaisedIntake {
            intake_m, crest_m, ..
        } => {
            *intake_m += by_m;
            *crest_m += by_m;
        }
    }
}

fn out_of_reach(dice: &mut Dice, layout: &mut Layout) {
    let (index, by_m) = (dice.below(layout.vessels.len()), dice.scale(3.0, 100.0));
    shift(layout, index, by_m);
}

fn kilometres(dice: &mut Dice, layout: &mut Layout) {
    let by_m = dice.scale(300.0, 8000.0);
    let index = dice.below(layout.vessels.len());
    shift(layout, index, if dice.chance(0.3) { -by_m } else { by_m });
}

fn far_away(dice: &mut Dice, layout: &mut Layout) {
    let index = dice.below(layout.runs.len());
    let run = &mut layout.runs[index];
    run.route.clear();
    run.length_m = Some(dice.scale(1e3, 1e5));
}

fn tiny(dice: &mut Dice, layout: &mut Layout) {
    let index = dice.below(layout.vessels.len());
    layout.vessels[index].shape = Shape::Prism {
        area_m2: dice.scale(1e-4, 1e-2),
    };
}

fn river(dice: &mut Dice, layout: &mut Layout) {
    let index = dice.below(layout.vessels.len());
    layout.vessels[index].make_up_m3_s = dice.scale(0.03, 0.4);
}

fn great_pump(dice: &mut Dice, layout: &mut Layout) {
    let by = dice.scale(5.0, 100.0);
    let mut pumps = layout.runs.iter_mut().filter_map(|run| run.pump.as_mut());
    if let Some(pump) = pumps.next() {
        match &mut pump.curve {
            CurveForm::Points(points) => {
                for point in points {
                    point.flow_m3_s *= by;
                }
            }
            CurveForm::Power { c, n, .. } => *c /= by.powf(*n),
            CurveForm::Label {
                largest_flow_m3_s, ..
            } => *largest_flow_m3_s *= by,
        }
    }
}

fn lake(dice: &mut Dice, layout: &mut Layout) {
    let index = dice.below(layout.vessels.len());
    layout.vessels[index].shape = Shape::Prism {
        area_m2: dice.scale(1e3, 1e7),
    };
}

fn odd_bore(dice: &mut Dice, layout: &mut Layout) {
    let index = dice.below(layout.runs.len());
    let run = &mut layout.runs[index];
    if run.pipe != Pipe::Open {
        let bore_m = if dice.chance(0.5) {
            dice.scale(0.001, 0.01)
        } else {
            dice.scale(0.3, 3.0)
        };
        run.pipe = own(bore_m);
    }
}

fn into_itself(dice: &mut Dice, layout: &mut Layout) {
    let vessel = &layout.vessels[dice.below(layout.vessels.len())];
    let (floor_m, rim_m, id) = (vessel.floor_m, vessel.rim_m, vessel.id.clone());
    let mut end = || crate::support::layouts::at(id.as_str(), any_opening(dice, floor_m, rim_m));
    let (from, to) = (end(), end());
    layout.runs.push(run("itself", from, to));
    rename(layout);
}

fn dead_end(dice: &mut Dice, layout: &mut Layout) {
    let vessel = &layout.vessels[dice.below(layout.vessels.len())];
    let (floor_m, rim_m, id) = (vessel.floor_m, vessel.rim_m, vessel.id.clone());
    let elevation_m = floor_m + dice.between(-3.0, 3.0);
    layout.joints.push(joint("dead", elevation_m));
    let from = crate::support::layouts::at(id.as_str(), any_opening(dice, floor_m, rim_m));
    layout.runs.push(run("dead-run", from, bare("dead")));
    rename(layout);
}

/// Two of one absurdity would share a name.
fn rename(layout: &mut Layout) {
    let (runs, joints) = (layout.runs.len(), layout.joints.len());
    if let Some(run) = layout.runs.last_mut() {
        run.id = Id(format!("r{}", runs - 1));
        let dead = Id("dead".to_owned());
        if run.to.at == dead {
            let id = Id(format!("j{}", joints - 1));
            run.to.at = id.clone();
            if let Some(joint) = layout.joints.last_mut() {
                joint.id = id;
            }
        }
    }
}

/// An end that nothing limits, with its lip far over the vessel.
fn lip_over_its_vessel(dice: &mut Dice, layout: &mut Layout) {
    let index = dice.below(layout.runs.len());
    let [Some((_, rim_m)), _] = heights(layout, &layout.runs[index]) else {
        return;
    };
    let run = &mut layout.runs[index];
    run.route.clear();
    run.length_m = Some(2.0);
    if run.pipe == Pipe::Open {
        return;
    }
    run.from.opening = Some(Opening::Submerged {
        lip_m: Some(rim_m + dice.scale(0.1, 10.0)),
        bore_m: None,
    });
}

/// Both ends of a run anywhere.
fn anywhere(dice: &mut Dice, layout: &mut Layout) {
    let index = dice.below(layout.runs.len());
    let both = heights(layout, &layout.runs[index]);
    let run = &mut layout.runs[index];
    if run.pipe == Pipe::Open {
        return;
    }
    run.route.clear();
    run.length_m = Some(dice.scale(0.1, 100.0));
    for (end, height) in [&mut run.from, &mut run.to].into_iter().zip(both) {
        if let Some((floor_m, rim_m)) = height {
            end.opening = Some(any_opening(dice, floor_m - 10.0, rim_m + 10.0));
        }
    }
}
