//! Preview: the running state by a direct steady-state solve, and the water that runs take up on the way there.

use super::hybrid_system::{HybridSystem, SwitchMode};
use super::lines::{FillingLines, LineWater};
use super::report::StateReport;
use super::simulate::Simulated;
use super::{StateNotConverged, near, not_converged, report_of, start_at};
use crate::layout::Layout;
use crate::lower::Lowered;
use crate::solve::{
    ConvergenceError, NetworkState, Stats, System, steady_state, steady_state_near,
};
use crate::state::State;

/// Maximum number of changes of air in runs in a preview.
const MOST_PREVIEW_TURNS: usize = 4;
/// Maximum number of steady-state solves until the water held in runs is consistent with the flows, and the
/// tolerance, m³.
const MAX_STEADY_STATES: usize = 6;
const AGREES_M3: f64 = 1e-6;

/// The running state by a direct steady-state solve from `rest_m` with tall walls: a preview, exact where no water
/// is retained on the way. `near`: the running state of an almost identical layout, as the initial guess.
pub fn running_preview(
    layout: &Layout,
    tall: &Lowered,
    rest_m: &[f64],
    near: Option<&StateReport>,
) -> Result<StateReport, StateNotConverged> {
    let hybrid = HybridSystem::new(layout, tall.clone(), tall.clone());
    let start = start_at(tall, &System::new(&tall.network), rest_m);
    let modes = hybrid.first_modes(&start);
    let near = near.map(|report| near::point(tall, &start, report));
    let settled = filled(
        &hybrid,
        (&start, &still(tall, &start)),
        (modes, near.as_ref()),
    );
    let settled = settled.map_err(|stuck| not_converged(layout, tall, &stuck))?;
    let system = System::new(&settled.lowered.network);
    let done = Simulated::for_steady_state(&system, settled.end, settled.stats);
    let mut report = report_of(layout, &settled.lowered, State::Running, &done);
    report.in_runs_m3 = settled.in_runs_m3;
    Ok(report)
}

/// The water that runs take up at a start from `rest`, and hold there, according to the direct steady-state solve.
pub(super) fn at_a_start(
    hybrid: &HybridSystem<'_>,
    start: &NetworkState,
    rest: &NetworkState,
) -> LineWater {
    let modes = hybrid
        .first_modes(start)
        .into_iter()
        .map(|mode| match mode {
            // A pump that waits for water still in the runs will run once it has come.
            SwitchMode::Waits | SwitchMode::Dry => SwitchMode::Runs,
            other => other,
        });
    let settled = filled(hybrid, (start, rest), (modes.collect(), None));
    settled.map_or_else(
        |_| LineWater::default(),
        |settled| LineWater::at_rest(settled.lines),
    )
}

/// Head of a joint that no water reaches, metres: below everything.
const DRY_M: f64 = -1e6;

/// The same levels without flow: a joint stands at the highest level that reaches it below every higher pipe.
fn still(lowered: &Lowered, start: &NetworkState) -> NetworkState {
    let origin = &lowered.origin;
    let mut point = start.clone();
    for &joint in &origin.joints {
        point.head_m[joint] = DRY_M;
    }
    let runs = origin.runs.iter().zip(&origin.run_facts);
    let runs: Vec<([usize; 2], f64)> = runs
        .filter_map(|(&link, facts)| {
            let ends = lowered.network.edge_endpoints((link as u32).into())?;
            Some(([ends.0.index(), ends.1.index()], facts.highest_m))
        })
        .collect();
    loop {
        let mut moved = false;
        for (ends, highest_m) in &runs {
            for [from, to] in [*ends, [ends[1], ends[0]]] {
                let level_m = point.head_m[from];
                let reaches = level_m >= *highest_m && level_m > point.head_m[to];
                if reaches && origin.joints.contains(&to) {
                    point.head_m[to] = level_m;
                    moved = true;
                }
            }
        }
        if !moved {
            return point;
        }
    }
}

/// The result of a steady-state solve.
struct SteadyPreview {
    lowered: Lowered,
    end: NetworkState,
    stats: Stats,
    /// Water that runs take up on the way, and how much was available, m³.
    lines: FillingLines,
    in_runs_m3: f64,
}

/// The direct steady-state solve from `start` once the runs have taken up what they then hold, in excess of what they
/// held at `rest`.
fn filled(
    hybrid: &HybridSystem<'_>,
    (start, rest): (&NetworkState, &NetworkState),
    (modes, near): (Vec<SwitchMode>, Option<&NetworkState>),
) -> Result<SteadyPreview, ConvergenceError> {
    let (mut lowered, mut end, mut stats) = settled(hybrid, start, (modes.clone(), near))?;
    let mut lines = FillingLines::of(hybrid.layout, rest, (&lowered, &end));
    let system = System::new(&hybrid.on.network);
    let mut in_runs_m3 = 0.0;
    for _ in 0..MAX_STEADY_STATES {
        let mut drawn = start.clone();
        let takes_m3 = take_out(hybrid, &system, &mut drawn, lines.sum_m3());
        if f64::abs(takes_m3 - in_runs_m3) <= AGREES_M3 {
            break;
        }
        in_runs_m3 = takes_m3;
        let (again, ends, more) = settled(hybrid, &drawn, (modes.clone(), Some(&end)))?;
        (lowered, end) = (again, ends);
        stats += more;
        lines = FillingLines::of(hybrid.layout, rest, (&lowered, &end));
    }
    Ok(SteadyPreview {
        lowered,
        end,
        stats,
        lines,
        in_runs_m3,
    })
}

/// The direct steady-state solve from `start`, in the modes `modes` except for air that its flows
/// clear. `near`: the initial guess.
fn settled(
    hybrid: &HybridSystem<'_>,
    start: &NetworkState,
    (mut modes, near): (Vec<SwitchMode>, Option<&NetworkState>),
) -> Result<(Lowered, NetworkState, Stats), ConvergenceError> {
    let stands = hybrid.lowered(&modes);
    let system = System::new(&stands.network);
    let (mut end, mut stats) = match near {
        Some(near) => steady_state_near(&system, start, near)?,
        None => steady_state(&system, start)?,
    };
    // A run whose air is cleared by its flow has a different law.
    for _ in 0..MOST_PREVIEW_TURNS {
        let stands = hybrid.lowered(&modes);
        let system = System::new(&stands.network);
        if !hybrid.turn(&mut modes, (&system, &end), &hybrid.chattering()) {
            break;
        }
        let turned = hybrid.lowered(&modes);
        let (point, more) = steady_state(&System::new(&turned.network), start)?;
        end = point;
        stats += more;
    }
    Ok((hybrid.lowered(&modes), end, stats))
}

/// Takes the water that runs hold from the vessels that pumps draw from, as far as available; returns the volume, m³.
fn take_out(
    hybrid: &HybridSystem<'_>,
    system: &System,
    point: &mut NetworkState,
    mut wanted_m3: f64,
) -> f64 {
    let begins_m3 = wanted_m3;
    for node in hybrid.intakes() {
        let here_m3 = point.volume_m3.get(node).copied().unwrap_or(0.0);
        let taken_m3 = wanted_m3.min(here_m3.max(0.0));
        if taken_m3 <= 0.0 {
            continue;
        }
        wanted_m3 -= taken_m3;
        point.volume_m3[node] = here_m3 - taken_m3;
        point.head_m[node] = system.level_of(node, here_m3 - taken_m3, point.head_m[node]);
    }
    begins_m3 - wanted_m3
}
