//! Water in the pipe of a run, slice by slice.

use crate::hydraulics::channel::circle::Circle;
use crate::hydraulics::full_area_m2;
use crate::layout::Layout;
use crate::lower::Lowered;
use crate::solve::NetworkState;
use crate::states::grade_line::{Level, along_runs};
use crate::states::report::Regime;

/// Slices of a piece of pipe between two places of the grade line.
const SLICES: usize = 8;

/// A short piece of a pipe, with the water in it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::states) struct Slice {
    /// Invert at its two ends, the one towards `from` first, metres.
    pub ends_m: [f64; 2],
    /// Water in it, m³.
    pub water_m3: f64,
}

/// The water in every run, from `from` to `to`; in the order of the layout.
pub(in crate::states) fn in_runs(
    layout: &Layout,
    lowered: &Lowered,
    end: &NetworkState,
) -> Vec<Vec<Slice>> {
    along_runs(layout, lowered, end, |run, facts, levels| {
        // A pumped run is full, even where its intake limits the flow.
        let flows = run.flow_m3_s != 0.0;
        let pushed = flows && run.profile.is_empty() && (facts.pump_on || facts.pumped);
        let is_full = run.regime == Regime::Full || pushed;
        slices(&levels, run.bore_m, is_full)
    })
}

impl Slice {
    /// Invert in its middle, metres.
    pub fn invert_m(&self) -> f64 {
        0.5 * (self.ends_m[0] + self.ends_m[1])
    }
}

/// Total water of slices, m³.
pub(in crate::states) fn sum_m3(slices: &[Slice]) -> f64 {
    slices.iter().map(|slice| slice.water_m3).sum()
}

fn slices(levels: &[Level], bore_m: f64, is_full: bool) -> Vec<Slice> {
    let mut slices = Vec::new();
    for pair in levels.windows(2) {
        let [a, b] = pair else { continue };
        let (Some(first_m), Some(last_m)) = (a.invert_m, b.invert_m) else {
            continue;
        };
        let length_m = (b.distance_m - a.distance_m).max(0.0) / SLICES as f64;
        for slice in 0..SLICES {
            let share = |along: f64| (slice as f64 + along) / SLICES as f64;
            let at = |along: f64| first_m + (last_m - first_m) * share(along);
            let (middle, invert_m) = (share(0.5), at(0.5));
            let depth_m = match (a.grade_m, b.grade_m) {
                _ if is_full => bore_m,
                (Some(from_m), Some(to_m)) => from_m + (to_m - from_m) * middle - invert_m,
                _ => 0.0,
            };
            slices.push(Slice {
                ends_m: [at(0.0), at(1.0)],
                water_m3: area_m2(bore_m, depth_m) * length_m,
            });
        }
    }
    slices
}

fn area_m2(bore_m: f64, depth_m: f64) -> f64 {
    if depth_m >= bore_m {
        full_area_m2(bore_m)
    } else if depth_m > 0.0 {
        Circle { bore_m }.area_m2(depth_m)
    } else {
        0.0
    }
}
