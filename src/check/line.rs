//! Grade line along a run that is full of water.

use super::state_view::{PipedRun, StateView};

/// Returns the elevation of every corner of a run, ends included, and the grade there, metres, in the order of the
/// drawing; nothing where the level downstream is not known.
///
/// The grade rises from the level or lip downstream by the losses on the way, taken as spread evenly along the route.
/// The velocity head is not part of the grade.
pub(super) fn corners<'a>(
    seen: &StateView<'_>,
    run: &PipedRun<'a>,
) -> impl Iterator<Item = (f64, f64)> + use<'a> {
    let downstream = 1 - run.upstream();
    let lip_m = run.facts.end_lips_m.get(downstream).copied().flatten();
    let level_m = seen.head_m(run.target());
    let behind_m = level_m.map(|level_m| lip_m.map_or(level_m, |lip_m| lip_m.max(level_m)));
    let speed_m_s = run.here.velocity_m_s;
    let velocity_head_m = speed_m_s * speed_m_s / (2.0 * seen.layout.coefficients.gravity_m_s2);
    let spread_m = (run.here.loss_m.abs() - velocity_head_m).max(0.0);
    run.facts
        .corners
        .iter()
        .filter_map(move |(share, height_m)| {
            let to_go = if downstream == 1 { 1.0 - share } else { *share };
            Some((*height_m, behind_m? + spread_m * to_go))
        })
}
