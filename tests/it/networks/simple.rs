//! Pipes in series, side by side, and from three reservoirs to one place.

use super::{M3_H, feet, layout, running, running_flow, running_head};
use crate::hydraulics::units::{FT, FT3_S, GPM, PSI};
use crate::verification::{Case, checks};

fn parallel_sum(given: &Case) -> f64 {
    running(given).runs.iter().map(|run| run.flow_m3_s).sum()
}

/// Pressure at the joint of Daugherty & Franzini Ex 8.9, psi.
fn pressure_psi(given: &Case) -> f64 {
    running(given).joints[0].pressure_pa.unwrap() / PSI
}

/// K in ft and ft³/s of h = lift + K·Q², from the head over the lift at the file's own flow.
fn system_coefficient(given: &Case) -> f64 {
    let flow = layout(given).joints[0].make_up_m3_s;
    assert!((flow - 1600.0 * GPM).abs() < 1e-9);
    let over_lift_ft = feet(running_head(given, "a")) - 10.0;
    over_lift_ft / (flow / FT3_S).powi(2)
}

checks! {
    val_n1_head: "N1-001" => |given| running_head(given, "j");
    val_n1_q1: "N1-002" => |given| running_flow(given, "p1") * M3_H;
    val_n1_q2: "N1-003" => |given| running_flow(given, "p2") * M3_H;
    val_n1_q3: "N1-004" => |given| running_flow(given, "p3") * M3_H;
    val_n1_head_computed: "N1C-HEAD" => |given| running_head(given, "j");
    val_n1_q1_computed: "N1C-Q1" => |given| running_flow(given, "p1") * M3_H;
    val_n1_q2_computed: "N1C-Q2" => |given| running_flow(given, "p2") * M3_H;
    val_n1_q3_computed: "N1C-Q3" => |given| running_flow(given, "p3") * M3_H;
    val_n2_series: "N2-005" => |given| running_flow(given, "p1") * M3_H;
    val_n2_q1: "N2-006" => |given| running_flow(given, "p1") * M3_H;
    val_n2_q2: "N2-007" => |given| running_flow(given, "p2") * M3_H;
    val_n2_q3: "N2-008" => |given| running_flow(given, "p3") * M3_H;
    val_n2_sum: "N2-009" => |given| parallel_sum(given) * M3_H;
    val_n4_qa: "N4-013" => |given| running_flow(given, "a") / FT3_S;
    val_n4_qb: "N4-014" => |given| running_flow(given, "b") / FT3_S;
    val_n4_qc: "N4-015" => |given| running_flow(given, "c") / FT3_S;
    val_n4_pressure: "N4-016" => pressure_psi;
    val_n5: "N5-017" => |given| running_flow(given, "p1");
    val_n7_narrow: "N7-021" => |given| running_flow(given, "p1");
    val_n7_wide: "N7-022" => |given| running_flow(given, "p2");
    val_n7_sum: "N7-023" => parallel_sum;
    val_n10_q1: "N10-032" => |given| running_flow(given, "p1");
    val_n10_q2: "N10-033" => |given| running_flow(given, "p2");
    val_n10_loss: "N10-034" => |given| running_head(given, "a");
    val_n18_coefficient: "N18-077" => system_coefficient;
    val_n18_head: "N18-079" => |given| running_head(given, "a") / FT;
}
