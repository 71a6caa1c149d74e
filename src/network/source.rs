//! External inflow to a vessel.

use crate::hydraulics::Dual;

/// Depth over the floor below which a draw-off fades out, metres.
///
/// A choice: a draw-off cannot take water that is not there, and a gradual end keeps its law continuous.
const DRAW_FADE_M: f64 = 0.005;

/// External inflow; never increases with the level.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Source {
    /// Constant inflow (negative: drawn off while there is water), m³/s.
    pub constant_m3_s: f64,
    /// A float valve that admits water while the level is low.
    pub float: Option<FloatInflow>,
}

/// A float valve: full flow up to `open_m`, none from `shut_m` on, linear between them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FloatInflow {
    /// Level at which it is shut, metres.
    pub shut_m: f64,
    /// Level at which it is fully open, metres; below `shut_m`.
    pub open_m: f64,
    /// Its flow when fully open, m³/s.
    pub flow_m3_s: f64,
}

impl Source {
    /// A constant inflow, m³/s.
    pub fn constant(flow_m3_s: f64) -> Source {
        Source {
            constant_m3_s: flow_m3_s,
            float: None,
        }
    }

    /// Inflow at a level, m³/s, and its derivative (≤ 0), m²/s; `floor_m` is the level of the empty vessel.
    pub fn at(&self, level_m: f64, floor_m: f64) -> Dual {
        let constant = constant(self.constant_m3_s, level_m - floor_m);
        let float = self.float.map_or(Dual::ZERO, |float| float.at(level_m));
        Dual {
            value: constant.value + float.value,
            derivative: constant.derivative + float.derivative,
        }
    }

    /// Whether nothing ever flows in or is drawn off.
    pub fn is_none(&self) -> bool {
        let float_m3_s = self.float.map_or(0.0, |float| float.flow_m3_s);
        self.constant_m3_s == 0.0 && float_m3_s == 0.0
    }
}

impl FloatInflow {
    fn at(&self, level_m: f64) -> Dual {
        let band_m = self.shut_m - self.open_m;
        if level_m >= self.shut_m {
            return Dual::ZERO;
        }
        // A valve without a band between open and shut would be a step; it counts as open up to where it shuts.
        if level_m <= self.open_m || band_m <= 0.0 {
            return Dual {
                value: self.flow_m3_s,
                derivative: 0.0,
            };
        }
        Dual {
            value: self.flow_m3_s * (self.shut_m - level_m) / band_m,
            derivative: -self.flow_m3_s / band_m,
        }
    }
}

fn constant(flow_m3_s: f64, depth_m: f64) -> Dual {
    let share = depth_m / DRAW_FADE_M;
    if flow_m3_s >= 0.0 || share >= 1.0 {
        return Dual {
            value: flow_m3_s,
            derivative: 0.0,
        };
    }
    if share <= 0.0 {
        return Dual::ZERO;
    }
    Dual {
        value: flow_m3_s * share,
        derivative: flow_m3_s / DRAW_FADE_M,
    }
}
