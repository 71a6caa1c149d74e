//! Findings: what is wrong, where, by how much, and what would cure it.
//!
//! Invariant: a finding holds quantities, not formatted text, so that it reads in metric or US units; it does not know
//! where it is shown.

use crate::layout::{Id, NumberField};
use crate::state::State;
use crate::units::{self, Quantity, UnitSystem};

/// The severity of a finding.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Severity {
    /// The system does not work: water on the floor, a dry pump.
    Problem,
    /// It works, with too little reserve.
    Warning,
    /// Worth knowing.
    Note,
}

impl Severity {
    /// The word for scripts and people.
    pub fn word(self) -> &'static str {
        match self {
            Severity::Problem => "problem",
            Severity::Warning => "warning",
            Severity::Note => "note",
        }
    }
}

/// The kind of a finding.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Code {
    /// The level of a vessel is above its rim.
    Spills,
    /// A vessel takes in water that no run takes away, so it never stops filling.
    FillsForEver,
    /// The spill targets of vessels form a cycle.
    SpillsInARing,
    /// The part that a vessel is to spill into is higher than its rim.
    SpillsUphill,
    /// The freeboard of a vessel is too small.
    LittleFreeboard,
    /// With its vessel full to the rim, a drain passes less than it must.
    DrainTooSmall,
    /// With its vessel full to the rim, a drain passes what it must, but with little reserve.
    LittleReserve,
    /// A vessel has run dry.
    RunsDry,
    /// A run that should flow is dry or has no flow.
    NoFlow,
    /// Nothing flows: there is no pump, and no water comes in.
    NoPump,
    /// A run flows against its drawn direction.
    FlowsBackward,
    /// Velocity above its limit.
    TooFast,
    /// Velocity too low to carry solids.
    TooSlow,
    /// A crest or lip is above the rim of its vessel.
    CrestAboveRim,
    /// A run leaves or enters a vessel below its floor.
    OpeningBelowFloor,
    /// A gravity run climbs above the level that feeds it.
    RunClimbs,
    /// A run end that was meant to stay in air is submerged.
    AirGapDrowned,
    /// A pump cannot lift the water.
    PumpCannotLift,
    /// A pump works off its curve, or outside the part of it that the limits allow.
    PumpOffCurve,
    /// Part of a pump's curve rises, so that two duties are possible.
    CurveRises,
    /// A pump's curve is a guess from the numbers on its label.
    CurveGuessed,
    /// A pump delivers less than it could, because too little water covers its suction.
    PumpStarved,
    /// A running pump is driven backward.
    PumpDrivenBackward,
    /// A stopped pump lets the pump beside it push water back through it.
    IdlePumpsShortCircuit,
    /// A pump cannot draw water, because its suction is shut.
    SuctionShut,
    /// The turnover of a vessel is below the required rate.
    LittleTurnover,
    /// An overflow without an open vent may prime as a siphon.
    MaySiphon,
    /// Water leaves at a vent.
    VentSpills,
    /// Hazen–Williams is used outside its valid range.
    HazenWilliamsRange,
    /// A notch is narrower than those that its weir law was measured on.
    NotchRange,
    /// A part names something that is not in the catalogue.
    NotInCatalogue,
    /// A vessel or joint that no run reaches.
    NotConnected,
    /// Suction in a run: the grade is below the pipe.
    Suction,
    /// No run can supply what is drawn off at a joint.
    CannotDraw,
    /// More water comes in at a joint than its runs can take.
    TooMuchForJoint,
    /// While starting, a pump is limited by its intake or runs dry.
    StarvesAtStart,
    /// A pump that should run has run dry and stopped.
    PumpRunsDry,
    /// A state never becomes steady, because something keeps switching.
    NeverSteady,
    /// A vessel spills once a path is blocked.
    SpillsWhenBlocked,
    /// A pump lacks water once a path is blocked.
    StarvesWhenBlocked,
    /// Water runs back when the pumps stop.
    RunsBack,
    /// Too little water covers an intake to keep air out of it.
    IntakeUncovered,
    /// An opening alternates between drawing air and running full.
    Surges,
    /// Air trapped at a high point of a run reduces its flow.
    AirLock,
    /// A number so large that its unit may be wrong.
    IsThisMeant,
    /// No fill level works for the lowest vessel: each is too full or too empty.
    NoRoomToFill,
    /// A siphon that nobody primes carries no flow.
    MayNeverPrime,
    /// Drinking water comes out below a rim, under water or with too small an air gap.
    CrossConnection,
    /// Water from outside runs straight to waste.
    RunsToWaste,
    /// A run end that was said to be submerged is above the water.
    MouthOverWater,
    /// Two vessels occupy the same space.
    VesselsOverlap,
}

impl Code {
    /// Every code, for completeness tests and the docs.
    pub const ALL: [Code; 51] = [
        Code::Spills,
        Code::FillsForEver,
        Code::SpillsInARing,
        Code::SpillsUphill,
        Code::LittleFreeboard,
        Code::DrainTooSmall,
        Code::LittleReserve,
        Code::RunsDry,
        Code::NoFlow,
        Code::NoPump,
        Code::FlowsBackward,
        Code::TooFast,
        Code::TooSlow,
        Code::CrestAboveRim,
        Code::OpeningBelowFloor,
        Code::RunClimbs,
        Code::AirGapDrowned,
        Code::PumpCannotLift,
        Code::PumpOffCurve,
        Code::CurveRises,
        Code::CurveGuessed,
        Code::PumpStarved,
        Code::PumpDrivenBackward,
        Code::IdlePumpsShortCircuit,
        Code::SuctionShut,
        Code::LittleTurnover,
        Code::MaySiphon,
        Code::VentSpills,
        Code::HazenWilliamsRange,
        Code::NotchRange,
        Code::NotInCatalogue,
        Code::NotConnected,
        Code::Suction,
        Code::CannotDraw,
        Code::TooMuchForJoint,
        Code::StarvesAtStart,
        Code::PumpRunsDry,
        Code::NeverSteady,
        Code::SpillsWhenBlocked,
        Code::StarvesWhenBlocked,
        Code::RunsBack,
        Code::IntakeUncovered,
        Code::Surges,
        Code::AirLock,
        Code::IsThisMeant,
        Code::NoRoomToFill,
        Code::MayNeverPrime,
        Code::CrossConnection,
        Code::RunsToWaste,
        Code::MouthOverWater,
        Code::VesselsOverlap,
    ];

    /// The code for scripts: kebab-case words of the trade.
    pub fn word(self) -> &'static str {
        match self {
            Code::Spills => "spills",
            Code::FillsForEver => "fills-for-ever",
            Code::SpillsInARing => "spills-in-a-ring",
            Code::SpillsUphill => "spills-uphill",
            Code::LittleFreeboard => "little-freeboard",
            Code::DrainTooSmall => "drain-too-small",
            Code::LittleReserve => "little-reserve",
            Code::RunsDry => "runs-dry",
            Code::NoFlow => "no-flow",
            Code::NoPump => "no-pump",
            Code::FlowsBackward => "flows-backward",
            Code::TooFast => "too-fast",
            Code::TooSlow => "too-slow",
            Code::CrestAboveRim => "crest-above-rim",
            Code::OpeningBelowFloor => "opening-below-floor",
            Code::RunClimbs => "run-climbs",
            Code::AirGapDrowned => "air-gap-drowned",
            Code::PumpCannotLift => "pump-cannot-lift",
            Code::PumpOffCurve => "pump-off-curve",
            Code::CurveRises => "curve-rises",
            Code::CurveGuessed => "curve-guessed",
            Code::PumpStarved => "pump-starved",
            Code::PumpDrivenBackward => "pump-driven-backward",
            Code::IdlePumpsShortCircuit => "idle-pumps-short-circuit",
            Code::SuctionShut => "suction-shut",
            Code::LittleTurnover => "little-turnover",
            Code::MaySiphon => "may-siphon",
            Code::VentSpills => "vent-spills",
            Code::HazenWilliamsRange => "hazen-williams-range",
            Code::NotchRange => "notch-range",
            Code::NotInCatalogue => "not-in-catalogue",
            Code::NotConnected => "not-connected",
            Code::Suction => "suction",
            Code::CannotDraw => "cannot-draw",
            Code::TooMuchForJoint => "too-much-for-joint",
            Code::StarvesAtStart => "starves-at-start",
            Code::PumpRunsDry => "pump-runs-dry",
            Code::NeverSteady => "never-steady",
            Code::SpillsWhenBlocked => "spills-when-blocked",
            Code::StarvesWhenBlocked => "starves-when-blocked",
            Code::RunsBack => "runs-back",
            Code::IntakeUncovered => "intake-uncovered",
            Code::Surges => "surges",
            Code::AirLock => "air-lock",
            Code::IsThisMeant => "is-this-meant",
            Code::NoRoomToFill => "no-room-to-fill",
            Code::MayNeverPrime => "may-never-prime",
            Code::CrossConnection => "cross-connection",
            Code::RunsToWaste => "runs-to-waste",
            Code::MouthOverWater => "mouth-over-water",
            Code::VesselsOverlap => "vessels-overlap",
        }
    }
}

/// One piece of a sentence.
#[derive(Clone, Debug, PartialEq)]
pub enum Piece {
    /// Literal text.
    Words(String),
    /// A quantity, in SI.
    Number(Quantity, f64),
    /// A part, shown by its name.
    Part(Id),
}

impl From<&str> for Piece {
    fn from(words: &str) -> Self {
        Piece::Words(words.to_owned())
    }
}

impl From<String> for Piece {
    fn from(words: String) -> Self {
        Piece::Words(words)
    }
}

impl From<&Id> for Piece {
    fn from(id: &Id) -> Self {
        Piece::Part(id.clone())
    }
}

/// A sentence whose numbers are stored as quantities, not as text.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Sentence(pub Vec<Piece>);

impl Sentence {
    /// The sentence as text: parts by the name that `name_of` returns, numbers in `system`.
    pub fn read(&self, name_of: &dyn Fn(&Id) -> String, system: UnitSystem) -> String {
        let mut text = String::new();
        for piece in &self.0 {
            match piece {
                Piece::Words(words) => text.push_str(words),
                Piece::Number(quantity, value) => {
                    text.push_str(&units::write(*quantity, *value, system));
                }
                Piece::Part(id) => text.push_str(&name_of(id)),
            }
        }
        text
    }
}

/// One changed number of a layout.
#[derive(Clone, Debug, PartialEq)]
pub struct Change {
    /// The part.
    pub part: Id,
    /// The field.
    pub field: NumberField,
    /// Its present value, SI.
    pub from: f64,
    /// Its value after the cure, SI.
    pub to: f64,
    /// The quantity of both values.
    pub quantity: Quantity,
}

/// A computed change that clears a finding.
#[derive(Clone, Debug, PartialEq)]
pub struct Cure {
    /// What to do, for the user.
    pub text: Sentence,
    /// The changes that implement it.
    pub changes: Vec<Change>,
}

/// One thing that the check reports.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// The kind of finding.
    pub code: Code,
    /// Its severity.
    pub severity: Severity,
    /// The state that it occurs in.
    pub state: State,
    /// The parts concerned: first where it occurs, then the causes.
    pub about: Vec<Id>,
    /// The sentence.
    pub text: Sentence,
    /// The measured value, SI; never NaN.
    pub measured: Option<f64>,
    /// The limit that it is compared with, SI.
    pub limit: Option<f64>,
    /// The quantity of both.
    pub quantity: Quantity,
    /// Cures, best first.
    pub cures: Vec<Cure>,
}
