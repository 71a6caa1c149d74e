//! Rules in, findings out: what one solved state means to the builder.
//!
//! One small file per rule; [`RULES`] lists them. What a drawing alone already says is found by
//! `lower`. The reason of each limit is in `docs/findings/`.
//!
//! Invariant: says what is wrong, where and by how much; knows no cure, no window and no file.

mod air_gap;
mod air_lock;
mod backward;
pub mod blame;
mod cannot_draw;
mod climbs;
mod drains;
mod freeboard;
mod hazen_williams;
mod line;
mod no_flow;
mod pump_duty;
mod pump_feed;
mod runs_dry;
mod seen;
mod spills;
mod suction;
mod surges;
mod tell;
mod turnover;
mod velocity;
mod vent;

use crate::finding::{Code, Finding};
use crate::layout::Layout;
use crate::lower::RunFacts;
use crate::states::report::StateReport;
use seen::Seen;
pub use seen::WaterFacts;

/// A rule and the codes that it may give.
pub struct Rule {
    /// The codes of its findings.
    pub codes: &'static [Code],
    find: fn(&Seen<'_>) -> Vec<Finding>,
}

const fn rule(codes: &'static [Code], find: fn(&Seen<'_>) -> Vec<Finding>) -> Rule {
    Rule { codes, find }
}

/// Every rule.
pub const RULES: &[Rule] = &[
    rule(&[Code::Spills, Code::FillsForEver], spills::find),
    rule(&[Code::LittleFreeboard], freeboard::find),
    rule(&[Code::DrainTooSmall, Code::LittleReserve], drains::find),
    rule(&[Code::RunsDry], runs_dry::find),
    rule(&[Code::NoFlow], no_flow::find),
    rule(&[Code::FlowsBackward], backward::find),
    rule(&[Code::TooFast, Code::TooSlow], velocity::find),
    rule(&[Code::AirGapDrowned], air_gap::find),
    rule(&[Code::RunClimbs], climbs::find),
    rule(&[Code::Suction], suction::find),
    rule(&[Code::PumpCannotLift, Code::PumpOffCurve], pump_duty::find),
    rule(
        &[Code::PumpStarved, Code::PumpDrivenBackward],
        pump_feed::find,
    ),
    rule(&[Code::LittleTurnover], turnover::find),
    rule(&[Code::VentSpills], vent::find),
    rule(&[Code::HazenWilliamsRange], hazen_williams::find),
    rule(&[Code::CannotDraw], cannot_draw::find),
    rule(&[Code::Surges], surges::find),
    rule(&[Code::AirLock], air_lock::find),
];

/// Everything that one solved state gives to say, worst first, without cures.
///
/// `facts`: what each run is made of, in the order of the layout. What stands exactly on a limit is allowed.
pub fn check(
    layout: &Layout,
    report: &StateReport,
    facts: &[RunFacts],
    water: WaterFacts,
) -> Vec<Finding> {
    let seen = Seen::new(layout, report, facts, water);
    let mut findings: Vec<Finding> = RULES.iter().flat_map(|rule| (rule.find)(&seen)).collect();
    worst_first(&mut findings);
    findings
}

/// Sorts findings: by severity, then by kind, then by how far past the limit.
pub fn worst_first(findings: &mut [Finding]) {
    let past = |one: &Finding| match (one.measured, one.limit) {
        (Some(measured), Some(limit)) => (measured - limit).abs(),
        _ => 0.0,
    };
    findings.sort_by(|a, b| {
        let kind = (a.severity, a.code).cmp(&(b.severity, b.code));
        let amount = past(b).total_cmp(&past(a));
        kind.then(amount).then_with(|| a.about.cmp(&b.about))
    });
}
