//! Steady-state solve: one implicit step of "for ever", or a continuation of growing steps towards it.

use super::newton::{self, ConvergenceError, Problem, Stats};
use super::system::{NetworkState, System};

/// Failed steps after which a continuation is given up.
const MOST_FAILURES: usize = 12;
/// Newton steps for the direct step: few where vessels must fill first (it converges at once or
/// wanders), more where no node has storage and the step length is irrelevant.
const DIRECT: usize = 4;
const DIRECT_WITHOUT_VESSELS: usize = 40;
/// Newton steps for each step of a continuation.
const RUNG: usize = 25;
/// Imbalance after the last step that is worth another, m³/s, and the maximum number of those.
const BALANCED_M3_S: f64 = 5e-10;
const MOST_AGAIN: usize = 3;
/// First step of a continuation, s, and its growth factor: fast, then careful.
const QUICK_CLIMB: (f64, f64) = (100.0, 1000.0);
const CAREFUL_CLIMB: (f64, f64) = (1.0, 10.0);
/// Length of the step that stands for "for ever", s (about three years).
///
/// A longer one would gain nothing: the rounding of the balances times the step is a spurious volume
/// (at 10 L/s and 1e8 s about 1e-9 m³).
pub(crate) const FOR_EVER_S: f64 = 1e8;

/// The steady state that `from` reaches in one step of "for ever": exact where no water is
/// retained on the way, a preview otherwise.
pub fn steady_state(
    system: &System,
    from: &NetworkState,
) -> Result<(NetworkState, Stats), ConvergenceError> {
    let mut stats = Stats::default();
    let mut point = from.clone();
    settle_for_ever(system, &mut point, &mut stats)?;
    Ok((point, stats))
}

/// Newton steps for a direct step from a nearby state.
const NEARBY: usize = 16;

/// As [`steady_state`], with the search started at `near`: a state of an almost identical network, as while
/// something is dragged. Where that does not converge, the search starts again at `from`.
///
/// Only the initial guess comes from `near`: the water in the network is that of `from`.
pub fn steady_state_near(
    system: &System,
    from: &NetworkState,
    near: &NetworkState,
) -> Result<(NetworkState, Stats), ConvergenceError> {
    let mut stats = Stats::default();
    let mut point = NetworkState {
        volume_m3: from.volume_m3.clone(),
        ..near.clone()
    };
    // The water that moves to its final place, spread over the step, is left as an imbalance. A second step,
    // in which almost none moves, removes it.
    let arrived = (0..2).all(|_| {
        let start_m3 = point.volume_m3.clone();
        let direct = Problem::new(&start_m3, FOR_EVER_S);
        let solved = newton::attempt(system, &direct, &mut point, NEARBY, &mut stats);
        balance_mass(system, &mut point);
        solved
    });
    if arrived {
        return Ok((point, stats));
    }
    point = from.clone();
    settle_for_ever(system, &mut point, &mut stats)?;
    Ok((point, stats))
}

/// Steps to the end, and repeats as long as the water that moved on the way still shows as an imbalance:
/// on a lake a tenth of a millimetre is many cubic metres.
pub(super) fn settle_for_ever(
    system: &System,
    point: &mut NetworkState,
    stats: &mut Stats,
) -> Result<(), ConvergenceError> {
    to_the_end(system, point, stats)?;
    for _ in 0..MOST_AGAIN {
        if imbalance_m3_s(system, point) <= BALANCED_M3_S {
            break;
        }
        let before = point.clone();
        let again = Problem::new(&before.volume_m3, FOR_EVER_S);
        if !newton::attempt(system, &again, point, NEARBY, stats) {
            *point = before;
            break;
        }
        balance_mass(system, point);
    }
    Ok(())
}

/// Largest imbalance at a vessel, m³/s.
fn imbalance_m3_s(system: &System, point: &NetworkState) -> f64 {
    if system.vessels.is_empty() {
        return 0.0;
    }
    let mut outflow = vec![0.0; system.nodes.len()];
    system.outflow(point, &mut outflow);
    let vessels = system.vessels.iter();
    vessels.fold(0.0, |most, &node| most.max(outflow[node].abs()))
}

/// The direct step where plain Newton solves it; else a continuation of steps with plain Newton;
/// else one with every fallback strategy.
fn to_the_end(
    system: &System,
    point: &mut NetworkState,
    stats: &mut Stats,
) -> Result<(), ConvergenceError> {
    let start = point.clone();
    let direct = Problem::new(&start.volume_m3, FOR_EVER_S);
    let vessels = !system.vessels.is_empty();
    let most = if vessels {
        DIRECT
    } else {
        DIRECT_WITHOUT_VESSELS
    };
    if !vessels {
        system.set_flowing(point);
    }
    if newton::attempt(system, &direct, point, most, stats) {
        balance_mass(system, point);
        return Ok(());
    }
    *point = start.clone();
    let light = |rung: &Problem, point: &mut NetworkState, stats: &mut Stats| {
        newton::attempt(system, rung, point, RUNG, stats)
    };
    if climb(system, point, QUICK_CLIMB, light, stats) {
        return Ok(());
    }
    *point = start.clone();
    let heavy = |rung: &Problem, point: &mut NetworkState, stats: &mut Stats| {
        newton::solve(system, rung, point, stats).is_ok()
    };
    if climb(system, point, CAREFUL_CLIMB, heavy, stats) {
        return Ok(());
    }
    *point = start.clone();
    newton::solve(system, &direct, point, stats)?;
    balance_mass(system, point);
    Ok(())
}

/// Sets the volumes to what the levels give.
fn balance_mass(system: &System, point: &mut NetworkState) {
    for node in 0..point.volume_m3.len() {
        point.volume_m3[node] = system.volume(node, point.head_m[node]);
    }
}

/// Approaches "for ever" in plain implicit steps that grow as long as they converge and shrink
/// where they do not; false where it makes no progress.
fn climb(
    system: &System,
    point: &mut NetworkState,
    (first_s, growth): (f64, f64),
    solved: impl Fn(&Problem, &mut NetworkState, &mut Stats) -> bool,
    stats: &mut Stats,
) -> bool {
    let (mut step_s, mut growth, mut failures) = (first_s, growth, 0);
    loop {
        let start = point.clone();
        let rung = Problem::new(&start.volume_m3, step_s);
        if solved(&rung, point, stats) {
            balance_mass(system, point);
            if step_s >= FOR_EVER_S {
                return true;
            }
            step_s = (step_s * growth).min(FOR_EVER_S);
        } else {
            *point = start;
            growth = growth.sqrt().max(1.2);
            step_s *= 0.1;
            failures += 1;
            if failures > MOST_FAILURES {
                return false;
            }
        }
    }
}
