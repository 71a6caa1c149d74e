//! Vessels that are drawn in one place.

use super::problem::Problem;
use crate::layout::{Layout, TOUCH_M, overlaps};

pub(super) fn problems(layout: &Layout, out: &mut Vec<Problem>) {
    out.extend(overlaps(layout).iter().map(|pair| Problem::Overlap {
        vessels: pair.vessels.map(Clone::clone),
        by_m: pair.by_m,
        limit_m: TOUCH_M,
    }));
}
