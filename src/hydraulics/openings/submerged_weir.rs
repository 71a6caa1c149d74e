//! A submerged weir: water stands above its sill on both sides.
//!
//! Q = Q_free(h₁)·(1 − (h₂/h₁)ⁿ)^0.385 with both heads over the sill and n the exponent of the free weir,
//! 1.5 for a straight sill and 2.5 for a vee. See `docs/method/submerged-weir.md`.  [@villemonte-1947]

use super::notch::Notch;

/// Exponent of the submergence factor. [@villemonte-1947]
const LEFT_BY_TAIL: f64 = 0.385;
/// Fraction of the free flow below which the fall over the sill is proportional to the flow itself, and no longer to
/// its power 2.6. A choice: at h₁ = h₂ the law has an infinite derivative, with which water between two levels never
/// becomes steady on a computer; the fall is then below 1/200 000 of the head over the sill.
const GENTLE_SHARE: f64 = 0.01;
/// Maximum iterations of the search; bracketed Newton takes ten.
const MOST_STEPS: usize = 100;
/// Step in the logarithm of the fall at which the search ends.
const ENOUGH: f64 = 1e-15;

/// Head over a sill on its upstream side, with its derivatives.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct UpperHead {
    /// Over the sill, m.
    pub head_m: f64,
    /// With respect to the flow, s/m²; infinite without flow and without water above the sill downstream.
    pub by_flow: f64,
    /// With respect to the head on the downstream side, 0 to 1: 0 as long as that is not above the sill.
    pub by_tail: f64,
}

/// A weir, free or submerged.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SubmergedWeir {
    free: Notch,
}

/// (Q/Q_free)^(1/0.385), as a function of Q/Q_free, and its derivative.
fn spent(share: f64) -> (f64, f64) {
    let power = 1.0 / LEFT_BY_TAIL;
    if share < GENTLE_SHARE {
        let slope = GENTLE_SHARE.powf(power - 1.0);
        return (share * slope, slope);
    }
    let slope = share.powf(power - 1.0);
    (share * slope, power * slope)
}

/// The inverse of [`spent`]: the flow ratio with this value.
fn share_for(spent: f64) -> f64 {
    let gentle = spent / GENTLE_SHARE.powf(1.0 / LEFT_BY_TAIL - 1.0);
    gentle.min(spent.powf(LEFT_BY_TAIL))
}

impl SubmergedWeir {
    /// The weir whose free flow is that of `free`, while the downstream water stands below its sill.
    pub fn new(free: Notch) -> SubmergedWeir {
        SubmergedWeir { free }
    }

    /// 1 − (h₂/h₁)ⁿ, for h₁ = h₂ + `fall_m`: accurate also for the smallest fall.
    fn left(&self, fall_m: f64, tail_m: f64) -> f64 {
        if tail_m <= 0.0 {
            return 1.0;
        }
        -(-self.free.power() * (fall_m / tail_m).ln_1p()).exp_m1()
    }

    /// Flow from the higher side, m³/s; 0 where `head_m` stands no higher than `tail_m` or the sill.
    pub fn flow(&self, head_m: f64, tail_m: f64) -> f64 {
        let tail_m = tail_m.max(0.0);
        if head_m.is_nan() || head_m <= tail_m {
            return 0.0;
        }
        self.free.capacity(head_m).value * share_for(self.left(head_m - tail_m, tail_m))
    }

    /// Upstream head that passes `flow_m3_s` (≥ 0) against the downstream head `tail_m`, both over the sill.
    ///
    /// The search is in the logarithm of the fall h₁ − h₂, so that a minute flow has its own small fall and
    /// is not lost in the digits of the heads.
    pub fn head_for(&self, flow_m3_s: f64, tail_m: f64) -> UpperHead {
        let submerged = tail_m >= 0.0;
        let tail_m = tail_m.max(0.0);
        if flow_m3_s.is_nan() || flow_m3_s <= 0.0 {
            return self.at_rest(tail_m, submerged);
        }
        let free = self.free.head_for(flow_m3_s);
        if tail_m == 0.0 {
            return UpperHead {
                head_m: free.value,
                by_flow: free.derivative,
                by_tail: 0.0,
            };
        }
        let fall_m = self.fall_m(flow_m3_s, tail_m, free.value);
        self.slopes(flow_m3_s, tail_m, tail_m + fall_m)
    }

    fn at_rest(&self, tail_m: f64, submerged: bool) -> UpperHead {
        let by_flow = if tail_m > 0.0 {
            let (_, slope) = spent(0.0);
            slope * tail_m / (self.free.power() * self.free.capacity(tail_m).value)
        } else {
            f64::INFINITY
        };
        UpperHead {
            head_m: tail_m,
            by_flow,
            by_tail: if submerged { 1.0 } else { 0.0 },
        }
    }

    /// h₁ − h₂ for a flow, m.
    fn fall_m(&self, flow_m3_s: f64, tail_m: f64, free_m: f64) -> f64 {
        let (mut low, mut high) = ((free_m - tail_m).max(0.0), f64::INFINITY);
        // For a small fall: 1 − (h₂/h₁)ⁿ is n·fall/h₂, and the free flow that of h₂.
        let (wanted, _) = spent(flow_m3_s / self.free.capacity(tail_m).value);
        let mut fall_m = low.max((tail_m / self.free.power() * wanted).min(free_m));
        for _ in 0..MOST_STEPS {
            let head_m = tail_m + fall_m;
            let free = self.free.capacity(head_m);
            let share = flow_m3_s / free.value;
            let (spent, by_share) = spent(share);
            let left = self.left(fall_m, tail_m);
            let error = left.ln() - spent.ln();
            if error.is_nan() || error.is_infinite() {
                // A fall or a flow below the smallest representable digit.
                return fall_m;
            }
            let power = self.free.power();
            let by_fall = power * (1.0 - left) / (head_m * left)
                + by_share * share / spent * free.derivative / free.value;
            if error > 0.0 {
                high = fall_m;
            } else {
                low = fall_m;
            }
            let step = error / (by_fall * fall_m);
            if step.abs() <= ENOUGH {
                return fall_m;
            }
            let mut next = fall_m * (-step).exp();
            if !(next > low && next < high) {
                next = if high.is_finite() {
                    0.5 * (low + high)
                } else {
                    2.0 * fall_m
                };
            }
            if next == low || next == high {
                return next;
            }
            fall_m = next;
        }
        fall_m
    }

    /// The derivatives of 1 − (h₂/h₁)ⁿ = (Q/Q_free(h₁))^(1/0.385).
    fn slopes(&self, flow_m3_s: f64, tail_m: f64, head_m: f64) -> UpperHead {
        let free = self.free.capacity(head_m);
        let share = flow_m3_s / free.value;
        let (_, by_share) = spent(share);
        let power = self.free.power();
        let ratio = (tail_m / head_m).powf(power);
        let by_head = power * ratio / head_m + by_share * share * free.derivative / free.value;
        UpperHead {
            head_m,
            by_flow: by_share / (free.value * by_head),
            by_tail: power * ratio / (tail_m * by_head),
        }
    }
}
