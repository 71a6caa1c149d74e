//! Networks with loops.
//!
//! The printed flows of the three loops are those after three corrections by hand and are held to
//! the room that leaves; the converged ones are held to a solution by other numerics.

use super::{M3_H, running_flow, running_head};
use crate::verification::checks;

/// Elevations of the two loops, metres.
const ELEVATION_M: [(&str, f64); 5] = [
    ("n3", 160.0),
    ("n4", 155.0),
    ("n5", 150.0),
    ("n6", 165.0),
    ("n7", 160.0),
];

fn elevation(joint: &str) -> f64 {
    let found = ELEVATION_M.iter().find(|(name, _)| *name == joint);
    found.expect("a node of the two loops").1
}

checks! {
    val_n11_fixed_p1: "N11a-035" => |given| running_flow(given, "p1");
    val_n11_fixed_p2: "N11a-036" => |given| running_flow(given, "p2");
    val_n11_fixed_p3: "N11a-037" => |given| running_flow(given, "p3");
    val_n11_fixed_p4: "N11a-038" => |given| running_flow(given, "p4");
    val_n11_fixed_p5: "N11a-039" => |given| running_flow(given, "p5");
    val_n11_fixed_p6: "N11a-040" => |given| running_flow(given, "p6");
    val_n11_fixed_p7: "N11a-041" => |given| running_flow(given, "p7");
    val_n11_fixed_p8: "N11a-042" => |given| running_flow(given, "p8");
    val_n11_fixed_p9: "N11a-043" => |given| running_flow(given, "p9");
    val_n11_colebrook_p1: "N11b-045" => |given| running_flow(given, "p1");
    val_n11_colebrook_p2: "N11b-046" => |given| running_flow(given, "p2");
    val_n11_colebrook_p3: "N11b-047" => |given| running_flow(given, "p3");
    val_n11_colebrook_p4: "N11b-048" => |given| running_flow(given, "p4");
    val_n11_colebrook_p5: "N11b-049" => |given| running_flow(given, "p5");
    val_n11_colebrook_p7: "N11b-051" => |given| running_flow(given, "p7");
    val_n11_colebrook_p8: "N11b-052" => |given| running_flow(given, "p8");
    val_n11_colebrook_p9: "N11b-053" => |given| running_flow(given, "p9");
    val_n11_colebrook_p10: "N11b-054" => |given| running_flow(given, "p10");
    val_n11_fixed_converged_p1: "N11AC-Q1" => |given| running_flow(given, "p1");
    val_n11_fixed_converged_p2: "N11AC-Q2" => |given| running_flow(given, "p2");
    val_n11_fixed_converged_p3: "N11AC-Q3" => |given| running_flow(given, "p3");
    val_n11_fixed_converged_p4: "N11AC-Q4" => |given| running_flow(given, "p4");
    val_n11_fixed_converged_p5: "N11AC-Q5" => |given| running_flow(given, "p5");
    val_n11_fixed_converged_p6: "N11AC-Q6" => |given| running_flow(given, "p6");
    val_n11_fixed_converged_p7: "N11AC-Q7" => |given| running_flow(given, "p7");
    val_n11_fixed_converged_p8: "N11AC-Q8" => |given| running_flow(given, "p8");
    val_n11_fixed_converged_p9: "N11AC-Q9" => |given| running_flow(given, "p9");
    val_n11_fixed_converged_p10: "N11AC-Q10" => |given| running_flow(given, "p10");
    val_n11_fixed_converged_b: "N11AC-Hb" => |given| running_head(given, "b");
    val_n11_fixed_converged_c: "N11AC-Hc" => |given| running_head(given, "c");
    val_n11_fixed_converged_d: "N11AC-Hd" => |given| running_head(given, "d");
    val_n11_fixed_converged_e: "N11AC-He" => |given| running_head(given, "e");
    val_n11_fixed_converged_f: "N11AC-Hf" => |given| running_head(given, "f");
    val_n11_fixed_converged_g: "N11AC-Hg" => |given| running_head(given, "g");
    val_n11_fixed_converged_h: "N11AC-Hh" => |given| running_head(given, "h");
    val_n11_colebrook_converged_p1: "N11BC-Q1" => |given| running_flow(given, "p1");
    val_n11_colebrook_converged_p2: "N11BC-Q2" => |given| running_flow(given, "p2");
    val_n11_colebrook_converged_p3: "N11BC-Q3" => |given| running_flow(given, "p3");
    val_n11_colebrook_converged_p4: "N11BC-Q4" => |given| running_flow(given, "p4");
    val_n11_colebrook_converged_p5: "N11BC-Q5" => |given| running_flow(given, "p5");
    val_n11_colebrook_converged_p6: "N11BC-Q6" => |given| running_flow(given, "p6");
    val_n11_colebrook_converged_p7: "N11BC-Q7" => |given| running_flow(given, "p7");
    val_n11_colebrook_converged_p8: "N11BC-Q8" => |given| running_flow(given, "p8");
    val_n11_colebrook_converged_p9: "N11BC-Q9" => |given| running_flow(given, "p9");
    val_n11_colebrook_converged_p10: "N11BC-Q10" => |given| running_flow(given, "p10");
    val_n11_colebrook_converged_b: "N11BC-Hb" => |given| running_head(given, "b");
    val_n11_colebrook_converged_c: "N11BC-Hc" => |given| running_head(given, "c");
    val_n11_colebrook_converged_d: "N11BC-Hd" => |given| running_head(given, "d");
    val_n11_colebrook_converged_e: "N11BC-He" => |given| running_head(given, "e");
    val_n11_colebrook_converged_f: "N11BC-Hf" => |given| running_head(given, "f");
    val_n11_colebrook_converged_g: "N11BC-Hg" => |given| running_head(given, "g");
    val_n11_colebrook_converged_h: "N11BC-Hh" => |given| running_head(given, "h");
    val_n13_n3: "N13-059" => |given| running_head(given, "n3") - elevation("n3");
    val_n13_n4: "N13-060" => |given| running_head(given, "n4") - elevation("n4");
    val_n13_n5: "N13-061" => |given| running_head(given, "n5") - elevation("n5");
    val_n13_n6: "N13-062" => |given| running_head(given, "n6") - elevation("n6");
    val_n13_n7: "N13-063" => |given| running_head(given, "n7") - elevation("n7");
    val_n13_converged_n2: "N13C-H2" => |given| running_head(given, "n2");
    val_n13_converged_n3: "N13C-H3" => |given| running_head(given, "n3");
    val_n13_converged_n4: "N13C-H4" => |given| running_head(given, "n4");
    val_n13_converged_n5: "N13C-H5" => |given| running_head(given, "n5");
    val_n13_converged_n6: "N13C-H6" => |given| running_head(given, "n6");
    val_n13_converged_n7: "N13C-H7" => |given| running_head(given, "n7");
    val_n13_converged_p1_2: "N13C-Q1" => |given| running_flow(given, "p1-2") * M3_H;
    val_n13_converged_p2_3: "N13C-Q2" => |given| running_flow(given, "p2-3") * M3_H;
    val_n13_converged_p2_4: "N13C-Q3" => |given| running_flow(given, "p2-4") * M3_H;
    val_n13_converged_p4_5: "N13C-Q4" => |given| running_flow(given, "p4-5") * M3_H;
    val_n13_converged_p4_6: "N13C-Q5" => |given| running_flow(given, "p4-6") * M3_H;
    val_n13_converged_p6_7: "N13C-Q6" => |given| running_flow(given, "p6-7") * M3_H;
    val_n13_converged_p3_5: "N13C-Q7" => |given| running_flow(given, "p3-5") * M3_H;
    val_n13_converged_p7_5: "N13C-Q8" => |given| running_flow(given, "p7-5") * M3_H;
}
