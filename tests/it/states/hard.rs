//! Hard cases by name, each in all six states. Others have their own places: two pumps in opposition and a
//! tiny vessel after a big pump in `pumps.rs`; equal levels, a ring of equalisers, a run without length, a shut
//! valve, a level at its crest, two kilometres, a layout in pieces and a vessel without an opening in
//! `limits.rs`; a start that loses water for good in `six.rs`; a drowned upstand among the worked layouts.

use super::{layout, near};
use crate::networks::{flow, level, solved};
use fallwright::catalogue::Catalogue;
use fallwright::evaluate::{Evaluation, evaluate};
use fallwright::finding::Code;
use fallwright::layout::{CurveForm, Direction, Layout};
use fallwright::state::State;

/// All six states, solved and closed.
fn all(layout: &Layout) -> Evaluation {
    let found = evaluate(layout, Catalogue::builtin(), &State::ALL);
    assert!(found.unsolved.is_empty(), "{:?}", found.unsolved);
    for report in &found.states {
        assert!(report.converged, "{:?}", report.state);
        let error_m3 = report
            .course
            .as_ref()
            .map_or(0.0, |course| course.volume_error_m3);
        assert!(
            error_m3.abs() <= 1e-6,
            "{:?}: {error_m3:e} m³",
            report.state
        );
    }
    found
}

/// A pipe that is said to end under water, at a fixed level that stands under its lip: nothing comes back through it,
/// and the bed rises until it runs over that lip.
#[test]
fn regress_an_end_under_water_whose_lip_stands_over_it_is_solved() {
    for (lip_m, make_up_m3_s) in [(1.06, 0.0), (1.06, 1.4e-3), (1.2, 1.4e-3), (3.0, 1.4e-3)] {
        let drawn = layout(&format!(
            "vessels: [(id: \"bed\", shape: prism(area_m2: 4), floor_m: 0, rim_m: 4, fill_m: 0.8, \
               rim_perimeter_m: 0, make_up_m3_s: {make_up_m3_s:?})],\
             fixed: [(id: \"canal\", role: waste, level_m: 1.05)],\
             runs: [(id: \"stand\", from: (at: \"bed\", opening: upstand(crest_m: 0.8)), \
               to: (at: \"canal\", opening: submerged(lip_m: {lip_m:?})), \
               pipe: own(bore_m: 0.05), length_m: 2.4)]"
        ));
        let found = all(&drawn);
        let rest = found.state(State::Rest).unwrap();
        near(flow(rest, "stand"), make_up_m3_s, 1e-9);
        let level_m = level(rest, "bed");
        if make_up_m3_s == 0.0 {
            near(level_m, 0.8, 1e-9);
        } else {
            assert!(
                level_m > lip_m && level_m < lip_m + 0.2,
                "{level_m} m over {lip_m} m"
            );
        }
    }
}

/// A pond that comes to its rim only by the last film over a crest: what goes over is told, at the end of the course.
#[test]
fn regress_a_pond_that_spills_in_the_last_approach_to_rest_says_so() {
    let film_m3 = 0.02 * 2.0;
    let (pond_m2, over_m3) = (40.0, 4e-5);
    let rim_m = (film_m3 - over_m3) / pond_m2;
    let drawn = layout(&format!(
        "vessels: [\
           (id: \"tank\", shape: prism(area_m2: 2), floor_m: 0.5, rim_m: 1.5, fill_m: 1.02),\
           (id: \"pond\", shape: prism(area_m2: {pond_m2:?}), floor_m: -1, rim_m: {rim_m:?}, fill_m: 0, \
             rim_perimeter_m: 20)],\
         runs: [(id: \"drain\", from: (at: \"tank\", opening: upstand(crest_m: 1.0)), \
           to: (at: \"pond\", opening: mouth(lip_m: 0.9, turned: down, air_gap: true)), \
           pipe: own(bore_m: 0.05), length_m: 1)]"
    ));
    let found = all(&drawn);
    let rest = found.state(State::Rest).unwrap();
    let course = rest.course.as_ref().unwrap();
    let pond = course.vessels.iter().find(|one| one.id.as_str() == "pond");
    let pond = pond.unwrap();
    assert!(pond.highest_m < rim_m, "it was seen at its rim");
    near(pond.spilled_m3, over_m3, 1e-7);
    assert_eq!(pond.first_spill_s, Some(course.time_s));
}

/// Side holes whose orifice coefficient is so small that the orifice never catches up with the critical form.
#[test]
fn regress_side_holes_with_a_small_orifice_coefficient_are_solved() {
    for orifice in [0.02, 0.1, 0.2, 0.3, 0.38] {
        let mut drawn = crate::networks::read("layouts/three-drains.ron");
        drawn.coefficients.orifice = orifice;
        let found = all(&drawn);
        let rest = found.state(State::Rest).unwrap();
        let out = ["a", "b", "c"].map(|run| flow(rest, run));
        near(out.iter().sum(), 0.0065, 1e-9);
        assert!(out[2] > 1e-4, "C_o {orifice}: {out:?}");
    }
}

/// Two beds over a sump whose upstands meet in a joint; only the first is fed.
fn two_into_one(fill_m: f64) -> Layout {
    layout(&format!(
        "vessels: [\
           (id: \"sump\", shape: prism(area_m2: 1), floor_m: 0, rim_m: 1, fill_m: 0.8),\
           (id: \"a\", shape: prism(area_m2: 1), floor_m: 1, rim_m: 1.6, fill_m: {fill_m:?}),\
           (id: \"b\", shape: prism(area_m2: 1), floor_m: 1, rim_m: 1.6, fill_m: {fill_m:?})],\
         joints: [(id: \"cross\", elevation_m: 1.05)],\
         runs: [\
           (id: \"lift\", from: (at: \"sump\", opening: mouth(lip_m: 0.1, turned: down)), \
            to: (at: \"a\", opening: mouth(lip_m: 1.7, turned: down, air_gap: true)), pipe: own(bore_m: 0.05), \
            length_m: 3, check_valve: forward, pump: (id: \"pump\", curve: power(h0_m: 3, c: 5.0e5, n: 2))),\
           (id: \"from-a\", from: (at: \"a\", opening: upstand(crest_m: 1.4)), to: (at: \"cross\"), pipe: own(bore_m: 0.07), length_m: 1),\
           (id: \"from-b\", from: (at: \"b\", opening: upstand(crest_m: 1.4)), to: (at: \"cross\"), pipe: own(bore_m: 0.07), length_m: 1),\
           (id: \"down\", from: (at: \"cross\"), to: (at: \"sump\", opening: mouth(lip_m: 0.9, turned: down, air_gap: true)), pipe: own(bore_m: 0.07), length_m: 1)]"
    ))
}

#[test]
fn all_runs_of_a_joint_dry() {
    let found = all(&two_into_one(1.3));
    let head = |state| found.state(state).unwrap().joints[0].head_m;
    assert_eq!(head(State::Rest), None);
    // The first bed runs over once it is full, and its water does not climb into the second.
    assert!(head(State::Running).unwrap() < 1.4);
    let running = found.state(State::Running).unwrap();
    near(level(running, "b"), 1.3, 1e-9);
    near(flow(running, "from-a"), flow(running, "lift"), 1e-9);
    assert_eq!(flow(running, "from-b"), 0.0);
    // After a stop all are dry again, but for what still creeps over the crest.
    assert!(flow(found.state(State::Stopped).unwrap(), "from-a").abs() < 1e-7);
}

#[test]
fn freezing_and_hot_water_fresh_and_salt() {
    let mut before = 0.0;
    for temperature_c in [0.0, 20.0, 40.0] {
        for salinity_g_kg in [0.0, 35.0] {
            let mut layout = two_into_one(1.4);
            layout.water.temperature_c = temperature_c;
            layout.water.salinity_g_kg = salinity_g_kg;
            let found = all(&layout);
            let lifted = flow(found.state(State::Running).unwrap(), "lift");
            assert!(lifted > 1e-4);
            if salinity_g_kg == 0.0 {
                // Warm water is thinner.
                assert!(lifted > before, "{temperature_c} °C: {lifted}");
                before = lifted;
            }
        }
    }
}

/// A tank that lets go through a level drain with its end in air.
fn level_drain(inflow_m3_s: f64) -> Layout {
    layout(&format!(
        "vessels: [(id: \"tank\", shape: prism(area_m2: 0.8), floor_m: 0, rim_m: 1, fill_m: 0.5, make_up_m3_s: {inflow_m3_s:e})],\
         fixed: [(id: \"ditch\", role: waste, level_m: -1)],\
         runs: [(id: \"drain\", from: (at: \"tank\", opening: side_hole(invert_m: 0.3)), \
           to: (at: \"ditch\", opening: mouth(lip_m: 0.3)), pipe: own(bore_m: 0.104, roughness_m: 1.5e-6), length_m: 3)]"
    ))
}

#[test]
fn a_level_drain_at_rest_at_a_trickle_and_at_a_stream() {
    let still = all(&level_drain(0.0));
    near(level(still.state(State::Rest).unwrap(), "tank"), 0.3, 1e-3);
    let mut before_m = 0.3;
    for (inflow_m3_s, least_m, most_m) in [
        (1e-9, 0.0, 1e-3),
        (1e-6, 1e-4, 5e-3),
        (1e-4, 5e-3, 0.03),
        // The water surface at the upper end is 85 mm over the invert by the march; the entrance comes on top.
        (4e-3, 0.085, 0.12),
    ] {
        let report = solved(&level_drain(inflow_m3_s), State::Running);
        let level_m = level(&report, "tank");
        assert!(
            level_m > before_m && (least_m..most_m).contains(&(level_m - 0.3)),
            "{inflow_m3_s}: {level_m}"
        );
        near(
            flow(&report, "drain"),
            inflow_m3_s,
            1e-9 + 1e-6 * inflow_m3_s,
        );
        before_m = level_m;
    }
}

/// What a drain with air over its water loses is what its grade falls: from the level in the tank to critical depth
/// over the lip in air, here from its definition, Q²·B = g·A³.
#[test]
fn a_drain_with_air_over_its_water_loses_what_its_grade_falls() {
    for flow_m3_s in [5e-4, 2e-3, 4e-3_f64] {
        let report = solved(&level_drain(flow_m3_s), State::Running);
        let drain = &report.runs[0];
        let tail_m = level(&report, "tank") - drain.loss_m - drain.free_drop_m;
        let critical_m = critical_depth_m(flow_m3_s, 0.104);
        near(tail_m - 0.3, critical_m, 0.01 * critical_m);
        assert!(drain.loss_m > 0.0);
    }
}

fn critical_depth_m(flow_m3_s: f64, bore_m: f64) -> f64 {
    let (mut low, mut high) = (0.0, std::f64::consts::PI);
    for _ in 0..60 {
        let half = 0.5 * (low + high);
        let area_m2 = bore_m.powi(2) / 4.0 * (half - half.sin() * half.cos());
        let width_m = bore_m * half.sin();
        if flow_m3_s.powi(2) * width_m > 9.80665 * area_m2.powi(3) {
            low = half;
        } else {
            high = half;
        }
    }
    0.5 * bore_m * (1.0 - low.cos())
}

#[test]
fn a_pump_that_is_far_too_strong_and_one_that_is_far_too_weak() {
    for (h0_m, runs) in [(0.5, false), (300.0, true)] {
        let mut layout = two_into_one(1.4);
        let curve = CurveForm::Power {
            h0_m,
            c: 5.0e5,
            n: 2.0,
        };
        layout.runs[0].pump.as_mut().unwrap().curve = curve;
        let found = all(&layout);
        let starting = found.state(State::Starting).unwrap();
        let moved = starting.course.as_ref().unwrap().vessels[0].lowest_m < 0.8 - 1e-3;
        assert_eq!(moved, runs, "{h0_m} m");
    }
}

#[test]
fn more_drawn_at_a_joint_than_any_run_brings() {
    let mut layout = two_into_one(1.4);
    layout.joints[0].make_up_m3_s = -0.3;
    let found = evaluate(&layout, Catalogue::builtin(), &State::ALL);
    assert!(found.unsolved.is_empty(), "{:?}", found.unsolved);
    let mut codes = found.findings.iter().map(|one| one.code);
    assert!(codes.any(|code| code == Code::CannotDraw));
}

#[test]
fn more_let_in_at_a_joint_than_any_run_takes() {
    let mut layout = two_into_one(1.4);
    layout.joints[0].make_up_m3_s = 3.0e-4;
    for run in &mut layout.runs[1..3] {
        run.check_valve = Some(Direction::Forward);
    }
    layout.runs[3].check_valve = Some(Direction::Backward);
    let found = evaluate(&layout, Catalogue::builtin(), &State::ALL);
    assert!(found.unsolved.is_empty(), "{:?}", found.unsolved);
    let mut codes = found.findings.iter().map(|one| one.code);
    assert!(codes.any(|code| code == Code::TooMuchForJoint));
}

/// A cone that runs dry into a tank far below it.
pub(super) fn cone_over_a_tank() -> Layout {
    layout(
        "vessels: [\
         (id: \"v1\", shape: cone_bottom(diameter_m: 0.28, cone_height_m: 0.576), floor_m: 60, rim_m: 61, fill_m: 60.4), \
         (id: \"v2\", shape: prism(area_m2: 2), floor_m: 0, rim_m: 3, fill_m: 1)], \
         runs: [(id: \"r\", from: (at: \"v1\", opening: submerged()), to: (at: \"v2\", opening: submerged()), \
         pipe: own(bore_m: 0.152), length_m: 1.8)]",
    )
}

/// The tip of a cone empties in less than a step, and a drop there is millimetres.
#[test]
fn a_vessel_that_ran_dry_stands_at_its_floor() {
    let report = solved(&cone_over_a_tank(), State::Rest);
    let (dry, lower) = (&report.vessels[0], &report.vessels[1]);
    assert_eq!(dry.level_m, Some(60.0));
    // A third of the cone, what stood in it by the cube of its depth, over 2 m².
    let fell_m3 = std::f64::consts::PI * 0.14_f64.powi(2) * 0.576 / 3.0 * (0.4 / 0.576_f64).powi(3);
    super::near(lower.level_m.unwrap(), 1.0 + fell_m3 / 2.0, 1e-7);
}
