//! Runs fill first: what is dry in them at rest is missing while they run, and comes back at a stop.

use super::{layout, near};
use crate::networks::level;
use fallwright::catalogue::Catalogue;
use fallwright::evaluate::{Evaluation, evaluate, preview};
use fallwright::layout::Layout;
use fallwright::state::State;
use fallwright::states::report::StateReport;
use std::f64::consts::PI;

/// A sump of 2 m², a tank of 0.5 m² that drains back through a short pipe, and a main between them.
fn lift(main: &str) -> Layout {
    layout(&format!(
        "vessels: [
            (id: \"sump\", shape: prism(area_m2: 2), floor_m: -0.6, rim_m: 0.4, fill_m: -0.2),
            (id: \"tank\", shape: prism(area_m2: 0.5), floor_m: 0.5, rim_m: 1.4, fill_m: 1.0)],
         runs: [
            (id: \"main\", from: (at: \"sump\", opening: submerged(lip_m: -0.55)), {main}
             pipe: own(bore_m: 0.057, roughness_m: 1.5e-6),
             pump: (id: \"pump\", curve: power(h0_m: 6, c: 1e6, n: 2))),
            (id: \"drain\", from: (at: \"tank\", opening: upstand(crest_m: 1.0)),
             to: (at: \"sump\", opening: mouth(lip_m: 0.2)),
             pipe: own(bore_m: 0.06, roughness_m: 1.5e-6), length_m: 0.1)]"
    ))
}

/// From (0, 0) along to the tank over corners (x, z), metres.
fn route(corners: &[(f64, f64)]) -> String {
    let corners = corners
        .iter()
        .map(|(x_m, z_m)| format!("(x_m: {x_m}, y_m: 0, z_m: {z_m})"));
    let corners: Vec<String> = corners.collect();
    format!(
        "to: (at: \"tank\", opening: mouth(lip_m: 1.3, turned: up, air_gap: true)), route: [{}],",
        corners.join(", ")
    )
}

fn all(layout: &Layout) -> Evaluation {
    let found = evaluate(layout, Catalogue::builtin(), &State::ALL);
    assert!(found.unsolved.is_empty(), "{:?}", found.unsolved);
    found
}

fn state(found: &Evaluation, state: State) -> &StateReport {
    let report = found.state(state).expect("solved");
    assert!(report.converged, "{state:?}");
    report
}

fn held_m3(report: &StateReport) -> f64 {
    report.water_m3() + report.in_runs_m3
}

fn out_of_runs_m3(found: &Evaluation) -> f64 {
    let course = state(found, State::Stopped).course.as_ref().unwrap();
    course.back.unwrap().in_runs_m3
}

const AREA_M2: f64 = PI / 4.0 * 0.057 * 0.057;

/// Continuity: what the main holds is missing from the sump while it runs.
#[test]
fn val_a_long_dry_main_fills_out_of_the_sump() {
    let found = all(&lift(&route(&[(0.0, 1.25), (60.0, 1.25)])));
    let (rest, running) = (state(&found, State::Rest), state(&found, State::Running));
    // The suction stands full up to the level of the sump at rest.
    let length_m = running.runs[0].length_m - 0.35;
    let in_drain_m3 = running.in_runs_m3 - AREA_M2 * length_m;
    assert!((0.0..3e-4).contains(&in_drain_m3), "{in_drain_m3}");
    near(held_m3(running), held_m3(rest), 1e-6);
    let tank_m3 = 0.5 * (level(running, "tank") - 1.0);
    let sump_m = -0.2 - (AREA_M2 * length_m + in_drain_m3 + tank_m3) / 2.0;
    near(level(running, "sump"), sump_m, 1e-5);
    // Stopped, all of it is back.
    let stopped = state(&found, State::Stopped);
    near(level(stopped, "sump"), -0.2, 2e-4);
    near(stopped.in_runs_m3, 0.0, 1e-6);
    near(out_of_runs_m3(&found), running.in_runs_m3, 1e-5);
}

#[test]
fn while_a_main_fills_nothing_comes_out_of_it() {
    let layout = lift(&route(&[(0.0, 1.25), (60.0, 1.25)]));
    let found = all(&layout);
    let running = state(&found, State::Running);
    let fills_s = running.in_runs_m3 / running.runs[0].flow_m3_s;
    let traced = fallwright::evaluate::AsBuilt::new(&layout, Catalogue::builtin())
        .and_then(|ground| {
            ground.trace(
                fallwright::states::InitialChange::Start,
                Some(2.0 * fills_s),
            )
        })
        .unwrap();
    let (_, tank) = &traced.levels_m[1];
    for (time_s, level_m) in traced.times_s.iter().zip(tank) {
        if *time_s < 0.9 * fills_s {
            assert!(*level_m <= 1.0 + 1e-9, "{time_s} s: {level_m}");
        }
        if *time_s > 1.2 * fills_s {
            assert!(*level_m > 1.01, "{time_s} s: {level_m}");
        }
    }
}

/// Over a hump the near side runs back, the far side on.
#[test]
fn the_far_side_of_a_hump_runs_on() {
    // Down to 1.4 m, and the way home to the tank.
    let far_m = 20.0_f64.hypot(0.2) + 50.0_f64.hypot(0.1);
    let found = all(&lift(&route(&[(0.0, 1.3), (30.0, 1.6), (50.0, 1.4)])));
    let running = state(&found, State::Running);
    let back_m3 = out_of_runs_m3(&found);
    // And the last drop to the mouth.
    let far_m3 = running.in_runs_m3 - back_m3;
    near(far_m3, AREA_M2 * far_m, AREA_M2 * 0.5);
    let stopped = state(&found, State::Stopped);
    near(held_m3(stopped), held_m3(running), 1e-6);
    // The tank lets go what came to it.
    near(level(stopped, "sump"), -0.2, 3e-4);
}

#[test]
fn a_low_point_keeps_its_water() {
    let sag = route(&[(0.0, 1.5), (10.0, 1.5), (20.0, 1.1), (30.0, 1.5)]);
    let found = all(&lift(&sag));
    let stopped = state(&found, State::Stopped);
    let sag_m3 = AREA_M2 * 2.0 * 10.0_f64.hypot(0.4);
    // Pipe under the height at which it would run over, by inverts.
    near(stopped.in_runs_m3, sag_m3, 0.02 * sag_m3);
    near(
        held_m3(stopped),
        held_m3(state(&found, State::Running)),
        1e-6,
    );
}

#[test]
fn a_check_valve_keeps_the_near_side() {
    let main = format!(
        "check_valve: forward, {}",
        route(&[(0.0, 1.3), (30.0, 1.6), (50.0, 1.4)])
    );
    let found = all(&lift(&main));
    let running = state(&found, State::Running);
    let stopped = state(&found, State::Stopped);
    near(out_of_runs_m3(&found), 0.0, 3e-4);
    let near_m = 30.0_f64.hypot(0.3) + 1.5;
    near(stopped.in_runs_m3, AREA_M2 * near_m, AREA_M2 * 0.5);
    near(held_m3(stopped), held_m3(running), 1e-6);
    assert!(level(stopped, "sump") < -0.2 - 0.03);
}

/// Two beds on one main: the chain fills as a whole, and all water is found again.
#[test]
fn a_main_with_branches_fills_and_empties() {
    let bed = |bed: &str| {
        format!("(id: \"{bed}\", shape: prism(area_m2: 1), floor_m: 0.5, rim_m: 1.0, fill_m: 0.7)")
    };
    let branch = |bed: &str, length_m: f64| {
        format!(
            "(id: \"to-{bed}\", from: (at: \"tee\"), to: (at: \"{bed}\", opening: mouth(lip_m: 1.1)),
              pipe: own(bore_m: 0.03), length_m: {length_m}),
             (id: \"from-{bed}\", from: (at: \"{bed}\", opening: upstand(crest_m: 0.7)),
              to: (at: \"sump\", opening: mouth(lip_m: 0.1)), pipe: own(bore_m: 0.06), length_m: 2)"
        )
    };
    let layout = layout(&format!(
        "vessels: [(id: \"sump\", shape: prism(area_m2: 1), floor_m: -0.6, rim_m: 0.2, fill_m: 0), {}, {}],
         joints: [(id: \"tee\", elevation_m: 1.2)],
         runs: [(id: \"rise\", from: (at: \"sump\", opening: submerged(lip_m: -0.55)), to: (at: \"tee\"),
                 pipe: own(bore_m: 0.04), length_m: 25, pump: (id: \"pump\", curve: power(h0_m: 5, c: 1e6, n: 2))),
                {}, {}]",
        bed("left"),
        bed("right"),
        branch("left", 3.0),
        branch("right", 12.0)
    ));
    let found = all(&layout);
    let [rest, running, stopped] =
        [State::Rest, State::Running, State::Stopped].map(|one| state(&found, one));
    // Drawn without corners it rises straight, from −0.55 m to its invert at the tee; up to 0 it is full at rest.
    let dry_m = 25.0 * 1.18 / (1.18 + 0.55);
    let main_m3 = PI / 4.0 * (0.04 * 0.04 * dry_m + 0.03 * 0.03 * 15.0);
    let in_drains_m3 = running.in_runs_m3 - main_m3;
    assert!((0.0..0.008).contains(&in_drains_m3), "{in_drains_m3}");
    near(held_m3(running), held_m3(rest), 1e-6);
    near(held_m3(stopped), held_m3(rest), 1e-6);
    near(level(stopped, "sump"), 0.0, 1e-3);
}

/// What is seen while something is dragged is what comes of it.
#[test]
fn the_preview_knows_what_runs_hold() {
    let layout = lift(&route(&[(0.0, 1.25), (60.0, 1.25)]));
    let found = all(&layout);
    let running = state(&found, State::Running);
    let seen = preview(&layout, Catalogue::builtin()).unwrap();
    near(level(&seen, "sump"), level(running, "sump"), 5e-4);
}

/// A float switch turns the pump on and off: its main runs back every time, and the water is found again.
#[test]
fn a_main_that_runs_back_between_strokes_keeps_the_books() {
    let layout = layout(
        "vessels: [
            (id: \"pit\", shape: prism(area_m2: 1), floor_m: 0, rim_m: 1.5, fill_m: 0.3, make_up_m3_s: 0.0002),
            (id: \"ditch\", shape: prism(area_m2: 50), floor_m: 1, rim_m: 4, fill_m: 1)],
         runs: [(id: \"main\", from: (at: \"pit\", opening: submerged(lip_m: 0.05)),
                 to: (at: \"ditch\", opening: mouth(lip_m: 2.5)), pipe: own(bore_m: 0.05), length_m: 30,
                 route: [(x_m: 0, y_m: 0, z_m: 2.6), (x_m: 25, y_m: 0, z_m: 2.55)],
                 pump: (id: \"pump\", curve: power(h0_m: 8, c: 1e6, n: 2),
                        float: (on_m: 0.9, off_m: 0.3)))]",
    );
    let found = evaluate(
        &layout,
        Catalogue::builtin(),
        &[State::Rest, State::Starting],
    );
    let starting = found.state(State::Starting).unwrap();
    let cycle = starting.cycle.as_ref().expect("a cycle");
    // Without what runs back a stroke would take up the level from 0.3 to 0.9 m only.
    let pit = &cycle.vessels[0];
    assert!(
        pit.lowest_m < 0.3 + 1e-3 && pit.highest_m > 0.9 - 1e-3,
        "{pit:?}"
    );
}
