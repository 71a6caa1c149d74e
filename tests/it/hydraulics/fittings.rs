//! Loss coefficients that follow a formula.

use super::units::INCH;
use crate::verification::{Case, checks};
use fallwright::hydraulics::losses::fittings::{
    contraction_k, crane_k, entrance_k, expansion_k, k_from_kv, kv_from_k, turbulent_factor,
};

fn elbow(given: &Case) -> f64 {
    crane_k(given.n("diameters"), given.n("bore_in") * INCH)
}

fn entrance(given: &Case) -> f64 {
    entrance_k(given.n("radius_over_bore"))
}

fn factor(given: &Case) -> f64 {
    turbulent_factor(given.n("bore_in") * INCH)
}

fn valve(given: &Case) -> f64 {
    k_from_kv(given.n("kv_m3_h"), given.n("bore_m"))
}

checks! {
    val_elbow_half_inch: "K-EL90-1_2" => elbow;
    val_elbow_2_inch: "K-EL90-2" => elbow;
    val_elbow_3_inch: "K-EL90-3" => elbow;
    val_expansion: "K-EXP" => |given| expansion_k(given.n("from_m"), given.n("to_m"));
    val_contraction: "CK-CON" => |given| contraction_k(given.n("from_m"), given.n("to_m"));
    val_sharp_entrance: "K-ENT-SHARP" => entrance;
    val_rounded_entrance_4: "K-ENT-R0.04" => entrance;
    val_rounded_entrance_10: "K-ENT-R0.1" => entrance;
    val_rounded_entrance_15: "K-ENT-R0.15" => entrance;
    val_valve_from_kv: "K-FROMKV" => valve;
    val_small_valve_from_kv: "CK-KV" => valve;
    val_kv_of_an_angle_valve: "K-ANGLE-KV" => |given| kv_from_k(given.n("k"), given.n("bore_m"));
    val_turbulent_factor_1_inch: "CK-FT-1" => factor;
    val_turbulent_factor_4_inch: "CK-FT-4" => factor;
    val_turbulent_factor_8_inch: "CK-FT-8" => factor;
}

#[test]
fn prop_a_step_the_wrong_way_costs_nothing() {
    assert_eq!(expansion_k(0.1, 0.05), 0.0);
    assert_eq!(contraction_k(0.05, 0.1), 0.0);
    assert_eq!(expansion_k(0.1, 0.1), 0.0);
}

#[test]
fn prop_into_a_tank_all_velocity_head_is_lost() {
    assert!((expansion_k(0.05, 50.0) - 1.0).abs() < 1e-5);
    assert!((contraction_k(50.0, 0.05) - 0.5).abs() < 1e-5);
}

#[test]
fn prop_kv_and_k_are_inverse() {
    for kv in [0.5, 12.0, 300.0] {
        assert!((kv_from_k(k_from_kv(kv, 0.05), 0.05) / kv - 1.0).abs() < 1e-12);
    }
}

#[test]
fn prop_entrance_eases_with_its_radius() {
    let steps: Vec<f64> = (-5..40).map(|i| entrance_k(f64::from(i) / 200.0)).collect();
    assert!(steps.windows(2).all(|w| w[1] <= w[0]));
    assert_eq!((steps[0], steps[44]), (0.5, 0.04));
}
