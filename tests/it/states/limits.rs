//! The ends of the range: nothing moves, everything is dry, drowned or turned round.

use super::{layout, near, rest, running};
use crate::networks::{flow, level, solved};
use fallwright::state::State;
use fallwright::states::report::{Control, StateReport};

fn control(report: &StateReport, run: &str) -> Control {
    let found = report.runs.iter().find(|part| part.id.as_str() == run);
    found.unwrap().control
}

/// A tank of 2 m² whose floor is at 0 m, filled to `fill_m`.
fn tank(id: &str, fill_m: f64) -> String {
    format!("(id: \"{id}\", shape: prism(area_m2: 2), floor_m: 0, rim_m: 5, fill_m: {fill_m:?}),")
}

fn pipe(id: &str, [from, to]: [&str; 2], more: &str) -> String {
    format!(
        "(id: \"{id}\", from: (at: \"{from}\", opening: submerged()), \
         to: (at: \"{to}\", opening: submerged()), pipe: own(bore_m: 0.05), {more}),"
    )
}

#[test]
fn prop_equal_levels_pass_nothing() {
    let link = pipe("link", ["a", "b"], "length_m: 2");
    let report = running(&format!(
        "vessels: [{}{}], runs: [{link}]",
        tank("a", 0.7),
        tank("b", 0.7)
    ));
    assert_eq!(flow(&report, "link"), 0.0);
    assert_eq!(control(&report, "link"), Control::Still);
    near(level(&report, "a"), 0.7, 1e-9);
    near(level(&report, "b"), 0.7, 1e-9);
}

#[test]
fn prop_a_ring_of_equalisers_shares_its_water() {
    let fills = [0.2, 1.9, 0.6, 1.1, 0.3];
    let names = ["a", "b", "c", "d", "e"];
    let vessels: String = names
        .iter()
        .zip(fills)
        .map(|(id, fill)| tank(id, fill))
        .collect();
    let runs: String = (0..5)
        .map(|i| {
            pipe(
                &format!("r{i}"),
                [names[i], names[(i + 1) % 5]],
                "length_m: 1.5",
            )
        })
        .collect();
    let report = rest(&format!("vessels: [{vessels}], runs: [{runs}]"));
    let mean = fills.iter().sum::<f64>() / 5.0;
    for name in names {
        near(level(&report, name), mean, 1e-6);
    }
}

#[test]
fn prop_a_run_without_length_and_k_equalises() {
    let link = pipe("link", ["a", "b"], "length_m: 0, total_k: 0");
    let report = rest(&format!(
        "vessels: [{}{}], runs: [{link}]",
        tank("a", 1.0),
        tank("b", 0.2)
    ));
    near(level(&report, "a"), 0.6, 1e-6);
    near(level(&report, "b"), 0.6, 1e-6);
}

#[test]
fn prop_a_shut_valve_holds_the_water_back() {
    let link = pipe(
        "link",
        ["a", "b"],
        "length_m: 1, valves: [(kind: \"gate\", opening: 0)]",
    );
    let report = running(&format!(
        "vessels: [{}{}], runs: [{link}]",
        tank("a", 1.0),
        tank("b", 0.2)
    ));
    assert_eq!(flow(&report, "link"), 0.0);
    assert_eq!(control(&report, "link"), Control::Shut);
    near(level(&report, "a"), 1.0, 1e-12);
}

/// A tank over a standpipe with its crest at 1 m.
fn standpipe(fill_m: f64, make_up: &str) -> StateReport {
    running(&format!(
        "vessels: [(id: \"a\", shape: prism(area_m2: 2), floor_m: 0, rim_m: 5, fill_m: {fill_m:?}, {make_up})], \
         fixed: [(id: \"ditch\", level_m: -2)], \
         runs: [(id: \"stand\", from: (at: \"a\", opening: upstand(crest_m: 1)), \
         to: (at: \"ditch\", opening: mouth(lip_m: -1)), pipe: own(bore_m: 0.05), length_m: 2)]"
    ))
}

#[test]
fn prop_a_level_at_the_crest_and_below_it_passes_nothing() {
    for (fill, held_by) in [(1.0, Control::Dry), (0.4, Control::Dry)] {
        let report = standpipe(fill, "");
        assert_eq!(flow(&report, "stand"), 0.0);
        assert_eq!(control(&report, "stand"), held_by);
        near(level(&report, "a"), fill, 1e-12);
    }
}

#[test]
fn prop_a_level_over_the_crest_falls_to_it() {
    let report = standpipe(1.3, "");
    near(level(&report, "a"), 1.0, 1e-3);
    near(flow(&report, "stand"), 0.0, 1e-6);
}

#[test]
fn prop_a_vessel_without_opening_keeps_its_water_or_fills_for_ever() {
    let report = running(&format!("vessels: [{}]", tank("a", 0.7)));
    near(level(&report, "a"), 0.7, 1e-12);
    let report = running(
        "vessels: [(id: \"a\", shape: prism(area_m2: 2), floor_m: 0, rim_m: 5, fill_m: 1, make_up_m3_s: 1.0e-4)]",
    );
    assert_eq!(report.vessels[0].level_m, None);
}

/// One pipe between two fixed levels, its end at 0 m.
fn between(upper_m: f64, lower_m: f64, more: &str) -> f64 {
    let report = running(&format!(
        "{more} fixed: [(id: \"a\", level_m: {upper_m:?}), (id: \"b\", level_m: {lower_m:?})], \
         runs: [(id: \"p\", from: (at: \"a\"), to: (at: \"b\", opening: submerged(lip_m: 0)), \
         pipe: own(bore_m: 0.1, roughness_m: 1.5e-6), length_m: 2000, total_k: 0)]"
    ));
    flow(&report, "p")
}

/// Colebrook–White written for the flow of a pipe of 2 km × 100 mm, ε 1.5 µm, ν 1e-6 m²/s.
/// [@colebrook-1939]
fn by_colebrook(head_m: f64) -> f64 {
    let (bore, g): (f64, f64) = (0.1, 9.80665);
    let friction_velocity = (2.0 * g * bore * head_m / 2000.0).sqrt();
    let inside = 1.5e-6 / (3.7 * bore) + 2.51e-6 / (bore * friction_velocity);
    -2.0 * friction_velocity * inside.log10() * std::f64::consts::FRAC_PI_4 * bore * bore
}

const ROUND_WATER: &str = "water: (kinematic_viscosity_m2_s: 1e-6),";

#[test]
fn prop_two_kilometres_by_colebrook_turned_round() {
    for head in [0.5, 5.0, 50.0] {
        let wanted = by_colebrook(head);
        near(between(head, -3.0, ROUND_WATER), wanted, 1e-6 * wanted);
    }
}

#[test]
fn prop_an_outlet_in_air_does_not_feel_the_level_below() {
    let free = between(4.0, -1.0, ROUND_WATER);
    assert_eq!(free, between(4.0, -8.0, ROUND_WATER));
    near(free, between(4.0, 0.0, ROUND_WATER), 1e-12);
    near(between(4.0, 1.5, ROUND_WATER), by_colebrook(2.5), 1e-8);
    near(between(1.5, 4.0, ROUND_WATER), -by_colebrook(2.5), 1e-8);
}

#[test]
fn prop_cold_water_flows_slower() {
    let at =
        |temperature: &str| between(3.0, 0.0, &format!("water: (temperature_c: {temperature}),"));
    let (cold, warm) = (at("0"), at("40"));
    assert!(cold > 0.0 && warm > 1.05 * cold, "{cold} and {warm}");
}

#[test]
fn prop_a_layout_in_pieces_is_the_sum_of_its_pieces() {
    let piece = |id: &str, fill: f64| {
        let (high, low) = (format!("{id}1"), format!("{id}2"));
        let vessels = tank(&high, fill) + &tank(&low, 0.1);
        (vessels, pipe(id, [&high, &low], "length_m: 3"))
    };
    let (first, second) = (piece("p", 1.4), piece("q", 0.8));
    let alone = |(vessels, runs): &(String, String)| {
        let layout = layout(&format!("vessels: [{vessels}], runs: [{runs}]"));
        solved(&layout, State::Rest)
    };
    let both = rest(&format!(
        "vessels: [{}{}], runs: [{}{}]",
        first.0, second.0, first.1, second.1
    ));
    near(level(&both, "p1"), level(&alone(&first), "p1"), 1e-6);
    near(level(&both, "q2"), level(&alone(&second), "q2"), 1e-6);
}

/// 2e-14 m³/s by Hagen–Poiseuille: less than counts as a flow, and no error of the energy equation.
#[test]
fn prop_a_trickle_through_a_hair_is_no_error() {
    let report = running(
        "fixed: [(id: \"a\", level_m: 1), (id: \"b\", level_m: 0)], \
         runs: [(id: \"hair\", from: (at: \"a\"), to: (at: \"b\"), pipe: own(bore_m: 1e-4), length_m: 1000)]",
    );
    near(flow(&report, "hair"), 0.0, 1e-12);
    assert!(report.energy_error_m < 1e-6);
}
