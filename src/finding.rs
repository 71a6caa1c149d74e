//! What we tell the user: where, what, by how much, and what would cure it.
//!
//! Invariant: a finding holds quantities, not formatted text, so that one
//! finding reads in metric or US; it does not know where it is shown.

use crate::layout::Id;
use crate::units::{self, Quantity, UnitSystem};

/// The six states of a system.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum State {
    /// Pumps off, from the filled levels, until still.
    Rest,
    /// From rest with the pumps on, followed until steady.
    Starting,
    /// The end of the starting trace.
    Running,
    /// Running with film, rough walls, dirty filters, part-blinded screens.
    Fouled,
    /// From running with one path shut at once.
    Blocked,
    /// From running with the pumps off, until still.
    Stopped,
}

impl State {
    /// All six, in the order they are told.
    pub const ALL: [State; 6] = [
        State::Rest,
        State::Starting,
        State::Running,
        State::Fouled,
        State::Blocked,
        State::Stopped,
    ];

    /// The word for scripts: lower case, one word.
    pub fn word(self) -> &'static str {
        match self {
            State::Rest => "rest",
            State::Starting => "starting",
            State::Running => "running",
            State::Fouled => "fouled",
            State::Blocked => "blocked",
            State::Stopped => "stopped",
        }
    }

    /// The words for people.
    pub fn title(self) -> &'static str {
        match self {
            State::Rest => "at rest",
            other => other.word(),
        }
    }
}

/// How much a finding matters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Severity {
    /// It does not work: water on the floor, a dry pump.
    Problem,
    /// It works, with too little in hand.
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

/// What kind of thing a finding says.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Code {
    /// A vessel's level stands over its rim.
    Spills,
    /// A vessel takes in water and no run takes it away: it fills for ever.
    FillsForEver,
    /// Vessels name each other for their spill, round in a ring.
    SpillsInARing,
    /// A vessel is to spill into a part that stands higher than its rim.
    SpillsUphill,
    /// A vessel's level stands too close under its rim.
    LittleFreeboard,
    /// At the rim a drain passes less than it must.
    DrainTooSmall,
    /// At the rim a drain passes what it must with little to spare.
    LittleReserve,
    /// A vessel has run dry.
    RunsDry,
    /// A run that should flow stands dry or still.
    NoFlow,
    /// Nothing flows: there is no pump, and no water comes in.
    NoPump,
    /// A run flows against the way it was drawn.
    FlowsBackward,
    /// Velocity over its limit.
    TooFast,
    /// Velocity too low to carry solids.
    TooSlow,
    /// A crest or lip stands over the rim of its vessel.
    CrestAboveRim,
    /// A run leaves a vessel below its floor or enters it there.
    OpeningBelowFloor,
    /// A gravity run climbs over the level that feeds it.
    RunClimbs,
    /// The end of a run that was meant to stay in air is under water.
    AirGapDrowned,
    /// A pump cannot lift the water.
    PumpCannotLift,
    /// A pump's duty is outside its curve or its wanted part.
    PumpOffCurve,
    /// A pump's curve rises: two duties are possible.
    CurveRises,
    /// A pump's curve is a guess from the numbers of its label.
    CurveGuessed,
    /// A pump takes less than it would, for want of water over its suction.
    PumpStarved,
    /// A running pump is driven backwards.
    PumpDrivenBackward,
    /// A pump that stands still lets the pump beside it push water back through it.
    IdlePumpsShortCircuit,
    /// A pump has no way to draw water: its suction is shut.
    SuctionShut,
    /// A part turns over more slowly than wanted.
    LittleTurnover,
    /// An overflow without an open vent may prime as a siphon.
    MaySiphon,
    /// Water leaves at a vent.
    VentSpills,
    /// Hazen–Williams is used outside its range.
    HazenWilliamsRange,
    /// A notch is narrower than its law was measured on.
    NotchRange,
    /// A part's word is not in the catalogue.
    NotInCatalogue,
    /// A vessel or joint that no run reaches.
    NotConnected,
    /// Suction in a run: the grade stands below the pipe.
    Suction,
    /// A joint's draw-off cannot be met by any run.
    CannotDraw,
    /// More is let in at a joint than its runs can take.
    TooMuchForJoint,
    /// While starting, a pump is held back by its intake, or runs dry.
    StarvesAtStart,
    /// A pump that should run has run dry and stands.
    PumpRunsDry,
    /// A state comes to no rest: something switches for ever.
    NeverSteady,
    /// A vessel spills once a path is blocked.
    SpillsWhenBlocked,
    /// A pump lacks water once a path is blocked.
    StarvesWhenBlocked,
    /// Water runs back when the pumps stop.
    RunsBack,
    /// Too little water stands over an intake to keep air out of it.
    IntakeUncovered,
    /// An upstand swings between a weir that lets air in and a full pipe.
    Surges,
    /// Air is shut in at a high point of a run and takes flow from it.
    AirLock,
    /// A number so large that it may be a slip of the unit.
    IsThisMeant,
    /// No filling of the lowest vessel is right, neither too full nor too empty.
    NoRoomToFill,
    /// A siphon that nobody filled carries nothing.
    MayNeverPrime,
    /// Drinking water comes out under a rim, under water or with too little air under its mouth.
    CrossConnection,
    /// Water from outside runs straight on to waste.
    RunsToWaste,
    /// An end that was said to be under water stands over it.
    MouthOverWater,
    /// Two vessels stand in one place.
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

/// A piece of a sentence.
#[derive(Clone, Debug, PartialEq)]
pub enum Piece {
    /// Words as they stand.
    Words(String),
    /// A quantity, in SI.
    Number(Quantity, f64),
    /// A part, by the name a person gave it.
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

/// A sentence whose numbers are still quantities.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Sentence(pub Vec<Piece>);

impl Sentence {
    /// The sentence for a reader: parts by the name that `name_of` gives, numbers in `system`.
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

/// One change of one number of a layout.
#[derive(Clone, Debug, PartialEq)]
pub struct Change {
    /// The part.
    pub part: Id,
    /// The field, dotted from the part as in a file: `from.opening.upstand.crest_m`.
    pub field: String,
    /// Its value now, SI.
    pub from: f64,
    /// Its value after the cure, SI.
    pub to: f64,
    /// What it measures.
    pub quantity: Quantity,
}

/// What would cure a finding, computed.
#[derive(Clone, Debug, PartialEq)]
pub struct Cure {
    /// What to do, in words.
    pub text: Sentence,
    /// The changes that do it.
    pub changes: Vec<Change>,
}

/// One thing the check has to say.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// What kind of thing.
    pub code: Code,
    /// How much it matters.
    pub severity: Severity,
    /// In which state.
    pub state: State,
    /// The parts it is about: first where it happens, then what is to blame.
    pub about: Vec<Id>,
    /// The sentence.
    pub text: Sentence,
    /// What was found, SI; NaN never.
    pub measured: Option<f64>,
    /// What it is held against, SI.
    pub limit: Option<f64>,
    /// What both measure.
    pub quantity: Quantity,
    /// Cures, best first.
    pub cures: Vec<Cure>,
}
