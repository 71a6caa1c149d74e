//! Pump curves, speed, power, suction.

use super::difference;
use super::units::{FT, FT3_S, GPM, HP, INCH, LB_FT3, PSI, celsius};
use crate::verification::{Case, checks};
use fallwright::hydraulics::STANDARD_GRAVITY_M_S2 as G;
use fallwright::hydraulics::losses::friction::Wall;
use fallwright::hydraulics::losses::hazen_williams::COEFFICIENT;
use fallwright::hydraulics::losses::loss::{Loss, Minor};
use fallwright::hydraulics::pump::{
    Curve, CurveError, LABEL_EXPONENT, LABEL_EXPONENTS, Suction, npsh_available_m, npsh_required_m,
    power_w,
};
use fallwright::hydraulics::water::Water;
use proptest::prelude::*;

/// A curve that ends at the given duty, at the given share of its speed.
fn slowed(given: &Case) -> Curve {
    let (flow, head) = (given.n("flow_gpm") * GPM, given.n("head_ft") * FT);
    let points = [
        (0.0, 1.4 * head),
        (0.5 * flow, 1.3 * head),
        (0.8 * flow, 1.15 * head),
        (flow, head),
    ];
    Curve::points(&points)
        .unwrap()
        .with_speed(given.n("speed_ratio"))
}

fn shaft_hp(given: &Case) -> f64 {
    let density = given.n("weight_lb_ft3") * LB_FT3;
    let (flow, head) = (given.n("flow_gpm") * GPM, given.n("head_ft") * FT);
    power_w(density, G, flow, head, given.n("efficiency")) / HP
}

fn fixed(bore_m: f64, length_m: f64, factor: f64, k: f64) -> Loss {
    Loss {
        bore_m,
        length_m,
        wall: Wall::FixedFactor(factor),
        minors: vec![Minor { k, bore_m }],
        equipment_a: 0.0,
        equipment_b: 0.0,
        kinematic_viscosity_m2_s: 1e-6,
        gravity_m_s2: G,
        hazen_williams_k: COEFFICIENT,
    }
}

fn liquid(density_kg_m3: f64, vapour_pressure_pa: f64) -> Water {
    Water {
        density_kg_m3,
        kinematic_viscosity_m2_s: 1e-6,
        vapour_pressure_pa,
    }
}

fn five_points(given: &Case) -> Curve {
    let points: Vec<(f64, f64)> = (0..5)
        .map(|i| {
            (
                given.n(&format!("q{i}_l_s")) / 1e3,
                given.n(&format!("h{i}_m")),
            )
        })
        .collect();
    Curve::points(&points).unwrap()
}

fn curve_head(given: &Case) -> f64 {
    five_points(given).head(given.n("flow_l_s") / 1e3).value
}

fn curve_slope(given: &Case) -> f64 {
    five_points(given)
        .head(given.n("flow_l_s") / 1e3)
        .derivative
}

checks! {
    val_affinity_flow: "AFF-CRANE733Q" => |given| slowed(given).end_of_curve_m3_s().unwrap() / GPM;
    val_affinity_head: "AFF-CRANE733H" => |given| {
        let curve = slowed(given);
        curve.head(curve.end_of_curve_m3_s().unwrap()).value / FT
    };
    val_affinity_power: "AFF-CRANE733P" => |given| {
        let curve = slowed(given);
        let flow = curve.end_of_curve_m3_s().unwrap();
        let slow = power_w(1000.0, G, flow, curve.head(flow).value, 0.7);
        let fast = power_w(1000.0, G, given.n("flow_gpm") * GPM, given.n("head_ft") * FT, 0.7);
        given.n("power_hp") * slow / fast
    };
    val_suction_height: "NPSH-MUNSON" => |given| {
        let water = Water::at(celsius(given.n("temperature_f")), 0.0).unwrap();
        let pipe = fixed(given.n("bore_in") * INCH, 0.0, 0.0, given.n("k"));
        let suction = Suction {
            surface_pressure_pa: given.n("pressure_psi") * PSI,
            static_head_m: 0.0,
            loss_m: pipe.at(given.n("flow_ft3_s") * FT3_S).value,
        };
        npsh_available_m(&suction, &water, G) / FT - given.n("required_ft")
    };
    val_npsh_of_a_pressed_tank: "NPSH-CRANE" => |given| {
        let water = liquid(given.n("weight_lb_ft3") * LB_FT3, given.n("vapour_psi") * PSI);
        let suction = Suction {
            surface_pressure_pa: (given.n("gauge_psi") + given.n("atmosphere_psi")) * PSI,
            static_head_m: -given.n("lift_ft") * FT,
            loss_m: given.n("loss_ft") * FT,
        };
        npsh_available_m(&suction, &water, G) / FT
    };
    val_suction_lift: "NPSH-KHAN" => |given| {
        let water = liquid(given.n("density_kg_m3"), given.n("vapour_pa"));
        let suction = Suction {
            surface_pressure_pa: given.n("pressure_pa"),
            static_head_m: 0.0,
            loss_m: given.n("loss_m"),
        };
        npsh_available_m(&suction, &water, G) - given.n("sigma") * given.n("head_m")
    };
    val_volume_before_the_suction_fails: "NPSH-SCH" => |given| {
        // The lift is from the tank's floor; the level may fall until nothing is to spare.
        let water = liquid(given.n("density_kg_m3"), given.n("vapour_pa"));
        let suction = Suction {
            surface_pressure_pa: given.n("pressure_pa"),
            static_head_m: given.n("level_m") - given.n("lift_m"),
            loss_m: given.n("loss_m"),
        };
        let spare_m = npsh_available_m(&suction, &water, given.n("gravity_m_s2")) - given.n("required_m");
        std::f64::consts::PI / 4.0 * given.n("diameter_m").powi(2) * spare_m
    };
    val_npsh_with_the_velocity_head: "NPSH-FOX" => |given| {
        let water = Water::at(celsius(given.n("temperature_f")), 0.0).unwrap();
        let (bore_m, factor) = (given.n("bore_in") * INCH, given.n("factor"));
        let k = given.n("k") + given.n("diameters") * factor;
        let pipe = fixed(bore_m, given.n("length_ft") * FT, factor, k);
        let flow = given.n("flow_gpm") * GPM;
        let suction = Suction {
            surface_pressure_pa: given.n("pressure_psi") * PSI,
            static_head_m: given.n("static_ft") * FT,
            loss_m: pipe.at(flow).value,
        };
        npsh_available_m(&suction, &water, G) / FT
    };
    val_shaft_power_700_gpm: "EN-CRANE734B" => shaft_hp;
    val_shaft_power_100_gpm: "EN-CRANE715" => shaft_hp;
    val_shaft_power_1600_gpm: "N18-080" => shaft_hp;
    val_power_for_a_small_pipe: "EN-CR37" => |given| {
        let bore_m = given.n("bore_m");
        let length_m = given.n("length_m") + given.n("diameters") * bore_m;
        let flow = given.n("flow_m3_h") / 3600.0;
        let head = given.n("lift_m") + fixed(bore_m, length_m, given.n("factor"), 0.0).at(flow).value;
        power_w(given.n("density_kg_m3"), G, flow, head, given.n("efficiency"))
    };
    val_energy_of_a_year: "EN-W2W" => |given| {
        let flow = given.n("flow_m3_h") / 3600.0;
        let density = given.n("density_kg_m3");
        power_w(density, G, flow, given.n("head_m"), given.n("efficiency")) * given.n("hours") / 1e3
    };
    val_curve_head_1: "CP-H-1" => curve_head;
    val_curve_head_2: "CP-H-2" => curve_head;
    val_curve_head_3: "CP-H-3" => curve_head;
    val_curve_head_4: "CP-H-4" => curve_head;
    val_curve_slope_1: "CP-S-1" => curve_slope;
    val_curve_slope_2: "CP-S-2" => curve_slope;
    val_curve_through_three_points: "CP-FIT" => |given| {
        let points = [
            (0.0, given.n("h0_m")),
            (given.n("q1_l_s") / 1e3, given.n("h1_m")),
            (given.n("q2_l_s") / 1e3, given.n("h2_m")),
        ];
        power_through(&points).head(given.n("flow_l_s") / 1e3).value
    };
}

fn any_points() -> impl Strategy<Value = Vec<(f64, f64)>> {
    prop::collection::vec((1e-4_f64..1e-2, -1.0_f64..10.0), 2..8).prop_map(|steps| {
        let mut flow = 0.0;
        steps
            .into_iter()
            .map(|(step, head)| {
                flow += step;
                (flow - 1e-4, head)
            })
            .collect()
    })
}

proptest! {
    #[test]
    fn prop_curve_never_rises(points in any_points(), log_q in -12.0_f64..3.0, growth in 1.0_f64..3.0) {
        let curve = Curve::points(&points).unwrap();
        let q = 10f64.powf(log_q);
        let (here, there) = (curve.head(q), curve.head(q * growth));
        prop_assert!(here.value.is_finite() && here.derivative.is_finite() && here.derivative <= 0.0);
        prop_assert!(there.value <= here.value + 1e-12 * here.value.abs().max(1.0));
        prop_assert!(curve.head(-q).value == curve.shut_off_head_m() && curve.head(-q).derivative == 0.0);
    }

    #[test]
    fn prop_curve_covers_its_points_from_above(points in any_points()) {
        let curve = Curve::points(&points).unwrap();
        let mut above = f64::NEG_INFINITY;
        for &(q, h) in points.iter().rev() {
            above = above.max(h);
            prop_assert!((curve.head(q).value - above).abs() < 1e-12);
        }
        prop_assert_eq!(curve.rises(), points.windows(2).any(|w| w[1].1 > w[0].1));
    }

    #[test]
    fn prop_curve_slope_is_the_difference(points in any_points(), share in 0.01_f64..1.5) {
        let curve = Curve::points(&points).unwrap();
        let end = curve.end_of_curve_m3_s().unwrap();
        let q = share * end;
        prop_assume!(points.iter().all(|p| (p.0 - q).abs() > 1e-6 * end));
        let numeric = difference(|q| curve.head(q).value, q, 1e-7 * end);
        prop_assert!((numeric - curve.head(q).derivative).abs() * end < 1e-4);
    }

    #[test]
    fn prop_affinity(points in any_points(), ratio in 0.2_f64..1.5, q in 0.0_f64..0.05) {
        let curve = Curve::points(&points).unwrap();
        let scaled = curve.with_speed(ratio);
        let want = curve.head(q).value * ratio * ratio;
        prop_assert!((scaled.head(q * ratio).value - want).abs() < 1e-9 * want.abs().max(1.0));
        let slope = curve.head(q).derivative * ratio;
        prop_assert!((scaled.head(q * ratio).derivative - slope).abs() < 1e-9 * slope.abs().max(1.0));
    }
}

/// h0 − c·Qⁿ through three points, the first at no flow: how a law is found that is then entered as such.
fn power_through(&[(_, h0_m), (q1, h1), (q2, h2)]: &[(f64, f64); 3]) -> Curve {
    let n = ((h0_m - h2) / (h0_m - h1)).ln() / (q2 / q1).ln();
    Curve::Power {
        h0_m,
        c: (h0_m - h2) / q2.powf(n),
        n,
    }
}

#[test]
fn three_points_are_joined_like_any_others() {
    // On a parabola of 5 m, whose cubic is not the parabola.
    let points = [(0.0, 5.0), (1e-3, 4.0), (2e-3, 1.0)];
    let curve = Curve::points(&points).unwrap();
    assert!(matches!(curve, Curve::Points(_)));
    for (flow_m3_s, head_m) in points {
        assert!((curve.head(flow_m3_s).value - head_m).abs() < 1e-12);
    }
    // By hand, in m and L/s: slope (3·(−1) − (−3))/2 = 0 at rest, 2/(−1/1 − 1/3) = −1.5 at the middle point;
    // halfway between the two (5 + 4)/2 + (0 + 1.5)/8.
    assert!((curve.head(0.5e-3).value - 4.6875).abs() < 1e-12);
    assert!((power_through(&points).head(0.5e-3).value - 4.75).abs() < 1e-12);
    // Beyond the last point it goes straight on, where the parabola would bend down.
    let slope = curve.head(2e-3).derivative;
    assert!((curve.head(3e-3).value - (1.0 + 1e-3 * slope)).abs() < 1e-12);
    assert_eq!(curve.end_of_curve_m3_s(), Some(2e-3));
}

#[test]
fn prop_points_that_make_no_curve_say_why() {
    use CurveError::{FlowNotIncreasing, NegativeFlow, NotFinite, TooFewPoints};
    let why = |points: &[(f64, f64)]| Curve::points(points).unwrap_err();
    assert_eq!(
        why(&[]),
        TooFewPoints {
            needed: 2,
            given: 0
        }
    );
    assert_eq!(
        why(&[(0.0, 1.0)]),
        TooFewPoints {
            needed: 2,
            given: 1
        }
    );
    assert_eq!(why(&[(0.0, 1.0), (f64::NAN, 0.0)]), NotFinite { index: 1 });
    assert_eq!(why(&[(-1.0, 1.0), (1.0, 0.0)]), NegativeFlow { index: 0 });
    assert_eq!(
        why(&[(1.0, 1.0), (1.0, 0.0)]),
        FlowNotIncreasing { index: 1 }
    );
}

#[test]
fn prop_the_suction_head_asked_for_goes_straight_from_point_to_point() {
    let points = [(0.001, 2.0), (0.002, 2.5), (0.003, 4.0)];
    let asked = |flow_m3_s: f64| npsh_required_m(&points, flow_m3_s).unwrap();
    for (flow_m3_s, npsh_m) in [
        (0.0, 2.0),
        (0.001, 2.0),
        (0.0015, 2.25),
        (0.002, 2.5),
        (0.0025, 3.25),
        (0.004, 5.5),
    ] {
        assert!((asked(flow_m3_s) - npsh_m).abs() < 1e-12, "{flow_m3_s}");
    }
    assert_eq!(npsh_required_m(&[], 0.001), None);
    assert_eq!(npsh_required_m(&[(0.002, 3.0)], 0.9), Some(3.0));
}

#[test]
fn a_label_gives_a_parabola_between_its_two_numbers() {
    let curve = Curve::of_label(6.0, 0.0025, LABEL_EXPONENT).unwrap();
    assert_eq!(curve.shut_off_head_m(), 6.0);
    assert!(curve.head(0.0025).value.abs() < 1e-12);
    // Half of the flow: 6 · (1 − 0.25).
    assert!((curve.head(0.00125).value - 4.5).abs() < 1e-12);
    assert!((curve.end_of_curve_m3_s().unwrap() - 0.0025).abs() < 1e-15);
    for (head_m, flow_m3_s) in [
        (0.0, 0.001),
        (6.0, 0.0),
        (-1.0, 0.001),
        (f64::NAN, 0.001),
        (6.0, f64::INFINITY),
    ] {
        assert_eq!(Curve::of_label(head_m, flow_m3_s, LABEL_EXPONENT), None);
    }
}

#[test]
fn the_edges_of_a_guess_hold_its_middle() {
    let at = |n: f64, flow: f64| Curve::of_label(6.0, 0.0025, n).unwrap().head(flow).value;
    for step in 1..10 {
        let flow = 0.0025 * f64::from(step) / 10.0;
        let (low, middle, high) = (
            at(*LABEL_EXPONENTS.start(), flow),
            at(LABEL_EXPONENT, flow),
            at(*LABEL_EXPONENTS.end(), flow),
        );
        assert!(low < middle && middle < high, "{low} {middle} {high}");
    }
    // As docs/method/pump-curve.md says it, at half of the largest flow.
    assert!((at(1.25, 0.00125) / 6.0 - 0.58).abs() < 0.005);
    assert!((at(3.0, 0.00125) / 6.0 - 0.875).abs() < 1e-12);
}
