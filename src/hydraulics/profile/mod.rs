//! The grade of a whole run: marched up its legs, over high points and the air in them.

pub mod air;
pub mod grade_table;
pub mod high_point;
pub mod march_profile;
pub mod profile_points;
