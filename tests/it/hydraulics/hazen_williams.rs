//! Hazen–Williams against printed loss tables and the other forms of its constant.

use super::solve;
use super::units::{FT, FT3_S, GPM, INCH, LB_FT3, PSI, US_WATER_LB_FT3};
use crate::verification::{Case, checks};
use fallwright::hydraulics::STANDARD_GRAVITY_M_S2 as G;
use fallwright::hydraulics::losses::hazen_williams::{
    COEFFICIENT, Pipe, STRAIGHT_BELOW_M_S, head_lost, in_range,
};

fn pipe(c: f64, bore_m: f64, length_m: f64) -> Pipe {
    Pipe {
        coefficient: COEFFICIENT,
        c,
        bore_m,
        length_m,
    }
}

fn feet_per_100_feet(given: &Case) -> f64 {
    let pipe = pipe(given.n("c"), given.n("bore_in") * INCH, 100.0 * FT);
    head_lost(&pipe, given.n("flow_gpm") * GPM).value / FT
}

fn psi_per_100_feet(given: &Case) -> f64 {
    feet_per_100_feet(given) * FT * US_WATER_LB_FT3 * LB_FT3 * G / PSI
}

checks! {
    val_plastic_1in_5gpm: "HW-IL-1-5" => feet_per_100_feet;
    val_plastic_1in_10gpm: "HW-IL-1-10" => feet_per_100_feet;
    val_plastic_1_25in_10gpm: "HW-IL-1.25-10" => feet_per_100_feet;
    val_plastic_1_25in_20gpm: "HW-IL-1.25-20" => feet_per_100_feet;
    val_plastic_1_5in_20gpm: "HW-IL-1.5-20" => feet_per_100_feet;
    val_plastic_1_5in_30gpm: "HW-IL-1.5-30" => feet_per_100_feet;
    val_plastic_2in_30gpm: "HW-IL-2-30" => feet_per_100_feet;
    val_plastic_2in_50gpm: "HW-IL-2-50" => feet_per_100_feet;
    val_plastic_3in_50gpm: "HW-IL-3-50" => feet_per_100_feet;
    val_plastic_3in_100gpm: "HW-IL-3-100" => feet_per_100_feet;
    val_plastic_4in_100gpm: "HW-IL-4-100" => feet_per_100_feet;
    val_plastic_4in_150gpm: "HW-IL-4-150" => feet_per_100_feet;
    val_plastic_6in_400gpm: "HW-IL-6-400" => feet_per_100_feet;
    val_plastic_8in_700gpm: "HW-IL-8-700" => feet_per_100_feet;
    val_plastic_10in_1000gpm: "HW-IL-10-1000" => feet_per_100_feet;
    val_sdr21_1in_10gpm: "HW-SDR21-1-10" => psi_per_100_feet;
    val_sdr21_1_25in_10gpm: "HW-SDR21-1.25-10" => psi_per_100_feet;
    val_sdr21_1_5in_10gpm: "HW-SDR21-1.5-10" => psi_per_100_feet;
    val_sdr21_2in_18gpm: "HW-SDR21-2-18" => psi_per_100_feet;
    val_sdr21_4in_200gpm: "HW-SDR21-4-200" => psi_per_100_feet;
    val_sdr21_6in_200gpm: "HW-SDR21-6-200" => psi_per_100_feet;
    val_coefficient_us: "HW-K-US" => |given| {
        let pipe = pipe(given.n("c"), given.n("bore_ft") * FT, FT);
        head_lost(&pipe, given.n("flow_ft3_s") * FT3_S).value / FT
    };
    val_coefficient_gpm: "HW-K-GPM" => |given| psi_per_100_feet(given) / 100.0;
    val_coefficient_si: "HW-K-SI" => |given| {
        head_lost(&pipe(given.n("c"), given.n("bore_m"), 1.0), given.n("flow_m3_s")).value
    };
    val_flow_for_a_head: "HW-Q1" => |given| {
        let pipe = pipe(given.n("c"), given.n("bore_m"), given.n("length_m"));
        solve(0.0, 1.0, given.n("head_m"), |q| head_lost(&pipe, q).value)
    };
}

#[test]
fn prop_straight_line_meets_the_formula() {
    let pipe = pipe(140.0, 0.1, 10.0);
    let area = std::f64::consts::PI / 4.0 * 0.01;
    let q = STRAIGHT_BELOW_M_S * area;
    let (below, above) = (
        head_lost(&pipe, q * (1.0 - 1e-12)),
        head_lost(&pipe, q * (1.0 + 1e-12)),
    );
    assert!((below.value / above.value - 1.0).abs() < 1e-10);
    assert!((head_lost(&pipe, 0.5 * q).value / below.value - 0.5).abs() < 1e-10);
    assert_eq!(head_lost(&pipe, 0.0).value, 0.0);
}

#[test]
fn prop_range_is_that_of_water_mains() {
    assert!(in_range(0.05, 1.0) && in_range(0.3, -2.9));
    assert!(!in_range(0.04, 1.0) && !in_range(0.1, 3.0) && !in_range(0.1, -3.0));
}
