//! Small layouts worked out by hand and by other numerics.

use super::course::Course;
use super::{layout, level, running_flow, running_level, solved};
use crate::verification::{Case, checks};
use fallwright::layout::{Layout, Opening, Vent};
use fallwright::lower::Walls;
use fallwright::state::State;

/// When the header stands at 1.1 m, s; by hand.
const GATE_S: f64 = 537.1828888;
/// When the two ponds stand 5 cm apart, s; by hand.
const PONDS_S: f64 = 167.8425778;
/// When the cylinder over the cone is empty, s; by hand.
const CYLINDER_S: f64 = 196.017559;

fn rest_level(given: &Case, vessel: &str) -> f64 {
    level(&solved(&layout(given), State::Rest), vessel)
}

fn course(given: &Case) -> Course {
    Course::tall(layout(given))
}

/// The first run shut by its valve.
fn shut(mut layout: Layout) -> Layout {
    layout.runs[0].valves[0].opening = 0.0;
    layout
}

/// The first vessel filled to another level.
fn filled(mut layout: Layout, level_m: f64) -> Layout {
    layout.vessels[0].fill_m = level_m;
    layout
}

fn time_apart(given: &Case) -> f64 {
    course(given).time_until(|point| point.head_m[0] - point.head_m[1] - 0.05)
}

/// The pond from its running level with the standpipe shut, until it spills.
fn time_to_rim(given: &Case) -> f64 {
    let blocked = shut(filled(layout(given), running_level(given, "pond")));
    let rim_m = blocked.vessels[0].rim_m;
    Course::of(blocked, Walls::AsBuilt).event_over("pond", rim_m)
}

/// The same by the state that shuts every run in turn.
fn first_spill(given: &Case) -> f64 {
    let report = solved(&layout(given), State::Blocked);
    let case = &report.blocked[0];
    assert_eq!(case.run.as_str(), "stand");
    assert_eq!(case.spills.as_ref().unwrap().as_str(), "pond");
    case.first_spill_s.unwrap()
}

/// The overflow with its vent shut.
fn unvented(mut layout: Layout) -> Layout {
    let opening = layout.runs[0].from.opening.as_mut().unwrap();
    let Opening::RaisedIntake { vent, .. } = opening else {
        panic!("it has no raised intake");
    };
    *vent = Vent::Shut;
    layout
}

fn primed_level(given: &Case) -> f64 {
    let report = solved(&unvented(layout(given)), State::Running);
    level(&report.primed.unwrap(), "tank")
}

/// From the running level with the vent open, primed.
fn primed_after(given: &Case, seconds: f64) -> f64 {
    let start_m = running_level(given, "tank");
    let layout = filled(unvented(layout(given)), start_m);
    Course::tall(layout).primed().level_after("tank", seconds)
}

fn dirty_flow(given: &Case) -> f64 {
    let mut layout = layout(given);
    let filter = &mut layout.runs[0].equipment[0];
    filter.clean = filter.dirty.clone().unwrap();
    super::flow(&solved(&layout, State::Running), "lift")
}

fn cone_fill_time(given: &Case) -> f64 {
    let mut layout = shut(layout(given));
    layout.vessels[0].make_up_m3_s = 0.0007;
    Course::tall(layout).time_to("pot", 1.5)
}

/// The cone from a level with its tip open.
fn cone_from(given: &Case, level_m: f64) -> Course {
    Course::tall(filled(layout(given), level_m))
}

checks! {
    val_gate_time: "L-GATE-TIME" => |given| course(given).time_to("header", 1.1);
    val_gate_120: "L-GATE-120" => |given| course(given).level_after("header", 120.0);
    val_gate_240: "L-GATE-240" => |given| course(given).level_after("header", 240.0);
    val_gate_end: "L-GATE-END" => |given| course(given).level_after("header", GATE_S);
    val_gate_flow: "L-GATE-FLOW" => |given| course(given).flow_after("outlet", GATE_S);
    val_gate_rest: "L-GATE-REST" => |given| rest_level(given, "header");
    val_ponds_time: "L-PONDS-TIME" => time_apart;
    val_ponds_time_computed: "LC-PONDS" => time_apart;
    val_ponds_upper: "L-PONDS-UPPER" => |given| course(given).level_after("upper", PONDS_S);
    val_ponds_lower: "L-PONDS-LOWER" => |given| course(given).level_after("lower", PONDS_S);
    val_ponds_flow: "L-PONDS-FLOW" => |given| course(given).flow_after("link", PONDS_S);
    val_ponds_rest: "L-PONDS-REST" => |given| rest_level(given, "upper");
    val_pump_by_hand: "L-PUMP" => |given| running_flow(given, "lift");
    val_standpipe: "L-STANDPIPE" => |given| running_level(given, "bed");
    val_standpipe_computed: "LC-STANDPIPE" => |given| running_level(given, "bed");
    val_side_hole: "L-HOLE" => |given| running_level(given, "tank");
    val_side_hole_computed: "LC-HOLE" => |given| running_level(given, "tank");
    val_side_hole_drowned: "L-HOLE-HARD" => |given| running_level(given, "tank");
    val_side_hole_drowned_computed: "LC-HOLE-HARD" => |given| running_level(given, "tank");
    val_drowned_standpipe: "L-DROWNED" => |given| running_level(given, "bed");
    val_drowned_standpipe_computed: "LC-DROWNED" => |given| running_level(given, "bed");
    val_drains: "L-DRAINS" => |given| running_level(given, "pond");
    val_drains_a: "L-DRAINS-A" => |given| running_flow(given, "a");
    val_drains_b: "L-DRAINS-B" => |given| running_flow(given, "b");
    val_drains_c: "L-DRAINS-C" => |given| running_flow(given, "c");
    val_drains_computed: "LC-DRAINS" => |given| running_level(given, "pond");
    val_drains_a_computed: "LC-DRAINS-A" => |given| running_flow(given, "a");
    val_drains_b_computed: "LC-DRAINS-B" => |given| running_flow(given, "b");
    val_drains_c_computed: "LC-DRAINS-C" => |given| running_flow(given, "c");
    val_blocked_running: "L-BLOCKED" => |given| running_level(given, "pond");
    val_siphon: "L-SIPHON" => primed_level;
    val_siphon_60: "L-SIPHON-60" => |given| primed_after(given, 60.0);
    val_siphon_300: "L-SIPHON-300" => |given| primed_after(given, 300.0);
    val_siphon_900: "L-SIPHON-900" => |given| primed_after(given, 900.0);
    val_blocked_state: "L-BLOCKED-STATE" => first_spill;
    val_blocked_rim: "L-BLOCKED-RIM" => time_to_rim;
    val_filter_clean: "L-FILTER-CLEAN" => |given| running_flow(given, "lift");
    val_filter_dirty: "L-FILTER-DIRTY" => dirty_flow;
    val_cone_fill: "L-CONE-FILL" => cone_fill_time;
    val_cone_upper: "L-CONE-UPPER" => |given| cone_from(given, 1.5).time_to("pot", 0.9);
    val_cone_upper_computed: "LC-CONE-UPPER" => |given| cone_from(given, 1.5).time_to("pot", 0.9);
    val_cone_upper_level: "L-CONE-UPPER-LEVEL" => |given| {
        cone_from(given, 1.5).level_after("pot", CYLINDER_S)
    };
    val_cone_upper_flow: "L-CONE-UPPER-FLOW" => |given| {
        cone_from(given, 1.5).flow_after("tip", CYLINDER_S)
    };
    val_cone_lower: "L-CONE-LOWER" => |given| cone_from(given, 0.9).time_to("pot", 0.4);
    val_cone_lower_computed: "LC-CONE-LOWER" => |given| cone_from(given, 0.9).time_to("pot", 0.4);
    val_cone_lower_level: "L-CONE-LOWER-LEVEL" => |given| {
        cone_from(given, 0.9).level_after("pot", 80.0)
    };
    val_cone_lower_flow: "L-CONE-LOWER-FLOW" => |given| {
        let course = cone_from(given, 0.9);
        course.flow_after("tip", course.time_to("pot", 0.4))
    };
    val_raised: "L-RAISED" => |given| running_level(given, "tank");
    val_raised_computed: "LC-RAISED" => |given| running_level(given, "tank");
    val_screen_half_blinded: "SC-HALF" => |given| running_level(given, "t");
    val_mouth_under_water: "MW-FLOOR" => |given| running_level(given, "t");
    val_suction_under_water: "MW-SUCTION" => |given| running_flow(given, "lift");
    val_raised_flow: "L-RAISED-FLOW" => |given| running_flow(given, "over");
}
