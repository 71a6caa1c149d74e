//! Parts a builder can draw, in states: notches, screens, drums, siphon breaks, float valves, operating modes.

use super::{layout, near, rest, running};
use crate::networks::{flow, level, solved};
use fallwright::hydraulics::STANDARD_GRAVITY_M_S2 as G;
use fallwright::hydraulics::openings::inlet::Inlet;
use fallwright::hydraulics::openings::notch::{Notch, Rectangle};
use fallwright::layout::Layout;
use fallwright::state::State;
use fallwright::states::report::Control;

/// A bed with an inflow that spills over a notch into a channel, and from there into a ditch.
fn bed(shape: &str, pipe: &str) -> String {
    format!(
        "fixed: [(id: \"ditch\", role: waste, level_m: -1)],
         vessels: [
           (id: \"bed\", shape: prism(area_m2: 2), floor_m: 0, rim_m: 1, fill_m: 0.5, make_up_m3_s: 0.001),
           (id: \"channel\", shape: prism(area_m2: 0.5), floor_m: 0, rim_m: 1, fill_m: 0.1),
         ],
         runs: [
           (id: \"spill\", from: (at: \"bed\", opening: notch(crest_m: 0.6, shape: {shape})),
            to: (at: \"channel\"), pipe: {pipe}, length_m: 0),
           (id: \"away\", from: (at: \"channel\", opening: floor()), to: (at: \"ditch\"),
            pipe: own(bore_m: 0.08), length_m: 1),
         ]"
    )
}

#[test]
fn prop_a_bed_stands_over_its_notch_by_the_head_that_the_flow_needs() {
    let report = running(&bed("rectangular(width_m: 0.25)", "open"));
    let shape = Rectangle {
        width_m: 0.25,
        channel_m: None,
        height_m: Some(0.6),
    };
    let over = Inlet::Notch(Notch::rectangular(shape, G))
        .head_for(0.001)
        .value;
    near(level(&report, "bed"), 0.6 + over, 1e-4);
    near(flow(&report, "spill"), 0.001, 1e-7);
    let spill = &report.runs[0];
    assert_eq!(spill.control, Control::Inlet);
    // 0.25 m wide, 0.4 m up to the rim.
    near(spill.velocity_m_s, 0.01, 1e-5);
    let vee = running(&bed("vee(angle_deg: 90)", "open"));
    let over = Inlet::Notch(Notch::vee(90.0, G)).head_for(0.001).value;
    near(level(&vee, "bed"), 0.6 + over, 1e-4);
}

#[test]
fn prop_water_stands_level_on_both_sides_of_a_drowned_notch() {
    let report = rest(
        "vessels: [
           (id: \"a\", shape: prism(area_m2: 2), floor_m: 0, rim_m: 1, fill_m: 0.9),
           (id: \"b\", shape: prism(area_m2: 1), floor_m: 0, rim_m: 1, fill_m: 0.6),
         ],
         runs: [(id: \"gap\", from: (at: \"a\", opening: notch(crest_m: 0.3, shape: rectangular(width_m: 0.3))),
                 to: (at: \"b\"), pipe: open)]",
    );
    near(level(&report, "a"), 0.8, 1e-4);
    near(level(&report, "b"), 0.8, 1e-4);
}

/// A tank that a stopped pump fills under water, over its sump.
fn siphon(more: &str) -> String {
    format!(
        "vessels: [
           (id: \"sump\", shape: prism(area_m2: 20), floor_m: 0, rim_m: 1, fill_m: 0.3),
           (id: \"tank\", shape: prism(area_m2: 1), floor_m: 1, rim_m: 2, fill_m: 1.8),
         ],
         runs: [(id: \"lift\", from: (at: \"sump\", opening: submerged()),
                 to: (at: \"tank\", opening: mouth(lip_m: 1.2, turned: down)),
                 pipe: own(bore_m: 0.04), length_m: 2,
                 pump: (id: \"pump\", curve: power(h0_m: 4, c: 1.0e6, n: 2)), {more})]"
    )
}

#[test]
fn a_siphon_break_keeps_the_water_under_its_hole() {
    near(level(&rest(&siphon("")), "tank"), 1.2, 1e-3);
    let broken = "siphon_break: (height_m: 1.7, bore_m: 0.004)";
    near(level(&rest(&siphon(broken)), "tank"), 1.7, 1e-3);
    // Under the lip it does nothing.
    let low = "siphon_break: (height_m: 1.1, bore_m: 0.004)";
    near(level(&rest(&siphon(low)), "tank"), 1.2, 1e-3);
}

#[test]
fn a_check_valve_holds_the_water_and_one_that_failed_does_not() {
    near(
        level(&rest(&siphon("check_valve: forward")), "tank"),
        1.8,
        1e-9,
    );
    let failed = "check_valve: forward, check_valve_failed: true";
    near(level(&rest(&siphon(failed)), "tank"), 1.2, 1e-3);
}

/// 0.1 L/s are drawn off; the valve gives 0.4 L/s at 0.5 m and nothing at 0.6 m, so 0.575 m.
#[test]
fn prop_a_float_valve_stands_where_it_gives_what_is_drawn() {
    let body =
        "vessels: [(id: \"sump\", shape: prism(area_m2: 1), floor_m: 0, rim_m: 1, fill_m: 0.9,
        make_up_m3_s: -1.0e-4, float_valve: (shut_m: 0.6, open_m: 0.5, flow_m3_s: 4.0e-4))]";
    near(level(&running(body), "sump"), 0.575, 1e-4);
}

#[test]
fn prop_rain_is_a_flow_like_any_other() {
    let body = |weather: &str, roof: &str| {
        format!(
            "weather: ({weather}), fixed: [(id: \"ditch\", role: waste, level_m: -1)],
             vessels: [(id: \"pond\", shape: prism(area_m2: 20), floor_m: 0, rim_m: 1, fill_m: 0.5, {roof})],
             runs: [(id: \"over\", from: (at: \"pond\", opening: notch(crest_m: 0.5, shape: vee(angle_deg: 90))),
                     to: (at: \"ditch\", opening: mouth(lip_m: -0.5)), pipe: own(bore_m: 0.1), length_m: 1)]"
        )
    };
    let rain = running(&body("rain_m_s: 1.0e-5", ""));
    near(flow(&rain, "over"), 2e-4, 1e-7);
    let caught = running(&body(
        "rain_m_s: 1.0e-5",
        "under_cover: true, catch_area_m2: 50",
    ));
    near(flow(&caught, "over"), 5e-4, 1e-7);
    let dry = running(&body("evaporation_m_s: 1.0e-7", ""));
    near(level(&dry, "pond"), 0.5, 1e-9);
}

/// Two drums of one size, one standing and one lying, share their water by their volumes.
#[test]
fn prop_a_lying_drum_keeps_its_water_when_it_equalises() {
    let report = rest(
        "vessels: [
           (id: \"lying\", shape: lying_drum(diameter_m: 0.6, length_m: 0.9), floor_m: 0, rim_m: 0.6, fill_m: 0),
           (id: \"standing\", shape: round(diameter_m: 0.6), floor_m: 0, rim_m: 0.9, fill_m: 0.9),
         ],
         runs: [(id: \"link\", from: (at: \"standing\", opening: submerged()),
                 to: (at: \"lying\", opening: submerged()), pipe: own(bore_m: 0.03), length_m: 1)]",
    );
    let (lying_m, standing_m) = (level(&report, "lying"), level(&report, "standing"));
    near(lying_m, standing_m, 1e-4);
    let circle_m2 = std::f64::consts::FRAC_PI_4 * 0.36;
    let angle = (1.0 - lying_m / 0.3).acos();
    let lying_m3 = 0.9 * 0.09 * (angle - angle.sin() * angle.cos());
    near(lying_m3 + circle_m2 * standing_m, 0.9 * circle_m2, 2e-5);
}

#[test]
fn a_blinded_screen_raises_the_water_before_it() {
    let body = |screen: &str| {
        format!(
            "fixed: [(id: \"ditch\", role: waste, level_m: -1)],
             vessels: [(id: \"bed\", shape: prism(area_m2: 2), floor_m: 0, rim_m: 1, fill_m: 0.5, make_up_m3_s: 0.001)],
             runs: [(id: \"drain\", from: (at: \"bed\", opening: upstand(crest_m: 0.6), {screen}),
                     to: (at: \"ditch\", opening: mouth(lip_m: -0.5)), pipe: own(bore_m: 0.1), length_m: 1)]"
        )
    };
    let of = |screen: &str| level(&running(&body(screen)), "bed");
    let open = of("");
    let clean = of("screen: (area_m2: 0.03, open_share: 0.5)");
    let blinded = of("screen: (area_m2: 0.03, open_share: 0.5, blinded: 0.6)");
    // By hand at 0.001/0.03 m/s: half of it clear K/s² = 3.9, a fifth 33.
    near(clean - open, 3.9 * 5.665e-5, 1e-6);
    near(blinded - open, 33.0 * 5.665e-5, 1e-6);
    // On the lip the weir goes by the share to two thirds.
    let lying = of("screen: (area_m2: 0.03, open_share: 0.5, on_the_lip: true)");
    near(lying - 0.6, (open - 0.6) / 0.5_f64.powf(2.0 / 3.0), 1e-4);
}

#[test]
fn a_way_of_running_shuts_valves_takes_out_equipment_and_stops_pumps() {
    let body = "vessels: [
           (id: \"sump\", shape: prism(area_m2: 4), floor_m: 0, rim_m: 1, fill_m: 0.8),
           (id: \"tank\", shape: prism(area_m2: 1), floor_m: 1, rim_m: 2, fill_m: 1.2),
         ],
         runs: [
           (id: \"lift\", from: (at: \"sump\", opening: submerged()), to: (at: \"tank\", opening: mouth(lip_m: 1.9, turned: down)),
            pipe: own(bore_m: 0.04), length_m: 2, valves: [(kind: \"ball\")],
            equipment: [(name: \"Filter\", clean: terms(a: 0, b: 1.0e6))],
            pump: (id: \"pump\", curve: power(h0_m: 4, c: 1.0e6, n: 2))),
           (id: \"back\", from: (at: \"tank\", opening: upstand(crest_m: 1.3)), to: (at: \"sump\", opening: submerged()),
            pipe: own(bore_m: 0.06), length_m: 1),
         ],
         ways: [
           (id: \"shut\", valves: [(run: \"lift\", opening: 0)]),
           (id: \"past\", out: [(run: \"lift\", equipment: \"Filter\")]),
           (id: \"off\", pumps_off: [\"lift\"]),
         ]";
    let drawn = layout(body);
    let in_way = |index: usize| drawn.in_way(&drawn.ways[index]);
    let lifts = |layout: &Layout| flow(&solved(layout, State::Running), "lift");
    let normal = lifts(&drawn);
    assert!(normal > 5e-4, "{normal}");
    assert_eq!(lifts(&in_way(0)), 0.0);
    assert!(lifts(&in_way(1)) > 1.1 * normal);
    let off = in_way(2);
    assert_eq!(lifts(&off), 0.0);
    assert_eq!(off.runs[0].pump.as_ref().unwrap().speed, 0.0);
    // Nothing but what the way names, and the drawing itself stays.
    let mut back = in_way(0);
    back.runs[0].valves[0].opening = 1.0;
    assert_eq!(back, drawn);
    assert!(in_way(1).runs[0].equipment[0].out);
}

/// What an end says of its entrance counts wherever that of the layout would: in the share of a `total_k` that is taken
/// at the ends, and at the tee of a raised intake.
#[test]
fn an_entrance_of_an_end_is_as_that_of_the_layout() {
    let drained = |settings: &str, own: &str, opening: &str| {
        let report = running(&format!(
            "{settings} fixed: [(id: \"ditch\", role: waste, level_m: -1)], \
             vessels: [(id: \"bed\", shape: prism(area_m2: 2), floor_m: 0, rim_m: 9, fill_m: 0.5, make_up_m3_s: 0.002)], \
             runs: [(id: \"drain\", from: (at: \"bed\", opening: {opening}{own}), \
               to: (at: \"ditch\", opening: mouth(lip_m: 0.2)), pipe: own(bore_m: 0.07), length_m: 6, total_k: 2)]"
        ));
        level(&report, "bed")
    };
    let openings = [
        "side_hole(invert_m: 0.25)",
        "raised_intake(intake_m: 0.1, crest_m: 0.6, crest: tee)",
    ];
    for opening in openings {
        let plain_m = drained("", "", opening);
        let layout_m = drained("coefficients: (entrance_k: 0.9),", "", opening);
        let own_m = drained("", ", entrance_k: 0.9", opening);
        assert!(
            (own_m - layout_m).abs() < 1e-9,
            "{opening}: {own_m} {layout_m}"
        );
        assert!(layout_m > plain_m + 1e-4, "{opening}: {plain_m} {layout_m}");
    }
}
