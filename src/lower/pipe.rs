//! The pipe of a run: its bore and its wall.

use super::problem::{Problem, UnknownEntry};
use super::{LoweringContext, opening};
use crate::catalogue::Family;
use crate::hydraulics::losses::friction::{Wall, darcy_factor};
use crate::hydraulics::losses::hazen_williams::{
    BORE_EXPONENT, FLOW_EXPONENT, LEAST_BORE_IN_RANGE_M,
};
use crate::hydraulics::losses::loss::Loss;
use crate::hydraulics::{LEAST_BORE_M, full_area_m2};
use crate::layout::{Friction, Id, Layout, Pipe, Run, RunEnd};

/// Roughness of drawn plastic, metres: drawn tubing, 0.0015 mm. [@white]
const PLASTIC_ROUGHNESS_M: f64 = 1.5e-6;
/// Hazen–Williams C of plastic pipe; tables give 140 to 150. [@hazen-williams]
const PLASTIC_C: f64 = 150.0;
/// Substitute bore of a pipe that is not in the catalogue, metres: a common one, so that the rest can be computed.
const STAND_IN_BORE_M: f64 = 0.05;
/// Velocity at which a length of pipe is converted to a K, m/s: the middle of what builders aim at.
/// Common practice, no source.
const ORDINARY_VELOCITY_M_S: f64 = 1.0;
/// Water temperatures for which Hazen–Williams is used, °C: near 15, ten degrees either way.
/// Common practice, no source.
const HAZEN_WILLIAMS_RANGE_C: std::ops::RangeInclusive<f64> = 5.0..=25.0;

/// Bore and wall of a run.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Bore {
    /// The effective bore: as bought, less the film.
    pub bore_m: f64,
    /// The bore as bought, by which fittings are looked up.
    pub new_m: f64,
    pub roughness_m: f64,
    pub wall: Wall,
}

/// Bore and wall of a run; words that are not in the catalogue become problems.
pub(super) fn bore(context: &LoweringContext<'_>, run: &Run, out: &mut Vec<Problem>) -> Bore {
    if run.pipe == Pipe::Open {
        return no_pipe(context, run);
    }
    let (new_m, own_roughness_m, own_c) = as_new(context, run, out);
    let bore_m = context.worn_m(new_m);
    let roughness_m = context.worn_roughness_m(own_roughness_m);
    let c = own_c.min(fouled_c(context, bore_m, roughness_m));
    let wall = match (run.friction_factor, friction(context.layout, run)) {
        (Some(factor), _) => Wall::FixedFactor(factor),
        (None, Friction::DarcyWeisbach) => Wall::Darcy { roughness_m },
        (None, Friction::HazenWilliams) => Wall::HazenWilliams { c },
    };
    if matches!(wall, Wall::HazenWilliams { .. }) && new_m < LEAST_BORE_IN_RANGE_M {
        out.push(Problem::HazenWilliamsBore {
            run: run.id.clone(),
            bore_m: new_m,
            least_m: LEAST_BORE_IN_RANGE_M,
        });
    }
    Bore {
        bore_m,
        new_m,
        roughness_m,
        wall,
    }
}

/// Bore, roughness and C as bought.
fn as_new(context: &LoweringContext<'_>, run: &Run, out: &mut Vec<Problem>) -> (f64, f64, f64) {
    match &run.pipe {
        Pipe::Open => (STAND_IN_BORE_M, PLASTIC_ROUGHNESS_M, PLASTIC_C),
        Pipe::Own {
            bore_m,
            roughness_m,
            hazen_williams_c,
        } => (
            *bore_m,
            roughness_m.unwrap_or(PLASTIC_ROUGHNESS_M),
            hazen_williams_c.unwrap_or(PLASTIC_C),
        ),
        Pipe::Bought {
            family,
            size,
            roughness_m,
            hazen_williams_c,
        } => {
            let known = context.catalogue.family(family);
            let of_wall = known.map_or((PLASTIC_ROUGHNESS_M, PLASTIC_C), wall_of);
            (
                bought_bore_m(context, &run.id, family, size, out),
                roughness_m.unwrap_or(of_wall.0),
                hazen_williams_c.unwrap_or(of_wall.1),
            )
        }
    }
}

/// Largest C of a fouled wall: the one with the same loss as its roughness at 1 m/s; no limit when new.
fn fouled_c(context: &LoweringContext<'_>, bore_m: f64, roughness_m: f64) -> f64 {
    if !context.is_fouled() {
        return f64::INFINITY;
    }
    let bore_m = bore_m.max(LEAST_BORE_M);
    let reynolds =
        ORDINARY_VELOCITY_M_S * bore_m / context.water.kinematic_viscosity_m2_s.max(1e-9);
    let factor = darcy_factor(reynolds, roughness_m / bore_m).value;
    let velocity_head_m = ORDINARY_VELOCITY_M_S.powi(2) / (2.0 * context.coefficients.gravity_m_s2);
    let per_length = factor * velocity_head_m / bore_m;
    let flow_m3_s = ORDINARY_VELOCITY_M_S * full_area_m2(bore_m);
    let k = context.layout.coefficients.hazen_williams.k;
    let scale = (k / (per_length * bore_m.powf(BORE_EXPONENT))).powf(1.0 / FLOW_EXPONENT);
    flow_m3_s * scale
}

/// An opening straight into the next vessel: no wall; the bore of its opening, to compute a velocity.
fn no_pipe(context: &LoweringContext<'_>, run: &Run) -> Bore {
    let bores = RunEnd::BOTH.map(|which| opening::equal_bore_m(context, run.end(which)));
    let smallest_m = bores.into_iter().flatten().reduce(f64::min);
    let new_m = smallest_m.unwrap_or(STAND_IN_BORE_M);
    Bore {
        bore_m: context.worn_m(new_m),
        new_m,
        roughness_m: PLASTIC_ROUGHNESS_M,
        wall: Wall::FixedFactor(0.0),
    }
}

fn friction(layout: &Layout, run: &Run) -> Friction {
    run.friction.unwrap_or(layout.friction)
}

fn wall_of(family: &Family) -> (f64, f64) {
    (family.roughness_m, family.hazen_williams_c)
}

fn bought_bore_m(
    context: &LoweringContext<'_>,
    run: &Id,
    family: &str,
    size: &str,
    out: &mut Vec<Problem>,
) -> f64 {
    if let Some(pipe) = context.catalogue.pipe(family, size) {
        return pipe.bore_m();
    }
    let family_word = family.to_owned();
    let (entry, nearest) = if context.catalogue.family(family).is_some() {
        let entry = UnknownEntry::Size {
            family: family_word,
            size: size.to_owned(),
            stand_in_m: STAND_IN_BORE_M,
        };
        (entry, context.catalogue.nearest_size(family, size))
    } else {
        let entry = UnknownEntry::Family {
            family: family_word,
            stand_in_m: STAND_IN_BORE_M,
        };
        (entry, context.catalogue.nearest_family(family))
    };
    out.push(Problem::NotInCatalogue {
        run: run.clone(),
        entry,
        nearest: nearest.map(str::to_owned),
    });
    STAND_IN_BORE_M
}

/// One problem for all runs by Hazen–Williams, where the water is too warm or too cold for it.
pub(super) fn warm_or_cold(layout: &Layout, out: &mut Vec<Problem>) {
    let temperature_c = layout.water.temperature_c;
    if HAZEN_WILLIAMS_RANGE_C.contains(&temperature_c) {
        return;
    }
    let by_formula = layout.runs.iter().filter(|run| {
        run.pipe != Pipe::Open
            && run.friction_factor.is_none()
            && friction(layout, run) == Friction::HazenWilliams
    });
    let runs: Vec<Id> = by_formula.map(|run| run.id.clone()).collect();
    if runs.is_empty() {
        return;
    }
    let (low, high) = HAZEN_WILLIAMS_RANGE_C.into_inner();
    out.push(Problem::HazenWilliamsTemperature {
        runs,
        temperature_c,
        range_c: [low, high],
    });
}

/// The loss of a bare bore over a length, m.
pub(super) fn bare_loss(
    context: &LoweringContext<'_>,
    bore_m: f64,
    length_m: f64,
    wall: Wall,
) -> Loss {
    Loss {
        bore_m,
        length_m,
        wall,
        minors: Vec::new(),
        equipment_a: 0.0,
        equipment_b: 0.0,
        kinematic_viscosity_m2_s: context.water.kinematic_viscosity_m2_s,
        gravity_m_s2: context.coefficients.gravity_m_s2,
        hazen_williams_k: context.layout.coefficients.hazen_williams.k,
    }
}

impl Bore {
    /// The loss of a length of this pipe, without fittings.
    pub fn loss(&self, context: &LoweringContext<'_>, length_m: f64) -> Loss {
        bare_loss(context, self.bore_m, length_m, self.wall)
    }

    /// Darcy factor for the equivalent length of a fitting: that of this wall in the fitting's bore
    /// at 1 m/s, or the fixed factor of the run. By Hazen–Williams too, from the roughness.
    pub fn ordinary_factor(&self, context: &LoweringContext<'_>, bore_m: f64) -> f64 {
        if let Wall::FixedFactor(factor) = self.wall {
            return factor;
        }
        let bore_m = bore_m.max(LEAST_BORE_M);
        let viscosity = context.water.kinematic_viscosity_m2_s.max(1e-9);
        let reynolds = ORDINARY_VELOCITY_M_S * bore_m / viscosity;
        darcy_factor(reynolds, self.roughness_m / bore_m).value
    }
}
