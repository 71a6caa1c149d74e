//! Pumps where they are awkward.

use super::redrawn::redrawn;
use super::six::lift;
use super::{layout, near, running, sound};
use crate::networks::{flow, head, level, solved};
use fallwright::catalogue::Catalogue;
use fallwright::evaluate::system_curve;
use fallwright::layout::{EfficiencyPoint, Layout, NpshPoint, RunEnd, SiphonBreak, Suction};
use fallwright::state::State;
use fallwright::states::report::PumpReport;

fn pump(id: &str, h0_m: f64, pushes: &str) -> String {
    format!("pump: (id: \"{id}\", pushes: {pushes}, curve: power(h0_m: {h0_m:?}, c: 2.0e5, n: 2))")
}

/// Two pumps one behind the other between equal levels, the second pushing back.
fn opposed(first_m: f64, second_m: f64) -> fallwright::states::report::StateReport {
    running(&format!(
        "fixed: [(id: \"a\", level_m: 0), (id: \"b\", level_m: 0)], joints: [(id: \"j\", elevation_m: 0)], \
         runs: [\
         (id: \"p\", from: (at: \"a\"), to: (at: \"j\"), pipe: own(bore_m: 0.04), length_m: 3, {}),\
         (id: \"q\", from: (at: \"j\"), to: (at: \"b\"), pipe: own(bore_m: 0.04), length_m: 3, {}),]",
        pump("one", first_m, "forward"),
        pump("two", second_m, "backward"),
    ))
}

#[test]
fn prop_equal_pumps_in_opposition_hold_each_other() {
    let report = opposed(5.0, 5.0);
    near(flow(&report, "p"), 0.0, 1e-9);
    near(head(&report, "j"), 5.0, 1e-6);
}

#[test]
fn prop_the_stronger_pump_drives_the_weaker_backward() {
    let report = opposed(6.0, 2.0);
    assert!(flow(&report, "p") > 1e-3);
    near(flow(&report, "p"), flow(&report, "q"), 1e-9);
    let turned = opposed(2.0, 6.0);
    near(flow(&turned, "p"), -flow(&report, "p"), 1e-9);
}

#[test]
fn prop_two_pumps_into_one_joint_share_by_strength() {
    let report = running(&format!(
        "fixed: [(id: \"a\", level_m: 0), (id: \"b\", level_m: 0), (id: \"up\", level_m: 2)], \
         joints: [(id: \"j\", elevation_m: 0)], \
         runs: [\
         (id: \"p\", from: (at: \"a\"), to: (at: \"j\"), pipe: own(bore_m: 0.04), length_m: 3, check_valve: forward, {}),\
         (id: \"q\", from: (at: \"b\"), to: (at: \"j\"), pipe: own(bore_m: 0.04), length_m: 3, check_valve: forward, {}),\
         (id: \"r\", from: (at: \"j\"), to: (at: \"up\"), pipe: own(bore_m: 0.04), length_m: 3),]",
        pump("one", 6.0, "forward"),
        pump("two", 2.1, "forward"),
    ));
    // The weak one shuts off under the head that the strong one makes; its check valve holds.
    assert_eq!(flow(&report, "q"), 0.0);
    near(flow(&report, "p"), flow(&report, "r"), 1e-9);
}

/// 10 m² of sump, and a header of 0.02 m² that would be full in less than a second.
#[test]
fn prop_a_tiny_vessel_after_a_big_pump() {
    let report = running(
        "vessels: [\
         (id: \"sump\", shape: prism(area_m2: 10), floor_m: 0, rim_m: 2, fill_m: 1),\
         (id: \"header\", shape: prism(area_m2: 0.02), floor_m: 2, rim_m: 4, fill_m: 2),], \
         runs: [\
         (id: \"lift\", from: (at: \"sump\", opening: mouth(lip_m: 0.1, turned: down)), \
          to: (at: \"header\", opening: mouth(lip_m: 3.9, turned: up, air_gap: true)), pipe: own(bore_m: 0.1), length_m: 4, \
          pump: (id: \"pump\", curve: power(h0_m: 8, c: 1.0e4, n: 2))),\
         (id: \"drain\", from: (at: \"header\", opening: upstand(crest_m: 2.4, bore_m: 0.2)), \
          to: (at: \"sump\", opening: mouth(lip_m: 1.8, turned: down)), pipe: own(bore_m: 0.15), length_m: 2),]",
    );
    let through = flow(&report, "lift");
    assert!(through > 0.01, "{through}");
    near(flow(&report, "drain"), through, 1e-9);
    assert!(level(&report, "header") > 2.4);
    let gone = 10.0 * (1.0 - level(&report, "sump")) - report.in_runs_m3;
    assert!(report.in_runs_m3 > 0.03, "{}", report.in_runs_m3);
    near(0.02 * (level(&report, "header") - 2.0), gone, 1e-6);
}

/// What the pump gives over the lift is what its run loses, whichever way round that is drawn.
fn is_spent(title: &str, pump: &PumpReport) {
    let lost_m: f64 = pump.losses.iter().map(|item| item.head_m).sum();
    let over_m = pump.head_m - pump.static_m;
    assert!(
        (lost_m - over_m).abs() < 1e-5 * (1.0 + over_m),
        "{title}, {}: {over_m} m over the lift, {lost_m} m lost",
        pump.id
    );
}

#[test]
fn prop_the_head_of_a_pump_is_spent_on_its_lift_and_its_losses() {
    let mut count = 0;
    for layout in sound() {
        let back = redrawn(&layout);
        for layout in [layout, back] {
            let report = solved(&layout, State::Running);
            for pump in report.pumps.iter().filter(|pump| pump.flow_m3_s > 1e-6) {
                is_spent(&layout.title, pump);
                count += 1;
            }
        }
    }
    assert!(count >= 4, "{count}");
}

/// A pump that draws over a wall, and a drain back.
fn over_a_wall() -> Layout {
    layout(
        "vessels: [(id: \"sump\", shape: prism(area_m2: 1), floor_m: 0, rim_m: 1, fill_m: 0.5), \
           (id: \"header\", shape: prism(area_m2: 0.5), floor_m: 2, rim_m: 3, fill_m: 2.2)], \
         runs: [(id: \"lift\", from: (at: \"sump\", opening: raised_intake(intake_m: 0.2, crest_m: 0.7)), \
           to: (at: \"header\", opening: mouth(lip_m: 2.05, turned: down)), pipe: own(bore_m: 0.04), \
           length_m: 4, check_valve: forward, pump: (id: \"pump\", curve: power(h0_m: 5, c: 5.0e5, n: 2))), \
           (id: \"drain\", from: (at: \"header\", opening: upstand(crest_m: 2.4)), \
           to: (at: \"sump\", opening: mouth(lip_m: 0.9, turned: down)), pipe: own(bore_m: 0.06), length_m: 2)]",
    )
}

#[test]
fn an_intake_is_the_same_whichever_way_its_run_is_drawn() {
    let drawn = over_a_wall();
    let back = redrawn(&drawn);
    let [one, other] =
        [&drawn, &back].map(|layout| solved(layout, State::Starting).course.unwrap());
    let (one, other) = (&one.suctions[0], &other.suctions[0]);
    assert_eq!((&one.vessel, one.lip_m), (&other.vessel, other.lip_m));
    near(one.lowest_m, other.lowest_m, 1e-4);
    assert_eq!(one.vessel.as_str(), "sump");
}

#[test]
fn a_hole_lets_out_the_same_whichever_way_its_run_is_drawn() {
    let mut drawn = over_a_wall();
    // Over the crest, or the pump draws nothing.
    drawn.vessels[0].fill_m = 0.9;
    drawn.runs[0].siphon_break = Some(SiphonBreak {
        height_m: 2.2,
        bore_m: 0.004,
        near: RunEnd::To,
    });
    let report = solved(&drawn, State::Running);
    let [one, other] = [&report, &solved(&redrawn(&drawn), State::Running)]
        .map(|report| report.runs[0].through_hole_m3_s.unwrap());
    near(one, other, 1e-6 * one);
    // Under water and 0.15 m up a pipe of 4 m: the friction on so much of it is the head on the hole.
    let levels: Vec<_> = report.vessels.iter().map(|one| one.level_m).collect();
    assert!(levels[1] > Some(2.2), "{levels:?} {:?}", report.pumps[0]);
    let losses = &report.pumps[0].losses;
    let pipe = losses.iter().find(|loss| loss.what == "pipe");
    let head_m = pipe.unwrap_or_else(|| panic!("{losses:?}")).head_m * 0.15 / 4.0;
    let area_m2 = std::f64::consts::PI * 0.004 * 0.004 / 4.0;
    let wanted = drawn.coefficients.orifice * area_m2 * (2.0 * 9.80665 * head_m).sqrt();
    near(one, wanted, 0.02 * wanted);
}

#[test]
fn the_power_drawn_is_by_the_efficiency_between_two_points() {
    let mut layout = lift(0.9, "");
    let pump = layout.runs[0].pump.as_mut().unwrap();
    pump.efficiency = [(0.0, 0.2), (0.004, 0.6)]
        .map(|(flow_m3_s, efficiency)| EfficiencyPoint {
            flow_m3_s,
            efficiency,
        })
        .to_vec();
    let report = solved(&layout, State::Running);
    let pump = &report.pumps[0];
    assert!(pump.flow_m3_s > 1e-3 && pump.flow_m3_s < 4e-3);
    let efficiency = 0.2 + 0.4 * pump.flow_m3_s / 0.004;
    // Fresh water at 20 °C, g by standard.
    let wanted_w = 998.2 * 9.80665 * pump.flow_m3_s * pump.head_m / efficiency;
    near(pump.power_w.unwrap(), wanted_w, 1e-3 * wanted_w);
}

/// A pump without a pipe before it has the air and the water over it, less what the vapour takes.
#[test]
fn the_head_at_the_suction_of_a_pump_is_by_its_height() {
    for elevation_m in [0.2, 0.7] {
        let mut layout = lift(0.9, "");
        layout.runs[0].pump.as_mut().unwrap().suction = Some(Suction {
            elevation_m,
            length_m: 0.0,
            total_k: 0.0,
        });
        let report = solved(&layout, State::Running);
        // 101 325 Pa of air; 2339 Pa of vapour and 998.2 kg/m³ at 20 °C by IAPWS (WP-PV-20, WP-RHO-20).
        let air_m = (101_325.0 - 2339.0) / (998.2 * 9.80665);
        let wanted_m = air_m + level(&report, "sump") - elevation_m;
        near(report.pumps[0].npsh_available_m.unwrap(), wanted_m, 5e-3);
    }
}

/// Like its head what a pump asks for goes with the square of the speed, as its flow with the speed.
#[test]
fn what_a_pump_asks_for_is_read_off_its_sheet_at_its_flow_over_its_speed() {
    for speed in [1.0, 0.9] {
        let mut layout = lift(0.9, "");
        let pump = layout.runs[0].pump.as_mut().unwrap();
        pump.speed = speed;
        let points = [(0.0, 1.0), (0.01, 6.0)];
        pump.npsh_required = points
            .map(|(flow_m3_s, npsh_m)| NpshPoint { flow_m3_s, npsh_m })
            .to_vec();
        let report = &solved(&layout, State::Running).pumps[0];
        assert!(report.flow_m3_s > 1e-4, "{report:?}");
        let wanted_m = (1.0 + 500.0 * report.flow_m3_s / speed) * speed * speed;
        near(report.npsh_required_m.unwrap(), wanted_m, 1e-9);
        let still = &solved(&layout, State::Rest).pumps[0];
        assert_eq!(still.npsh_required_m, None);
    }
    let unknown = lift(0.9, "");
    assert_eq!(
        solved(&unknown, State::Running).pumps[0].npsh_required_m,
        None
    );
}

/// Under water it is the water over its intake that counts, whatever stands before it.
#[test]
fn a_pump_under_water_has_the_water_over_its_intake_to_draw_with() {
    let air_m = (101_325.0 - 2339.0) / (998.2 * 9.80665);
    for (suction, wet) in [(false, None), (true, Some(true))] {
        let mut layout = lift(0.9, "");
        let pump = layout.runs[0].pump.as_mut().unwrap();
        pump.wet = wet;
        pump.suction = suction.then_some(Suction {
            elevation_m: 0.7,
            length_m: 1.0,
            total_k: 2.0,
        });
        let report = solved(&layout, State::Running);
        // Its intake is a mouth at 0.1 m.
        let wanted_m = air_m + level(&report, "sump") - 0.1;
        near(report.pumps[0].npsh_available_m.unwrap(), wanted_m, 5e-3);
    }
    let mut dry = lift(0.9, "");
    dry.runs[0].pump.as_mut().unwrap().wet = Some(false);
    assert_eq!(solved(&dry, State::Running).pumps[0].npsh_available_m, None);
}

/// The lift is what the run asks for without flow, so that it is the same with another pump at the same levels.
#[test]
fn the_static_lift_is_the_head_below_which_nothing_flows() {
    let lakes = |h0_m: f64| {
        layout(&format!(
            "fixed: [(id: \"low\", level_m: 0), (id: \"high\", level_m: 0)], \
             runs: [(id: \"riser\", from: (at: \"low\"), \
               to: (at: \"high\", opening: mouth(lip_m: 2.0)), pipe: own(bore_m: 0.05), length_m: 5, \
               pump: (id: \"pump\", curve: power(h0_m: {h0_m}, c: 5.0e5, n: 2)))]"
        ))
    };
    // A horizontal mouth that runs full lets nothing out until the grade is half a bore over its invert.
    let static_m = |h0_m: f64| solved(&lakes(h0_m), State::Running).pumps[0].static_m;
    for h0_m in [2.02, 2.3, 4.0, 6.0] {
        near(static_m(h0_m), 2.025, 1e-9);
    }
    assert_eq!(flow(&solved(&lakes(2.02), State::Running), "riser"), 0.0);
    assert!(flow(&solved(&lakes(2.03), State::Running), "riser") > 1e-5);
    is_spent("lakes", &solved(&lakes(4.0), State::Running).pumps[0]);
    let one = system_curve(&lakes(4.0), Catalogue::builtin(), &"pump".into(), &|| true).unwrap();
    near(one.clean[0].head_m, 2.025, 1e-9);
}
