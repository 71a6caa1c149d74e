//! Air at high points: what it holds back, what clears it, and the second outcome.

use super::{layout, rest, running};
use crate::networks::{flow, level, solved};
use fallwright::catalogue::Catalogue;
use fallwright::evaluate::{Evaluation, evaluate};
use fallwright::finding::{Code, Severity};
use fallwright::layout::Layout;
use fallwright::state::State;
use fallwright::states::report::{Outcome, StateReport};

/// A tank that is fed, with nothing but a pipe over its rim to drain it.
fn over_the_rim(more: &str) -> String {
    format!(
        r#"
  vessels: [(id: "tank", shape: prism(area_m2: 1.0), floor_m: 0.0, rim_m: 1.0, fill_m: 0.9, make_up_m3_s: 0.0004)],
  fixed: [(id: "ditch", role: waste, level_m: -3.0, place: (x_m: 2))],
  runs: [(id: "hose", from: (at: "tank", opening: mouth(lip_m: 0.1, turned: down)),
    to: (at: "ditch", opening: mouth(lip_m: -1.0, turned: down)), pipe: own(bore_m: 0.026),
    route: [(x_m: 0, y_m: 0, z_m: 4.0), (x_m: 1, y_m: 0, z_m: 4.0)]{more})],"#
    )
}

/// An inverted U between a tank and a pond, both ends under water.
fn inverted_u(corner: &str) -> String {
    format!(
        r#"
  vessels: [(id: "tank", shape: prism(area_m2: 1.0), floor_m: -0.2, rim_m: 2.0, fill_m: 0.4, make_up_m3_s: 0.0005)],
  fixed: [(id: "pond", role: waste, level_m: 0.5, place: (x_m: 0.3))],
  runs: [(id: "over", from: (at: "tank", opening: mouth(lip_m: 0.1, turned: down)),
    to: (at: "pond", opening: mouth(lip_m: 0.2, turned: down)), pipe: own(bore_m: 0.0409),
    route: [(x_m: 0, y_m: 0, z_m: 0.9), {corner}])],"#
    )
}

/// A pump that lifts over a high point; behind it the pipe dips before it rises into a tank.
fn lift_with_a_dip(head_m: f64, corner: &str) -> String {
    format!(
        r#"
  vessels: [(id: "sump", shape: prism(area_m2: 4.0), floor_m: -1.0, rim_m: 0.5, fill_m: 0.0),
    (id: "tank", shape: prism(area_m2: 1.0), floor_m: 0.4, rim_m: 1.6, fill_m: 0.8, place: (x_m: 8))],
  runs: [(id: "lift", from: (at: "sump", opening: mouth(lip_m: -0.8, turned: down)),
    to: (at: "tank", opening: mouth(lip_m: 1.4, turned: up, air_gap: true)), pipe: own(bore_m: 0.05),
    route: [(x_m: 0, y_m: 0, z_m: 1.5{corner}), (x_m: 1, y_m: 0, z_m: 1.5), (x_m: 4, y_m: 0, z_m: 0.2), (x_m: 8, y_m: 0, z_m: 0.2)],
    pump: (id: "pump", curve: power(h0_m: {head_m:?}, c: 4.0e6, n: 2))),
    (id: "drain", from: (at: "tank", opening: upstand(crest_m: 0.8)), to: (at: "sump", opening: mouth(lip_m: 0.3)),
    pipe: own(bore_m: 0.1), length_m: 8)],"#
    )
}

fn checked(layout: &Layout) -> Evaluation {
    evaluate(layout, Catalogue::builtin(), &[State::Rest, State::Running])
}

fn severity(evaluation: &Evaluation, code: Code) -> Option<Severity> {
    let found = evaluation.findings.iter().find(|one| one.code == code);
    found.map(|one| one.severity)
}

fn second(report: &StateReport) -> &StateReport {
    report.primed.as_deref().expect("a second outcome")
}

#[test]
fn a_siphon_that_nobody_filled_drains_nothing() {
    let layout = layout(&over_the_rim(""));
    let found = checked(&layout);
    let running = found.state(State::Running).unwrap();
    assert_eq!(running.outcome, Outcome::WithAir);
    // Over its top it would be a weir; the tank has spilled long before.
    assert!(level(running, "tank") > 4.0);
    assert_eq!(severity(&found, Code::Spills), Some(Severity::Problem));
    assert_eq!(
        severity(&found, Code::MayNeverPrime),
        Some(Severity::Problem)
    );
    // Filled by somebody it draws the tank down, until air comes in at its lip.
    let primed = second(running);
    assert!(level(primed, "tank") < 1.0);
}

#[test]
fn a_siphon_that_somebody_fills_is_told_primed_first() {
    let layout = layout(&over_the_rim(", starts_primed: true"));
    let found = checked(&layout);
    let resting = found.state(State::Rest).unwrap();
    assert!(
        level(resting, "tank") < 0.9,
        "it draws from the first second on"
    );
    assert_eq!(second(resting).outcome, Outcome::WithAir);
    assert!(
        level(second(resting), "tank") > 1.0 - 1e-6,
        "unfilled it spills"
    );
}

#[test]
fn a_vent_keeps_a_high_point_with_air() {
    let open = inverted_u("(x_m: 0.3, y_m: 0, z_m: 0.9, vented: true)");
    let shut = inverted_u("(x_m: 0.3, y_m: 0, z_m: 0.9)");
    let [vented, unvented] = [open, shut].map(|body| running(&body));
    assert!((level(&vented, "tank") - level(&unvented, "tank")).abs() < 1e-6);
    assert!(vented.primed.is_none());
    assert_eq!(second(&unvented).outcome, Outcome::Primed);
    // Full it needs little more than the level behind it.
    let primed_m = level(second(&unvented), "tank");
    assert!(primed_m > 0.5 && primed_m < 0.6, "{primed_m}");
}

/// Over the falling leg the pump lifts to the high point, and over the air that the dip shuts in: 1.5 m and the dip
/// under the level of the outlet, by hand.
#[test]
fn air_shut_in_behind_a_dip_stops_a_weak_pump() {
    let stopped = layout(&lift_with_a_dip(2.0, ""));
    let found = checked(&stopped);
    let running = found.state(State::Running).unwrap();
    assert!(flow(running, "lift").abs() < 1e-9);
    let one = found.findings.iter().find(|one| one.code == Code::AirLock);
    assert_eq!(one.expect("told").severity, Severity::Problem);
    // High point 1.5 m, head at the dip 1.4 m over 0.2 m: 1.2 m more; the pump reaches 2 m over the sump.
    let air = running.runs[0].air.expect("a high point");
    assert!(
        (air.missing_head_m - (1.5 + 1.2 - 2.0)).abs() < 1e-6,
        "{air:?}"
    );
    assert!(air.shut_in && air.full_flow_m3_s > 1e-4);
    // Primed it passes what the full run does.
    assert!((flow(second(running), "lift") - air.full_flow_m3_s).abs() < 1e-6);
}

#[test]
fn a_strong_pump_clears_its_air_and_a_vent_spares_it_the_head() {
    let strong = running(&lift_with_a_dip(12.0, ""));
    assert_eq!(strong.outcome, Outcome::Primed);
    assert!(strong.primed.is_none());
    let weak_and_vented = running(&lift_with_a_dip(2.0, ", vented: true"));
    assert!(flow(&weak_and_vented, "lift") > 1e-5);
}

/// What a pump pushes is full up to the first free surface, through joints too: a joint on its way changes nothing.
#[test]
fn a_pumped_run_that_is_split_passes_what_it_did() {
    let body = |runs: &str| {
        format!(
            r#"
  fixed: [(id: "sump", level_m: 0.0), (id: "tank", role: waste, level_m: 0.8, place: (x_m: 8))],
  joints: [(id: "half", elevation_m: 1.0, place: (x_m: 4))],
  runs: [{runs}],"#
        )
    };
    let from = r#"from: (at: "sump", opening: mouth(lip_m: -0.8, turned: down))"#;
    let to = r#"to: (at: "tank", opening: mouth(lip_m: 1.4, turned: down, air_gap: true))"#;
    let pump = r#"pump: (id: "pump", curve: power(h0_m: 6.0, c: 4.0e5, n: 2))"#;
    let pipe = "pipe: own(bore_m: 0.04)";
    let whole = body(&format!(
        r#"(id: "lift", {from}, {to}, {pipe}, length_m: 10, {pump})"#
    ));
    let split = body(&format!(
        r#"(id: "lift", {from}, to: (at: "half"), {pipe}, length_m: 5, {pump}),
           (id: "rest", from: (at: "half"), {to}, {pipe}, length_m: 5)"#
    ));
    let (whole, split) = (running(&whole), running(&split));
    let (one, two) = (flow(&whole, "lift"), flow(&split, "lift"));
    assert!(one > 1e-3 && (one - two).abs() <= 1e-6 * one, "{one} {two}");
}

/// Nothing flows at rest, the returns end in open air, and the riser has drained: no law settles the head of the tee.
#[test]
fn a_joint_that_holds_air_has_no_head_and_no_suction() {
    for check in ["", "check_valve: forward,"] {
        let body = format!(
            r#"
  vessels: [(id: "sump", shape: prism(area_m2: 2), floor_m: 0, rim_m: 1, fill_m: 0.8),
    (id: "roof", shape: prism(area_m2: 1), floor_m: 11, rim_m: 12, fill_m: 11.5)],
  joints: [(id: "tee", elevation_m: 12.4)],
  runs: [(id: "lift", from: (at: "sump", opening: mouth(lip_m: 0.1, turned: down)), to: (at: "tee"),
      pipe: own(bore_m: 0.04), length_m: 14, {check} pump: (id: "pump", curve: power(h0_m: 18, c: 2.0e6, n: 2))),
    (id: "fall", from: (at: "tee"), to: (at: "roof", opening: mouth(lip_m: 12.2, turned: down, air_gap: true)),
      pipe: own(bore_m: 0.03), length_m: 1),
    (id: "drain", from: (at: "roof", opening: upstand(crest_m: 11.5)), to: (at: "sump", opening: mouth(lip_m: 0.9)),
      pipe: own(bore_m: 0.05), length_m: 13)],"#
        );
        let layout = layout(&body);
        let found = checked(&layout);
        let resting = found.state(State::Rest).unwrap();
        assert_eq!(
            (resting.joints[0].head_m, resting.joints[0].pressure_pa),
            (None, None)
        );
        let problems = |one: &&fallwright::finding::Finding| one.severity == Severity::Problem;
        assert_eq!(found.findings.iter().find(problems), None);
        let running = found.state(State::Running).unwrap();
        assert!(running.joints[0].head_m.is_some());
    }
}

/// A joint that stands in the water of a pond has the head of the pond, though nothing flows.
#[test]
fn a_joint_under_water_has_its_head_at_rest() {
    let body = r#"
  vessels: [(id: "pond", shape: prism(area_m2: 2), floor_m: 0, rim_m: 1, fill_m: 0.8),
    (id: "bed", shape: prism(area_m2: 2), floor_m: 0, rim_m: 1, fill_m: 0.8)],
  joints: [(id: "tee", elevation_m: 0.3)],
  runs: [(id: "a", from: (at: "pond", opening: side_hole(invert_m: 0.2)), to: (at: "tee"), pipe: own(bore_m: 0.05), length_m: 2),
    (id: "b", from: (at: "tee"), to: (at: "bed", opening: side_hole(invert_m: 0.2)), pipe: own(bore_m: 0.05), length_m: 2)],"#;
    let head_m = rest(body).joints[0].head_m.expect("it is full of water");
    assert!((head_m - 0.8).abs() < 1e-6);
}

/// Where along a drain a valve sits decides what it passes: at its upper end all that it takes stands in the tank, at
/// its outlet the pipe before it is full as well.
#[test]
fn a_valve_counts_where_it_sits() {
    let drain = |place: &str| {
        running(&format!(
            r#"
  vessels: [(id: "tank", shape: prism(area_m2: 1.0), floor_m: -0.5, rim_m: 2.0, fill_m: 0.0, make_up_m3_s: 0.002)],
  fixed: [(id: "ditch", role: waste, level_m: -3.0, place: (x_m: 20))],
  runs: [(id: "drain", from: (at: "tank", opening: side_hole(invert_m: 0.0)),
    to: (at: "ditch", opening: mouth(lip_m: -1.0, turned: horizontal)), pipe: own(bore_m: 0.08), length_m: 20,
    valves: [(kind: "gate", k: 60.0{place})])],"#
        ))
    };
    let level_at = |place: &str| level(&drain(place), "tank");
    let (usual, from, to) = (
        level_at(""),
        level_at(", near: from"),
        level_at(", near: to"),
    );
    // Where nothing is said it stands before the mouth, and else in it.
    assert!((usual - from).abs() < 0.01, "{usual} {from}");
    assert!((level_at(", at_m: 0.0") - from).abs() < 1e-12);
    // The loss at the outlet is eaten up by the fall of the pipe.
    assert!(to < from - 0.1, "{from} {to}");
    let along = [0.0, 5.0, 10.0, 15.0, 20.0].map(|at_m| level_at(&format!(", at_m: {at_m:?}")));
    assert!((along[4] - to).abs() < 1e-4, "{along:?} {to}");
    assert!(along.is_sorted_by(|a, b| *a >= b - 1e-9), "{along:?}");
}

/// The water of an overflow that goes through a joint: heads of joints follow when the vessel stands at its rim.
#[test]
fn the_capacity_at_the_rim_is_that_of_the_unsplit_drain() {
    let body = |runs: &str| {
        format!(
            r#"
  vessels: [(id: "tank", shape: prism(area_m2: 1.0), floor_m: 0.0, rim_m: 1.0, fill_m: 0.5, make_up_m3_s: 0.001)],
  joints: [(id: "half", elevation_m: 0.025)],
  fixed: [(id: "ditch", role: waste, level_m: -3.0)],
  runs: [{runs}],"#
        )
    };
    let from = r#"from: (at: "tank", opening: upstand(crest_m: 0.5))"#;
    let to = r#"to: (at: "ditch", opening: mouth(lip_m: 0.0, turned: horizontal))"#;
    let whole = running(&body(&format!(
        r#"(id: "drain", {from}, {to}, pipe: own(bore_m: 0.05), length_m: 10)"#
    )));
    let split = running(&body(&format!(
        r#"(id: "drain", {from}, to: (at: "half"), pipe: own(bore_m: 0.05), length_m: 5),
           (id: "rest", from: (at: "half"), {to}, pipe: own(bore_m: 0.05), length_m: 5)"#
    )));
    let capacity = |report: &StateReport| report.runs[0].capacity_at_rim_m3_s.expect("it drains");
    let (one, two) = (capacity(&whole), capacity(&split));
    assert!((one - two).abs() < 0.005 * one, "{one} {two}");
    assert!((level(&whole, "tank") - level(&split, "tank")).abs() < 1e-3);
}

/// Once the pump stops what was full runs back as a siphon, until air comes in at its mouth.
#[test]
fn a_return_that_ran_full_siphons_back() {
    let body = r#"
  vessels: [(id: "sump", shape: prism(area_m2: 4.0), floor_m: -1.0, rim_m: 0.5, fill_m: 0.0),
    (id: "tank", shape: prism(area_m2: 1.0), floor_m: 0.4, rim_m: 1.6, fill_m: 1.2)],
  runs: [(id: "lift", from: (at: "sump", opening: mouth(lip_m: -0.8, turned: down)),
    to: (at: "tank", opening: mouth(lip_m: 1.0, turned: down)), pipe: own(bore_m: 0.04),
    route: [(x_m: 0, y_m: 0, z_m: 1.8), (x_m: 1, y_m: 0, z_m: 1.8)],
    pump: (id: "pump", curve: power(h0_m: 8.0, c: 4.0e5, n: 2))),
    (id: "drain", from: (at: "tank", opening: upstand(crest_m: 1.2)), to: (at: "sump", opening: mouth(lip_m: 0.3)),
    pipe: own(bore_m: 0.1), length_m: 8)],"#;
    let layout = layout(body);
    let stopped = solved(&layout, State::Stopped);
    let left_m = level(&stopped, "tank");
    assert!(left_m < 1.05 && left_m > 0.99, "{left_m}");
    // Filled as drawn and never started it stays where it is: over the high point stands air.
    let resting = solved(&layout, State::Rest);
    assert!((level(&resting, "tank") - 1.2).abs() < 1e-3);
    assert!(level(second(&resting), "tank") < 1.05);
}

/// Primed it draws the floor outlet of the low tank bare at once, and with air it fills it again: three vessels feed
/// one main with a hump behind their last joint.
#[test]
fn regress_a_main_that_primes_and_breaks_while_no_level_moves_is_left_with_air() {
    let layout = layout(
        r#"
  vessels: [
    (id: "high", shape: prism(area_m2: 2.76), floor_m: -0.45, rim_m: 2.05, fill_m: 0.2275, make_up_m3_s: 0.003678, place: (x_m: 0, y_m: 2)),
    (id: "middle", shape: prism(area_m2: 3.94), floor_m: -0.054, rim_m: 2.446, fill_m: 1.3335, make_up_m3_s: 0.0003735, place: (x_m: 1.39, y_m: 2)),
    (id: "low", shape: prism(area_m2: 3.2), floor_m: -0.578, rim_m: 1.922, fill_m: -0.093, make_up_m3_s: 0.0001391, place: (x_m: 2.78, y_m: 2))],
  joints: [(id: "a", elevation_m: 0, vented: true), (id: "b", elevation_m: -0.079, place: (x_m: 1.39)),
    (id: "c", elevation_m: -0.252, place: (x_m: 2.78))],
  fixed: [(id: "ditch", role: waste, level_m: -1.426, place: (x_m: 4.17))],
  runs: [
    (id: "from-high", from: (at: "high", opening: floor(lip_m: 0.05)), to: (at: "a"), pipe: own(bore_m: 0.1036)),
    (id: "from-middle", from: (at: "middle", opening: side_hole(invert_m: 0.446)), to: (at: "b"), pipe: own(bore_m: 0.0603), length_m: 3.5),
    (id: "a-b", from: (at: "a"), to: (at: "b"), pipe: own(bore_m: 0.0525)),
    (id: "from-low", from: (at: "low", opening: floor(lip_m: -0.078)), to: (at: "c"), pipe: own(bore_m: 0.0326), length_m: 3.5),
    (id: "b-c", from: (at: "b"), to: (at: "c"), pipe: own(bore_m: 0.0525)),
    (id: "main", from: (at: "c"), to: (at: "ditch", opening: mouth(lip_m: -0.426)), pipe: own(bore_m: 0.0525),
      route: [(x_m: 3.002, y_m: 0, z_m: -0.1798), (x_m: 3.002, y_m: 0, z_m: -0.2408, vented: true),
        (x_m: 3.397, y_m: 0, z_m: -0.5573), (x_m: 3.397, y_m: 0, z_m: -0.5673, vented: true)])],"#,
    );
    let running = solved(&layout, State::Running);
    assert!(running.converged && running.cycle.is_none());
    assert_eq!(running.outcome, Outcome::WithAir);
    let main = flow(&running, "main");
    assert!(
        (main - 0.004_190_6).abs() < 1e-6,
        "all that flows in: {main}"
    );
}
