//! Rules that turn one solved state into findings for the builder.
//!
//! One small file per rule; [`RULES`] lists them. What the drawing alone shows is met by `lower`; [`of_problem`] words it. The reason for each
//! limit is in `docs/findings/`.
//!
//! Invariant: reports what is wrong, where and by how much; knows no cures, windows or files.

mod air_gap;
mod air_lock;
mod backward;
pub mod blame;
mod blocked;
mod cannot_draw;
mod climbs;
mod clogged;
mod cross_connection;
mod drains;
mod drawing;
mod fill;
mod freeboard;
mod hazen_williams;
mod idle_pumps;
mod intake;
mod line;
mod meant;
mod mouth_over_water;
mod never_primes;
mod never_steady;
mod no_flow;
mod no_pump;
mod pump_dry;
mod pump_duty;
mod pump_feed;
mod reach;
mod real_level;
mod repeats;
mod runs_back;
mod runs_dry;
mod runs_to_waste;
mod spills;
mod starting;
mod state_view;
mod suction;
mod suction_shut;
mod surges;
mod turnover;
mod velocity;
mod vent;
mod wording;

use crate::finding::{Code, Finding};
use crate::layout::Layout;
use crate::lower::RunFacts;
use crate::state::State;
use crate::states::report::StateReport;
pub use blocked::severity as blocked_severity;
pub use clogged::clogged_break;
pub(crate) use cross_connection::{AIR_GAP_BORES, LEAST_AIR_GAP_M};
pub use drawing::of_problem;
pub use fill::no_room;
pub use repeats::without_repeats;
use state_view::StateView;
pub use state_view::WaterFacts;

/// A rule, the codes that it may report and the states that it applies to.
pub struct Rule {
    /// Codes of its findings.
    pub codes: &'static [Code],
    /// States that it applies to.
    pub states: &'static [State],
    find: fn(&StateView<'_>) -> Vec<Finding>,
}

const fn rule(
    codes: &'static [Code],
    states: &'static [State],
    find: fn(&StateView<'_>) -> Vec<Finding>,
) -> Rule {
    Rule {
        codes,
        states,
        find,
    }
}

/// States with a final result: all but starting and blocked.
const ENDS: &[State] = &[State::Rest, State::Running, State::Fouled, State::Stopped];
/// [`ENDS`] and starting.
const ENDS_AND_START: &[State] = &[
    State::Rest,
    State::Starting,
    State::Running,
    State::Fouled,
    State::Stopped,
];
/// States in which the pumps keep running.
const RUNS: &[State] = &[State::Running, State::Fouled];

/// Every rule.
#[rustfmt::skip]
pub const RULES: &[Rule] = &[
    rule(&[Code::Spills, Code::FillsForEver], ENDS_AND_START, spills::find),
    rule(&[Code::LittleFreeboard], ENDS, freeboard::find),
    rule(&[Code::DrainTooSmall, Code::LittleReserve], RUNS, drains::find),
    rule(&[Code::RunsDry], ENDS, runs_dry::find),
    rule(&[Code::NoFlow], RUNS, no_flow::find),
    rule(&[Code::NoPump], RUNS, no_pump::find),
    rule(&[Code::FlowsBackward], RUNS, backward::find),
    rule(&[Code::TooFast, Code::TooSlow], RUNS, velocity::find),
    rule(&[Code::AirGapDrowned], ENDS, air_gap::find),
    rule(&[Code::CrossConnection], ENDS_AND_START, cross_connection::find),
    rule(&[Code::MouthOverWater], ENDS, mouth_over_water::find),
    rule(&[Code::RunsToWaste], ENDS, runs_to_waste::find),
    rule(&[Code::RunClimbs], RUNS, climbs::find),
    rule(&[Code::Suction], ENDS, suction::find),
    rule(&[Code::PumpCannotLift, Code::PumpOffCurve], RUNS, pump_duty::find),
    rule(&[Code::PumpStarved, Code::PumpDrivenBackward], RUNS, pump_feed::find),
    rule(&[Code::SuctionShut], RUNS, suction_shut::find),
    rule(&[Code::IdlePumpsShortCircuit], RUNS, idle_pumps::find),
    rule(&[Code::PumpRunsDry], RUNS, pump_dry::find),
    rule(&[Code::IntakeUncovered], RUNS, intake::find),
    rule(&[Code::LittleTurnover], RUNS, turnover::find),
    rule(&[Code::VentSpills], ENDS, vent::find),
    rule(&[Code::HazenWilliamsRange], ENDS, hazen_williams::find),
    rule(&[Code::CannotDraw, Code::TooMuchForJoint], ENDS, cannot_draw::find),
    rule(&[Code::NeverSteady], ENDS, never_steady::find),
    rule(&[Code::StarvesAtStart], &[State::Starting], starting::find),
    rule(
        &[Code::SpillsWhenBlocked, Code::StarvesWhenBlocked, Code::SuctionShut],
        &[State::Blocked],
        blocked::find,
    ),
    rule(&[Code::RunsBack], &[State::Stopped], runs_back::find),
    rule(&[Code::Surges], RUNS, surges::find),
    rule(&[Code::AirLock], RUNS, air_lock::find),
    rule(&[Code::MayNeverPrime], RUNS, never_primes::find),
    rule(&[Code::IsThisMeant], RUNS, meant::find),
];

/// Returns all findings of one solved state, worst first, without cures.
///
/// `facts`: the facts of each run, in the order of the layout. A value exactly on a limit is allowed.
pub fn check(
    layout: &Layout,
    report: &StateReport,
    facts: &[RunFacts],
    water: WaterFacts,
) -> Vec<Finding> {
    let seen = StateView::new(layout, report, facts, water);
    let rules = RULES
        .iter()
        .filter(|rule| rule.states.contains(&report.state));
    let mut findings: Vec<Finding> = rules.flat_map(|rule| (rule.find)(&seen)).collect();
    worst_first(&mut findings);
    findings
}

/// Sorts findings by severity, then by code, then by how far they are past the limit.
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
