//! Part-full drains against the classic ratios, textbooks and a slope table.

use super::solve;
use super::units::{FT, GPM, INCH, LB_FT3};
use crate::verification::{Case, checks};
use fallwright::hydraulics::channel::circle::Circle;
use fallwright::hydraulics::channel::part_full::{Drain, Formula};
use proptest::prelude::*;

fn manning(bore_m: f64, slope: f64, n: f64) -> Drain {
    Drain {
        circle: Circle { bore_m },
        slope,
        formula: Formula::Manning { n },
    }
}

fn colebrook(bore_m: f64, slope: f64, roughness_m: f64) -> Drain {
    let kinematic_viscosity_m2_s = 1.1e-6;
    Drain {
        circle: Circle { bore_m },
        slope,
        formula: Formula::Colebrook {
            roughness_m,
            kinematic_viscosity_m2_s,
        },
    }
}

fn velocity_ratio(given: &Case) -> f64 {
    let drain = manning(1.0, 0.01, 0.01);
    drain.velocity_m_s(given.n("depth_ratio")) / drain.velocity_m_s(1.0)
}

fn flow_ratio(given: &Case) -> f64 {
    let drain = manning(1.0, 0.01, 0.01);
    drain.flow_m3_s(given.n("depth_ratio")) / drain.full_flow_m3_s()
}

fn fall_percent(given: &Case) -> f64 {
    let bore_m = given.n("bore_in") * INCH;
    let velocity = |slope: f64| manning(bore_m, slope, given.n("n")).velocity_m_s(bore_m);
    100.0 * solve(0.0, 1.0, given.n("velocity_ft_s") * FT, velocity)
}

fn normal(given: &Case) -> (Drain, f64) {
    let drain = manning(given.n("bore_m"), given.n("slope"), given.n("n"));
    (drain, drain.normal_depth_m(given.n("flow_m3_s")).unwrap())
}

checks! {
    val_velocity_ratio_10: "PF-V-10" => velocity_ratio;
    val_flow_ratio_20: "PF-Q-20" => flow_ratio;
    val_flow_ratio_30: "PF-Q-30" => flow_ratio;
    val_velocity_ratio_30: "PF-V-30" => velocity_ratio;
    val_flow_ratio_40: "PF-Q-40" => flow_ratio;
    val_velocity_ratio_40: "PF-V-40" => velocity_ratio;
    val_flow_ratio_50: "PF-Q-50" => flow_ratio;
    val_velocity_ratio_50: "PF-V-50" => velocity_ratio;
    val_flow_ratio_60: "PF-Q-60" => flow_ratio;
    val_velocity_ratio_60: "PF-V-60" => velocity_ratio;
    val_flow_ratio_70: "PF-Q-70" => flow_ratio;
    val_velocity_ratio_70: "PF-V-70" => velocity_ratio;
    val_flow_ratio_80: "PF-Q-80" => flow_ratio;
    val_velocity_ratio_80: "PF-V-80" => velocity_ratio;
    val_flow_ratio_90: "PF-Q-90" => flow_ratio;
    val_flow_ratio_94: "PF-Q-94" => flow_ratio;
    val_velocity_ratio_94: "PF-V-94" => velocity_ratio;
    val_flow_ratio_95: "PF-Q-95" => flow_ratio;
    val_velocity_ratio_95: "PF-V-95" => velocity_ratio;
    val_fall_12in_2_5: "PF-SLOPE-12-2.5" => fall_percent;
    val_fall_12in_3: "PF-SLOPE-12-3" => fall_percent;
    val_fall_15in_2_5: "PF-SLOPE-15-2.5" => fall_percent;
    val_fall_15in_3: "PF-SLOPE-15-3" => fall_percent;
    val_fall_18in_2_5: "PF-SLOPE-18-2.5" => fall_percent;
    val_fall_18in_3: "PF-SLOPE-18-3" => fall_percent;
    val_fall_24in_2_5: "PF-SLOPE-24-2.5" => fall_percent;
    val_largest_flow_manning: "PF-QMAX" => |_| {
        let drain = manning(1.0, 0.01, 0.01);
        drain.capacity_m3_s() / drain.full_flow_m3_s()
    };
    val_largest_flow_constant_factor: "PF-QMAX-CHEZY" => |given| {
        // A wall so rough and a pipe so large that the factor hardly depends on depth.
        let circle = Circle { bore_m: 1.0 };
        let flow = |y: f64| circle.area_m2(y) * circle.hydraulic_radius_m(y).sqrt();
        flow(given.n("depth_ratio")) / flow(1.0)
    };
    val_textbook_area_ratio: "PF-FAIR-A" => |given| {
        let circle = Circle { bore_m: 1.0 };
        circle.area_m2(given.n("depth_ratio")) / circle.area_m2(1.0)
    };
    val_textbook_velocity_ratio: "PF-FAIR-V" => velocity_ratio;
    val_textbook_normal_depth: "PF-MAURER-Y" => |given| normal(given).1;
    val_textbook_normal_velocity: "PF-MAURER-V" => |given| {
        let (drain, depth_m) = normal(given);
        drain.velocity_m_s(depth_m)
    };
    val_textbook_flow_at_a_depth: "PF-SARKAR" => |given| {
        manning(given.n("bore_m"), given.n("slope"), given.n("n")).flow_m3_s(given.n("depth_m"))
    };
    val_textbook_bore_half_full: "PF-SUB126" => |given| {
        solve(0.1, 10.0, given.n("flow_m3_s"), |bore_m| {
            manning(bore_m, given.n("slope"), given.n("n")).flow_m3_s(0.5 * bore_m)
        })
    };
    val_colebrook_two_thirds_full: "PF-CRANE726" => |given| {
        let bore_m = given.n("bore_in") * INCH;
        let circle = Circle { bore_m };
        let depth_m = given.n("depth_ratio") * bore_m;
        let drain = Drain {
            circle,
            slope: given.n("slope"),
            formula: Formula::Colebrook {
                roughness_m: given.n("relative_roughness") * 4.0 * circle.hydraulic_radius_m(depth_m),
                kinematic_viscosity_m2_s: given.n("viscosity_pa_s") / (given.n("weight_lb_ft3") * LB_FT3),
            },
        };
        drain.flow_m3_s(depth_m) / GPM
    };
}

proptest! {
    #[test]
    fn prop_normal_depth_carries_the_flow(
        bore in 0.02_f64..2.0, log_slope in -4.0_f64..-0.5, share in 0.0_f64..0.999, smooth in any::<bool>(),
    ) {
        let slope = 10f64.powf(log_slope);
        let drain = if smooth { colebrook(bore, slope, 1e-5) } else { manning(bore, slope, 0.01) };
        let flow = share * drain.capacity_m3_s();
        let depth = drain.normal_depth_m(flow).unwrap();
        prop_assert!((drain.flow_m3_s(depth) - flow).abs() <= 1e-9 * drain.capacity_m3_s());
        prop_assert!(drain.normal_depth_m(1.001 * drain.capacity_m3_s()).is_none());
    }

    #[test]
    fn prop_flow_rises_with_depth(
        bore in 1e-3_f64..5.0, log_slope in -6.0_f64..0.0, low in 0.0_f64..0.98, smooth in any::<bool>(),
    ) {
        let slope = 10f64.powf(log_slope);
        let drain = if smooth { colebrook(bore, slope, 1e-5) } else { manning(bore, slope, 0.01) };
        let flow = drain.flow_m3_s(low * drain.fullest_depth_m());
        let next = (low + 0.005) * drain.fullest_depth_m();
        prop_assert!(flow.is_finite() && flow < drain.flow_m3_s(next));
    }
}

#[test]
fn prop_a_dry_or_level_drain_carries_nothing() {
    for drain in [manning(0.1, 0.01, 0.01), colebrook(0.1, 0.01, 1e-5)] {
        assert_eq!(drain.flow_m3_s(0.0), 0.0);
        assert_eq!(drain.normal_depth_m(0.0), Some(0.0));
        let level = Drain {
            slope: 0.0,
            ..drain
        };
        assert_eq!(level.flow_m3_s(0.05), 0.0);
        assert_eq!(level.normal_depth_m(1e-3), None);
        assert_eq!(drain.normal_depth_m(f64::NAN), None);
    }
}

/// What drains carry, as the page on part-full drains tells it: flow in L/s and velocity in m/s.
#[test]
fn the_table_of_capacities_is_what_the_laws_give() {
    let page = include_str!("../../../docs/method/part-full.md");
    for bore_mm in [44.0, 69.0, 103.6, 153.6] {
        for fall in [200.0, 100.0, 50.0] {
            let bore_m = bore_mm / 1000.0;
            let by_manning = manning(bore_m, 1.0 / fall, 0.009);
            let by_colebrook = colebrook(bore_m, 1.0 / fall, 1.5e-6);
            let cell = |drain: &Drain, share: f64| {
                let depth_m = share * bore_m;
                let flow_l_s = 1000.0 * drain.flow_m3_s(depth_m);
                format!("{flow_l_s:.2} ({:.2})", drain.velocity_m_s(depth_m))
            };
            let cells = [
                cell(&by_manning, 0.5),
                cell(&by_colebrook, 0.5),
                cell(&by_manning, 0.75),
                cell(&by_colebrook, 0.75),
            ];
            let row = format!("| {bore_mm} | 1:{fall} | {} |", cells.join(" | "));
            assert!(page.contains(&row), "the page has no row\n{row}");
        }
    }
}
