//! What one state came to, part by part, in SI.

use super::event::Event;
use crate::finding::State;
use crate::layout::Id;

/// A level this little over another is not over it, metres.
const SAME_M: f64 = 1e-6;
/// Less than this over a rim is none any more, m³/s.
const SPLASH_M3_S: f64 = 1e-7;
/// Less than this lost over a rim is not told, m³: a tenth of a litre, common practice, no source.
const SPLASH_M3: f64 = 1e-4;
/// Less than this lost over a rim, and less than the next share of the system's water, is only worth a note, m³: a
/// litre. A choice.
const SMALL_SPILL_M3: f64 = 1e-3;
/// That share. A choice.
const SMALL_SPILL_SHARE: f64 = 1e-4;

/// What was lost over a rim, m³, where it is enough to be told: the one measure for every place that tells of it.
pub fn reported_spill_m3(lost_m3: f64) -> Option<f64> {
    (lost_m3 > SPLASH_M3).then_some(lost_m3)
}

/// A spill so small that it is only worth a note; `water_m3`: all water of the system. What stands on a limit is more.
pub fn is_small_spill(lost_m3: f64, water_m3: f64) -> bool {
    lost_m3 < SMALL_SPILL_M3 && lost_m3 < SMALL_SPILL_SHARE * water_m3
}

/// The answer of one state.
#[derive(Clone, Debug, PartialEq)]
pub struct StateReport {
    /// Which state.
    pub state: State,
    /// Every tolerance of the method was met.
    pub converged: bool,
    /// Newton steps in all.
    pub newton_steps: usize,
    /// Time steps in all.
    pub time_steps: usize,
    /// Largest imbalance of flow at a node, m³/s.
    pub mass_error_m3_s: f64,
    /// Largest error of the energy equation of a run, metres.
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
    /// The cycle that it repeats for ever, where it comes to no rest; the levels and flows above are then
    /// the means of a round.
    pub cycle: Option<CycleReport>,
    /// How it came about in time: for the states that have a course of their own.
    pub course: Option<TrajectoryReport>,
    /// Every path shut in turn, worst first; only of the state *blocked*, whose report is that of the first.
    pub blocked: Vec<BlockedCase>,
    /// Water that runs have taken up on top of what stands in them at rest, m³.
    pub in_runs_m3: f64,
    /// Whether runs that can hold air do so, or are primed.
    pub outcome: Outcome,
    /// The second outcome: what comes of it once every run that can prime is primed, or, where somebody fills runs
    /// by hand, if nobody does; none where nothing would be otherwise.
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

/// A state that repeats itself for ever.
#[derive(Clone, Debug, PartialEq)]
pub struct CycleReport {
    /// Length of a round, s; a mean where no two rounds are the same.
    pub period_s: f64,
    /// Every round is like the one before. Else the figures are those of many rounds together, and `told` has
    /// each thing that switches in them once.
    pub regular: bool,
    /// The vessels, in the order of the layout.
    pub vessels: Vec<CycleLevel>,
    /// What switches in a round, in its order.
    pub told: Vec<Event>,
}

/// A vessel in a cycle.
#[derive(Clone, Debug, PartialEq)]
pub struct CycleLevel {
    /// The vessel.
    pub id: Id,
    /// Its lowest level in a round, metres.
    pub lowest_m: f64,
    /// Its highest level in a round, metres.
    pub highest_m: f64,
    /// Its mean level in a round, metres.
    pub mean_m: f64,
}

/// How a state came about.
#[derive(Clone, Debug, PartialEq)]
pub struct TrajectoryReport {
    /// When nothing moved any more; else, and where it was followed for a given time, how long that was, s.
    pub time_s: f64,
    /// Nothing moved any more at its end.
    pub still: bool,
    /// What happened, in its order.
    pub told: Vec<Event>,
    /// The vessels, in the order of the layout.
    pub vessels: Vec<TrajectoryVessel>,
    /// The pumps that draw from vessels.
    pub suctions: Vec<TrajectorySuction>,
    /// Water in the vessels by their levels less water by the flows, m³.
    pub volume_error_m3: f64,
    /// What ran back, where pumps were stopped.
    pub back: Option<BackReport>,
}

/// A vessel in a course.
#[derive(Clone, Debug, PartialEq)]
pub struct TrajectoryVessel {
    /// The vessel.
    pub id: Id,
    /// Its lowest level on the way, metres.
    pub lowest_m: f64,
    /// Its highest level on the way, metres.
    pub highest_m: f64,
    /// What left over its rim, m³.
    pub spilled_m3: f64,
    /// When it first spilled, s; none: it did not.
    pub first_spill_s: Option<f64>,
}

/// The suction of a pump in a course.
#[derive(Clone, Debug, PartialEq)]
pub struct TrajectorySuction {
    /// The pump.
    pub pump: Id,
    /// The vessel it draws from.
    pub vessel: Id,
    /// Lip of its intake, metres.
    pub lip_m: f64,
    /// Lowest level over it on the way, metres.
    pub lowest_m: f64,
    /// When that was, s.
    pub lowest_s: f64,
    /// When its intake began to hold it back, s.
    pub starved_s: Option<f64>,
    /// When it ran dry, s.
    pub dry_s: Option<f64>,
}

/// What runs back when pumps stop.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct BackReport {
    /// What ran down into the vessels that pumps draw from, but for the next, m³.
    pub drained_m3: f64,
    /// What came back through the pumps themselves, m³.
    pub siphoned_m3: f64,
    /// What came down out of runs that emptied, m³; it is in none of the other figures.
    pub in_runs_m3: f64,
    /// Room that the vessels that pumps draw from have left under their rims at the end, all of that in them, m³; without those that never
    /// spill. None: there is no such vessel.
    pub room_m3: Option<f64>,
}

/// One path shut while everything runs.
#[derive(Clone, Debug, PartialEq)]
pub struct BlockedCase {
    /// The run that is shut.
    pub run: Id,
    /// When the first vessel spills that did not before, s; none: none does in the time looked at.
    pub first_spill_s: Option<f64>,
    /// That vessel.
    pub spills: Option<Id>,
    /// What leaves over rims in the time looked at, m³.
    pub spilled_m3: f64,
    /// When a pump's intake begins to hold it back that did not before, s.
    pub starved_s: Option<f64>,
    /// That pump.
    pub starves: Option<Id>,
    /// Lowest level of every vessel, in the order of the layout, metres.
    pub lowest_m: Vec<(Id, f64)>,
    /// How long it was followed, s.
    pub time_s: f64,
    /// Water in all vessels when it begins, m³.
    pub water_m3: f64,
}

impl BlockedCase {
    /// What runs over is only worth a note.
    pub fn only_splashes(&self) -> bool {
        self.first_spill_s.is_some() && is_small_spill(self.spilled_m3, self.water_m3)
    }

    /// When the first vessel spills, s, where more runs over than a note is worth.
    pub fn floods_s(&self) -> Option<f64> {
        self.first_spill_s.filter(|_| !self.only_splashes())
    }

    /// Most harm first: the soonest spill, then the soonest pump without water, then the soonest splash, then the most
    /// litres.
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
    /// Of a layout with nothing in it.
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

    /// The highest level that a vessel comes to, metres: of a round, where the state goes round; none where no level is
    /// enough.
    pub fn top_m(&self, vessel: &VesselReport) -> Option<f64> {
        let mut round = self.cycle.iter().flat_map(|cycle| &cycle.vessels);
        let swing = round.find(|one| one.id == vessel.id);
        swing.map(|one| one.highest_m).or(vessel.level_m)
    }

    /// What will really be there, with walls as they are: its levels, flows, pumps and water. The report itself where
    /// that is it.
    pub fn real(&self) -> &StateReport {
        self.as_built.as_deref().unwrap_or(self)
    }

    /// What ran over the rim of a vessel is only worth a note, and nothing runs any more.
    ///
    /// Where its flow needs a level over the rim that is so only if all vessels together lost no more: one that spills
    /// first keeps the others from spilling.
    pub fn only_splashes(&self, vessel: &VesselReport) -> bool {
        let needs_more = self
            .top_m(vessel)
            .is_none_or(|top_m| top_m > vessel.rim_m + SAME_M);
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
    /// The level that the flow needs (tall walls); none where no level is enough.
    pub level_m: Option<f64>,
    /// Water in it at that level, m³.
    pub volume_m3: Option<f64>,
    /// Everything that flows in, m³/s.
    pub inflow_m3_s: f64,
    /// What happens where it, or another vessel, spills; none where nothing spills.
    pub with_spill: Option<WithSpill>,
}

/// Two levels closer than this are written as one, metres.
const DISTINCT_LEVELS_M: f64 = 0.0005;

/// The swing of a drowned mouth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Surge {
    /// Level at which its pipe draws full, metres.
    pub low_m: f64,
    /// Level that is computed with and judged by, metres.
    pub likely_m: f64,
    /// Level to which it rises while it gulps air, metres.
    pub high_m: f64,
    /// Water between the lowest and the highest level, m³: what goes down in one gulp.
    pub gulp_m3: f64,
    /// What the vessel below has room for up to its rim, m³; none where it goes to none.
    pub room_m3: Option<f64>,
}

impl VesselReport {
    /// What has left over its rim, m³, where it is enough to be told.
    pub fn lost_m3(&self) -> Option<f64> {
        reported_spill_m3(self.with_spill?.lost_m3)
    }

    /// Rim minus level, metres; negative where it spills.
    pub fn freeboard_m(&self) -> Option<f64> {
        self.level_m.map(|level| self.rim_m - level)
    }

    /// Its level is where the water stands, with walls as built, and not what the flow would need; only known
    /// where it, or another vessel, spills.
    pub fn is_as_built(&self) -> bool {
        self.with_spill
            .is_some_and(|spill| self.level_m == Some(spill.level_m))
    }

    /// Where the water really stands, with the walls as they are, metres; [`VesselReport::level_m`] is what the flow
    /// would need with tall walls.
    pub fn stands_m(&self) -> Option<f64> {
        self.with_spill
            .map_or(self.level_m, |spill| Some(spill.level_m))
    }

    /// The level that the flow would need, metres, where the water does not stand there.
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

    /// Its level stands over its rim, or no level is enough; not where it has spilled and only a film is left on
    /// the rim.
    pub fn is_over_rim(&self) -> bool {
        let real = self.with_spill.filter(|_| self.is_as_built());
        if real.is_some_and(|spill| spill.spill_m3_s <= SPLASH_M3_S) {
            return false;
        }
        self.freeboard_m().is_none_or(|free| free < -SAME_M)
    }

    /// Level minus floor, metres.
    pub fn depth_m(&self) -> Option<f64> {
        self.level_m.map(|level| level - self.floor_m)
    }

    /// Changes of its water per second.
    pub fn turnover_per_s(&self) -> Option<f64> {
        self.volume_m3
            .filter(|volume| *volume > 0.0)
            .map(|volume| self.inflow_m3_s / volume)
    }
}

/// A vessel in the real course, with water leaving over rims.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WithSpill {
    /// Its level, metres.
    pub level_m: f64,
    /// What leaves over its rim at the end, m³/s.
    pub spill_m3_s: f64,
    /// What has left over its rim by then, m³.
    pub lost_m3: f64,
    /// When it first spilled, seconds from the start; none: it does not.
    pub first_spill_s: Option<f64>,
}

/// A joint in one state.
#[derive(Clone, Debug, PartialEq)]
pub struct JointReport {
    /// The joint.
    pub id: Id,
    /// Its centre, metres.
    pub elevation_m: f64,
    /// Level water would stand at in a tube tapped into it; none where all its runs are dry.
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
    /// What flows from it into the system, m³/s; negative: into it.
    pub flow_m3_s: f64,
}

/// What holds the flow of a run.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Control {
    /// Its inlet: a crest, a hole, a lip.
    Inlet,
    /// Its losses and the water it runs into.
    Outlet,
    /// A running pump.
    Pumped,
    /// A shut valve, or a check valve that holds.
    Shut,
    /// No water over its inlet.
    Dry,
    /// Wet, but nothing moves.
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

/// How a run is filled.
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
    /// What the screens at its ends as drawn take of that, metres, never negative.
    pub screens_m: [f64; 2],
    /// Head that is neither lost in it nor needed behind it, metres, never negative.
    pub free_drop_m: f64,
    /// What holds its flow.
    pub control: Control,
    /// How it is filled.
    pub regime: Regime,
    /// How far its most shut valve is open; none where it has no valve.
    pub valve_open: Option<f64>,
    /// What it passes with the vessel it drains at its rim and the level behind it as here, m³/s;
    /// none where it drains no vessel.
    pub capacity_at_rim_m3_s: Option<f64>,
    /// Outlet end is under water.
    pub drowned: bool,
    /// Levels of the vessel it drains, where its mouth swings between drawing full and gulping air; else none.
    pub surge: Option<Surge>,
    /// What it lets out through the hole of its siphon break, m³/s; none without a hole that is open.
    pub through_hole_m3_s: Option<f64>,
    /// Depth along it from its `from` end, of a run by gravity whose grade was marched; else empty.
    pub profile: Vec<DepthPoint>,
    /// Air at its high points; none where it has none that can hold air.
    pub air: Option<RunAir>,
}

/// Air at the high point of a run that holds back most.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RunAir {
    /// The run is full of water over its high points, and holds none.
    pub primed: bool,
    /// Invert at the high point, metres.
    pub high_m: f64,
    /// Distance of the high point from the `from` end, along the pipe, metres.
    pub distance_m: f64,
    /// Air can neither leave there nor come in.
    pub shut_in: bool,
    /// What the run would pass between the same levels full of water, m³/s, positive as drawn.
    pub full_flow_m3_s: f64,
    /// Head that the air costs, metres, ≥ 0: where nothing flows what is missing to start.
    pub missing_head_m: f64,
}

/// Water at one place along a run.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DepthPoint {
    /// Distance along the pipe from the `from` end as drawn, metres.
    pub distance_m: f64,
    /// Depth of water over the invert, at most the bore, metres.
    pub depth_m: f64,
    /// Level of the water, or where the pipe is full the piezometric head, metres.
    pub grade_m: f64,
    /// Velocity the way the water goes, m/s, ≥ 0.
    pub velocity_m_s: f64,
    /// Invert of the pipe, metres; none inside a leg that is taken as full.
    pub invert_m: Option<f64>,
}

impl RunReport {
    /// What it passes with its vessel at the rim, over what flows; none where it drains no vessel or nothing flows.
    pub fn reserve(&self) -> Option<f64> {
        let flow_m3_s = self.flow_m3_s.abs();
        let capacity_m3_s = self.capacity_at_rim_m3_s?;
        (flow_m3_s > 1e-9).then(|| capacity_m3_s / flow_m3_s)
    }
}

/// How a pump stands.
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
    /// How it stands, and if it does not run why.
    pub standing: Standing,
    /// Flow the way it pushes, m³/s.
    pub flow_m3_s: f64,
    /// Head it adds, metres: total dynamic head.
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
    /// What its sheet asks for at this flow and speed, metres; none where that is not given, or it does not run.
    pub npsh_required_m: Option<f64>,
    /// Level of the vessel it draws from, metres; none at a joint.
    pub suction_level_m: Option<f64>,
    /// Head at no flow, metres.
    pub shutoff_head_m: f64,
    /// Flow at the end of its curve, m³/s.
    pub end_of_curve_m3_s: Option<f64>,
    /// Its curve as entered rises somewhere.
    pub curve_rises: bool,
}

/// One loss of a duty.
#[derive(Clone, Debug, PartialEq)]
pub struct LossItem {
    /// What loses it.
    pub what: String,
    /// How much, metres.
    pub head_m: f64,
}
