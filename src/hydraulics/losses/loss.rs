//! Head loss along one run as a function of its flow: wall, fittings, equipment.

use super::friction::{Wall, drag_number, wall_term};
use super::hazen_williams;
use super::hazen_williams::Pipe;
use crate::hydraulics::{Dual, LEAST_BORE_M, LEAST_VISCOSITY_M2_S, full_area_m2};

/// Resistance added to every run, m of head per m³/s, linear in the flow.
///
/// It keeps a run without length and fittings finite in both directions of the solution. At 10 L/s it is a
/// nanometre of head.
pub const LEAST_RESISTANCE_S_M2: f64 = 1e-7;

/// Reynolds number below which the loss of a fitting is proportional to V instead of V².
pub const FITTING_LAMINAR_BELOW_RE: f64 = 100.0;

/// A fitting: its loss coefficient on the velocity head in its own bore.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Minor {
    /// Loss coefficient K, dimensionless; a negative one counts as 0 here.
    pub k: f64,
    /// Bore whose velocity K refers to, m.
    pub bore_m: f64,
}

/// All losses along one run.
#[derive(Clone, Debug, PartialEq)]
pub struct Loss {
    /// Bore of the pipe, m.
    pub bore_m: f64,
    /// Length of the pipe, m.
    pub length_m: f64,
    /// Friction law of the wall.
    pub wall: Wall,
    /// Entrance, bends, valves, exit.
    pub minors: Vec<Minor>,
    /// Equipment, part proportional to Q: a in h = a·Q + b·Q², s/m²; negative counts as 0.
    pub equipment_a: f64,
    /// Equipment, part proportional to Q²: b, s²/m⁵; negative counts as 0.
    pub equipment_b: f64,
    /// Kinematic viscosity, m²/s.
    pub kinematic_viscosity_m2_s: f64,
    /// Gravity, m/s².
    pub gravity_m_s2: f64,
    /// Coefficient of Hazen–Williams, used with that wall only.
    pub hazen_williams_k: f64,
}

/// The components of the loss at one flow; each ≥ 0, m, and their sum is the magnitude of the loss.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LossParts {
    /// Wall friction, including the minimum resistance [`LEAST_RESISTANCE_S_M2`].
    pub friction_m: f64,
    /// Fittings.
    pub minor_m: f64,
    /// Equipment.
    pub equipment_m: f64,
}

impl Loss {
    /// Head loss, m, and its derivative, s/m², at a flow of either sign. [@darcy-weisbach]
    ///
    /// Odd in the flow; the derivative is positive everywhere.
    pub fn at(&self, flow_m3_s: f64) -> Dual {
        let q = flow_m3_s.abs();
        let friction = self.friction(q);
        let equipment = self.equipment(q);
        let minor = self.minor(q);
        let head = friction.value + minor.value + equipment.value;
        Dual {
            value: head.copysign(flow_m3_s),
            derivative: friction.derivative + minor.derivative + equipment.derivative,
        }
    }

    /// The components of the same loss.
    pub fn parts(&self, flow_m3_s: f64) -> LossParts {
        let q = flow_m3_s.abs();
        LossParts {
            friction_m: self.friction(q).value,
            minor_m: self.minor(q).value,
            equipment_m: self.equipment(q).value,
        }
    }

    /// Friction slope, dimensionless: head loss per metre of another bore at a velocity (≥ 0), with the wall and
    /// water of this run. For a part-full pipe the bore is four hydraulic radii.
    pub fn friction_slope(&self, bore_m: f64, velocity_m_s: f64) -> f64 {
        let bore_m = bore_m.max(LEAST_BORE_M);
        let metre = Loss {
            bore_m,
            length_m: 1.0,
            minors: Vec::new(),
            ..*self
        };
        metre.wall(velocity_m_s * full_area_m2(bore_m)).value
    }

    /// Head loss of the fittings alone at a flow, m.
    pub fn minor_m(&self, flow_m3_s: f64) -> f64 {
        self.minor(flow_m3_s.abs()).value
    }

    /// Whether nothing along the run causes a loss: no length, no fitting, no equipment.
    pub fn is_nothing(&self) -> bool {
        self.length_m <= 0.0
            && self.minors.iter().all(|minor| minor.k <= 0.0)
            && self.equipment_a <= 0.0
            && self.equipment_b <= 0.0
    }

    /// Area of the bore, m².
    pub fn area_m2(&self) -> f64 {
        full_area_m2(self.bore())
    }

    /// Mean velocity in the full bore, m/s, with the sign of the flow.
    pub fn velocity_m_s(&self, flow_m3_s: f64) -> f64 {
        flow_m3_s / self.area_m2()
    }

    /// Reynolds number in the bore, ≥ 0, dimensionless.
    pub fn reynolds(&self, flow_m3_s: f64) -> f64 {
        self.velocity_m_s(flow_m3_s).abs() * self.bore() / self.viscosity()
    }

    fn bore(&self) -> f64 {
        self.bore_m.max(LEAST_BORE_M)
    }

    fn viscosity(&self) -> f64 {
        self.kinematic_viscosity_m2_s.max(LEAST_VISCOSITY_M2_S)
    }

    fn friction(&self, q: f64) -> Dual {
        let wall = self.wall(q);
        Dual {
            value: wall.value + LEAST_RESISTANCE_S_M2 * q,
            derivative: wall.derivative + LEAST_RESISTANCE_S_M2,
        }
    }

    pub(super) fn wall(&self, q: f64) -> Dual {
        match self.wall {
            Wall::Darcy { roughness_m } => self.darcy(roughness_m).at(q),
            Wall::FixedFactor(factor) => square_law(self.fixed_factor(factor), q),
            Wall::HazenWilliams { c } => hazen_williams::head_lost(
                &Pipe {
                    coefficient: self.hazen_williams_k,
                    c,
                    bore_m: self.bore(),
                    length_m: self.length_m,
                },
                q,
            ),
        }
    }

    pub(super) fn darcy(&self, roughness_m: f64) -> DarcyTerms {
        let (bore, viscosity) = (self.bore(), self.viscosity());
        DarcyTerms {
            re_per_flow: bore / (viscosity * full_area_m2(bore)),
            wall_term: wall_term(roughness_m / bore),
            scale: self.length_m * viscosity * viscosity
                / (2.0 * self.gravity_m_s2 * bore * bore * bore),
        }
    }

    /// Coefficient of Q², s²/m⁵.
    pub(super) fn fixed_factor(&self, factor: f64) -> f64 {
        let area = self.area_m2();
        factor.max(0.0) * self.length_m / (self.bore() * 2.0 * self.gravity_m_s2 * area * area)
    }

    pub(super) fn fitting(&self, minor: &Minor) -> MinorTerms {
        let bore = minor.bore_m.max(LEAST_BORE_M);
        let area = full_area_m2(bore);
        MinorTerms {
            scale: minor.k.max(0.0) / (2.0 * self.gravity_m_s2 * area * area),
            laminar_to: FITTING_LAMINAR_BELOW_RE * self.viscosity() * area / bore,
        }
    }

    pub(super) fn minor(&self, q: f64) -> Dual {
        let mut sum = Dual::ZERO;
        for minor in &self.minors {
            let part = self.fitting(minor).at(q);
            sum.value += part.value;
            sum.derivative += part.derivative;
        }
        sum
    }

    fn equipment(&self, q: f64) -> Dual {
        let a = self.equipment_a.max(0.0);
        let square = square_law(self.equipment_b.max(0.0), q);
        Dual {
            value: a * q + square.value,
            derivative: a + square.derivative,
        }
    }
}

/// f·(L/D)·V²/2g in terms of f·Re², which is smooth down to zero flow: f·V² = f·Re²·(ν/D)².
#[derive(Clone, Copy, Debug)]
pub(super) struct DarcyTerms {
    pub re_per_flow: f64,
    /// ε/3.7D.
    pub wall_term: f64,
    pub scale: f64,
}

impl DarcyTerms {
    fn at(&self, q: f64) -> Dual {
        let drag = drag_number(q * self.re_per_flow, self.wall_term);
        Dual {
            value: self.scale * drag.value,
            derivative: self.scale * drag.derivative * self.re_per_flow,
        }
    }
}

/// A fitting: K·V²/2g, linear in the flow below the one at which its own Reynolds number is 100.
#[derive(Clone, Copy, Debug)]
pub(super) struct MinorTerms {
    pub scale: f64,
    pub laminar_to: f64,
}

impl MinorTerms {
    fn at(&self, q: f64) -> Dual {
        if q < self.laminar_to {
            return Dual {
                value: self.scale * self.laminar_to * q,
                derivative: self.scale * self.laminar_to,
            };
        }
        square_law(self.scale, q)
    }
}

fn square_law(scale: f64, q: f64) -> Dual {
    Dual {
        value: scale * q * q,
        derivative: 2.0 * scale * q,
    }
}
