//! Head lost along a run: textbook pipes, and the laws every loss must keep.

use super::units::{FT, FT3_S, GPM, INCH, LB_FT3, PSI, US_WATER_LB_FT3, celsius};
use super::{difference, solve};
use crate::verification::{Case, checks};
use approx::assert_relative_eq;
use fallwright::hydraulics::STANDARD_GRAVITY_M_S2 as G;
use fallwright::hydraulics::losses::equipment::{from_one_point, from_two_points};
use fallwright::hydraulics::losses::fittings::{contraction_k, crane_k, expansion_k};
use fallwright::hydraulics::losses::friction::Wall;
use fallwright::hydraulics::losses::hazen_williams::COEFFICIENT;
use fallwright::hydraulics::losses::loss::{LEAST_RESISTANCE_S_M2, Loss, Minor};
use fallwright::hydraulics::pump::power_w;
use fallwright::hydraulics::water::Water;
use proptest::prelude::*;

/// A bare pipe of water near 20 °C.
fn pipe(bore_m: f64, length_m: f64, wall: Wall) -> Loss {
    Loss {
        bore_m,
        length_m,
        wall,
        minors: Vec::new(),
        equipment_a: 0.0,
        equipment_b: 0.0,
        kinematic_viscosity_m2_s: 1.004e-6,
        gravity_m_s2: G,
        hazen_williams_k: COEFFICIENT,
    }
}

fn with_k(mut loss: Loss, k: f64) -> Loss {
    let bore_m = loss.bore_m;
    loss.minors.push(Minor { k, bore_m });
    loss
}

fn with_viscosity(mut loss: Loss, kinematic_viscosity_m2_s: f64) -> Loss {
    loss.kinematic_viscosity_m2_s = kinematic_viscosity_m2_s;
    loss
}

fn rough(roughness_m: f64) -> Wall {
    Wall::Darcy { roughness_m }
}

fn us_water(given: &Case) -> f64 {
    let water = Water::at(celsius(given.n("temperature_f")), 0.0).unwrap();
    water.kinematic_viscosity_m2_s
}

/// The flow that loses `head_m` in these runs one after another.
fn flow_for(head_m: f64, series: &[Loss]) -> f64 {
    solve(0.0, 10.0, head_m, |q| {
        series.iter().map(|loss| loss.at(q).value).sum()
    })
}

fn riser_psi(given: &Case) -> f64 {
    let (bore_m, flow) = (given.n("bore_ft") * FT, given.n("flow_ft3_s") * FT3_S);
    let wall = Wall::FixedFactor(given.n("factor"));
    let loss = with_k(pipe(bore_m, given.n("length_ft") * FT, wall), given.n("k"));
    let mouth = pipe(given.n("mouth_in") * INCH, 0.0, wall).velocity_m_s(flow);
    let velocity_head_m = (mouth.powi(2) - loss.velocity_m_s(flow).powi(2)) / (2.0 * G);
    let head_m = given.n("rise_ft") * FT + velocity_head_m + loss.at(flow).value;
    head_m * US_WATER_LB_FT3 * LB_FT3 * G / PSI
}

fn three_pipes(given: &Case) -> [Loss; 3] {
    let wall = Wall::FixedFactor(given.n("factor"));
    [
        pipe(given.n("bore1_m"), given.n("length1_m"), wall),
        pipe(given.n("bore2_m"), given.n("length2_m"), wall),
        pipe(given.n("bore3_m"), given.n("length3_m"), wall),
    ]
}

checks! {
    val_long_main: "DW-MAURER-V1" => |given| {
        let wall = rough(given.n("roughness_ft") * FT);
        let main = pipe(given.n("bore_in") * INCH, given.n("length_ft") * FT, wall);
        with_viscosity(main, us_water(given)).at(given.n("flow_ft3_s") * FT3_S).value / FT
    };
    val_flow_for_a_head: "DW-MAURER-T2" => |given| {
        let main = pipe(given.n("bore_m"), given.n("length_m"), rough(given.n("roughness_mm") / 1e3));
        flow_for(given.n("head_m"), &[with_viscosity(main, given.n("viscosity_m2_s"))])
    };
    val_bore_for_a_head: "DW-MAURER-T3" => |given| {
        let gain = |bore_m: f64| {
            let main = pipe(bore_m, given.n("length_m"), rough(given.n("roughness_mm") / 1e3));
            -with_viscosity(main, given.n("viscosity_m2_s")).at(given.n("flow_m3_s")).value
        };
        solve(0.2, 2.0, -given.n("head_m"), gain)
    };
    val_bore_for_a_head_us: "DW-MAURER-T3E" => |given| {
        let gain = |bore_m: f64| {
            let main = pipe(bore_m, given.n("length_ft") * FT, rough(given.n("roughness_ft") * FT));
            -with_viscosity(main, us_water(given)).at(given.n("flow_ft3_s") * FT3_S).value
        };
        solve(0.2, 2.0, -given.n("head_ft") * FT, gain) / FT
    };
    val_laminar_tube: "DW-CENGEL82H" => |given| {
        let tube = pipe(given.n("bore_m"), given.n("length_m"), rough(0.0));
        let tube = with_viscosity(tube, given.n("viscosity_pa_s") / given.n("density_kg_m3"));
        tube.at(given.n("velocity_m_s") * tube.area_m2()).value
    };
    val_head_at_a_given_factor: "DW-CENGEL83H" => |given| {
        let wall = Wall::FixedFactor(given.n("factor"));
        pipe(given.n("bore_m"), given.n("length_m"), wall).at(given.n("flow_l_s") / 1e3).value
    };
    val_pressure_at_a_given_factor: "DW-CENGEL83P" => |given| {
        let wall = Wall::FixedFactor(given.n("factor"));
        let loss = pipe(given.n("bore_m"), given.n("length_m"), wall);
        loss.at(given.n("flow_l_s") / 1e3).value * given.n("density_kg_m3") * G
    };
    val_tank_to_tank: "DW-CENGEL88Z" => |given| {
        let run = pipe(given.n("bore_m"), given.n("length_m"), rough(given.n("roughness_mm") / 1e3));
        let run = with_viscosity(run, given.n("viscosity_pa_s") / given.n("density_kg_m3"));
        given.n("lower_m") + with_k(run, given.n("k")).at(given.n("flow_l_s") / 1e3).value
    };
    val_main_at_a_given_factor: "DW-MASSEY71" => |given| {
        let wall = Wall::FixedFactor(given.n("factor"));
        pipe(given.n("bore_m"), given.n("length_m"), wall).at(given.n("flow_l_s") / 1e3).value
    };
    val_riser_friction: "DW-MUNSON88B" => riser_psi;
    val_riser_fittings: "DW-MUNSON88C" => riser_psi;
    val_standpipe_through_a_valve: "DW-FOX87" => |given| {
        let factor = given.n("factor");
        let wall = Wall::FixedFactor(factor);
        let run = pipe(given.n("bore_in") * INCH, given.n("length_ft") * FT, wall);
        let run = with_k(run, given.n("valve_diameters") * factor + given.n("exit_k"));
        flow_for(given.n("head_ft") * FT, &[run]) / GPM
    };
    val_enlargement_between_two_pipes: "DW-LAL513" => |given| {
        let wall = Wall::FixedFactor(given.n("factor"));
        let (bore1, bore2) = (given.n("bore1_in") * INCH, given.n("bore2_in") * INCH);
        let first = pipe(bore1, given.n("length1_ft") * FT, wall);
        let first = with_k(first, given.n("entry_k") + expansion_k(bore1, bore2));
        let second = with_k(pipe(bore2, given.n("length2_ft") * FT, wall), given.n("exit_k"));
        let flow = given.n("velocity2_ft_s") * FT * second.area_m2();
        (first.at(flow).value + second.at(flow).value) / FT
    };
    val_flow_for_a_total_k: "DW-SUB115" => |given| {
        let run = with_k(pipe(given.n("bore_m"), 0.0, rough(0.0)), given.n("k"));
        flow_for(given.n("head_m"), &[run]) * 1e3
    };
    val_valve_that_balances_two_pipes: "DW-SUB119" => |given| {
        let wall = Wall::FixedFactor(given.n("factor"));
        let narrow = pipe(given.n("bore1_m"), given.n("length1_m"), wall);
        let wide = pipe(given.n("bore2_m"), given.n("length2_m"), wall);
        let flow = 0.01;
        solve(0.0, 100.0, narrow.at(flow).value, |k| with_k(wide.clone(), k).at(flow).value)
    };
    val_power_for_a_lift: "DW-SUB1131" => |given| {
        let wall = Wall::FixedFactor(given.n("factor"));
        let suction = with_k(pipe(given.n("bore1_m"), given.n("length1_m"), wall), given.n("k1"));
        let delivery = with_k(pipe(given.n("bore2_m"), given.n("length2_m"), wall), given.n("k2"));
        let flow = given.n("flow_l_s") / 1e3;
        let head = given.n("lift_m") + suction.at(flow).value + delivery.at(flow).value;
        power_w(given.n("density_kg_m3"), G, flow, head, 1.0) / 1e3
    };
    val_pipes_in_series: "DW-SUB114A" => |given| {
        let flow = 0.2;
        let head: f64 = three_pipes(given).iter().map(|loss| loss.at(flow).value).sum();
        let metre = pipe(given.n("bore2_m"), 1.0, Wall::FixedFactor(given.n("factor")));
        head / metre.at(flow).value
    };
    val_pipes_in_parallel: "DW-SUB114C" => |given| {
        let head = 5.0;
        let flow: f64 = three_pipes(given).into_iter().map(|loss| flow_for(head, &[loss])).sum();
        let metre = pipe(given.n("bore1_m"), 1.0, Wall::FixedFactor(given.n("factor")));
        head / metre.at(flow).value
    };
    val_tank_through_two_sizes: "DW-CRANE719" => |given| {
        let (bore1, bore2) = (given.n("bore1_in") * INCH, given.n("bore2_in") * INCH);
        let wall = rough(given.n("roughness_in") * INCH);
        let viscosity = us_water(given);
        let first = with_viscosity(pipe(bore1, given.n("length1_ft") * FT, wall), viscosity);
        let fittings = given.n("entry_k") + crane_k(given.n("fittings1_diameters"), bore1);
        let second = with_viscosity(pipe(bore2, given.n("length2_ft") * FT, wall), viscosity);
        let second = with_k(second, contraction_k(bore1, bore2) + given.n("exit_k"));
        flow_for(given.n("head_ft") * FT, &[with_k(first, fittings), second]) / GPM
    };
}

fn any_wall() -> impl Strategy<Value = Wall> {
    prop_oneof![
        (-7.0_f64..-2.0).prop_map(|e| rough(10f64.powf(e))),
        Just(rough(0.0)),
        (0.005_f64..0.1).prop_map(Wall::FixedFactor),
        (60.0_f64..150.0).prop_map(|c| Wall::HazenWilliams { c }),
    ]
}

prop_compose! {
    fn any_loss()(
        log_bore in -3.0_f64..0.7,
        length in prop_oneof![Just(0.0), 0.01_f64..100.0],
        wall in any_wall(),
        k in prop_oneof![Just(0.0), 0.01_f64..50.0],
        step in 0.3_f64..3.0,
        a in prop_oneof![Just(0.0), 0.0_f64..100.0],
        b in prop_oneof![Just(0.0), 0.0_f64..1e5],
    ) -> Loss {
        let bore_m = 10f64.powf(log_bore);
        let mut loss = with_k(pipe(bore_m, length, wall), k);
        loss.minors.push(Minor { k: 0.5 * k, bore_m: bore_m * step });
        loss.equipment_a = a;
        loss.equipment_b = b;
        loss
    }
}

proptest! {
    #[test]
    fn prop_loss_is_odd_and_rises(loss in any_loss(), log_q in -12.0_f64..3.0, growth in 1.001_f64..10.0) {
        let q = 10f64.powf(log_q);
        let (here, there, back) = (loss.at(q), loss.at(q * growth), loss.at(-q));
        prop_assert!(here.value.is_finite() && here.derivative.is_finite());
        prop_assert!(here.value > 0.0 && there.value > here.value);
        prop_assert!(here.derivative >= LEAST_RESISTANCE_S_M2);
        prop_assert_eq!(back.value, -here.value);
        prop_assert_eq!(back.derivative, here.derivative);
    }

    #[test]
    fn prop_loss_slope_is_the_difference(loss in any_loss(), log_q in -12.0_f64..3.0) {
        let q = 10f64.powf(log_q);
        let law = |q: f64| loss.at(q).value;
        let slope = loss.at(q).derivative;
        // One-sided kinks (a fitting turning laminar, the straight part of Hazen–Williams) are
        // allowed: the slope must then match one side.
        let step = 1e-6 * q;
        let left = (law(q) - law(q - step)) / step;
        let right = (law(q + step) - law(q)) / step;
        let near = |numeric: f64| (numeric - slope).abs() <= 1e-4 * slope;
        prop_assert!(near(left) || near(right), "{} {} {}", left, slope, right);
    }

    #[test]
    fn prop_parts_make_up_the_loss(loss in any_loss(), q in -1.0_f64..1.0) {
        let parts = loss.parts(q);
        let sum = parts.friction_m + parts.minor_m + parts.equipment_m;
        prop_assert!(parts.friction_m >= 0.0 && parts.minor_m >= 0.0 && parts.equipment_m >= 0.0);
        prop_assert!((sum - loss.at(q).value.abs()).abs() <= 1e-12 * sum);
    }

    #[test]
    fn prop_equipment_passes_through_its_points(
        q1 in 1e-5_f64..1e-2, more in 1.1_f64..5.0, h1 in 0.01_f64..3.0, exponent in 1.0_f64..2.0,
    ) {
        let (q2, h2) = (q1 * more, h1 * more.powf(exponent));
        let law = from_two_points((q2, h2), (q1, h1)).unwrap();
        for (q, h) in [(q1, h1), (q2, h2)] {
            prop_assert!((law.a * q + law.b * q * q - h).abs() < 1e-9 * h);
        }
        prop_assert!(law.a >= 0.0 && law.b >= 0.0);
    }

    #[test]
    fn prop_nothing_entered_gives_nan(
        bore in -1.0_f64..1.0, length in 0.0_f64..10.0, viscosity in -1.0_f64..1e-5, q in -1e3_f64..1e3,
    ) {
        let loss = with_k(with_viscosity(pipe(bore, length, rough(1e-5)), viscosity), 1.0);
        let at = loss.at(q);
        prop_assert!(at.value.is_finite() && at.derivative > 0.0);
    }
}

#[test]
fn prop_rest_loses_nothing() {
    for wall in [
        rough(1e-6),
        Wall::FixedFactor(0.02),
        Wall::HazenWilliams { c: 140.0 },
    ] {
        let at = with_k(pipe(0.1, 10.0, wall), 1.5).at(0.0);
        assert_eq!(at.value, 0.0);
        assert!(at.derivative > 0.0);
    }
}

#[test]
fn prop_a_fitting_slows_to_a_straight_line() {
    let fitting = with_k(pipe(0.05, 0.0, rough(0.0)), 2.0);
    let q = 50.0 * fitting.kinematic_viscosity_m2_s * fitting.area_m2() / 0.05;
    assert!((fitting.reynolds(q) - 50.0).abs() < 1e-9);
    let square = 2.0 * fitting.velocity_m_s(q).powi(2) / (2.0 * G);
    assert!((fitting.parts(q).minor_m / square - 2.0).abs() < 1e-9);
    let slope = difference(|q| fitting.parts(q).minor_m, q, 0.1 * q);
    assert!((slope * q / fitting.parts(q).minor_m - 1.0).abs() < 1e-9);
}

#[test]
fn prop_equipment_never_falls_with_flow() {
    // A sheet whose loss grows faster than Q² or slower than Q is held to a or b alone.
    let steep = from_two_points((2.0, 3.0), (4.0, 30.0)).unwrap();
    let shallow = from_two_points((2.0, 3.0), (4.0, 5.0)).unwrap();
    assert!(steep.a == 0.0 && shallow.b == 0.0);
    // By least squares, by hand: (2²·3 + 4²·30) / (2⁴ + 4⁴) and (2·3 + 4·5) / (2² + 4²).
    assert_relative_eq!(steep.b, 492.0 / 272.0, max_relative = 1e-14);
    assert_relative_eq!(shallow.a, 26.0 / 20.0, max_relative = 1e-14);
    assert!(
        from_one_point(0.0, 1.0).is_none() && from_two_points((1.0, 1.0), (1.0, 2.0)).is_none()
    );
    for unusable in [(0.0, 1.0), (2.0, -1.0), (f64::NAN, 1.0)] {
        assert!(from_two_points(unusable, (1.0, 2.0)).is_none());
        assert!(from_two_points((1.0, 2.0), unusable).is_none());
    }
    assert_eq!(from_one_point(2.0, 1.0).unwrap().b, 0.25);
}
