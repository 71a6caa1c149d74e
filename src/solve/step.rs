//! One time step: a two-stage, second-order, L-stable implicit method.
//!
//! Singly diagonally implicit Runge–Kutta with γ = 1 − 1/√2, stiffly accurate [@alexander-1977]. Each stage is one
//! solution of the implicit equations, so levels and flows at the end of a step satisfy every law there. Volumes
//! are integrated from the flows, so water is conserved to rounding.

use super::newton::{self, ConvergenceError, Problem, Stats};
use super::system::{NetworkState, System};
use crate::network::Node;

/// γ of the method.
const GAMMA: f64 = 1.0 - std::f64::consts::FRAC_1_SQRT_2;

/// A solved time step.
pub(crate) struct SolvedStep {
    /// The state at its end.
    pub end: NetworkState,
    /// Volume that each link passed in the step, m³.
    pub passed_m3: Vec<f64>,
    /// Volume that each fill of runs took up in the step, m³.
    pub taken_m3: Vec<f64>,
    /// Estimated error of the worst level, metres.
    pub error_m: f64,
}

/// Steps from `from` by `step_s` seconds.
pub(crate) fn step(
    system: &System,
    from: &NetworkState,
    step_s: f64,
    stats: &mut Stats,
) -> Result<SolvedStep, ConvergenceError> {
    let count = system.nodes.len();
    let mut point = from.clone();
    let (mut first, mut second) = (vec![0.0; count], vec![0.0; count]);

    newton::solve(system, &stage(&from.volume_m3, step_s), &mut point, stats)?;
    system.outflow(&point, &mut first);
    let first_flow = point.flow_m3_s.clone();

    let known: Vec<f64> = from
        .volume_m3
        .iter()
        .zip(&first)
        .map(|(v, out)| v - (1.0 - GAMMA) * step_s * out)
        .collect();
    newton::solve(system, &stage(&known, step_s), &mut point, stats)?;
    system.outflow(&point, &mut second);

    let mut error_m = 0.0_f64;
    for node in 0..count {
        if let Node::Vessel { .. } = system.nodes[node] {
            point.volume_m3[node] = known[node] - GAMMA * step_s * second[node];
            let error = GAMMA * step_s * (second[node] - first[node]).abs();
            error_m = error_m.max(error / system.area(node, point.head_m[node]));
        }
    }
    let passed_m3 = first_flow
        .iter()
        .zip(&point.flow_m3_s)
        .map(|(a, b)| step_s * ((1.0 - GAMMA) * a + GAMMA * b))
        .collect();
    let (early, late) = (
        system.taken_m3_s(&first_flow),
        system.taken_m3_s(&point.flow_m3_s),
    );
    let taken_m3 = early
        .zip(late)
        .map(|(a, b)| step_s * ((1.0 - GAMMA) * a + GAMMA * b))
        .collect();
    Ok(SolvedStep {
        taken_m3,
        end: point,
        passed_m3,
        error_m,
    })
}

fn stage(volume_m3: &[f64], step_s: f64) -> Problem<'_> {
    Problem::new(volume_m3, GAMMA * step_s)
}
