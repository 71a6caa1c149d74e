//! Gradually varied flow: how depth and energy change along a channel or a part-full pipe.
//!
//! At one flow and in one section the specific energy E = y + α·V²/2g determines everything
//! from critical depth upwards: the friction slope there is a function of E alone. Going
//! upstream, E changes by friction less the rise of the bed,
//!
//! ```text
//! E(up) = E(down) + (mean friction slope − bed slope)·distance        [@chow-1959]
//! ```
//!
//! and the curves through different depths never cross. The friction slope is tabulated at depths from critical to
//! the crown and interpolated linearly in E. A step then has a closed form, and its mean friction slope is the
//! logarithmic one, which remains accurate where the depth approaches that of uniform flow.

use std::fmt::Debug;

/// Wetted area and perimeter of a cross-section at some depth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wetted {
    /// Area of water, m².
    pub area_m2: f64,
    /// Wetted perimeter, m.
    pub perimeter_m: f64,
}

/// A prismatic cross-section: the same along its whole length.
pub trait Section: Debug {
    /// Wetted area and perimeter at a depth over the invert, m; a closed section is full from the crown on.
    fn wetted(&self, depth_m: f64) -> Wetted;
    /// Depth at which a closed section is full, m; for an open one the greatest depth used.
    fn crown_m(&self) -> f64;
}

/// A steady flow in a section.
#[derive(Clone, Copy, Debug)]
pub struct Stream<'a> {
    /// The section.
    pub section: &'a dyn Section,
    /// Flow, m³/s, > 0.
    pub flow_m3_s: f64,
    /// Critical depth of this flow, m, > 0 and at most the crown.
    pub critical_m: f64,
    /// α: fraction of V²/2g that counts in the energy line, from 0 up, dimensionless; usually 1.
    pub velocity_share: f64,
    /// Gravity, m/s².
    pub gravity_m_s2: f64,
}

impl Stream<'_> {
    /// Specific energy at a depth, m: y + α·V²/2g.
    pub fn energy_m(&self, depth_m: f64) -> f64 {
        self.energy_in(depth_m, self.section.wetted(depth_m).area_m2)
    }

    fn energy_in(&self, depth_m: f64, area_m2: f64) -> f64 {
        let velocity_m_s = self.flow_m3_s / area_m2;
        depth_m + self.velocity_share * velocity_m_s * velocity_m_s / (2.0 * self.gravity_m_s2)
    }
}

/// Number of depths at which a curve is tabulated, without the first.
const STEPS: usize = 24;
/// Depths are spaced geometrically, and more closely near critical depth, where the surface is steep: exponent of
/// the fraction of the way up.
const CLOSER: f64 = 1.3;

#[derive(Clone, Copy, Debug, Default)]
struct Node {
    depth_m: f64,
    energy_m: f64,
    /// Friction slope, dimensionless; never increases with depth.
    slope: f64,
}

/// Depth, specific energy and friction slope of a flow at depths from critical to the crown.
#[derive(Clone, Copy, Debug)]
pub struct Tabulated([Node; STEPS + 1]);

/// The possible states of a flow in a section from critical depth up: depth, energy, friction slope.
#[derive(Clone, Copy, Debug)]
pub struct Curve<'a> {
    stream: Stream<'a>,
    nodes: [Node; STEPS + 1],
}

impl<'a> Curve<'a> {
    /// Tabulates a flow. `friction` gives the friction slope of a wetted section, dimensionless, > 0.
    ///
    /// Where a closed section would carry more part full than full, it is taken as full: the
    /// friction slope is then that at the crown.
    pub fn new(stream: Stream<'a>, friction: impl Fn(Wetted) -> f64) -> Curve<'a> {
        let crown_m = stream.section.crown_m();
        let critical_m = stream.critical_m.min(crown_m);
        let span = (crown_m / critical_m).ln();
        let mut nodes = [Node::default(); STEPS + 1];
        let mut least = 0.0_f64;
        let mut above_m = f64::INFINITY;
        for (index, node) in nodes.iter_mut().enumerate().rev() {
            let share = (index as f64 / STEPS as f64).powf(CLOSER);
            let depth_m = match index {
                0 => critical_m,
                STEPS => crown_m,
                _ => critical_m * (span * share).exp(),
            };
            let wetted = stream.section.wetted(depth_m);
            least = friction(wetted).max(least);
            above_m = stream.energy_in(depth_m, wetted.area_m2).min(above_m);
            *node = Node {
                depth_m,
                energy_m: above_m,
                slope: least,
            };
        }
        Curve { stream, nodes }
    }

    /// The curve of a flow that was tabulated before.
    pub fn of(stream: Stream<'a>, tabulated: &Tabulated) -> Curve<'a> {
        Curve {
            stream,
            nodes: tabulated.0,
        }
    }

    /// The table behind the curve, to be kept.
    pub fn tabulated(&self) -> Tabulated {
        Tabulated(self.nodes)
    }

    /// Friction slope when full, or at the greatest depth.
    pub fn full_slope(&self) -> f64 {
        self.nodes[STEPS].slope
    }

    /// Specific energy when just full, m.
    pub fn full_energy_m(&self) -> f64 {
        self.nodes[STEPS].energy_m
    }

    /// Velocity head included in the energy line when full, m.
    pub fn full_velocity_m(&self) -> f64 {
        self.nodes[STEPS].energy_m - self.nodes[STEPS].depth_m
    }

    /// Critical depth, m: no shallower depth is controlled from downstream.
    pub fn critical_m(&self) -> f64 {
        self.nodes[0].depth_m
    }

    /// Specific energy at critical depth, m: the minimum for this flow.
    pub fn critical_energy_m(&self) -> f64 {
        self.nodes[0].energy_m
    }

    /// Specific energy, m, at a depth; a depth below critical counts as critical.
    pub fn energy_m(&self, depth_m: f64) -> f64 {
        if depth_m <= self.nodes[0].depth_m {
            self.nodes[0].energy_m
        } else {
            self.stream.energy_m(depth_m).max(self.nodes[0].energy_m)
        }
    }

    /// Subcritical depth, m, with this specific energy.
    pub fn depth_m(&self, energy_m: f64) -> f64 {
        let top = &self.nodes[STEPS];
        if energy_m >= top.energy_m {
            return top.depth_m + (energy_m - top.energy_m);
        }
        let index = self.cell(energy_m);
        let (low, high) = (&self.nodes[index], &self.nodes[index + 1]);
        if energy_m <= low.energy_m {
            return low.depth_m;
        }
        self.within([low.depth_m, high.depth_m], energy_m)
    }

    /// Regula falsi with the Illinois rule: energy increases with depth between the two.
    fn within(&self, [mut low_m, mut high_m]: [f64; 2], energy_m: f64) -> f64 {
        let miss = |depth_m: f64| self.stream.energy_m(depth_m) - energy_m;
        let (mut below, mut above) = (miss(low_m).min(0.0), miss(high_m).max(0.0));
        let width = 1e-10 * high_m;
        let mut side = 0;
        for _ in 0..60 {
            if above - below <= 0.0 || high_m - low_m <= width {
                break;
            }
            let middle_m = low_m - below * (high_m - low_m) / (above - below);
            let now = miss(middle_m);
            if now.abs() <= 1e-12 {
                return middle_m;
            }
            if now < 0.0 {
                (low_m, below) = (middle_m, now);
                above *= if side == -1 { 0.5 } else { 1.0 };
                side = -1;
            } else {
                (high_m, above) = (middle_m, now);
                below *= if side == 1 { 0.5 } else { 1.0 };
                side = 1;
            }
        }
        0.5 * (low_m + high_m)
    }

    /// The cell that contains an energy: the index of its lower node.
    fn cell(&self, energy_m: f64) -> usize {
        let above = self.nodes.partition_point(|node| node.energy_m <= energy_m);
        above.clamp(1, STEPS) - 1
    }

    /// Specific energy, m, `length_m` further upstream, where the bed has risen by `rise` per length (negative:
    /// fallen).
    ///
    /// Never below that of critical depth: a shallower flow would not be controlled from downstream. Increases with
    /// `energy_m`, and with `length_m` where friction exceeds the rise.
    pub fn upstream_m(&self, energy_m: f64, length_m: f64, rise: f64) -> f64 {
        let mut energy_m = energy_m.max(self.nodes[0].energy_m);
        let mut left_m = length_m;
        // Every iteration completes a cell or ends.
        for _ in 0..=STEPS + 2 {
            match self.cross(energy_m, left_m, rise) {
                MarchStep::Ends(at_m) => return at_m,
                MarchStep::Goes(to_m, used_m) => {
                    energy_m = to_m;
                    left_m -= used_m;
                }
            }
        }
        energy_m
    }

    /// One cell, or the remaining distance within it.
    fn cross(&self, energy_m: f64, left_m: f64, rise: f64) -> MarchStep {
        let top = self.nodes[STEPS];
        let full = top.slope - rise;
        if energy_m > top.energy_m || (energy_m == top.energy_m && full >= 0.0) {
            let end_m = energy_m + full * left_m;
            return if end_m >= top.energy_m {
                MarchStep::Ends(end_m)
            } else {
                MarchStep::Goes(top.energy_m, (energy_m - top.energy_m) / -full)
            };
        }
        let (low, high, here) = self.about(energy_m, rise);
        let gain = here - rise;
        if gain == 0.0 || high.energy_m <= low.energy_m {
            return MarchStep::Ends(energy_m);
        }
        let goal = if gain > 0.0 { high } else { low };
        if goal.energy_m == energy_m {
            // Decreasing from critical depth: stays there.
            return MarchStep::Ends(energy_m);
        }
        let bend = (high.slope - low.slope) / (high.energy_m - low.energy_m);
        let end_gain = goal.slope - rise;
        let needed_m = if end_gain * gain > 0.0 {
            (goal.energy_m - energy_m) / log_mean(gain, end_gain)
        } else {
            f64::INFINITY
        };
        if needed_m <= left_m {
            return MarchStep::Goes(goal.energy_m, needed_m);
        }
        let moved_m = if bend == 0.0 {
            gain * left_m
        } else {
            gain * (bend * left_m).exp_m1() / bend
        };
        let (least, most) = (energy_m.min(goal.energy_m), energy_m.max(goal.energy_m));
        MarchStep::Ends((energy_m + moved_m).clamp(least, most))
    }

    /// The two nodes around an energy in its direction of change, and the friction slope there.
    fn about(&self, energy_m: f64, rise: f64) -> (Node, Node, f64) {
        let mut index = self.cell(energy_m);
        // Exactly on a node and decreasing: the cell below is the one to cross.
        if energy_m == self.nodes[index].energy_m && self.nodes[index].slope < rise && index > 0 {
            index -= 1;
        }
        let (low, high) = (self.nodes[index], self.nodes[index + 1]);
        let width = high.energy_m - low.energy_m;
        let share = if width > 0.0 {
            ((energy_m - low.energy_m) / width).clamp(0.0, 1.0)
        } else {
            0.0
        };
        (low, high, low.slope + share * (high.slope - low.slope))
    }
}

enum MarchStep {
    /// The distance ends here, at this energy.
    Ends(f64),
    /// The cell ends first: energy there, and the distance covered.
    Goes(f64, f64),
}

/// Logarithmic mean of two nonzero numbers of the same sign.
fn log_mean(a: f64, b: f64) -> f64 {
    let ratio = b / a;
    if (ratio - 1.0).abs() < 1e-4 {
        // Series for nearly equal numbers: a·(1 + d/2 − d²/12).
        let d = ratio - 1.0;
        a * (1.0 + d * (0.5 - d / 12.0))
    } else {
        (b - a) / ratio.ln()
    }
}
