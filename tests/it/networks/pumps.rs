//! Pumps on a system: one, in series, side by side.

use super::{feet, running, running_flow, running_head};
use crate::hydraulics::units::FT3_S;
use crate::verification::{Case, checks};

/// Head that all pumps one behind the other add, metres.
fn added_in_series(given: &Case) -> f64 {
    running(given).pumps.iter().map(|pump| pump.head_m).sum()
}

/// Head of pumps side by side, metres: the same for each.
fn added_side_by_side(given: &Case) -> f64 {
    let pumps = running(given).pumps;
    assert!((pumps[0].head_m - pumps[1].head_m).abs() < 1e-6);
    pumps[0].head_m
}

checks! {
    // Head in feet of 1 ft³/s through the pipe: K of h = K·Q².
    val_n14_k: "N14-064" => |given| feet(running_head(given, "a"));
    val_n14_flow_frozen: "N14-067" => |given| running_flow(given, "main") / FT3_S;
    val_n14_head_frozen: "N14-068" => |given| feet(added_in_series(given));
    val_n14_flow_true: "N14C-Q" => |given| running_flow(given, "main") / FT3_S;
    val_n14_head_true: "N14C-H" => |given| feet(added_in_series(given));
    val_n15_flow_one: "N15C-QONE" => |given| running_flow(given, "main") / FT3_S;
    val_n15_head_one: "N15C-HONE" => |given| feet(added_in_series(given));
    val_n15_flow_series: "N15C-QSER" => |given| running_flow(given, "main") / FT3_S;
    val_n15_head_series: "N15C-HSER" => |given| feet(added_in_series(given));
    val_n15_flow_parallel: "N15C-QPAR" => |given| running_flow(given, "main") / FT3_S;
    val_n15_head_parallel: "N15C-HPAR" => |given| feet(added_side_by_side(given));
}
