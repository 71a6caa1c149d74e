//! What the rules see of one solved state, with the queries that several rules share.

use crate::finding::Piece;
use crate::layout::{Id, Layout, Run, Vessel};
use crate::lower::RunFacts;
use crate::state::State;
use crate::states::report::{PumpReport, RunReport, StateReport, VesselReport};
use std::collections::{HashMap, HashSet};

/// Heights closer than this are the same, metres: rounding and the tolerance of the solver.
pub(super) const SAME_HEIGHT_M: f64 = 1e-6;
/// Smaller heights are shown as 0 mm, metres.
pub(super) const SMALLEST_SHOWN_M: f64 = 0.0005;
/// Smallest flow that counts as flow, m³/s: a third of a litre an hour.
pub(super) const TRICKLE_M3_S: f64 = 1e-7;
/// Relative difference below which shares and ratios are the same.
const SAME_RATIO: f64 = 1e-9;

/// Properties of the water that the rules use.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WaterFacts {
    /// Density, kg/m³.
    pub density_kg_m3: f64,
    /// Vapour pressure, Pa absolute.
    pub vapour_pressure_pa: f64,
    /// Evaporation of all vessels at their levels, m³/s.
    pub evaporation_m3_s: f64,
}

/// One state of one layout, indexed for the rules.
pub(super) struct StateView<'a> {
    pub layout: &'a Layout,
    pub report: &'a StateReport,
    pub water: WaterFacts,
    /// Every run that has a report, in the order of the layout.
    pub runs: Vec<PipedRun<'a>>,
    /// Every vessel that has a report, in the order of the layout.
    pub vessels: Vec<VesselSeen<'a>>,
    heads: HashMap<&'a Id, Option<f64>>,
    /// Indices into `runs` of the runs that end at each part.
    meeting: HashMap<&'a Id, Vec<usize>>,
}

/// A run as drawn, with its facts and its result.
#[derive(Clone, Copy)]
pub(super) struct PipedRun<'a> {
    pub drawn: &'a Run,
    pub facts: &'a RunFacts,
    pub here: &'a RunReport,
    /// Whether a running pump pushes or draws its water, with no free surface between.
    pub pumped: bool,
}

/// A vessel as drawn, with its result.
#[derive(Clone, Copy)]
pub(super) struct VesselSeen<'a> {
    pub drawn: &'a Vessel,
    pub here: &'a VesselReport,
    /// Lowest and highest level in a limit cycle, metres; none where the state is steady.
    pub swing_m: Option<(f64, f64)>,
}

impl<'a> StateView<'a> {
    pub fn new(
        layout: &'a Layout,
        report: &'a StateReport,
        facts: &'a [RunFacts],
        water: WaterFacts,
    ) -> StateView<'a> {
        let pumped = pumped(layout, facts);
        let reports: HashMap<&Id, &RunReport> =
            report.runs.iter().map(|run| (&run.id, run)).collect();
        let runs = layout.runs.iter().zip(facts).filter_map(|(drawn, facts)| {
            Some(PipedRun {
                drawn,
                facts,
                here: reports.get(&drawn.id).copied()?,
                pumped: pumped.contains(&drawn.id),
            })
        });
        let runs: Vec<PipedRun<'a>> = runs.collect();
        let stand: HashMap<&Id, &VesselReport> =
            report.vessels.iter().map(|one| (&one.id, one)).collect();
        let round = report.cycle.iter().flat_map(|cycle| &cycle.vessels);
        let swings: HashMap<&Id, (f64, f64)> = round
            .map(|one| (&one.id, (one.lowest_m, one.highest_m)))
            .collect();
        let vessels = layout.vessels.iter().filter_map(|drawn| {
            Some(VesselSeen {
                drawn,
                here: stand.get(&drawn.id).copied()?,
                swing_m: swings.get(&drawn.id).copied(),
            })
        });
        StateView {
            layout,
            report,
            water,
            meeting: meeting(&runs),
            runs,
            vessels: vessels.collect(),
            heads: heads(report),
        }
    }

    /// Returns whether the state is one in which the pumps keep running.
    pub fn is_running(&self) -> bool {
        matches!(self.report.state, State::Running | State::Fouled)
    }

    /// Level or head at a part, metres; none where the part is missing or its head is not determined.
    pub fn head_m(&self, part: &Id) -> Option<f64> {
        self.heads.get(part).copied().flatten()
    }

    /// Returns whether the state has the part.
    pub fn has(&self, part: &Id) -> bool {
        self.heads.contains_key(part)
    }

    /// Returns the vessel with this id.
    pub fn vessel(&self, part: &Id) -> Option<&VesselSeen<'a>> {
        self.vessels.iter().find(|held| held.drawn.id == *part)
    }

    /// Returns whether the vessel loses more over its rim than a note reports.
    pub fn floods(&self, held: &VesselSeen<'_>) -> bool {
        held.spills() && !self.only_splashes(held)
    }

    /// Returns whether what ran over the rim is worth only a note, and nothing spills any more.
    pub fn only_splashes(&self, held: &VesselSeen<'_>) -> bool {
        self.report.only_splashes(held.here)
    }

    /// Returns the words for a pump in the middle of a sentence: by its run, since few pumps are named.
    pub fn pump_words(&self, pump: &'a Id) -> [Piece; 2] {
        match self.pumps().find(|(one, _)| one.id == *pump) {
            Some((one, _)) => ["the pump of ".into(), (&one.run).into()],
            None => ["".into(), pump.into()],
        }
    }

    /// Returns the runs that end at a part.
    pub fn meeting(&self, part: &Id) -> impl Iterator<Item = &PipedRun<'a>> {
        let places = self.meeting.get(part).into_iter().flatten();
        places.filter_map(|place| self.runs.get(*place))
    }

    /// Returns the pumps with their runs.
    pub fn pumps(&self) -> impl Iterator<Item = (&'a PumpReport, PipedRun<'a>)> {
        let of_run: HashMap<&Id, PipedRun<'a>> =
            self.runs.iter().map(|run| (&run.drawn.id, *run)).collect();
        let pumps = self.report.pumps.iter();
        pumps.filter_map(move |pump| Some((pump, *of_run.get(&pump.run)?)))
    }
}

fn meeting<'a>(runs: &[PipedRun<'a>]) -> HashMap<&'a Id, Vec<usize>> {
    let mut found: HashMap<&Id, Vec<usize>> = HashMap::new();
    for (place, run) in runs.iter().enumerate() {
        found.entry(run.end(0)).or_default().push(place);
        if run.end(1) != run.end(0) {
            found.entry(run.end(1)).or_default().push(place);
        }
    }
    found
}

fn heads(report: &StateReport) -> HashMap<&Id, Option<f64>> {
    let vessels = report.vessels.iter().map(|part| (&part.id, part.level_m));
    let joints = report.joints.iter().map(|part| (&part.id, part.head_m));
    let fixed = report
        .fixed
        .iter()
        .map(|part| (&part.id, Some(part.level_m)));
    vessels.chain(joints).chain(fixed).collect()
}

/// Returns the runs with a running pump, and those joined to them with no free surface between.
fn pumped<'a>(layout: &'a Layout, facts: &[RunFacts]) -> HashSet<&'a Id> {
    let joints: HashSet<&Id> = layout.joints.iter().map(|joint| &joint.id).collect();
    let mut at: HashMap<&Id, Vec<&'a Run>> = HashMap::new();
    for run in &layout.runs {
        for end in [&run.from.at, &run.to.at] {
            if joints.contains(end) {
                at.entry(end).or_default().push(run);
            }
        }
    }
    let mut found = HashSet::new();
    let with_pump = layout.runs.iter().zip(facts);
    let mut next: Vec<&Run> = with_pump
        .filter(|(_, facts)| facts.pump_on)
        .map(|(run, _)| run)
        .collect();
    while let Some(run) = next.pop() {
        if found.insert(&run.id) {
            let ends = [&run.from.at, &run.to.at];
            next.extend(ends.iter().flat_map(|end| at.get(*end)).flatten());
        }
    }
    found
}

impl<'a> PipedRun<'a> {
    /// Returns whether water flows in the run.
    pub fn flows(&self) -> bool {
        self.here.flow_m3_s.abs() > TRICKLE_M3_S
    }

    /// Index of the end that water comes from: 0 `from`, 1 `to`; 0 where nothing flows.
    pub fn upstream(&self) -> usize {
        usize::from(self.here.flow_m3_s < -TRICKLE_M3_S)
    }

    /// Returns the part that water comes from.
    pub fn source(&self) -> &'a Id {
        self.end(self.upstream())
    }

    /// Returns the part that water goes to.
    pub fn target(&self) -> &'a Id {
        self.end(1 - self.upstream())
    }

    /// Returns the part at an end: 0 `from`, 1 `to`.
    pub fn end(&self, end: usize) -> &'a Id {
        if end == 0 {
            &self.drawn.from.at
        } else {
            &self.drawn.to.at
        }
    }

    /// Returns whether one of its valves is shut.
    pub fn has_shut_valve(&self) -> bool {
        self.here.valve_open.is_some_and(|open| open <= 0.0)
    }
}

impl VesselSeen<'_> {
    /// Highest level of the state, metres; in a limit cycle the highest of the cycle.
    pub fn top_m(&self) -> Option<f64> {
        self.swing_m.map(|swing| swing.1).or(self.here.level_m)
    }

    /// Returns the verb for the level at its highest, for the middle of a sentence.
    pub fn stands(&self) -> &'static str {
        if self.swing_m.is_some() {
            " rises to "
        } else {
            " stands "
        }
    }

    /// Lowest level of the state, metres; in a limit cycle the lowest of the cycle.
    pub fn low_m(&self) -> Option<f64> {
        self.swing_m.map(|swing| swing.0).or(self.here.level_m)
    }

    /// Returns whether water can run over its rim.
    pub fn can_spill(&self) -> bool {
        self.drawn.rim_perimeter_m != Some(0.0)
    }

    /// Returns whether the level is over the rim or not determined, or water was lost over the rim on the way.
    pub fn spills(&self) -> bool {
        let over = |level_m: f64| level_m > self.here.rim_m + SAME_HEIGHT_M;
        self.can_spill() && (self.top_m().is_none_or(over) || self.lost_m3().is_some())
    }

    /// Volume that ran over the rim, m³, where that is enough to report.
    pub fn lost_m3(&self) -> Option<f64> {
        self.here.lost_m3()
    }
}

/// Returns whether `value` is below `limit`; equal is allowed.
pub(super) fn under(value: f64, limit: f64) -> bool {
    value < limit - SAME_RATIO * limit.abs().max(SAME_RATIO)
}

/// Returns whether `value` is above `limit`; equal is allowed.
pub(super) fn over(value: f64, limit: f64) -> bool {
    value > limit + SAME_RATIO * limit.abs().max(SAME_RATIO)
}
