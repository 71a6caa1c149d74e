//! Screens and guards: their loss, and the area that they leave open.
//!
//! See `docs/method/screen.md`.

use super::inlet::Inlet;
use crate::hydraulics::losses::loss::FITTING_LAMINAR_BELOW_RE;
use crate::hydraulics::{Dual, LEAST_BORE_M, LEAST_VISCOSITY_M2_S};

/// K_s on the velocity through the openings: 1.45 − 0.45·s − s², the law of trash racks. [@usbr-small-dams]
///
/// `clear_share` s as of [`clear_share`](super::clear_share::clear_share); 0 where nothing obstructs.
pub fn rack_k(clear_share: f64) -> f64 {
    (1.45 - clear_share * (0.45 + clear_share)).max(0.0)
}

/// K on the velocity over the gross area of the screen: K_s/s²; infinite where it is shut.
pub fn gross_k(own_k: f64, clear_share: f64) -> f64 {
    if clear_share <= 0.0 {
        return f64::INFINITY;
    }
    own_k.max(0.0) / (clear_share * clear_share)
}

/// The bore of area `area_m2`, m: a K on the velocity in it is a K on the gross velocity.
pub fn equal_bore_m(area_m2: f64) -> f64 {
    (4.0 * area_m2.max(0.0) / std::f64::consts::PI)
        .sqrt()
        .max(LEAST_BORE_M)
}

/// The position of a cage, m.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cage {
    /// Its foot, above the datum; no water passes below it.
    pub foot_m: f64,
    /// Its height, above its foot.
    pub height_m: f64,
}

/// Smallest height of a cage that the law computes with, m: a flat one is fully wet as soon as water stands over it.
const LEAST_HEIGHT_M: f64 = 1e-3;

/// The data of a [`ScreenLaw`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bars {
    /// K on the velocity over the gross area, ≥ 0.
    pub gross_k: f64,
    /// The gross area, m².
    pub area_m2: f64,
    /// Its position, where only its wet part counts.
    pub cage: Option<Cage>,
}

/// The loss through a screen, K·V²/2g with V = Q/A_wet. [@usbr-small-dams]
///
/// Of its two levels the higher one determines the wet part of a cage: with the lower one, the required
/// level would fall as the other rises.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ScreenLaw {
    /// Head per flow squared through its full area, s²/m⁵.
    scale: f64,
    /// Flow below which the loss is proportional to V instead of V², m³/s, as for a fitting.
    laminar_to: f64,
    cage: Option<Cage>,
}

/// The level on the higher side of a screen, with its derivatives.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Higher {
    /// The level, m.
    pub level_m: f64,
    /// With respect to the flow, s/m²; infinite where a cage just begins to pass water.
    pub by_flow: f64,
    /// With respect to the level on the lower side, 0 to 1.
    pub by_lower: f64,
}

impl ScreenLaw {
    /// The law of a screen in water of a kinematic viscosity (m²/s) under gravity (m/s²).
    pub fn new(bars: &Bars, kinematic_viscosity_m2_s: f64, gravity_m_s2: f64) -> ScreenLaw {
        let bore_m = equal_bore_m(bars.area_m2);
        let area_m2 = crate::hydraulics::full_area_m2(bore_m);
        let viscosity_m2_s = kinematic_viscosity_m2_s.max(LEAST_VISCOSITY_M2_S);
        ScreenLaw {
            scale: bars.gross_k.max(0.0) / (2.0 * gravity_m_s2 * area_m2 * area_m2),
            laminar_to: FITTING_LAMINAR_BELOW_RE * viscosity_m2_s * area_m2 / bore_m,
            cage: bars.cage.map(|cage| Cage {
                height_m: cage.height_m.max(LEAST_HEIGHT_M),
                ..cage
            }),
        }
    }

    /// Level up to which nothing passes, m; −∞ for a screen whose full area counts.
    pub fn sill_m(&self) -> f64 {
        self.cage.map_or(f64::NEG_INFINITY, |cage| cage.foot_m)
    }

    /// Loss of the full area at a flow (≥ 0), m, and its derivative.
    fn whole(&self, flow_m3_s: f64) -> Dual {
        if flow_m3_s < self.laminar_to {
            let slope = self.scale * self.laminar_to;
            return Dual {
                value: slope * flow_m3_s,
                derivative: slope,
            };
        }
        Dual {
            value: self.scale * flow_m3_s * flow_m3_s,
            derivative: 2.0 * self.scale * flow_m3_s,
        }
    }

    /// The flow (≥ 0) at which the full area has a loss (≥ 0), m³/s; infinite where it has no loss.
    fn flow_that_loses(&self, head_m: f64) -> f64 {
        if self.scale <= 0.0 {
            return f64::INFINITY;
        }
        let square = head_m / self.scale;
        let flow_m3_s = square.sqrt();
        if flow_m3_s < self.laminar_to {
            square / self.laminar_to
        } else {
            flow_m3_s
        }
    }

    /// Fraction of it that is wet at the higher level.
    fn wet_share(&self, level_m: f64) -> f64 {
        self.cage.map_or(1.0, |cage| {
            ((level_m - cage.foot_m) / cage.height_m).clamp(0.0, 1.0)
        })
    }

    /// Head loss of a flow (≥ 0, m³/s) at a given higher level, m: at most the head over the foot of a cage.
    pub fn loss_m(&self, flow_m3_s: f64, higher_m: f64) -> f64 {
        let whole_m = self.whole(flow_m3_s).value;
        let share = self.wet_share(higher_m);
        if whole_m <= 0.0 {
            return 0.0;
        }
        let over_m = (higher_m - self.sill_m()).max(0.0);
        (whole_m / (share * share)).min(over_m)
    }

    /// The higher level at which a flow (≥ 0, m³/s) passes against a lower one, m.
    ///
    /// Behind a cage water falls freely once it stands below the foot.
    pub fn higher(&self, flow_m3_s: f64, lower_m: f64) -> Higher {
        let whole = self.whole(flow_m3_s);
        let Some(cage) = self.cage else {
            return Higher {
                level_m: lower_m + whole.value,
                by_flow: whole.derivative,
                by_lower: 1.0,
            };
        };
        let drowned = lower_m > cage.foot_m;
        let behind_m = lower_m.max(cage.foot_m) - cage.foot_m;
        let (over_m, by_whole, by_behind) = cage.over_foot(whole.value, behind_m);
        Higher {
            level_m: cage.foot_m + over_m,
            by_flow: if whole.derivative > 0.0 {
                by_whole * whole.derivative
            } else {
                0.0
            },
            by_lower: if drowned { by_behind } else { 0.0 },
        }
    }

    /// Inflow of an opening behind it at a level outside, m³/s, and the derivative. `intake_m`: height from which it
    /// draws.
    pub fn capacity(&self, inlet: &Inlet, intake_m: f64, level_m: f64) -> Dual {
        if level_m <= self.sill_m() {
            return Dual::ZERO;
        }
        let bare = inlet.capacity(level_m - intake_m);
        if bare.value <= 0.0 || bare.value.is_infinite() {
            return bare;
        }
        let share = self.wet_share(level_m);
        let square = share * share;
        // Decrease of the loss as the level rises: more of a cage is wet.
        let eases = |lost_m: f64| match self.cage {
            Some(cage) if share < 1.0 => 2.0 * lost_m / (share * cage.height_m),
            _ => 0.0,
        };
        let over_m = level_m - intake_m;
        let head_m = self.head_inside_m(inlet, square, over_m);
        let let_in = inlet.capacity(head_m);
        let Some(cage) = self.cage.filter(|cage| intake_m + head_m < cage.foot_m) else {
            let lost = self.whole(let_in.value);
            let by_head = 1.0 + lost.derivative * let_in.derivative / square;
            return Dual {
                value: let_in.value,
                derivative: let_in.derivative * (1.0 + eases(lost.value / square)) / by_head,
            };
        };
        // Behind the cage water falls freely.
        let lost_m = level_m - cage.foot_m;
        let value = self.flow_that_loses(lost_m * square);
        Dual {
            value,
            derivative: square * (1.0 + eases(lost_m)) / self.whole(value).derivative,
        }
    }

    /// Head over an opening behind it with `over_m` (> 0) outside, m; `square`: the square of the wet fraction.
    fn head_inside_m(&self, inlet: &Inlet, square: f64, over_m: f64) -> f64 {
        let (mut low_m, mut high_m) = (0.0, over_m);
        let mut head_m = over_m;
        for _ in 0..MOST_TURNS {
            let let_in = inlet.capacity(head_m);
            let lost = self.whole(let_in.value);
            let error_m = head_m + lost.value / square - over_m;
            if error_m > 0.0 {
                high_m = head_m;
            } else {
                low_m = head_m;
            }
            let step_m = error_m / (1.0 + lost.derivative * let_in.derivative / square);
            if step_m.abs() <= 1e-15 * over_m {
                break;
            }
            let next_m = head_m - step_m;
            head_m = if next_m > low_m && next_m < high_m {
                next_m
            } else {
                0.5 * (low_m + high_m)
            };
        }
        head_m
    }
}

/// Maximum iterations of a search that takes five or six: bisection alone would reach the last digit in as many.
const MOST_TURNS: usize = 80;

impl Cage {
    /// Height u of the higher level over the foot, m, where the full area would lose `whole_m` and the lower level
    /// stands `behind_m` (≥ 0) over the foot; with its derivatives with respect to the two.
    ///
    /// u − whole/w² = behind with w = u/height, at most 1. Increasing and, below the top, concave in u, so that
    /// Newton's method converges to the root from below monotonically.
    fn over_foot(&self, whole_m: f64, behind_m: f64) -> (f64, f64, f64) {
        let all_wet_m = behind_m + whole_m;
        if all_wet_m >= self.height_m {
            return (all_wet_m, 1.0, 1.0);
        }
        let cube = whole_m * self.height_m * self.height_m;
        let mut over_m = behind_m.max(cube.cbrt());
        if over_m <= 0.0 {
            return (0.0, f64::INFINITY, 1.0);
        }
        for _ in 0..MOST_TURNS {
            let lost_m = cube / (over_m * over_m);
            let step_m = (behind_m + lost_m - over_m) / (1.0 + 2.0 * lost_m / over_m);
            over_m += step_m;
            if step_m <= 1e-16 * over_m {
                break;
            }
        }
        let share = over_m / self.height_m;
        let rate = 1.0 + 2.0 * cube / (over_m * over_m * over_m);
        (over_m, 1.0 / (share * share * rate), 1.0 / rate)
    }
}
