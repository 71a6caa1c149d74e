//! High points of runs: where they are, and that no level falls where a hump or a flow grows.

use crate::support::layouts::{at, bare, first_law, joint, run, running, two_tanks};
use fallwright::geometry::Corner;
use fallwright::hydraulics::profile::high_point::{Foot, HighPoint};
use fallwright::hydraulics::profile::march_profile::MarchProfile;
use fallwright::layout::{Layout, Opening, Run, Turned};
use fallwright::network::{RunLaw, Sense};

fn mouth(lip_m: f64, turned: Turned) -> Opening {
    Opening::Mouth {
        lip_m,
        turned,
        bore_m: None,
        air_gap: false,
    }
}

fn hole(invert_m: f64) -> Opening {
    Opening::SideHole {
        invert_m,
        bore_m: None,
    }
}

/// A drain from a hole at 1 m over these corners (distance, height) to a horizontal mouth.
fn drain(corners: &[(f64, f64)], end: (f64, f64)) -> Run {
    let mut drain = run(
        "drain",
        at("upper", hole(1.0)),
        at("lower", mouth(end.1, Turned::Horizontal)),
    );
    drain.route = corners
        .iter()
        .map(|&(x_m, z_m)| Corner::at(x_m, 0.0, z_m))
        .collect();
    drain.length_m = None;
    drain.to.place = Some(fallwright::layout::Place {
        x_m: end.0,
        ..Default::default()
    });
    drain
}

fn law(drain: Run) -> RunLaw {
    first_law(&running(&two_tanks(vec![drain]))).clone()
}

fn course(drain: Run, sense: Sense) -> MarchProfile {
    law(drain)
        .grade(sense)
        .expect("it is marched")
        .profile()
        .clone()
}

fn points(drain: Run, sense: Sense) -> Vec<HighPoint> {
    course(drain, sense).high_points
}

#[test]
fn a_hump_is_a_high_point_either_way() {
    let drain = drain(&[(2.0, 1.2)], (6.0, 0.8));
    let [there] = points(drain.clone(), Sense::Forward)[..] else {
        panic!("one hump");
    };
    assert_eq!(
        (there.boundary, there.invert_m, there.foot),
        (1, 1.2, Foot::Outlet)
    );
    assert_eq!(there.upstream_m, 1.0);
    let falls = 0.4 / f64::hypot(4.0, 0.4);
    assert!((there.sine - falls).abs() < 1e-12);
    let [back] = points(drain, Sense::Backward)[..] else {
        panic!("one hump");
    };
    assert_eq!(
        (back.boundary, back.invert_m, back.upstream_m),
        (1, 1.2, 0.8)
    );
}

#[test]
fn a_drain_that_only_falls_has_none_and_a_level_reach_counts_once() {
    assert_eq!(
        points(
            drain(&[(2.0, 0.95), (4.0, 0.95)], (6.0, 0.8)),
            Sense::Forward
        ),
        []
    );
    let flat = points(drain(&[(2.0, 1.2), (4.0, 1.2)], (6.0, 0.8)), Sense::Forward);
    assert_eq!(flat.len(), 1);
    assert_eq!((flat[0].boundary, flat[0].invert_m), (1, 1.2));
}

#[test]
fn a_dip_behind_a_hump_is_its_foot() {
    let found = points(
        drain(
            &[(1.0, 1.3), (2.0, 0.6), (3.0, 1.1), (4.0, 0.9)],
            (5.0, 0.9),
        ),
        Sense::Forward,
    );
    assert_eq!(found.len(), 2);
    // From the outlet upwards: the lower hump ends at the outlet, the upper one in the dip.
    assert_eq!((found[0].invert_m, found[0].foot), (1.1, Foot::Outlet));
    assert_eq!(found[0].upstream_m, 0.6);
    let dip = Foot::LowPoint {
        boundary: 3,
        invert_m: 0.6,
    };
    assert_eq!((found[1].invert_m, found[1].foot), (1.3, dip));
}

#[test]
fn a_vent_is_seen_at_its_corner_and_on_its_level_reach() {
    let mut drain = drain(&[(2.0, 1.2), (4.0, 1.2)], (6.0, 0.8));
    drain.route[0].vented = true;
    assert!(points(drain.clone(), Sense::Forward)[0].vented);
    drain.route[0].vented = false;
    drain.route[1].vented = true;
    assert!(points(drain, Sense::Forward)[0].vented);
}

/// Two runs that meet at a joint: the joint is the high point of the one that falls from it, where the other falls
/// from it too.
#[test]
fn a_joint_is_a_high_point_like_a_corner() {
    let over = |z_m: f64| -> Layout {
        let first = run("rise", at("upper", hole(1.0)), bare("tee"));
        let second = run(
            "fall",
            bare("tee"),
            at("lower", mouth(0.5, Turned::Horizontal)),
        );
        Layout {
            joints: vec![joint("tee", z_m)],
            ..two_tanks(vec![first, second])
        }
    };
    let high = |z_m: f64| {
        let lowered = running(&over(z_m));
        let fallwright::network::Link::Run(law) = &lowered.network.edge_weights().nth(1).unwrap()
        else {
            panic!("a run");
        };
        law.grade(Sense::Forward)
            .unwrap()
            .profile()
            .high_points
            .clone()
    };
    // The centre of a bore of 0.1 m is 50 mm over the invert.
    assert_eq!(high(1.04), []);
    let found = high(1.2);
    assert_eq!(found.len(), 1);
    assert!((found[0].invert_m - 1.15).abs() < 1e-12);
}

/// Head that must stand over the hole for a flow, inlet and all, with a free outlet.
fn needed_m(law: &RunLaw, flow_m3_s: f64) -> f64 {
    let inlet_m = law.ends[0].intake_m() + law.ends[0].inlet.head_for(flow_m3_s).value;
    inlet_m.max(law.required_head(Sense::Forward, flow_m3_s, -5.0).head_m)
}

/// By search: a hump of 0 to 300 mm in steps of a millimetre, at ten flows.
#[test]
fn prop_no_level_falls_where_a_hump_rises() {
    let flows: Vec<f64> = (0..10)
        .map(|n| 0.05e-3 * 200f64.powf(f64::from(n) / 9.0))
        .collect();
    let mut before = vec![f64::NEG_INFINITY; flows.len()];
    for hump_mm in 0..=300 {
        let z_m = 1.0 + f64::from(hump_mm) / 1000.0;
        let law = law(drain(&[(10.0, z_m)], (20.0, 0.9)));
        for (flow, before) in flows.iter().zip(&mut before) {
            let now = needed_m(&law, *flow);
            assert!(
                now >= *before - 1e-9,
                "{hump_mm} mm, {flow} m³/s: {before} then {now}"
            );
            *before = now;
        }
    }
}

/// By search: flow from 0.05 to 10 L/s, the hump anywhere along the drain.
#[test]
fn prop_no_level_falls_where_the_flow_grows() {
    for place in 1..10 {
        for hump_mm in [-60, -10, 0, 5, 30, 100, 300] {
            let z_m = 1.0 + f64::from(hump_mm) / 1000.0;
            let law = law(drain(&[(2.0 * f64::from(place), z_m)], (20.0, 0.9)));
            let mut before = f64::NEG_INFINITY;
            for step in 0..=200 {
                let flow = 0.05e-3 * 200f64.powf(f64::from(step) / 200.0);
                let now = needed_m(&law, flow);
                assert!(
                    now >= before - 1e-9,
                    "{place} {hump_mm} {flow}: {before} then {now}"
                );
                before = now;
            }
        }
    }
}
