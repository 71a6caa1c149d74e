//! Interpolated series: a trajectory that gives a whole report at any moment.
//!
//! Between two kept moments with the same modes, levels and flows are interpolated linearly, the levels by the
//! water in their vessels, so that none is gained or lost. Within a cycle extrapolation, a moment is that of the
//! last simulated cycle, plus the volumes that the cycles since have moved.

mod moment;
mod thin;

use super::event::{Event, EventKind};
use super::hybrid_system::SwitchMode;
use super::report::Standing;
use super::simulate::{ExtrapolatedCycles, Simulated, SimulationOptions, simulate};
use super::simulation_result::{InitialChange, prepared};
use super::{DAY_S, EndOfState, PumpsOnAndOff, StateNotConverged, pumps, vessels};
use crate::layout::{Id, Layout};
use crate::lower::Lowered;
use crate::solve::Trajectory;
use crate::state::State;

/// Maximum count of stored numbers, about 32 MB: where a trajectory has more, moments between two events are left out,
/// but never the moments of events.
const MOST_NUMBERS: usize = 4_000_000;
/// Moments that are kept in any case, and the maximum.
const MOST_MOMENTS: [usize; 2] = [200, 3000];
/// Flow over a rim below which it counts as none, m³/s.
const SPILL_M3_S: f64 = 1e-7;

/// A trajectory that can be evaluated at any moment.
#[derive(Clone, Debug)]
pub struct InterpolatedSeries {
    layout: Layout,
    state: State,
    /// The networks, one for each combination of modes.
    stands: Vec<SwitchPeriod>,
    /// First moment, and index in `stands`, of each interval without a switch.
    scenes: Vec<(usize, usize)>,
    course: Trajectory,
    leaps: Vec<ExtrapolatedCycles>,
    told: Vec<Event>,
    still_since_s: Option<f64>,
    /// Start of the limit cycle at its end, and its period, s.
    round: Option<(f64, f64)>,
}

/// The layout in one combination of modes.
#[derive(Clone, Debug)]
struct SwitchPeriod {
    modes: Vec<SwitchMode>,
    lowered: Lowered,
    /// The pumps that do not run.
    stopped: Vec<(Id, Standing)>,
}

/// Simulates `turn` from `from`, as the state that it belongs to, and keeps every moment: a start from the
/// levels at rest, else from the running state. `both`: walls as built, or tall.
pub fn series(
    layout: &Layout,
    both: &PumpsOnAndOff,
    from: &EndOfState,
    turn: InitialChange,
) -> Result<InterpolatedSeries, StateNotConverged> {
    let network = &both.on.network;
    let most = most_moments(network.node_count(), network.edge_count());
    series_within(layout, both, from, turn, most)
}

/// The same with at most so many moments, not counting those of events.
pub fn series_within(
    layout: &Layout,
    both: &PumpsOnAndOff,
    from: &EndOfState,
    turn: InitialChange,
    most: usize,
) -> Result<InterpolatedSeries, StateNotConverged> {
    let (hybrid, start, modes) = prepared(layout, both, from, turn);
    let blocked = matches!(turn, InitialChange::Block(_));
    let how = SimulationOptions {
        until_s: blocked.then_some(DAY_S),
        ends_with_round: blocked,
        keep_steps: true,
        most_kept: Some(most.saturating_mul(2)),
        ..SimulationOptions::event()
    };
    let (_, mut way) = simulate(&hybrid, &start, modes, how)?;
    way.thin(most);
    way.end_at_the_limit();
    let mut stands: Vec<SwitchPeriod> = Vec::new();
    let mut scenes = Vec::new();
    for (first, modes) in &way.scenes {
        let known = stands.iter().position(|stand| stand.modes == *modes);
        scenes.push((*first, known.unwrap_or(stands.len())));
        if known.is_none() {
            stands.push(SwitchPeriod {
                lowered: hybrid.lowered(modes),
                stopped: pumps::why(&hybrid, modes),
                modes: modes.clone(),
            });
        }
    }
    Ok(InterpolatedSeries::of(layout, turn, (stands, scenes), way))
}

/// Number of moments kept for a network of this size.
fn most_moments(nodes: usize, links: usize) -> usize {
    let numbers = 2 * (nodes + links);
    let [least, most] = MOST_MOMENTS;
    (MOST_NUMBERS / numbers.max(1)).clamp(least, most)
}

impl InterpolatedSeries {
    fn of(
        layout: &Layout,
        turn: InitialChange,
        (stands, scenes): (Vec<SwitchPeriod>, Vec<(usize, usize)>),
        way: Simulated,
    ) -> InterpolatedSeries {
        let state = match turn {
            InitialChange::Start => State::Starting,
            InitialChange::Stop => State::Stopped,
            InitialChange::Block(_) => State::Blocked,
        };
        let cycle = way.cycle.as_ref();
        InterpolatedSeries {
            layout: layout.clone(),
            state,
            stands,
            scenes,
            course: way.course,
            leaps: way.leaps,
            told: way.told,
            still_since_s: way.still_since_s,
            round: cycle.map(|cycle| (cycle.began_s, cycle.period_s)),
        }
    }

    /// The last period of a trajectory that ends in a limit cycle, from 0, as the state *running*; none where it
    /// reaches a steady state.
    pub fn round_of(&self) -> Option<InterpolatedSeries> {
        let (began_s, _) = self.round?;
        let mut round = self.clone();
        round.state = State::Running;
        round.cut_before(began_s);
        Some(round)
    }

    /// The state whose trajectory it is.
    pub fn state(&self) -> State {
        self.state
    }

    /// Its layout.
    pub fn layout(&self) -> &Layout {
        &self.layout
    }

    /// The last moment, s; the first is 0.
    pub fn end_s(&self) -> f64 {
        self.course.times_s.last().copied().unwrap_or(0.0)
    }

    /// Time since which nothing has moved, s; none where something did at the end.
    pub fn still_since_s(&self) -> Option<f64> {
        self.still_since_s
    }

    /// Period of the limit cycle that it ends in, s; a mean where no two are the same. None where it reaches a steady
    /// state, or the end of the simulated time.
    pub fn period_s(&self) -> Option<f64> {
        self.round.map(|(_, period_s)| period_s)
    }

    /// The events, in order of time.
    pub fn events(&self) -> &[Event] {
        &self.told
    }

    /// The vessel that is the first to spill, and when, s; one that spills initially does so at 0.
    pub fn first_spill(&self) -> Option<(&Id, f64)> {
        let vessels = self.layout.vessels.iter().enumerate();
        let mut spilling = vessels.filter(|(vessel, _)| {
            let first = self.course.points.first();
            let flow = first.zip(self.rim(*vessel));
            flow.is_some_and(|(point, link)| point.flow_m3_s[link] > SPILL_M3_S)
        });
        if let Some((_, vessel)) = spilling.next() {
            return Some((&vessel.id, 0.0));
        }
        let mut begins = self
            .told
            .iter()
            .filter(|told| told.what == EventKind::SpillBegins);
        let first = begins.next()?;
        Some((first.about.first()?, first.time_s))
    }

    /// The kept moments, s; at a switch there are two, just before and just after.
    pub fn times_s(&self) -> &[f64] {
        &self.course.times_s
    }

    /// Level of a vessel, by its index in the layout, at each of [`InterpolatedSeries::times_s`], metres; empty
    /// where there is no such vessel.
    pub fn levels_m(&self, vessel: usize) -> impl Iterator<Item = f64> + '_ {
        let lowered = self.stands.first().map(|stand| &stand.lowered);
        let node =
            lowered.and_then(|lowered| Some((lowered, *lowered.origin.vessels.get(vessel)?)));
        node.into_iter().flat_map(|(lowered, node)| {
            let points = self.course.points.iter();
            let heads = points.filter_map(move |point| point.head_m.get(node).copied());
            heads.map(move |head_m| vessels::read_level(lowered, node, head_m))
        })
    }

    /// Link of the rim of a vessel.
    fn rim(&self, vessel: usize) -> Option<usize> {
        self.origin()?.rims.get(vessel).copied().flatten()
    }

    /// The mapping of parts to indices: the same in all networks.
    fn origin(&self) -> Option<&crate::lower::Origin> {
        self.stands.first().map(|stand| &stand.lowered.origin)
    }
}
