//! Parts with a memory, and the same layout run otherwise.

use super::six::{course, lift, when};
use super::{layout, near};
use crate::networks::{flow, level, solved};
use fallwright::catalogue::Catalogue;
use fallwright::evaluate::{AsBuilt, Case, Evaluation, evaluate};
use fallwright::finding::{Code, Severity};
use fallwright::layout::Layout;
use fallwright::state::State;
use fallwright::states::EventKind;
use fallwright::states::Fault;
use fallwright::states::report::Standing;

fn all(layout: &Layout) -> Evaluation {
    evaluate(layout, Catalogue::builtin(), &State::ALL)
}

/// A pit of 0.3 m² that 0.5 L/s runs into, and a pump on a float that lifts to 10 m. The pump is all that takes
/// head, so its flow is √((h0 + level − 10)/c).
fn pit(float: &str) -> Layout {
    layout(&format!(
        "coefficients: (exit_k: 0, entrance_k: 0), \
         vessels: [(id: \"pit\", shape: prism(area_m2: 0.3), floor_m: 0, rim_m: 3, fill_m: 0.4, make_up_m3_s: 5.0e-4)], \
         fixed: [(id: \"ditch\", role: waste, level_m: -5)], \
         runs: [(id: \"lift\", from: (at: \"pit\", opening: submerged()), \
           to: (at: \"ditch\", opening: mouth(lip_m: 10, turned: up, air_gap: true)), pipe: own(bore_m: 0.1), \
           length_m: 0, total_k: 0, check_valve: forward, \
           pump: (id: \"pump\", curve: power(h0_m: 14, c: 1.0e6, n: 2), float: {float}))]"
    ))
}

#[test]
fn a_float_switch_makes_a_cycle_whose_period_is_known() {
    let report = solved(&pit("(on_m: 0.8, off_m: 0.3)"), State::Running);
    let cycle = report.cycle.as_ref().unwrap();
    let (area_m2, inflow, c) = (0.3, 5.0e-4, 1.0e6_f64);
    let pumped = |level_m: f64| ((14.0 + level_m - 10.0) / c).sqrt();
    let filling_s = area_m2 * 0.5 / inflow;
    // A·dh = −(Q − q)·dt with h = c·Q² − 4: a closed form in Q.
    let (high, low) = (pumped(0.8), pumped(0.3));
    let emptying_s =
        2.0 * c * area_m2 * ((high - low) + inflow * ((high - inflow) / (low - inflow)).ln());
    near(
        cycle.period_s,
        filling_s + emptying_s,
        1e-3 * cycle.period_s,
    );
    near(cycle.vessels[0].highest_m, 0.8, 1e-4);
    near(cycle.vessels[0].lowest_m, 0.3, 1e-4);
    // In the mean as much goes out as comes in.
    near(flow(&report, "lift"), inflow, 1e-3 * inflow);
    near(report.pumps[0].flow_m3_s, inflow, 1e-3 * inflow);
    near(report.fixed[0].flow_m3_s, -inflow, 1e-3 * inflow);
    near(report.vessels[0].inflow_m3_s, inflow, 1e-9);
    assert!((0.3..0.8).contains(&cycle.vessels[0].mean_m));
}

/// A cistern that a pump on a float empties by strokes of 20 L into a tank, out of which 0.1 L/s is taken.
fn cistern(float: &str) -> Layout {
    layout(&format!(
        "vessels: [(id: \"cistern\", shape: prism(area_m2: 20), floor_m: 0, rim_m: 2, fill_m: 1.5), \
           (id: \"tank\", shape: prism(area_m2: 0.1), floor_m: 3, rim_m: 4.5, fill_m: 3.9, make_up_m3_s: -1.0e-4)], \
         runs: [(id: \"lift\", from: (at: \"cistern\", opening: submerged()), \
           to: (at: \"tank\", opening: mouth(lip_m: 4.4, turned: down, air_gap: true)), pipe: own(bore_m: 0.025), \
           length_m: 6, check_valve: forward, \
           pump: (id: \"pump\", curve: power(h0_m: 12, c: 1.0e7, n: 2), float: {float}))]"
    ))
}

#[test]
fn a_cistern_that_is_pumped_empty_by_fifteen_hundred_strokes_is_empty_in_the_end() {
    let layout = cistern("(at: \"tank\", on_m: 3.8, off_m: 4.0)");
    let report = solved(&layout, State::Starting);
    assert!(report.cycle.is_none());
    // All of it, less what the intake leaves, at 0.1 L/s.
    let dry_s = when(&report, EventKind::PumpRunsDry).unwrap();
    assert!((2.9e5..3.02e5).contains(&dry_s), "{dry_s} s");
    assert!(level(&report, "cistern") < 0.1);
    near(level(&report, "tank"), 3.0, 1e-3);
    let course = course(&report);
    near(course.volume_error_m3, 0.0, 1e-9);
    assert!(report.newton_steps < 40_000, "{}", report.newton_steps);
}

/// The same the other way: what runs into a pit is pumped on a float into a pond of 20 m². At rest the pit runs over.
#[test]
fn a_pond_that_fills_by_strokes_tells_when_it_spills() {
    let layout = layout(
        "coefficients: (exit_k: 0, entrance_k: 0), \
         vessels: [(id: \"pit\", shape: prism(area_m2: 0.1), floor_m: 0, rim_m: 3, fill_m: 3, make_up_m3_s: 1.0e-4), \
           (id: \"pond\", shape: prism(area_m2: 20), floor_m: 0, rim_m: 1.5, fill_m: 0.5)], \
         runs: [(id: \"lift\", from: (at: \"pit\", opening: submerged()), \
           to: (at: \"pond\", opening: mouth(lip_m: 3.5, turned: up, air_gap: true)), pipe: own(bore_m: 0.1), \
           length_m: 0, total_k: 0, check_valve: forward, \
           pump: (id: \"pump\", curve: power(h0_m: 6, c: 1.0e6, n: 2), float: (at: \"pit\", on_m: 0.8, off_m: 0.4)))]",
    );
    let report = solved(&layout, State::Running);
    // 20 m³ at 0.1 L/s, after strokes of 40 L and more.
    eprintln!(
        "{:?} {:?} {:?}",
        report.vessels, report.cycle, report.converged
    );
    let spill = report.vessels[1].with_spill.unwrap();
    let first_s = spill.first_spill_s.unwrap();
    near(first_s, 2.0e5, 4e3);
    // Between tall walls both rise for ever, once the pump can lift no higher.
    assert!(report.converged && report.vessels[1].level_m.is_none());
}

/// Two pits that know nothing of each other, and whose rounds take times of no common measure.
#[test]
fn pumps_that_come_and_go_each_in_its_own_time_are_told_by_means_of_many_rounds() {
    let mut both = pit("(on_m: 0.8, off_m: 0.3)");
    let mut other = pit("(on_m: 1.1, off_m: 0.2)");
    other.vessels[0].id = "sump".into();
    other.vessels[0].make_up_m3_s = 3.7e-4;
    other.runs[0].id = "up".into();
    other.runs[0].from.at = "sump".into();
    let pump = other.runs[0].pump.as_mut().unwrap();
    pump.id = "second".into();
    both.vessels.append(&mut other.vessels);
    both.runs.append(&mut other.runs);
    let report = solved(&both, State::Running);
    let cycle = report.cycle.as_ref().unwrap();
    assert!(!cycle.regular);
    for (vessel, (low_m, high_m)) in cycle.vessels.iter().zip([(0.3, 0.8), (0.2, 1.1)]) {
        near(vessel.lowest_m, low_m, 1e-3);
        near(vessel.highest_m, high_m, 1e-3);
        assert!((low_m..high_m).contains(&vessel.mean_m));
    }
    // In the mean as much goes out as comes in, but for the rounds that the ends of the count cut.
    near(flow(&report, "lift"), 5.0e-4, 0.1 * 5.0e-4);
    near(flow(&report, "up"), 3.7e-4, 0.1 * 3.7e-4);
    // Each thing that switches is told once.
    assert_eq!(cycle.told.len(), 4);
}

/// A joint into which more is let than its run takes, far over every level: the pump beside it goes on.
#[test]
fn a_head_out_of_sight_at_a_joint_ends_nothing() {
    let wanted = solved(&pit("(on_m: 0.8, off_m: 0.3)"), State::Running);
    let mut layout = pit("(on_m: 0.8, off_m: 0.3)");
    let stub = super::layout(
        "vessels: [(id: \"pit\", shape: prism(area_m2: 0.3), floor_m: 0, rim_m: 3, fill_m: 0)], \
         joints: [(id: \"tee\", elevation_m: 0.5, make_up_m3_s: 1.0e-4)], \
         runs: [(id: \"stub\", from: (at: \"pit\", opening: submerged()), to: (at: \"tee\"), \
           pipe: own(bore_m: 0.02), length_m: 1, check_valve: forward)]",
    );
    layout.joints = stub.joints;
    layout.runs.extend(stub.runs);
    let report = solved(&layout, State::Running);
    let period_s =
        |report: &fallwright::states::report::StateReport| report.cycle.as_ref().unwrap().period_s;
    near(
        period_s(&report),
        period_s(&wanted),
        1e-3 * period_s(&wanted),
    );
}

#[test]
fn a_float_that_is_never_reached_lets_the_pump_stand() {
    let mut layout = pit("(on_m: 2.9, off_m: 0.3)");
    layout.vessels[0].make_up_m3_s = 0.0;
    let report = solved(&layout, State::Running);
    assert_eq!(report.pumps[0].standing, Standing::FloatOff);
    assert_eq!(flow(&report, "lift"), 0.0);
    near(level(&report, "pit"), 0.4, 1e-12);
}

#[test]
fn a_pump_that_fills_stops_when_it_is_full() {
    // From a lake into a tank, whose float stops it at 1.2 m.
    let layout = layout(
        "vessels: [(id: \"tank\", shape: prism(area_m2: 2), floor_m: 0, rim_m: 2, fill_m: 0.1)], \
         fixed: [(id: \"lake\", level_m: -1)], \
         runs: [(id: \"lift\", from: (at: \"lake\"), to: (at: \"tank\", opening: mouth(lip_m: 1.8, turned: down, air_gap: true)), \
           pipe: own(bore_m: 0.05), length_m: 4, \
           pump: (id: \"pump\", curve: power(h0_m: 8, c: 1.0e6, n: 2), float: (at: \"tank\", on_m: 0.8, off_m: 1.2)))]",
    );
    let report = solved(&layout, State::Starting);
    near(level(&report, "tank"), 1.2, 1e-4);
    assert_eq!(report.pumps[0].standing, Standing::FloatOff);
    assert!(when(&report, EventKind::FloatOff).unwrap() > 0.0);
}

#[test]
fn a_float_valve_stands_where_it_gives_what_is_taken() {
    let layout = layout(
        "vessels: [(id: \"tank\", shape: prism(area_m2: 2), floor_m: 0, rim_m: 2, fill_m: 1, make_up_m3_s: -1.0e-4, \
          float_valve: (shut_m: 1.0, open_m: 0.9, flow_m3_s: 4.0e-4))]",
    );
    let report = solved(&layout, State::Rest);
    // A quarter of its flow: a quarter of the way down from shut.
    near(level(&report, "tank"), 0.975, 1e-6);
}

#[test]
fn a_siphon_break_keeps_what_stands_under_its_hole() {
    let mut with_hole = lift(
        0.9,
        "siphon_break: (height_m: 2.2, bore_m: 0.008, near: to),",
    );
    let stopped = solved(&with_hole, State::Stopped);
    near(level(&stopped, "header"), 2.2, 1e-3);
    // While it runs a little is lost through the hole: friction of the 15 cm between the hole and the mouth.
    let running = solved(&with_hole, State::Running);
    let lift = &running.runs[0];
    let friction_m = lift.loss_m * 0.15 / 4.0;
    let most_m3_s =
        0.6 * std::f64::consts::FRAC_PI_4 * 0.008 * 0.008 * (2.0 * 9.80665 * friction_m).sqrt();
    let lost_m3_s = lift.through_hole_m3_s.unwrap();
    assert!(
        lost_m3_s > 0.5 * most_m3_s && lost_m3_s < most_m3_s,
        "{lost_m3_s} {most_m3_s}"
    );
    // Under the mouth a hole breaks nothing.
    with_hole.runs[0].siphon_break.as_mut().unwrap().height_m = 2.0;
    let stopped = solved(&with_hole, State::Stopped);
    near(level(&stopped, "header"), 2.05, 1e-3);
}

/// The return has a hole at 2.2 m, to which the header is filled; clogged, 75 L more come back down to the mouth.
fn with_hole(sump_fill_m: f64) -> Layout {
    let hole = "siphon_break: (height_m: 2.2, bore_m: 0.008, near: to),";
    let mut layout = lift(sump_fill_m, hole);
    layout.vessels[1].fill_m = 2.2;
    layout
}

#[test]
fn a_clogged_siphon_break_names_the_vessel_that_floods() {
    let said = |sump_fill_m: f64| {
        let found = evaluate(
            &with_hole(sump_fill_m),
            Catalogue::builtin(),
            &[State::Stopped],
        );
        let mut found = found.findings;
        found.retain(|one| one.code == Code::SpillsWhenBlocked);
        found
    };
    // With the hole open it comes back to 0.99 m under a rim of 1 m.
    let found = said(0.99);
    assert_eq!(found.len(), 1, "{found:?}");
    assert_eq!(found[0].about, ["sump".into(), "lift".into()]);
    assert_eq!(
        (found[0].severity, found[0].state),
        (Severity::Warning, State::Stopped)
    );
    near(found[0].measured.unwrap(), 0.065, 1e-3);
    // There is room for all that is drawn back: 0.925 m and 75 L are the rim.
    assert!(said(0.925).is_empty());
    assert!(said(0.9).is_empty());
}

#[test]
fn a_clogged_siphon_break_is_tried_as_a_failure() {
    let layout = with_hole(0.99);
    let ground = AsBuilt::new(&layout, Catalogue::builtin()).unwrap();
    let suspects = ground.suspects();
    let clogged: Vec<_> = suspects
        .iter()
        .filter(|one| one.fault == Fault::BreakClogged)
        .collect();
    assert_eq!(clogged.len(), 1);
    assert_eq!(clogged[0].part, "lift".into());
    let failed = ground.fail(clogged[0]).unwrap();
    assert_eq!(failed.case.spills, Some("sump".into()));
    near(failed.case.spilled_m3, 0.065, 1e-3);
    // Without a hole there is nothing to clog.
    let plain = lift(0.9, "");
    let ground = AsBuilt::new(&plain, Catalogue::builtin()).unwrap();
    let mut suspects = ground.suspects().into_iter();
    assert!(suspects.all(|one| one.fault != Fault::BreakClogged));
}

#[test]
fn a_check_valve_that_failed_open_holds_nothing_back() {
    let none = solved(&lift(0.9, ""), State::Stopped);
    let failed = lift(0.9, "check_valve: forward, check_valve_failed: true,");
    let failed = solved(&failed, State::Stopped);
    near(level(&failed, "header"), level(&none, "header"), 1e-6);
    assert!(course(&failed).back.unwrap().siphoned_m3 > 0.1);
}

/// The loop of `lift` with a drain to waste at the foot of the header, whose valve is shut.
fn washed(ways: &str) -> Layout {
    layout(&format!(
        "water: (cold_c: 4, warm_c: 32), \
         vessels: [\
           (id: \"sump\", shape: prism(area_m2: 1), floor_m: 0, rim_m: 1, fill_m: 0.9),\
           (id: \"header\", shape: prism(area_m2: 0.5), floor_m: 2, rim_m: 3, fill_m: 2.4)],\
         fixed: [(id: \"gully\", role: waste, level_m: -1)], \
         runs: [\
           (id: \"lift\", from: (at: \"sump\", opening: mouth(lip_m: 0.1, turned: down, bore_m: 0.1)), \
            to: (at: \"header\", opening: mouth(lip_m: 2.9, turned: down, air_gap: true)), pipe: own(bore_m: 0.04), \
            length_m: 40, pump: (id: \"pump\", curve: power(h0_m: 6, c: 5.0e5, n: 2))),\
           (id: \"drain\", from: (at: \"header\", opening: upstand(crest_m: 2.4)), \
            to: (at: \"sump\", opening: mouth(lip_m: 0.9, turned: down)), pipe: own(bore_m: 0.06), length_m: 2),\
           (id: \"waste\", from: (at: \"header\", opening: floor()), to: (at: \"gully\", opening: mouth(lip_m: 0, turned: down)), \
            pipe: own(bore_m: 0.03), length_m: 3, valves: [(kind: \"ball\", opening: 0)])], \
         ways: [{ways}]"
    ))
}

const WASHING: &str =
    "(id: \"wash\", name: \"Washing\", valves: [(run: \"waste\", opening: 1)], washing_s: 120)";

#[test]
fn a_way_of_running_is_solved_like_the_layout_that_it_makes() {
    let layout =
        washed("(id: \"low\", valves: [(run: \"waste\", opening: 0.0)], pumps_off: [\"lift\"])");
    let found = all(&layout);
    let way = found
        .variants
        .iter()
        .find(|one| one.case == Case::Way("low".into()));
    let by_hand = solved(&layout.in_way(&layout.ways[0]), State::Running);
    let running = &way.unwrap().running;
    assert_eq!(level(running, "header"), level(&by_hand, "header"));
    near(level(running, "header"), 2.4, 1e-6);
    assert_eq!(flow(running, "lift"), 0.0);
}

#[test]
fn a_washing_says_what_it_takes_and_how_long_the_pump_lasts() {
    let layout = washed(WASHING);
    let found = all(&layout);
    let washing = found
        .variants
        .iter()
        .find_map(|one| one.washing.as_ref())
        .unwrap();
    let (vessel, fell_m) = washing.fell.as_ref().unwrap();
    assert_eq!(vessel.as_str(), "sump");
    // The header falls too; what is lost comes out of these two.
    let header_m = found.state(State::Running).unwrap().vessels[1]
        .level_m
        .unwrap();
    let most_m3 = fell_m * 1.0 + 0.5 * (header_m - 2.0);
    assert!(washing.lost_m3 >= *fell_m && washing.lost_m3 <= most_m3 + 1e-9);
    assert!(*fell_m > 0.05);
    let (starved_s, dry_s) = (washing.starved_s.unwrap(), washing.dry_s.unwrap());
    assert!(starved_s > washing.washing_s && dry_s > starved_s);
}

#[test]
fn cold_water_flows_less_than_warm_water() {
    let found = all(&washed(""));
    let at = |temperature_c: f64| {
        let mut variants = found.variants.iter();
        let one = variants.find(|one| one.case == Case::Water(temperature_c));
        flow(&one.unwrap().running, "lift")
    };
    let drawn = flow(found.state(State::Running).unwrap(), "lift");
    assert!(
        at(4.0) < drawn && drawn < at(32.0),
        "{} {drawn} {}",
        at(4.0),
        at(32.0)
    );
}

#[test]
fn a_fill_lasts_as_long_as_the_air_leaves_it() {
    let mut layout = lift(0.6, "");
    layout.weather.evaporation_m_s = 5e-3 / 86_400.0;
    layout.first_fill_m3_s = Some(2e-4);
    let marks = all(&layout).marks.unwrap();
    // 5 mm a day from 1 m² and from 0.5 m².
    near(marks.evaporation_m3_s, 1.5 * 5e-3 / 86_400.0, 1e-12);
    let days = marks.top_up_s().unwrap() / 86_400.0;
    near(days, marks.between_m3().unwrap() / 7.5e-3, 1e-6);
    near(
        marks.first_fill_s().unwrap(),
        marks.most.unwrap().water_m3 / 2e-4,
        1e-6,
    );
    layout.vessels[0].under_cover = true;
    layout.vessels[1].under_cover = true;
    assert_eq!(all(&layout).marks.unwrap().top_up_s(), None);
}
