//! Drains that rise, joints in drains, an inverted U: layouts worked out by other numerics.

use super::running_level;
use crate::verification::checks;

checks! {
    val_hump_of_30_mm: "H-HUMP-30" => |given| running_level(given, "tank");
    val_hump_of_30_mm_and_more_flow: "H-HUMP-30-FULL" => |given| running_level(given, "tank");
    val_hump_of_100_mm: "H-HUMP-100" => |given| running_level(given, "tank");
    val_corner_that_is_no_hump: "H-CORNER" => |given| running_level(given, "tank");
    val_joint_in_a_level_drain: "H-JOINT" => |given| running_level(given, "tank");
    val_inverted_u_with_air: "H-INVERTED-U" => |given| running_level(given, "tank");
}
