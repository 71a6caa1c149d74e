//! Events of a state, by part.

use crate::layout::Id;

/// Event kind.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum EventKind {
    /// A level reached a rim that is taken as tall.
    RimReached,
    /// A rim began to spill.
    SpillBegins,
    /// A rim stopped spilling.
    SpillEnds,
    /// The level over a pump's intake fell to one bore above its lip.
    IntakeUncovered,
    /// It rose above that again.
    IntakeCovered,
    /// The intake began to limit the flow of the pump.
    SuctionStarved,
    /// The pump got its full flow again.
    SuctionRecovered,
    /// No water is left over the intake: the pump stops.
    PumpRunsDry,
    /// Water stands two bores above the lip of the intake: the pump restarts.
    PumpRestarts,
    /// A float switch turned the pump on.
    FloatOn,
    /// A float switch turned the pump off.
    FloatOff,
    /// A run is full of water over its high point, and holds no air there.
    SiphonPrimed,
    /// Air entered it, and the water column over its high point parted.
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

    /// Whether a part changes its mode, and not only the water moves.
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

/// An event: when, where and of which kind.
#[derive(Clone, Debug, PartialEq)]
pub struct Event {
    /// Seconds from the start of the state.
    pub time_s: f64,
    /// The event kind.
    pub what: EventKind,
    /// The part it happened at, then the vessel concerned; none for the whole.
    pub about: Vec<Id>,
}
