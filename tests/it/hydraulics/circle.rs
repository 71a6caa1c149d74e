//! The circular section and its critical depth.

use super::difference;
use super::units::{FT, FT3_S};
use crate::verification::{Case, checks};
use fallwright::hydraulics::STANDARD_GRAVITY_M_S2 as G;
use fallwright::hydraulics::channel::circle::{Circle, critical_depth};
use proptest::prelude::*;

fn circle(given: &Case) -> Circle {
    Circle {
        bore_m: given.n("bore_m"),
    }
}

fn critical(given: &Case) -> f64 {
    critical_depth(given.n("bore_m"), given.n("flow_m3_s"), G).value
}

checks! {
    val_area_1: "CC-A-1" => |given| circle(given).area_m2(given.n("depth_m"));
    val_radius_1: "CC-R-1" => |given| circle(given).hydraulic_radius_m(given.n("depth_m"));
    val_area_2: "CC-A-2" => |given| circle(given).area_m2(given.n("depth_m"));
    val_radius_2: "CC-R-2" => |given| circle(given).hydraulic_radius_m(given.n("depth_m"));
    val_area_3: "CC-A-3" => |given| circle(given).area_m2(given.n("depth_m"));
    val_radius_3: "CC-R-3" => |given| circle(given).hydraulic_radius_m(given.n("depth_m"));
    val_area_4: "CC-A-4" => |given| circle(given).area_m2(given.n("depth_m"));
    val_radius_4: "CC-R-4" => |given| circle(given).hydraulic_radius_m(given.n("depth_m"));
    val_area_5: "CC-A-5" => |given| circle(given).area_m2(given.n("depth_m"));
    val_radius_5: "CC-R-5" => |given| circle(given).hydraulic_radius_m(given.n("depth_m"));
    val_critical_depth_1: "CY-1" => critical;
    val_critical_depth_2: "CY-2" => critical;
    val_critical_depth_3: "CY-3" => critical;
    val_critical_depth_4: "CY-4" => critical;
    val_critical_depth_5: "CY-5" => critical;
    val_critical_depth_6: "CY-6" => critical;
    val_critical_depth_7: "CY-7" => critical;
    val_textbook_critical_depth: "PF-MAURER-YC" => critical;
    val_textbook_critical_depth_us: "PF-FAIR-YC" => |given| {
        critical_depth(given.n("bore_ft") * FT, given.n("flow_ft3_s") * FT3_S, G).value / FT
    };
}

proptest! {
    #[test]
    fn prop_critical_depth_satisfies_its_equation(bore in 1e-3_f64..5.0, fill in 0.001_f64..0.999) {
        let circle = Circle { bore_m: bore };
        let depth = fill * bore;
        let q = (G * circle.area_m2(depth).powi(3) / circle.top_width_m(depth)).sqrt();
        prop_assert!((critical_depth(bore, q, G).value - depth).abs() < 1e-10 * bore);
    }

    #[test]
    fn prop_critical_depth_rises_and_stays_in_the_bore(
        log_bore in -3.0_f64..0.7, log_q in -12.0_f64..3.0, growth in 1.0_f64..5.0,
    ) {
        let (bore, q) = (10f64.powf(log_bore), 10f64.powf(log_q));
        let (here, there) = (critical_depth(bore, q, G), critical_depth(bore, q * growth, G));
        prop_assert!(here.value > 0.0 && here.value <= there.value + 1e-14 * bore && there.value <= bore);
        prop_assert!(here.derivative.is_finite() && here.derivative >= 0.0);
    }

    #[test]
    fn prop_critical_depth_slope_is_the_difference(bore in 1e-3_f64..5.0, log_share in -10.0_f64..0.7) {
        let unit = (G * bore).sqrt() * bore * bore;
        let q = 10f64.powf(log_share) * unit;
        prop_assume!((q / unit / 1e-8 - 1.0).abs() > 1e-3);
        let numeric = difference(|q| critical_depth(bore, q, G).value, q, 1e-5 * q);
        let slope = critical_depth(bore, q, G).derivative;
        prop_assert!((numeric - slope).abs() <= 1e-4 * slope + 1e-9 * bore / q);
    }

    /// Depth, width and wetted wall hang together: dA/dy = T.
    #[test]
    fn prop_area_grows_by_the_width(bore in 1e-3_f64..5.0, fill in 0.001_f64..0.999) {
        let circle = Circle { bore_m: bore };
        let depth = fill * bore;
        let numeric = difference(|y| circle.area_m2(y), depth, 1e-5 * depth.min(bore - depth));
        prop_assert!((numeric / circle.top_width_m(depth) - 1.0).abs() < 1e-4);
        prop_assert!(circle.hydraulic_radius_m(depth) < 0.31 * bore);
    }
}

#[test]
fn prop_ends_of_the_section() {
    let circle = Circle { bore_m: 0.2 };
    let full = std::f64::consts::PI * 0.01;
    for (depth, area) in [(-1.0, 0.0), (0.0, 0.0), (0.2, full), (1.0, full)] {
        assert!((circle.area_m2(depth) - area).abs() < 1e-15);
        assert_eq!(circle.top_width_m(depth), 0.0);
    }
    assert!((circle.wetted_perimeter_m(0.2) - std::f64::consts::PI * 0.2).abs() < 1e-15);
    assert_eq!(critical_depth(0.2, 0.0, G).value, 0.0);
    assert_eq!(critical_depth(0.2, -1.0, G).value, 0.0);
}
