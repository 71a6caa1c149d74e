//! Row of parts in the order in which water falls, for layouts without places along the page.

use super::standing::PartsOnPage;
use crate::draw::parts::fall;
use crate::draw::parts::fall::StandingPart;
use crate::layout::Layout;

/// Gap between vessels in the row, metres.
const GAP_M: f64 = 0.5;

/// Places all parts side by side; a part comes before those that it drains to.
pub(super) fn in_order_of_fall(layout: &Layout, stand: &mut PartsOnPage) {
    let mut along = 0.0;
    for thing in fall::in_order(layout) {
        let (width, set): (f64, &mut f64) = match thing {
            StandingPart::Vessel(index) => match stand.vessels.get_mut(index) {
                Some(one) => (one.width_m, &mut one.along_m),
                None => continue,
            },
            StandingPart::Fixed(index) => match stand.fixed.get_mut(index) {
                Some(one) => (one.width_m, &mut one.along_m),
                None => continue,
            },
            StandingPart::Joint(index) => match stand.joints.get_mut(index) {
                Some(one) => (0.0, &mut one.along_m),
                None => continue,
            },
        };
        *set = along + width / 2.0;
        along += width + GAP_M;
    }
}
