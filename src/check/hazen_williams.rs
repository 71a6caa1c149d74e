//! Reports Hazen–Williams used above its range of velocity.

use super::state_view::{StateView, over};
use super::wording::{finding, velocity, with_limit};
use crate::finding::{Code, Finding, Severity};
use crate::layout::Friction;
use crate::units::Quantity;

/// Highest velocity that the formula is used for, m/s. [@hazen-williams]
const MOST_VELOCITY_M_S: f64 = 3.0;

pub(super) fn find(seen: &StateView<'_>) -> Vec<Finding> {
    let by_formula = seen.runs.iter().filter(|run| {
        let own = run.drawn.friction.unwrap_or(seen.layout.friction);
        own == Friction::HazenWilliams && run.drawn.friction_factor.is_none()
    });
    let fast = by_formula.filter(|run| over(run.here.velocity_m_s.abs(), MOST_VELOCITY_M_S));
    let told = fast.map(|run| {
        let speed_m_s = run.here.velocity_m_s.abs();
        let id = &run.drawn.id;
        let text = vec![
            id.into(),
            " uses Hazen–Williams at ".into(),
            velocity(speed_m_s),
            "; it is meant for ".into(),
            velocity(MOST_VELOCITY_M_S),
            " and less.".into(),
        ];
        let kind = (Code::HazenWilliamsRange, Severity::Warning);
        let found = finding(seen, kind, &[id], text);
        with_limit(found, Quantity::Velocity, (speed_m_s, MOST_VELOCITY_M_S))
    });
    told.collect()
}
