//! The report of one state, part by part, in SI.

use super::event::Event;
use crate::layout::Id;
use crate::state::State;
use crate::states::SAME_HEIGHT_M;

/// Flow over a rim below which it no longer counts as spilling, m³/s.
const SPLASH_M3_S: f64 = 1e-7;
/// Spilled volume below which it is not reported, m³: a tenth of a litre, common practice, no source.
const SPLASH_M3: f64 = 1e-4;
/// Spilled volume below which a spill is only a note, m³, if also below the next fraction of the water of the system: a
/// litre. A choice.
const SMALL_SPILL_M3: f64 = 1e-3;
/// That fraction. A choice.
const SMALL_SPILL_SHARE: f64 = 1e-4;

/// Spilled volume, m³, where it is large enough to report: the one threshold for every place that reports it.
pub fn reported_spill_m3(lost_m3: f64) -> Option<f64> {
    (lost_m3 > SPLASH_M3).then_some(lost_m3)
}

/// Whether a spill is so small that it is only a note; `water_m3`: all water of the system. A spill at the limit is
/// not.
pub fn is_small_spill(lost_m3: f64, water_m3: f64) -> bool {
    lost_m3 < SMALL_SPILL_M3 && lost_m3 < SMALL_SPILL_SHARE * water_m3
}

/// The result of one state.
#[derive(Clone, Debug, PartialEq)]
pub struct StateReport {
    /// Which state.
    pub state: State,
    /// Every tolerance of the method was met.
    pub converged: bool,
    /// Total Newton steps.
    pub newton_steps: usize,
    /// Total time steps.
    pub time_steps: usize,
    /// Largest imbalance of flow at a node, m³/s.
    pub mass_error_m3_s: f64,
    /// Largest residual of the energy equation of a run, metres.
    pub energy_error_m: f64,
    /// The vessels, in the order of the layout.
    pub vessels: Vec<VesselReport>,
    /// The joints, in the order of the layout.
    pub joints: Vec<JointReport>,
    /// The fixed levels, in the order of the layout.
    pub fixed: Vec<FixedReport>,
    /// The runs, in the order of the layout.
    pub runs: Vec<RunReport>,
    /// The pumps, in the order of their runs.
    pub pumps: Vec<PumpReport>,
    /// The limit cycle, where it reaches no steady state; the levels and flows above are then
    /// the means of a cycle.
    pub cycle: Option<CycleReport>,
    /// Its trajectory in time: for the states that have one of their own.
    pub course: Option<TrajectoryReport>,
    /// Every path shut in turn, worst first; only of the state *blocked*, whose report is that of the first.
    pub blocked: Vec<BlockedCase>,
    /// Volume that runs have taken up in excess of what stands in them at rest, m³.
    pub in_runs_m3: f64,
    /// Whether runs that can hold air do so, or are primed.
    pub outcome: Outcome,
    /// The second outcome: once every run that can prime is primed, or, where runs are filled
    /// by hand, if nobody fills them; none where nothing would be different.
    pub primed: Option<Box<StateReport>>,
    /// What comes of it with water leaving over rims, where that is another course: all else here is with walls so tall
    /// that none does. None where nothing spills, or where this is that course.
    pub as_built: Option<Box<StateReport>>,
}

/// What stands at the high points of runs.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Outcome {
    /// Air, at one of them at least; also where there are none.
    #[default]
    WithAir,
    /// Water, at all of them that have no vent.
    Primed,
}

impl Outcome {
    /// Both words, for completeness tests and the docs.
    pub const ALL: [Outcome; 2] = [Outcome::WithAir, Outcome::Primed];

    /// The word for scripts.
    pub fn word(self) -> &'static str {
        match self {
            Outcome::WithAir => "with-air",
            Outcome::Primed => "primed",
        }
    }
}

/// A state that repeats itself for ever: a limit cycle.
#[derive(Clone, Debug, PartialEq)]
pub struct CycleReport {
    /// Period, s; a mean where no two periods are the same.
    pub period_s: f64,
    /// Every period is like the one before. Else the figures are those of many periods together, and `told` has
    /// each event of them once.
    pub regular: bool,
    /// The vessels, in the order of the layout.
    pub vessels: Vec<CycleLevel>,
    /// The switch events of a period, in order of time.
    pub told: Vec<Event>,
}

/// A vessel in a limit cycle.
#[derive(Clone, Debug, PartialEq)]
pub struct CycleLevel {
    /// The vessel.
    pub id: Id,
    /// Its lowest level in a period, metres.
    pub lowest_m: f64,
    /// Its highest level in a period, metres.
    pub highest_m: f64,
    /// Its mean level in a period, metres.
    pub mean_m: f64,
}

/// The trajectory that led to a state.
#[derive(Clone, Debug, PartialEq)]
pub struct TrajectoryReport {
    /// Time at which nothing moved any more, s; else, and where a given time was simulated, the simulated time.
    pub time_s: f64,
    /// Nothing moved any more at its end.
    pub still: bool,
    /// The events, in order of time.
    pub told: Vec<Event>,
    /// The vessels, in the order of the layout.
    pub vessels: Vec<TrajectoryVessel>,
    /// The pumps that draw from vessels.
    pub suctions: Vec<TrajectorySuction>,
    /// Mass balance error: water in the vessels by their levels less that by the flows, m³.
    pub volume_error_m3: f64,
    /// The water that ran back, where pumps were stopped.
    pub back: Option<BackReport>,
}

/// A vessel in a trajectory.
#[derive(Clone, Debug, PartialEq)]
pub struct TrajectoryVessel {
    /// The vessel.
    pub id: Id,
    /// Its lowest level, metres.
    pub lowest_m: f64,
    /// Its highest level, metres.
    pub highest_m: f64,
    /// Volume spilled over its rim, m³.
    pub spilled_m3: f64,
    /// Time of its first spill, s; none: it did not spill.
    pub first_spill_s: Option<f64>,
}

/// The suction of a pump in a trajectory.
#[derive(Clone, Debug, PartialEq)]
pub struct TrajectorySuction {
    /// The pump.
    pub pump: Id,
    /// The vessel it draws from.
    pub vessel: Id,
    /// Lip of its intake, metres.
    pub lip_m: f64,
    /// Lowest level over it, metres.
    pub lowest_m: f64,
    /// Time of that level, s.
    pub lowest_s: f64,
    /// Time at which its intake began to limit the flow, s.
    pub starved_s: Option<f64>,
    /// Time at which it ran dry, s.
    pub dry_s: Option<f64>,
}

/// The water that runs back when pumps stop.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct BackReport {
    /// Volume that drained into the vessels that pumps draw from, except for the next, m³.
    pub drained_m3: f64,
    /// Volume that came back through the pumps themselves, m³.
    pub siphoned_m3: f64,
    /// Volume released by runs that emptied, m³; it is in none of the other figures.
    pub in_runs_m3: f64,
    /// Total room left at the end below the rims of the vessels that pumps draw from, m³; without those that never
    /// spill. None: there is no such vessel.
    pub room_m3: Option<f64>,
}

/// One path shut while everything runs.
#[derive(Clone, Debug, PartialEq)]
pub struct BlockedCase {
    /// The run that is shut.
    pub run: Id,
    /// Time of the first spill of a vessel that did not spill before, s; none: none within the simulated time.
    pub first_spill_s: Option<f64>,
    /// That vessel.
    pub spills: Option<Id>,
    /// Volume spilled over rims within the simulated time, m³.
    pub spilled_m3: f64,
    /// Time at which the intake of a pump begins to limit its flow where it did not before, s.
    pub starved_s: Option<f64>,
    /// That pump.
    pub starves: Option<Id>,
    /// Lowest level of every vessel, in the order of the layout, metres.
    pub lowest_m: Vec<(Id, f64)>,
    /// Simulated time, s.
    pub time_s: f64,
    /// Water in all vessels at the start, m³.
    pub water_m3: f64,
}

impl BlockedCase {
    /// Whether the spilled volume is only worth a note.
    pub fn only_splashes(&self) -> bool {
        self.first_spill_s.is_some() && is_small_spill(self.spilled_m3, self.water_m3)
    }

    /// Time of the first spill, s, where the spilled volume is more than a note.
    pub fn floods_s(&self) -> Option<f64> {
        self.first_spill_s.filter(|_| !self.only_splashes())
    }

    /// Most harm first: the earliest spill, then the earliest pump without water, then the earliest minor spill,
    /// then the largest volume.
    pub fn by_harm(&self, other: &BlockedCase) -> std::cmp::Ordering {
        let soon = |time_s: Option<f64>| time_s.unwrap_or(f64::INFINITY);
        soon(self.floods_s())
            .total_cmp(&soon(other.floods_s()))
            .then(soon(self.starved_s).total_cmp(&soon(other.starved_s)))
            .then(soon(self.first_spill_s).total_cmp(&soon(other.first_spill_s)))
            .then(other.spilled_m3.total_cmp(&self.spilled_m3))
    }
}

impl StateReport {
    /// The report of an empty layout.
    pub(super) fn empty(state: State) -> StateReport {
        StateReport {
            state,
            converged: true,
            newton_steps: 0,
            time_steps: 0,
            mass_error_m3_s: 0.0,
            energy_error_m: 0.0,
            vessels: Vec::new(),
            joints: Vec::new(),
            fixed: Vec::new(),
            runs: Vec::new(),
            pumps: Vec::new(),
            cycle: None,
            course: None,
            blocked: Vec::new(),
            in_runs_m3: 0.0,
            outcome: Outcome::default(),
            primed: None,
            as_built: None,
        }
    }

    /// Water in all vessels whose level is known, m³; without that in runs.
    pub fn water_m3(&self) -> f64 {
        self.vessels.iter().filter_map(|one| one.volume_m3).sum()
    }

    /// The highest level that a vessel reaches, metres: over a period, in a limit cycle; none where no level is
    /// high enough.
    pub fn top_m(&self, vessel: &VesselReport) -> Option<f64> {
        let mut round = self.cycle.iter().flat_map(|cycle| &cycle.vessels);
        let swing = round.find(|one| one.id == vessel.id);
        swing.map(|one| one.highest_m).or(vessel.level_m)
    }

    /// What will really be there, with walls as they are: levels, flows, pumps and volumes. The report itself where
    /// nothing spills.
    pub fn real(&self) -> &StateReport {
        self.as_built.as_deref().unwrap_or(self)
    }

    /// Whether the volume spilled over the rim of a vessel is only worth a note, and nothing spills any more.
    ///
    /// Where its flow requires a level above the rim, the spills of all vessels count together: one that spills first
    /// keeps the others from spilling.
    pub fn only_splashes(&self, vessel: &VesselReport) -> bool {
        let needs_more = self
            .top_m(vessel)
            .is_none_or(|top_m| top_m > vessel.rim_m + SAME_HEIGHT_M);
        let counted = self
            .vessels
            .iter()
            .filter(|one| one.id == vessel.id || needs_more);
        let mut lost_m3 = 0.0;
        for spill in counted.map(|one| one.with_spill) {
            match spill {
                Some(spill) if spill.spill_m3_s <= SPLASH_M3_S => lost_m3 += spill.lost_m3,
                _ => return false,
            }
        }
        is_small_spill(lost_m3, self.water_m3())
    }
}

/// A vessel in one state.
#[derive(Clone, Debug, PartialEq)]
pub struct VesselReport {
    /// The vessel.
    pub id: Id,
    /// Its name.
    pub name: String,
    /// Floor, metres.
    pub floor_m: f64,
    /// Rim, metres.
    pub rim_m: f64,
    /// The level that the flow requires (tall walls); none where no level is high enough.
    pub level_m: Option<f64>,
    /// Water in it at that level, m³.
    pub volume_m3: Option<f64>,
    /// Total inflow, m³/s.
    pub inflow_m3_s: f64,
    /// The real outcome where it, or another vessel, spills; none where nothing spills.
    pub with_spill: Option<WithSpill>,
}

/// Difference below which two levels are written as one, metres.
const DISTINCT_LEVELS_M: f64 = 0.0005;

/// The swing of a submerged mouth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Surge {
    /// Level at which its pipe draws full, metres.
    pub low_m: f64,
    /// Level used in computation and assessment, metres.
    pub likely_m: f64,
    /// Level to which it rises while it gulps air, metres.
    pub high_m: f64,
    /// Volume between the lowest and the highest level, m³: the water of one gulp.
    pub gulp_m3: f64,
    /// Room in the vessel below up to its rim, m³; none where it leads to none.
    pub room_m3: Option<f64>,
}

impl VesselReport {
    /// Volume spilled over its rim, m³, where it is large enough to report.
    pub fn lost_m3(&self) -> Option<f64> {
        reported_spill_m3(self.with_spill?.lost_m3)
    }

    /// Rim minus level, metres; negative where it spills.
    pub fn freeboard_m(&self) -> Option<f64> {
        self.level_m.map(|level| self.rim_m - level)
    }

    /// Whether its level is that of the water, with walls as built, and not what the flow would require; only known
    /// where it, or another vessel, spills.
    pub fn is_as_built(&self) -> bool {
        self.with_spill
            .is_some_and(|spill| self.level_m == Some(spill.level_m))
    }

    /// The real water level, with the walls as they are, metres; [`VesselReport::level_m`] is what the flow
    /// would require with tall walls.
    pub fn stands_m(&self) -> Option<f64> {
        self.with_spill
            .map_or(self.level_m, |spill| Some(spill.level_m))
    }

    /// The level that the flow would require, metres, where the water does not stand there.
    pub fn required_level_m(&self) -> Option<f64> {
        let apart = |level_m: &f64| {
            let stands_m = self.stands_m();
            stands_m.is_none_or(|stands_m| (stands_m - level_m).abs() >= DISTINCT_LEVELS_M)
        };
        self.level_m.filter(apart)
    }

    /// Level minus a height, metres; negative where the water stands below.
    pub fn over_m(&self, height_m: f64) -> Option<f64> {
        self.level_m.map(|level| level - height_m)
    }

    /// Whether its level stands above its rim, or no level is high enough; not where it has spilled and only a film
    /// is left on the rim.
    pub fn is_over_rim(&self) -> bool {
        let real = self.with_spill.filter(|_| self.is_as_built());
        if real.is_some_and(|spill| spill.spill_m3_s <= SPLASH_M3_S) {
            return false;
        }
        self.freeboard_m().is_none_or(|free| free < -SAME_HEIGHT_M)
    }

    /// Level minus floor, metres.
    pub fn depth_m(&self) -> Option<f64> {
        self.level_m.map(|level| level - self.floor_m)
    }

    /// Water changes per second.
    pub fn turnover_per_s(&self) -> Option<f64> {
        self.volume_m3
            .filter(|volume| *volume > 0.0)
            .map(|volume| self.inflow_m3_s / volume)
    }
}

/// A vessel in the real outcome, with water spilling over rims.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WithSpill {
    /// Its level, metres.
    pub level_m: f64,
    /// Spill over its rim at the end, m³/s.
    pub spill_m3_s: f64,
    /// Volume spilled over its rim by then, m³.
    pub lost_m3: f64,
    /// Time of its first spill, seconds from the start; none: it does not spill.
    pub first_spill_s: Option<f64>,
}

/// A joint in one state.
#[derive(Clone, Debug, PartialEq)]
pub struct JointReport {
    /// The joint.
    pub id: Id,
    /// Its centre, metres.
    pub elevation_m: f64,
    /// Piezometric level, metres: where water would stand in a tube tapped into it; none where all its runs are dry.
    pub head_m: Option<f64>,
    /// Gauge pressure at its centre, Pa.
    pub pressure_pa: Option<f64>,
}

/// A fixed level in one state.
#[derive(Clone, Debug, PartialEq)]
pub struct FixedReport {
    /// The fixed level.
    pub id: Id,
    /// Its level, metres.
    pub level_m: f64,
    /// Flow from it into the system, m³/s; negative: into it.
    pub flow_m3_s: f64,
}

/// Flow control: what limits the flow of a run.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Control {
    /// Inlet control: a crest, a hole, a lip.
    Inlet,
    /// Outlet control: its losses and the downstream level.
    Outlet,
    /// A running pump.
    Pumped,
    /// A shut valve, or a check valve that holds.
    Shut,
    /// Dry: no water over its inlet.
    Dry,
    /// Wet, but without flow.
    Still,
}

impl Control {
    /// Every word, for completeness tests and the docs.
    pub const ALL: [Control; 6] = [
        Control::Inlet,
        Control::Outlet,
        Control::Pumped,
        Control::Shut,
        Control::Dry,
        Control::Still,
    ];

    /// The word for scripts.
    pub fn word(self) -> &'static str {
        match self {
            Control::Inlet => "inlet",
            Control::Outlet => "outlet",
            Control::Pumped => "pumped",
            Control::Shut => "shut",
            Control::Dry => "dry",
            Control::Still => "still",
        }
    }
}

/// Flow regime: how a run is filled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Regime {
    /// Full bore.
    Full,
    /// With a free surface.
    PartFull,
    /// Between venting itself and running full.
    Surging,
    /// Falling free: inlet control with air in the run.
    Free,
    /// No flow.
    None,
}

impl Regime {
    /// Every word, for completeness tests and the docs.
    pub const ALL: [Regime; 5] = [
        Regime::Full,
        Regime::PartFull,
        Regime::Surging,
        Regime::Free,
        Regime::None,
    ];

    /// The word for scripts.
    pub fn word(self) -> &'static str {
        match self {
            Regime::Full => "full",
            Regime::PartFull => "part-full",
            Regime::Surging => "surging",
            Regime::Free => "free",
            Regime::None => "none",
        }
    }
}

/// A run in one state. Flow and loss are positive from `from` to `to` as drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct RunReport {
    /// The run.
    pub id: Id,
    /// The part it starts at.
    pub from: Id,
    /// The part it goes to.
    pub to: Id,
    /// Flow, m³/s.
    pub flow_m3_s: f64,
    /// Flow over the full bore, m/s.
    pub velocity_m_s: f64,
    /// Bore, metres.
    pub bore_m: f64,
    /// Length, metres.
    pub length_m: f64,
    /// Head lost in it, metres, signed as the flow.
    pub loss_m: f64,
    /// The part of that loss at the screens of its ends as drawn, metres, never negative.
    pub screens_m: [f64; 2],
    /// Head that is neither lost in it nor required downstream of it, metres, never negative.
    pub free_drop_m: f64,
    /// Its flow control.
    pub control: Control,
    /// Its flow regime.
    pub regime: Regime,
    /// Opening of its most closed valve; none without a valve.
    pub valve_open: Option<f64>,
    /// Its capacity with the vessel it drains at its rim and the downstream level as here, m³/s;
    /// none where it drains no vessel.
    pub capacity_at_rim_m3_s: Option<f64>,
    /// Its outlet is submerged.
    pub drowned: bool,
    /// Levels of the vessel it drains, where its mouth swings between drawing full and gulping air; else none.
    pub surge: Option<Surge>,
    /// Flow out of the hole of its siphon break, m³/s; none without an open hole.
    pub through_hole_m3_s: Option<f64>,
    /// Depth along it from its `from` end, for a gravity run whose grade was marched; else empty.
    pub profile: Vec<DepthPoint>,
    /// Air at its high points; none where none of them can hold air.
    pub air: Option<RunAir>,
}

/// Air at the high point of a run that restricts the flow most.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RunAir {
    /// The run is full of water over its high points, and holds no air.
    pub primed: bool,
    /// Invert at the high point, metres.
    pub high_m: f64,
    /// Distance of the high point from the `from` end, along the pipe, metres.
    pub distance_m: f64,
    /// Air can neither leave nor enter there.
    pub shut_in: bool,
    /// Flow of the run between the same levels if it were full of water, m³/s, positive as drawn.
    pub full_flow_m3_s: f64,
    /// Head that the air costs, metres, ≥ 0: without flow, the head that is missing to start it.
    pub missing_head_m: f64,
}

/// Water at one place along a run.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DepthPoint {
    /// Distance along the pipe from the `from` end as drawn, metres.
    pub distance_m: f64,
    /// Depth of water over the invert, at most the bore, metres.
    pub depth_m: f64,
    /// Water level, or where the pipe is full the piezometric head, metres.
    pub grade_m: f64,
    /// Velocity in the direction of flow, m/s, ≥ 0.
    pub velocity_m_s: f64,
    /// Invert of the pipe, metres; none inside a leg that is taken as full.
    pub invert_m: Option<f64>,
}

impl RunReport {
    /// Capacity with its vessel at the rim, divided by its flow; none where it drains no vessel or nothing flows.
    pub fn reserve(&self) -> Option<f64> {
        let flow_m3_s = self.flow_m3_s.abs();
        let capacity_m3_s = self.capacity_at_rim_m3_s?;
        (flow_m3_s > 1e-9).then(|| capacity_m3_s / flow_m3_s)
    }
}

/// The status of a pump.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Standing {
    /// It runs.
    Runs,
    /// It is switched off.
    Off,
    /// Its float switch has turned it off.
    FloatOff,
    /// It ran dry and stopped.
    RanDry,
}

impl Standing {
    /// Every word, for completeness tests and the docs.
    pub const ALL: [Standing; 4] = [
        Standing::Runs,
        Standing::Off,
        Standing::FloatOff,
        Standing::RanDry,
    ];

    /// The word for scripts.
    pub fn word(self) -> &'static str {
        match self {
            Standing::Runs => "runs",
            Standing::Off => "off",
            Standing::FloatOff => "float-off",
            Standing::RanDry => "ran-dry",
        }
    }
}

/// A pump in one state.
#[derive(Clone, Debug, PartialEq)]
pub struct PumpReport {
    /// The pump.
    pub id: Id,
    /// Its run.
    pub run: Id,
    /// Whether it runs.
    pub on: bool,
    /// Its status, with the reason if it does not run.
    pub standing: Standing,
    /// Flow in its pumping direction, m³/s.
    pub flow_m3_s: f64,
    /// Total dynamic head: the head it adds, metres.
    pub head_m: f64,
    /// Static lift: the head below which nothing flows, metres. From level to level, or to its outlet, or to a high
    /// point with air in it.
    pub static_m: f64,
    /// Every loss of its run, largest first, metres.
    pub losses: Vec<LossItem>,
    /// Power drawn, W; none where no efficiency is given.
    pub power_w: Option<f64>,
    /// Net positive suction head available, metres; none where its suction is not given.
    pub npsh_available_m: Option<f64>,
    /// NPSH required by its data sheet at this flow and speed, metres; none where that is not given, or it does not
    /// run.
    pub npsh_required_m: Option<f64>,
    /// Level of the vessel it draws from, metres; none at a joint.
    pub suction_level_m: Option<f64>,
    /// Shut-off head: head at no flow, metres.
    pub shutoff_head_m: f64,
    /// Flow at the end of its curve, m³/s.
    pub end_of_curve_m3_s: Option<f64>,
    /// Its curve as entered rises somewhere.
    pub curve_rises: bool,
}

/// One loss of a duty.
#[derive(Clone, Debug, PartialEq)]
pub struct LossItem {
    /// What causes the loss.
    pub what: String,
    /// Head lost, metres.
    pub head_m: f64,
}
