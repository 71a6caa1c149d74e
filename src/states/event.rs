//! What happens in a state, told of parts.

use crate::layout::Id;

/// What happened.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum EventKind {
    /// A level reached a rim that is taken as tall.
    RimReached,
    /// A rim began to spill.
    SpillBegins,
    /// A rim ceased to spill.
    SpillEnds,
    /// The level over a pump's intake fell to one bore over its lip.
    IntakeUncovered,
    /// It rose over that again.
    IntakeCovered,
    /// The intake began to hold back the pump.
    SuctionStarved,
    /// The pump got all that it can move again.
    SuctionRecovered,
    /// No water is left over the intake: the pump stops.
    PumpRunsDry,
    /// Water stands two bores over the intake: the pump starts again.
    PumpRestarts,
    /// A float switch turned the pump on.
    FloatOn,
    /// A float switch turned the pump off.
    FloatOff,
    /// A run is full of water over its high point, and holds no air there.
    SiphonPrimed,
    /// Air came into it, and the column over its high point parted.
    SiphonBroken,
    /// Nothing moves any more.
    Still,
}

impl EventKind {
    /// Every word, for completeness tests and the docs.
    pub const ALL: [EventKind; 14] = [
        EventKind::RimReached,
        EventKind::SpillBegins,
        EventKind::SpillEnds,
        EventKind::IntakeUncovered,
        EventKind::IntakeCovered,
        EventKind::SuctionStarved,
        EventKind::SuctionRecovered,
        EventKind::PumpRunsDry,
        EventKind::PumpRestarts,
        EventKind::FloatOn,
        EventKind::FloatOff,
        EventKind::SiphonPrimed,
        EventKind::SiphonBroken,
        EventKind::Still,
    ];

    /// A part changes how it stands, and not only the water.
    pub fn switches(self) -> bool {
        matches!(
            self,
            EventKind::PumpRunsDry
                | EventKind::PumpRestarts
                | EventKind::FloatOn
                | EventKind::FloatOff
                | EventKind::SiphonPrimed
                | EventKind::SiphonBroken
        )
    }

    /// The word for scripts.
    pub fn word(self) -> &'static str {
        match self {
            EventKind::RimReached => "rim-reached",
            EventKind::SpillBegins => "spill-begins",
            EventKind::SpillEnds => "spill-ends",
            EventKind::IntakeUncovered => "intake-uncovered",
            EventKind::IntakeCovered => "intake-covered",
            EventKind::SuctionStarved => "suction-starved",
            EventKind::SuctionRecovered => "suction-recovered",
            EventKind::PumpRunsDry => "pump-runs-dry",
            EventKind::PumpRestarts => "pump-restarts",
            EventKind::FloatOn => "float-on",
            EventKind::FloatOff => "float-off",
            EventKind::SiphonPrimed => "siphon-primed",
            EventKind::SiphonBroken => "siphon-broken",
            EventKind::Still => "still",
        }
    }
}

/// Something that happened, when and where.
#[derive(Clone, Debug, PartialEq)]
pub struct Event {
    /// Seconds from the start of the state.
    pub time_s: f64,
    /// What happened.
    pub what: EventKind,
    /// The part it happened at, then the vessel it has to do with; none for the whole.
    pub about: Vec<Id>,
}
