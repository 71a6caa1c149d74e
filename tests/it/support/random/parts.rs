//! Everything that a run can have.

use super::sketch::mouth;
use crate::support::networks::Dice;
use fallwright::layout::{
    CrestKind, CurveForm, CurvePoint, Direction, Equipment, EquipmentLoss, FittingUse, FloatSwitch,
    Friction, Id, Layout, LossPoint, NotchShape, NpshPoint, Opening, Pipe, Rise, Run, RunEnd,
    Screen, SiphonBreak, Suction, Turned, ValveUse, Vent,
};
use std::ops::Range;

/// Floor and rim of the vessel at each end of a run, metres; none where there is none.
pub fn heights(layout: &Layout, run: &Run) -> [Option<(f64, f64)>; 2] {
    [&run.from, &run.to].map(|end| {
        let vessel = layout.vessel(&end.at)?;
        Some((vessel.floor_m, vessel.rim_m))
    })
}

pub fn vary(dice: &mut Dice, layout: &mut Layout) {
    for index in 0..layout.runs.len() {
        let heights = heights(layout, &layout.runs[index]);
        let pumped = layout.runs[index].pump.is_some();
        let run = &mut layout.runs[index];
        if let Some(height) = heights[0].filter(|_| !pumped) {
            drain(dice, run, height);
        }
        ends(dice, run, heights);
        along(dice, run);
        if pumped {
            pump(dice, layout, index);
        }
    }
    if dice.chance(0.08) {
        layout.friction = Friction::HazenWilliams;
    }
}

/// Overflows, notches and holes in a common wall in place of a plain drain.
fn drain(dice: &mut Dice, run: &mut Run, (floor_m, rim_m): (f64, f64)) {
    let depth_m = rim_m - floor_m;
    let crest_m = floor_m + dice.between(0.4, 1.0) * depth_m;
    match dice.below(20) {
        0 => {
            let cup = dice.chance(0.5);
            run.from.opening = Some(Opening::RaisedIntake {
                intake_m: floor_m + dice.between(0.0, 0.3) * depth_m,
                crest_m,
                crest: if cup { CrestKind::Cup } else { CrestKind::Tee },
                rise: Rise::default(),
                vent: match dice.below(3) {
                    0 => Vent::Open,
                    1 => Vent::Shut,
                    _ => Vent::OpenTo {
                        top_m: crest_m + dice.between(0.05, 0.5),
                    },
                },
            });
        }
        1 => {
            run.from.opening = Some(notch(dice, crest_m));
            if dice.chance(0.6) && run.route.is_empty() {
                run.pipe = Pipe::Open;
                run.to.opening = None;
                run.fittings.clear();
            }
        }
        2 if run.route.is_empty() => {
            run.from.opening = Some(Opening::SideHole {
                invert_m: crest_m,
                bore_m: Some(dice.scale(0.02, 0.2)),
            });
            run.pipe = Pipe::Open;
            run.to.opening = None;
            run.fittings.clear();
        }
        _ => {}
    }
}

fn notch(dice: &mut Dice, crest_m: f64) -> Opening {
    notch_of(dice, crest_m, (0.04..0.5, 0.5..0.7))
}

/// A notch with its width, m, and its coefficient from these.
pub fn notch_of(
    dice: &mut Dice,
    crest_m: f64,
    (widths_m, weirs): (Range<f64>, Range<f64>),
) -> Opening {
    let width_m = dice.scale(widths_m.start, widths_m.end);
    Opening::Notch {
        crest_m,
        shape: if dice.chance(0.5) {
            NotchShape::Vee {
                angle_deg: dice.between(20.0, 120.0),
            }
        } else {
            NotchShape::Rectangular {
                width_m,
                channel_m: dice.chance(0.4).then(|| width_m * dice.between(1.0, 3.0)),
            }
        },
        weir: dice
            .chance(0.3)
            .then(|| dice.between(weirs.start, weirs.end)),
    }
}

fn ends(dice: &mut Dice, run: &mut Run, heights: [Option<(f64, f64)>; 2]) {
    if let Some(heights) = heights[0]
        && dice.chance(0.08)
    {
        run.from.screen = Some(screen(dice, heights));
    }
    if let Some((floor_m, rim_m)) = heights[1] {
        if dice.chance(0.05) && run.pipe != Pipe::Open {
            let turned = [Turned::Horizontal, Turned::Down][dice.below(2)];
            run.to.opening = Some(mouth(rim_m + dice.between(0.0, 0.2), turned, true));
        }
        if dice.chance(0.06) {
            run.siphon_break = Some(SiphonBreak {
                height_m: floor_m + dice.between(0.0, 1.1) * (rim_m - floor_m),
                bore_m: dice.scale(1e-3, 8e-3),
                near: RunEnd::To,
            });
        }
    }
}

/// A screen between the floor and the rim of its vessel: small or wide, on the lip, a cage, or one that counts whole.
fn screen(dice: &mut Dice, (floor_m, rim_m): (f64, f64)) -> Screen {
    let plain = Screen {
        name: String::new(),
        area_m2: dice.scale(0.002, 0.2),
        open_share: dice.between(0.1, 0.9),
        blinded: if dice.chance(0.3) { dice.roll() } else { 0.0 },
        k: None,
        on_the_lip: false,
        foot_m: None,
        height_m: None,
    };
    // Dice of its own: what is drawn after it stays as it was.
    let mut dice = Dice((1e9 * plain.area_m2) as u64);
    match dice.below(4) {
        0 => Screen {
            on_the_lip: true,
            ..plain
        },
        1 => Screen {
            foot_m: Some(floor_m + dice.between(-0.1, 0.7) * (rim_m - floor_m)),
            height_m: Some(dice.scale(0.02, 0.6)),
            ..plain
        },
        _ => plain,
    }
}

/// What stands along a run.
fn along(dice: &mut Dice, run: &mut Run) {
    if dice.chance(0.08) {
        run.equipment.push(equipment(dice));
    }
    if dice.chance(0.1) {
        let kinds = ["ball", "gate", "butterfly", "globe", "diaphragm", "tap"];
        run.valves.push(ValveUse {
            kind: kinds[dice.below(kinds.len())].to_owned(),
            opening: [0.0, 1.0, dice.roll(), dice.roll(), dice.roll()][dice.below(5)],
            k: None,
            at_m: None,
            near: None,
        });
    }
    if dice.chance(0.06) {
        let way = [Direction::Forward, Direction::Backward][dice.below(2)];
        run.check_valve = Some(way);
        run.check_valve_failed = dice.chance(0.15);
    }
    if dice.chance(0.15) && run.pipe != Pipe::Open {
        let kinds = [
            "elbow-90",
            "elbow-45",
            "tee-run",
            "tee-branch",
            "union",
            "return-bend",
        ];
        run.fittings.push(FittingUse {
            kind: kinds[dice.below(kinds.len())].to_owned(),
            count: 1 + dice.below(5) as u32,
            k: None,
            choice: None,
            bore_m: None,
            at_m: None,
            near: None,
        });
    }
    if dice.chance(0.06) && run.pipe != Pipe::Open {
        let sizes = ["1/2 in", "1 in", "2 in", "4 in"];
        run.pipe = Pipe::Bought {
            family: "pvc-sch40-average".to_owned(),
            size: sizes[dice.below(sizes.len())].to_owned(),
            roughness_m: None,
            hazen_williams_c: None,
        };
    }
    match dice.below(30) {
        0 => run.friction = Some(Friction::HazenWilliams),
        1 => run.friction_factor = Some(dice.scale(0.005, 0.1)),
        2 => run.total_k = Some(dice.scale(0.1, 100.0)),
        3 if run.route.is_empty() => run.length_m = Some(0.0),
        4 if run.route.is_empty() => run.length_m = Some(dice.scale(10.0, 500.0)),
        _ => {}
    }
}

fn equipment(dice: &mut Dice) -> Equipment {
    let clean = if dice.chance(0.5) {
        EquipmentLoss::Terms {
            a: dice.scale(1.0, 1e3),
            b: dice.scale(1e2, 1e6),
        }
    } else {
        EquipmentLoss::Points(vec![LossPoint {
            flow_m3_s: dice.scale(1e-4, 5e-3),
            head_m: dice.scale(0.02, 3.0),
        }])
    };
    Equipment {
        name: "Filter".to_owned(),
        clean,
        dirty: dice.chance(0.4).then(|| EquipmentLoss::Terms {
            a: 0.0,
            b: dice.scale(1e4, 3e6),
        }),
        at_wash: None,
        wash_head_m: None,
        out: dice.chance(0.1),
        at_m: None,
        near: None,
    }
}

fn pump(dice: &mut Dice, layout: &mut Layout, index: usize) {
    let ends = [
        layout.runs[index].from.at.clone(),
        layout.runs[index].to.at.clone(),
    ];
    let float = dice
        .chance(0.2)
        .then(|| float(dice, layout, &ends))
        .flatten();
    let run = &mut layout.runs[index];
    let backward = dice.chance(0.08);
    if backward {
        std::mem::swap(&mut run.from, &mut run.to);
        run.route.reverse();
        run.siphon_break = None;
        run.check_valve = run.check_valve.map(|way| match way {
            Direction::Forward => Direction::Backward,
            Direction::Backward => Direction::Forward,
        });
    }
    let Some(pump) = &mut run.pump else { return };
    if backward {
        pump.pushes = Direction::Backward;
    }
    pump.float = float;
    pump.stops_when_dry = dice.chance(0.7);
    if dice.chance(0.2) {
        pump.speed = dice.between(0.5, 1.3);
    }
    if dice.chance(0.2) {
        pump.stopped_k = dice.scale(1.0, 1e3);
    }
    if dice.chance(0.1) {
        pump.suction = Some(Suction {
            elevation_m: dice.between(-1.0, 1.0),
            length_m: dice.between(0.0, 2.0),
            total_k: 0.5,
        });
        pump.npsh_required = vec![NpshPoint {
            flow_m3_s: 1e-3,
            npsh_m: 2.0,
        }];
    }
    curve(dice, &mut pump.curve);
}

/// Now and then a curve that rises at first.
fn curve(dice: &mut Dice, form: &mut CurveForm) {
    if let CurveForm::Points(points) = form
        && dice.chance(0.1)
        && let [first, second, ..] = points.as_mut_slice()
    {
        *first = CurvePoint {
            flow_m3_s: 0.0,
            head_m: 0.85 * second.head_m,
        };
    }
}

/// A switch in the vessel that it empties, or in the one that it fills.
fn float(dice: &mut Dice, layout: &Layout, [from, to]: &[Id; 2]) -> Option<FloatSwitch> {
    let fills = dice.chance(0.4);
    let vessel = layout.vessel(if fills { to } else { from })?;
    let depth_m = vessel.rim_m - vessel.floor_m;
    let low_m = vessel.floor_m + dice.between(0.05, 0.6) * depth_m;
    let high_m = low_m + dice.between(0.03, 0.5) * depth_m;
    let (on_m, off_m) = if fills {
        (low_m, high_m)
    } else {
        (high_m, low_m)
    };
    Some(FloatSwitch {
        on_m,
        off_m,
        at: Some(vessel.id.clone()),
    })
}
