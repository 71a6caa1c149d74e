//! What sits in a run stands in one order in section, plan and grade line: it is one pipe.

use super::grade::Case;
use super::plan::case::{Way, level_run, ways};
use crate::support::layouts::{pump, valve};
use fallwright::draw::page::shape::{Drawing, Mark, Shape};
use fallwright::layout::{Direction, Layout, Run, RunEnd, Suction};

/// Height of all of it, and from vessel to vessel, metres.
const Z_M: f64 = 0.4;
const LONG_M: f64 = 12.0;

/// A vessel at each side, a lift between them and the way back.
fn layout(change: impl Fn(&mut Run)) -> Layout {
    let through = [(0.0, 0.0), (LONG_M, 0.0)];
    let mut layout = ways(&[Way {
        id: "lift-run",
        through: &through,
        z_m: Z_M,
    }]);
    for (vessel, along_m) in layout.vessels.iter_mut().zip([0.0, LONG_M]) {
        vessel.place.along_m = along_m;
        vessel.fill_m = vessel.rim_m - 0.05;
    }
    let mut back = level_run("back", ["lift-run-b", "lift-run-a"], Z_M);
    back.route = vec![
        super::plan::case::corner(LONG_M, 4.0, Z_M),
        super::plan::case::corner(0.0, 4.0, Z_M),
    ];
    let lift = &mut layout.runs[0];
    lift.pump = Some(pump(Direction::Forward));
    lift.pump.as_mut().unwrap().wet = Some(false);
    change(lift);
    layout.runs.push(back);
    layout
}

/// One sign: what it is, and where across the page.
type Sign = (&'static str, f64);

/// The signs on the lift, from left to right.
fn signs(drawing: &Drawing) -> Vec<Sign> {
    let of = |mark: &Mark, id: &str| mark.part.as_ref().is_some_and(|part| part.as_str() == id);
    let mut found = Vec::new();
    let own: Vec<&Mark> = drawing
        .marks
        .iter()
        .filter(|mark| of(mark, "lift-run") || of(mark, "lift"))
        .collect();
    let corner = |shape: &Shape| match shape {
        Shape::Area {
            corners,
            edge: Some(_),
            ..
        } if corners.len() == 3 => corners.first().copied(),
        _ => None,
    };
    for pair in own.windows(2) {
        let [a, b] = pair else { continue };
        match (&a.shape, corner(&a.shape), &b.shape, corner(&b.shape)) {
            (Shape::Circle { centre, .. }, _, _, _) if of(a, "lift") => {
                found.push(("pump", centre.x));
            }
            (_, Some(first), _, Some(second)) if first == second => found.push(("valve", first.x)),
            (_, Some(tip), Shape::Line { points, .. }, _) if points.len() == 2 => {
                found.push(("check", tip.x));
            }
            _ => {}
        }
    }
    found.sort_by(|a, b| a.1.total_cmp(&b.1));
    found
}

/// Section, plan and grade line of a layout.
fn drawn(layout: &Layout) -> [Drawing; 3] {
    let case = Case::along(layout.clone(), &["lift-run"]);
    [
        super::section::case::drawn(layout).drawing,
        super::plan::case::drawn(layout).drawing,
        case.drawn().drawing,
    ]
}

fn assert_order(layout: &Layout, wanted: &[&str]) {
    let names = ["section", "plan", "grade line"];
    for (drawing, name) in drawn(layout).iter().zip(names) {
        let found: Vec<&str> = signs(drawing).iter().map(|sign| sign.0).collect();
        assert_eq!(found, wanted, "{name}");
    }
}

fn suction(length_m: f64) -> Option<Suction> {
    Some(Suction {
        elevation_m: Z_M,
        length_m,
        total_k: 0.0,
    })
}

/// A valve beside the vessel that the pump draws from, a check valve and a valve of which nobody said where they are.
fn usual(run: &mut Run, end: RunEnd) {
    let mut first = valve("ball", 1.0);
    first.near = Some(end);
    run.valves = vec![first, valve("ball", 1.0)];
    run.check_valve = run.pump.as_ref().map(|pump| pump.pushes);
}

const USUAL: [&str; 4] = ["valve", "pump", "check", "valve"];

#[test]
fn suction_valve_pump_check_valve_and_valve_stand_in_that_order_in_all_drawings() {
    assert_order(&layout(|run| usual(run, RunEnd::From)), &USUAL);
    let with_suction = layout(|run| {
        usual(run, RunEnd::From);
        run.pump.as_mut().unwrap().suction = suction(3.0);
    });
    assert_order(&with_suction, &USUAL);
    let far = layout(|run| {
        usual(run, RunEnd::From);
        let mut last = valve("ball", 1.0);
        last.near = Some(RunEnd::To);
        run.valves.push(last);
    });
    assert_order(&far, &["valve", "pump", "check", "valve", "valve"]);
}

#[test]
fn a_pump_that_pushes_against_the_run_has_what_it_draws_through_on_its_own_side() {
    let turned = layout(|run| {
        std::mem::swap(&mut run.from, &mut run.to);
        run.pump.as_mut().unwrap().pushes = Direction::Backward;
        usual(run, RunEnd::To);
    });
    assert_order(&turned, &USUAL);
    let away = layout(|run| {
        run.pump.as_mut().unwrap().pushes = Direction::Backward;
        usual(run, RunEnd::To);
    });
    let from_the_right: Vec<&str> = USUAL.iter().rev().copied().collect();
    for (drawing, name) in drawn(&away).iter().zip(["section", "plan"]) {
        let found: Vec<&str> = signs(drawing).iter().map(|sign| sign.0).collect();
        assert_eq!(found, from_the_right, "{name}");
    }
}

#[test]
fn distances_that_were_said_are_kept_and_the_pump_is_behind_its_suction_pipe() {
    let stations_m = [0.8, 2.0, 4.0, 6.5];
    let measured = layout(|run| {
        let at = |kind: &str, at_m: f64| {
            let mut one = valve(kind, 1.0);
            one.at_m = Some(at_m);
            one
        };
        run.valves = vec![
            at("ball", stations_m[0]),
            at("swing-check-straight", stations_m[2]),
            at("ball", stations_m[3]),
        ];
        run.pump.as_mut().unwrap().suction = suction(stations_m[1]);
    });
    assert_order(&measured, &USUAL);
    for drawing in drawn(&measured) {
        let found = signs(&drawing);
        let (first, last) = (found[0].1, found[3].1);
        let whole_m = stations_m[3] - stations_m[0];
        for (sign, wanted_m) in found.iter().zip(stations_m) {
            let at_m = stations_m[0] + (sign.1 - first) / (last - first) * whole_m;
            assert!((at_m - wanted_m).abs() < 0.15, "{sign:?} {wanted_m}");
        }
    }
}

#[test]
fn the_line_lifts_where_the_pump_stands() {
    let layout = layout(|run| {
        usual(run, RunEnd::From);
        // A pump that finds no resistance lifts next to nothing.
        run.total_k = Some(60.0);
        run.to.opening = Some(fallwright::layout::Opening::Submerged {
            lip_m: None,
            bore_m: None,
        });
        run.from.opening = run.to.opening.clone();
    });
    let case = Case::along(layout, &["lift-run"]);
    let mut legs = case.profile.legs.iter();
    let leg = legs.find(|leg| leg.run.as_str() == "lift-run").unwrap();
    let pump_m = leg.pump_m().unwrap() - leg.shift_m;
    let steps: Vec<(f64, f64)> = leg
        .points
        .windows(2)
        .filter(|pair| (pair[1].distance_m - pair[0].distance_m).abs() < 1e-9)
        .filter(|pair| pair.iter().all(|point| point.energy_m.is_some()))
        .map(|pair| {
            let lift_m = pair[1].energy_m.unwrap() - pair[0].energy_m.unwrap();
            (pair[0].distance_m, lift_m)
        })
        .filter(|step| step.1.abs() > 1e-6)
        .collect();
    dbg!(&case.report.pumps, &leg.points, &case.report.vessels);
    let head_m = case.report.pumps[0].head_m;
    let [step] = steps[..] else {
        panic!("{steps:?}")
    };
    assert!((step.0 - pump_m).abs() < 1e-9 && (step.1 - head_m).abs() < 1e-9);
    // Moved along, the line keeps its fall: it begins and ends where the law has it.
    let ends = [leg.points.first(), leg.points.last()].map(|point| point.unwrap());
    let fall_m = ends[0].energy_m.unwrap() + head_m - ends[1].energy_m.unwrap();
    assert!(fall_m > 0.0, "{fall_m}");
}
