//! What nobody gave a place along the page stands in the order in which water falls.

use super::standing::PartsOnPage;
use crate::draw::fall::{self, StandingPart};
use crate::layout::Layout;

/// Between vessels that stand in the order of fall, metres.
const GAP_M: f64 = 0.5;

/// Stands everything side by side: what water falls from comes before what it falls to.
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
