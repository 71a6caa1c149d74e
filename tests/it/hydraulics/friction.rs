//! The friction factor against published and computed values, and its own laws.

use super::difference;
use super::units::{FT, INCH};
use crate::verification::{Case, checks};
use fallwright::hydraulics::losses::friction::{
    LAMINAR_BELOW_RE, TURBULENT_ABOVE_RE, colebrook, darcy_factor,
};
use proptest::prelude::*;

fn factor(given: &Case) -> f64 {
    darcy_factor(given.n("re"), given.n("relative_roughness")).value
}

checks! {
    val_factor_1e4_smooth: "FF-4-0" => factor;
    val_factor_1e4_rough_1em4: "FF-4-1em4" => factor;
    val_factor_1e4_rough_1em2: "FF-4-1em2" => factor;
    val_factor_1e5_smooth: "FF-5-0" => factor;
    val_factor_1e5_rough_1em4: "FF-5-1em4" => factor;
    val_factor_1e5_rough_1em2: "FF-5-1em2" => factor;
    val_factor_1e6_smooth: "FF-6-0" => factor;
    val_factor_1e6_rough_1em4: "FF-6-1em4" => factor;
    val_factor_1e6_rough_1em3: "FF-6-1em3" => factor;
    val_factor_1e6_rough_1em2: "FF-6-1em2" => factor;
    val_factor_1e7_rough_1em4: "FF-7-1em4" => factor;
    val_factor_1e7_rough_1em3: "FF-7-1em3" => factor;
    val_factor_1e7_rough_1em2: "FF-7-1em2" => factor;
    val_laminar_1000: "FF-LAM-1000" => factor;
    val_laminar_2000: "FF-LAM-2000" => factor;
    val_smooth_wall_table_1e4: "FF-PRANDTL-4" => factor;
    val_smooth_wall_table_1e5: "FF-PRANDTL-5" => factor;
    val_smooth_wall_table_1e6: "FF-PRANDTL-6" => factor;
    val_textbook_steel_main: "FF-MAURER42" => |given| {
        darcy_factor(given.n("re"), given.n("roughness_mm") / 1000.0 / given.n("bore_m")).value
    };
    val_textbook_20_inch_main: "FF-MAURERV" => |given| {
        let ratio = given.n("roughness_ft") * FT / (given.n("bore_in") * INCH);
        darcy_factor(given.n("re"), ratio).value
    };
    val_textbook_stainless: "FF-CENGEL83" => |given| {
        let bore_m = given.n("bore_m");
        let velocity = given.n("flow_l_s") / 1000.0 * 4.0 / (std::f64::consts::PI * bore_m * bore_m);
        let re = given.n("density_kg_m3") * velocity * bore_m / given.n("viscosity_pa_s");
        darcy_factor(re, given.n("roughness_mm") / 1000.0 / bore_m).value
    };
    val_textbook_cast_iron: "FF-CENGEL88" => factor;
    val_library_factor_1: "CF-1" => factor;
    val_library_factor_2: "CF-2" => factor;
    val_library_factor_3: "CF-3" => factor;
    val_library_factor_4: "CF-4" => factor;
    val_library_factor_5: "CF-5" => factor;
    val_library_factor_6: "CF-6" => factor;
    val_library_factor_7: "CF-7" => factor;
    val_library_factor_8: "CF-8" => factor;
}

#[test]
fn prop_the_bridge_meets_both_ends_in_value_and_slope() {
    for roughness in [0.0, 1e-4, 0.05, 0.5] {
        for end in [LAMINAR_BELOW_RE, TURBULENT_ABOVE_RE] {
            let (below, above) = (
                darcy_factor(end * (1.0 - 1e-12), roughness),
                darcy_factor(end * (1.0 + 1e-12), roughness),
            );
            assert!(
                (below.value / above.value - 1.0).abs() < 1e-10,
                "{roughness} {end}"
            );
            assert!(
                (below.derivative / above.derivative - 1.0).abs() < 1e-7,
                "{roughness} {end}"
            );
        }
    }
}

proptest! {
    #[test]
    fn prop_colebrook_is_solved(log_re in 3.6_f64..12.0, log_rough in -8.0_f64..-1.3) {
        let (re, rough) = (10f64.powf(log_re), 10f64.powf(log_rough));
        let x = 1.0 / colebrook(re, rough).sqrt();
        let right = -2.0 * (rough / 3.7 + 2.51 * x / re).log10();
        prop_assert!((x - right).abs() < 1e-10, "{} {}", x, right);
    }

    #[test]
    fn prop_slope_is_the_difference(log_re in -3.0_f64..12.0, log_rough in -8.0_f64..0.0) {
        let (re, rough) = (10f64.powf(log_re), 10f64.powf(log_rough));
        prop_assume!((re - 2000.0).abs() > 1.0 && (re - 4000.0).abs() > 1.0);
        let step = 1e-5 * re;
        let numeric = difference(|x| darcy_factor(x, rough).value, re, step);
        let factor = darcy_factor(re, rough);
        prop_assert!((numeric - factor.derivative).abs() * re <= 1e-5 * factor.value);
    }

    /// What the head lost is proportional to, f·Re², rises with flow at every roughness.
    #[test]
    fn prop_drag_rises(log_re in -12.0_f64..13.0, growth in 1.0001_f64..3.0, log_rough in -8.0_f64..1.0) {
        let (re, rough) = (10f64.powf(log_re), 10f64.powf(log_rough));
        let drag = |re: f64| darcy_factor(re, rough).value * re * re;
        prop_assert!(drag(re).is_finite() && drag(re * growth) > drag(re));
    }
}
