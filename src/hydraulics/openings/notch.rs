//! A notch in a wall: thin-plate weirs, rectangular and vee.
//!
//! The head counts from the crest, or from the point of the vee. See `docs/method/notch.md`.

use super::coefficients::least;
use crate::hydraulics::Dual;
use std::f64::consts::PI;

/// Effective head correction of a rectangular notch, m. [@iso-1438]
const RECTANGULAR_OFFSET_M: f64 = 0.001;
/// Smallest head in the range of the standard for a rectangular notch, m; below it the correction fades out.
const RECTANGULAR_LEAST_HEAD_M: f64 = 0.03;
/// Smallest head in the range of the standard for a vee, m; below it the correction fades out.
const VEE_LEAST_HEAD_M: f64 = 0.06;
/// Largest head over crest height at which the coefficient of a rectangular notch was measured.
const MOST_HEAD_OVER_HEIGHT: f64 = 2.5;
/// Smallest width of a rectangular notch on which the law was measured, m. [@iso-1438]
pub const LEAST_NOTCH_WIDTH_M: f64 = 0.15;
/// Smallest angle of a vee on which the law was measured, degrees. [@iso-1438]
pub const LEAST_VEE_DEG: f64 = 20.0;
/// Range of angles in which the coefficient of a vee was measured, degrees.
const VEE_RANGE_DEG: [f64; 2] = [LEAST_VEE_DEG, 100.0];
/// Smallest width the law computes with, m.
const LEAST_WIDTH_M: f64 = 1e-4;

/// A notch in a wall.
///
/// Q = unit·(c₀ + c₁·h)·h_e^p with p 1.5 or 2.5, where h_e is the effective head, corrected for viscosity and surface
/// tension at the plate, and c₁ counts up to the largest head that was measured.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Notch {
    unit: f64,
    constant: f64,
    by_head_per_m: f64,
    measured_to_m: f64,
    offset_m: f64,
    full_offset_at_m: f64,
    power: f64,
}

/// Width of a rectangular notch and of its approach channel, and height of its crest.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rectangle {
    /// Width of the notch, m.
    pub width_m: f64,
    /// Width of the approach channel, m; none: so wide that it does not matter.
    pub channel_m: Option<f64>,
    /// Height of the crest over the floor upstream, m; none: so high that it does not matter.
    pub height_m: Option<f64>,
}

impl Notch {
    /// A rectangular thin-plate notch by Kindsvater and Carter. [@kindsvater-carter-1957, @iso-1438]
    ///
    /// Range: notch 0.15 m wide and more, head 0.03 m and more, crest 0.1 m and more over the floor,
    /// head up to 2.5 times that.
    pub fn rectangular(shape: Rectangle, gravity_m_s2: f64) -> Notch {
        let width_m = shape.width_m.max(LEAST_WIDTH_M);
        let share = shape.channel_m.map_or(0.0, |channel_m| width_m / channel_m);
        let [constant, by_ratio, width_offset_m] = contracted(share.clamp(0.0, 1.0));
        let (by_head_per_m, measured_to_m) = match shape.height_m {
            None => (0.0, f64::INFINITY),
            Some(height_m) => {
                let height_m = height_m.max(LEAST_WIDTH_M);
                (by_ratio / height_m, MOST_HEAD_OVER_HEIGHT * height_m)
            }
        };
        // The negative width correction of a full-width notch must not close a slit.
        let effective_m = (width_m + width_offset_m).max(0.5 * width_m);
        Notch {
            unit: 2.0 / 3.0 * (2.0 * gravity_m_s2).sqrt() * effective_m,
            constant,
            by_head_per_m,
            measured_to_m,
            offset_m: RECTANGULAR_OFFSET_M,
            full_offset_at_m: RECTANGULAR_LEAST_HEAD_M,
            power: 1.5,
        }
    }

    /// A fully contracted vee by Kindsvater and Shen; the angle in degrees. [@shen-1981, @iso-1438]
    ///
    /// Range: 20 to 100 degrees, head 0.06 m and more. Outside it the coefficient of the nearest angle.
    pub fn vee(angle_deg: f64, gravity_m_s2: f64) -> Notch {
        let [low, high] = VEE_RANGE_DEG;
        let measured = angle_deg.clamp(low, high);
        Notch {
            constant: vee_coefficient(measured),
            offset_m: vee_offset_m(measured),
            full_offset_at_m: VEE_LEAST_HEAD_M,
            ..Notch::plain_vee(angle_deg, 1.0, gravity_m_s2)
        }
    }

    /// ⅔·C·√(2g)·b·h^1.5 with one coefficient and no corrections.
    pub fn plain_rectangular(width_m: f64, coefficient: f64, gravity_m_s2: f64) -> Notch {
        Notch {
            unit: 2.0 / 3.0 * (2.0 * gravity_m_s2).sqrt() * width_m.max(LEAST_WIDTH_M),
            constant: least(coefficient),
            by_head_per_m: 0.0,
            measured_to_m: f64::INFINITY,
            offset_m: 0.0,
            full_offset_at_m: RECTANGULAR_LEAST_HEAD_M,
            power: 1.5,
        }
    }

    /// 8/15·C·√(2g)·tan(θ/2)·h^2.5 with one coefficient and no corrections; the angle in degrees.
    pub fn plain_vee(angle_deg: f64, coefficient: f64, gravity_m_s2: f64) -> Notch {
        let half_rad = angle_deg.clamp(0.1, 179.0) * PI / 360.0;
        Notch {
            unit: 8.0 / 15.0 * (2.0 * gravity_m_s2).sqrt() * half_rad.tan(),
            power: 2.5,
            full_offset_at_m: VEE_LEAST_HEAD_M,
            ..Notch::plain_rectangular(1.0, coefficient, gravity_m_s2)
        }
    }

    /// C·P·h^1.5 of a rim or another level sill `length_m` long, C in m^½/s. [@chow-1959]
    pub fn rim(coefficient: f64, length_m: f64) -> Notch {
        Notch {
            unit: least(coefficient) * length_m.max(LEAST_WIDTH_M),
            constant: 1.0,
            ..Notch::plain_rectangular(1.0, 1.0, 1.0)
        }
    }

    /// Exponent of the head in the flow: 1.5 for a level sill, 2.5 for a vee.
    pub fn power(&self) -> f64 {
        self.power
    }

    /// Heads at which the derivative of the law has a kink, m: where the correction is complete, and where the
    /// coefficient becomes constant.
    pub fn corners_m(&self) -> [f64; 2] {
        [self.full_offset_at_m, self.measured_to_m]
    }

    /// Effective head, m: linear from 0 up to the smallest measured head, with the whole correction above it.
    ///
    /// So no head gives no flow, the law is continuous, and within the measured range it is that of the standard.
    fn effective(&self, head_m: f64) -> Dual {
        if head_m < self.full_offset_at_m {
            let grows = 1.0 + self.offset_m / self.full_offset_at_m;
            return Dual {
                value: head_m * grows,
                derivative: grows,
            };
        }
        Dual {
            value: head_m + self.offset_m,
            derivative: 1.0,
        }
    }

    fn coefficient(&self, head_m: f64) -> Dual {
        let slope = if head_m < self.measured_to_m {
            self.by_head_per_m
        } else {
            0.0
        };
        Dual {
            value: self.constant + self.by_head_per_m * head_m.min(self.measured_to_m),
            derivative: slope,
        }
    }

    pub(super) fn capacity(&self, head_m: f64) -> Dual {
        let effective = self.effective(head_m);
        let coefficient = self.coefficient(head_m);
        let flow = self.unit * coefficient.value * effective.value.powf(self.power);
        let per_head = coefficient.derivative / coefficient.value
            + self.power * effective.derivative / effective.value;
        Dual {
            value: flow,
            derivative: flow * per_head,
        }
    }

    /// Head from the effective head, m.
    fn without_offset(&self, effective_m: f64) -> f64 {
        let grows = 1.0 + self.offset_m / self.full_offset_at_m;
        if effective_m < self.full_offset_at_m * grows {
            effective_m / grows
        } else {
            effective_m - self.offset_m
        }
    }

    pub(super) fn head_for(&self, flow_m3_s: f64) -> Dual {
        let with = |coefficient: f64| {
            let effective_m = (flow_m3_s / (self.unit * coefficient)).powf(1.0 / self.power);
            self.without_offset(effective_m)
        };
        let mut head_m = with(self.constant);
        if self.by_head_per_m != 0.0 {
            // ln W increases with ln h at 1.5 to 2.5 or so: Newton on the logarithms converges from either side.
            for _ in 0..60 {
                let now = self.capacity(head_m);
                let step = (now.value / flow_m3_s).ln() * now.value / (now.derivative * head_m);
                head_m *= (-step).exp();
                if step.abs() < 1e-15 {
                    break;
                }
            }
        }
        Dual {
            value: head_m,
            derivative: 1.0 / self.capacity(head_m).derivative,
        }
    }
}

/// Notch width over channel width; c₀, c₁ in C_e = c₀ + c₁·h/P, and the width correction, m.
///
/// c₀ and c₁: as the standard prints them; the correction read off its curve at these ratios.
/// [@kindsvater-carter-1957, @iso-1438, @usbr-measurement]
const CONTRACTED: [[f64; 4]; 11] = [
    [0.0, 0.587, -0.0023, 0.0024],
    [0.1, 0.588, -0.0021, 0.0024],
    [0.2, 0.589, -0.0018, 0.0024],
    [0.3, 0.590, 0.0020, 0.0025],
    [0.4, 0.591, 0.0058, 0.0027],
    [0.5, 0.592, 0.011, 0.0031],
    [0.6, 0.593, 0.018, 0.0036],
    [0.7, 0.595, 0.030, 0.0041],
    [0.8, 0.597, 0.045, 0.0042],
    [0.9, 0.599, 0.064, 0.0035],
    [1.0, 0.602, 0.075, -0.0009],
];

/// Linear between the rows.
fn contracted(share: f64) -> [f64; 3] {
    let mut before = CONTRACTED[0];
    for row in CONTRACTED {
        if share <= row[0] {
            let [low, high] = [before[0], row[0]];
            let way = if high > low {
                (share - low) / (high - low)
            } else {
                0.0
            };
            return [1, 2, 3].map(|column| before[column] + way * (row[column] - before[column]));
        }
        before = row;
    }
    [before[1], before[2], before[3]]
}

/// C_e of a fully contracted vee, angle in degrees: a commonly used fit to the curve of the standard.
fn vee_coefficient(angle_deg: f64) -> f64 {
    0.607_165_052 + angle_deg * (-8.744_669_63e-4 + angle_deg * 6.103_933_34e-6)
}

/// Head correction of a vee, m; angle in degrees: a commonly used fit, made in feet.
fn vee_offset_m(angle_deg: f64) -> f64 {
    const FOOT_M: f64 = 0.3048;
    let cubic = 3.298_190_03e-6 - angle_deg * 1.062_154_42e-8;
    FOOT_M * (0.014_490_264_8 + angle_deg * (-3.395_553_5e-4 + angle_deg * cubic))
}
