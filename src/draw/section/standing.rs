//! Positions of parts along the page.
//!
//! The position of a vessel along the page is the user's. If none is given, vessels are placed in the order in which
//! water falls. Overlapping vessels are moved apart, in their order along the page.

use crate::draw::page::view::{SectionPoint, at};
use crate::draw::parts::fall::{self, StandingPart};
use crate::layout::{Layout, Shape, Vessel};

/// Largest width drawn to scale, metres; wider vessels are drawn narrower than they are.
const TRUE_WIDTH_M: f64 = 3.0;
/// Smallest drawn width, metres.
const LEAST_WIDTH_M: f64 = 0.4;
/// Gap between vessels that were moved apart, metres.
const LEAST_GAP_M: f64 = 0.15;
/// Gap between vessels in the row, metres.
const ROW_GAP_M: f64 = 0.5;
/// Number of vessels to the left that are checked for overlap.
const MOST_REACHING: usize = 64;
/// Number of straight pieces of the wall of a lying drum.
const DRUM_STEPS: u32 = 24;
/// Drawn width of a fixed level, metres.
const FIXED_WIDTH_M: f64 = 1.0;
/// Drawn depth of water below a fixed level, metres.
const FIXED_DEPTH_M: f64 = 0.3;

/// A vessel or fixed level in the section.
#[derive(Clone, Debug, PartialEq)]
pub struct PartOnPage {
    /// Its middle along the page, metres.
    pub along_m: f64,
    /// Its width at the top, metres; for a lying drum, at its widest.
    pub width_m: f64,
    /// Its floor, metres.
    pub floor_m: f64,
    /// Its rim, metres; for a fixed level, a little above the water.
    pub rim_m: f64,
    /// Height above the floor and half the width there, metres; rising from 0, at least two rows.
    pub profile: Vec<(f64, f64)>,
}

impl PartOnPage {
    /// Returns its left edge along the page, metres.
    pub fn left_m(&self) -> f64 {
        self.along_m - self.width_m / 2.0
    }

    /// Returns its right edge along the page, metres.
    pub fn right_m(&self) -> f64 {
        self.along_m + self.width_m / 2.0
    }

    /// Returns whether its outline is convex: it widens less and less on the way up.
    pub fn is_convex(&self) -> bool {
        let slopes = self.profile.windows(2).map(|pair| match *pair {
            [(low, narrow), (high, wide)] if high > low => (wide - narrow) / (high - low),
            _ => f64::NAN,
        });
        let slopes: Vec<f64> = slopes.collect();
        slopes.windows(2).all(|pair| pair[1] <= pair[0])
    }

    /// Returns half the width at a height, metres; that of the top above the rim, 0 below the floor.
    pub fn half_width_m(&self, z_m: f64) -> f64 {
        let depth = z_m - self.floor_m;
        if depth < 0.0 {
            return 0.0;
        }
        for pair in self.profile.windows(2) {
            if let [(low, narrow), (high, wide)] = *pair
                && depth <= high
            {
                let share = if high > low {
                    (depth - low) / (high - low)
                } else {
                    1.0
                };
                return narrow + (wide - narrow) * share;
            }
        }
        self.width_m / 2.0
    }
}

/// All parts in the section.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PartsOnPage {
    /// Vessels, in the order of the layout.
    pub vessels: Vec<PartOnPage>,
    /// Fixed levels, in the order of the layout.
    pub fixed: Vec<PartOnPage>,
    /// Joints, in the order of the layout.
    pub joints: Vec<SectionPoint>,
}

/// Returns the positions of all parts of a layout in the section.
pub fn stand(layout: &Layout) -> PartsOnPage {
    let vessels: Vec<PartOnPage> = layout.vessels.iter().map(vessel).collect();
    let fixed = layout.fixed.iter().map(|part| PartOnPage {
        along_m: part.place.along_m,
        width_m: FIXED_WIDTH_M,
        floor_m: part.level_m - FIXED_DEPTH_M,
        rim_m: part.level_m + 0.1,
        profile: upright(FIXED_DEPTH_M + 0.1, FIXED_WIDTH_M),
    });
    let joints = layout
        .joints
        .iter()
        .map(|part| at(part.place.along_m, part.elevation_m));
    let mut stand = PartsOnPage {
        vessels,
        fixed: fixed.collect(),
        joints: joints.collect(),
    };
    if nobody_gave_places(&stand) {
        in_order_of_fall(layout, &mut stand);
    } else {
        apart(&mut stand);
    }
    stand
}

fn vessel(part: &Vessel) -> PartOnPage {
    let height = (part.rim_m - part.floor_m).max(0.01);
    let profile: Vec<(f64, f64)> = match &part.shape {
        Shape::Round { diameter_m } => upright(height, drawn(*diameter_m)),
        Shape::Rectangular { length_m, .. } => upright(height, drawn(*length_m)),
        Shape::Prism { area_m2 } => upright(height, drawn(area_m2.max(0.0).sqrt())),
        Shape::ConeBottom {
            diameter_m,
            cone_height_m,
        } => {
            let half = drawn(*diameter_m) / 2.0;
            let tip = cone_height_m.clamp(0.0, height);
            // The tip of a cone is drawn with a little width, since a pipe leaves there.
            vec![(0.0, half * 0.08), (tip, half), (height, half)]
        }
        Shape::LyingDrum { diameter_m, .. } => lying_drum(*diameter_m, height),
        Shape::Table { rows } => table(rows, height),
    };
    let mut width = profile.last().map_or(LEAST_WIDTH_M, |row| row.1 * 2.0);
    if let Shape::LyingDrum { diameter_m, .. } = part.shape {
        // A drum is widest at the middle, not at the opening in its top.
        width = width.max(drawn(diameter_m));
    }
    PartOnPage {
        along_m: part.place.along_m,
        width_m: width,
        floor_m: part.floor_m,
        rim_m: part.floor_m + height,
        profile,
    }
}

/// Returns the profile of a lying drum seen from its end, up to the opening cut into it.
fn lying_drum(diameter_m: f64, height_m: f64) -> Vec<(f64, f64)> {
    let scale = drawn(diameter_m) / diameter_m.max(1e-9);
    let full = (1.0 - 2.0 * height_m / diameter_m.max(1e-9))
        .clamp(-1.0, 1.0)
        .acos();
    let row = |step: u32| {
        let angle = full * f64::from(step) / f64::from(DRUM_STEPS);
        let depth_m = 0.5 * diameter_m * (1.0 - angle.cos());
        (depth_m, 0.5 * diameter_m * scale * angle.sin())
    };
    (0..=DRUM_STEPS).map(row).collect()
}

fn upright(height_m: f64, width_m: f64) -> Vec<(f64, f64)> {
    vec![(0.0, width_m / 2.0), (height_m, width_m / 2.0)]
}

fn table(rows: &[crate::layout::TableRow], height: f64) -> Vec<(f64, f64)> {
    let widest = rows.iter().map(|row| row.area_m2).fold(0.0, f64::max);
    let scale = drawn(widest.sqrt()) / 2.0 / widest.sqrt().max(1e-9);
    let half = |area: f64| (area.max(0.0).sqrt() * scale).max(LEAST_WIDTH_M * 0.05);
    let inside = rows.iter().filter(|row| row.depth_m < height);
    let mut profile: Vec<(f64, f64)> = inside.map(|row| (row.depth_m, half(row.area_m2))).collect();
    if profile.first().is_none_or(|row| row.0 > 0.0) {
        profile.insert(0, (0.0, half(rows.first().map_or(0.04, |row| row.area_m2))));
    }
    let top = rows.iter().find(|row| row.depth_m >= height);
    let top = match (profile.last(), top) {
        (Some(&(low, narrow)), Some(row)) if row.depth_m > low => {
            narrow + (half(row.area_m2) - narrow) * (height - low) / (row.depth_m - low)
        }
        (Some(&(_, same)), _) => same,
        (None, _) => LEAST_WIDTH_M / 2.0,
    };
    profile.push((height, top));
    profile
}

/// Returns the drawn width for a true width.
fn drawn(width_m: f64) -> f64 {
    if width_m > TRUE_WIDTH_M {
        TRUE_WIDTH_M * (width_m / TRUE_WIDTH_M).powf(0.35)
    } else {
        width_m.max(LEAST_WIDTH_M)
    }
}

fn nobody_gave_places(stand: &PartsOnPage) -> bool {
    let standing = stand.vessels.iter().chain(&stand.fixed);
    let all = standing
        .map(|one| one.along_m)
        .chain(stand.joints.iter().map(|one| one.along_m));
    let mut all = all.filter(|along| *along != 0.0);
    all.next().is_none()
}

/// Moves overlapping vessels to the right, and the joints with them.
fn apart(stand: &mut PartsOnPage) {
    let PartsOnPage {
        vessels,
        fixed,
        joints,
    } = stand;
    let mut all: Vec<&mut PartOnPage> = vessels.iter_mut().chain(fixed).collect();
    all.sort_by(|a, b| a.along_m.total_cmp(&b.along_m));
    let mut done: Vec<&mut PartOnPage> = Vec::with_capacity(all.len());
    let mut shifts: Vec<(f64, f64)> = Vec::with_capacity(all.len());
    for one in all {
        let was = one.along_m;
        // Only the last few to the left are checked, since those further away rarely reach, unless they are very wide.
        for other in done.iter().rev().take(MOST_REACHING) {
            let meets = other.floor_m < one.rim_m && one.floor_m < other.rim_m;
            let needed = other.right_m() + LEAST_GAP_M - one.left_m();
            if meets && needed > 1e-9 && other.right_m() > one.left_m() {
                one.along_m += needed;
            }
        }
        shifts.push((was, one.along_m - was));
        done.push(one);
    }
    for joint in joints {
        joint.along_m += shift(&shifts, joint.along_m);
    }
}

/// Returns how far a position along the page was moved, interpolated between the vessels at its sides.
fn shift(shifts: &[(f64, f64)], along_m: f64) -> f64 {
    let after = shifts.partition_point(|(was, _)| *was <= along_m);
    let left = after.checked_sub(1).and_then(|index| shifts.get(index));
    match (left, shifts.get(after)) {
        (Some(&(a, by_a)), Some(&(b, by_b))) if b > a => {
            by_a + (by_b - by_a) * (along_m - a) / (b - a)
        }
        (Some(&(_, by)), _) | (None, Some(&(_, by))) => by,
        (None, None) => 0.0,
    }
}

/// Places all parts side by side; a part comes before those that it drains to.
fn in_order_of_fall(layout: &Layout, stand: &mut PartsOnPage) {
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
        along += width + ROW_GAP_M;
    }
}
