//! Events of a state, by part.

use crate::layout::Id;

/// Event kind.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum What {
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

impl What {
    /// Every word, for completeness tests and the docs.
    pub const ALL: [What; 14] = [
        What::RimReached,
        What::SpillBegins,
        What::SpillEnds,
        What::IntakeUncovered,
        What::IntakeCovered,
        What::SuctionStarved,
        What::SuctionRecovered,
        What::PumpRunsDry,
        What::PumpRestarts,
        What::FloatOn,
        What::FloatOff,
        What::SiphonPrimed,
        What::SiphonBroken,
        What::Still,
    ];

    /// Whether a part changes its mode, and not only the water moves.
    pub fn switches(self) -> bool {
        matches!(
            self,
            What::PumpRunsDry
                | What::PumpRestarts
                | What::FloatOn
                | What::FloatOff
                | What::SiphonPrimed
                | What::SiphonBroken
        )
    }

    /// The word for scripts.
    pub fn word(self) -> &'static str {
        match self {
            What::RimReached => "rim-reached",
            What::SpillBegins => "spill-begins",
            What::SpillEnds => "spill-ends",
            What::IntakeUncovered => "intake-uncovered",
            What::IntakeCovered => "intake-covered",
            What::SuctionStarved => "suction-starved",
            What::SuctionRecovered => "suction-recovered",
            What::PumpRunsDry => "pump-runs-dry",
            What::PumpRestarts => "pump-restarts",
            What::FloatOn => "float-on",
            What::FloatOff => "float-off",
            What::SiphonPrimed => "siphon-primed",
            What::SiphonBroken => "siphon-broken",
            What::Still => "still",
        }
    }
}

/// An event: when, where and of which kind.
#[derive(Clone, Debug, PartialEq)]
pub struct Told {
    /// Seconds from the start of the state.
    pub time_s: f64,
    /// The event kind.
    pub what: What,
    /// The part it happened at, then the vessel concerned; none for the whole.
    pub about: Vec<Id>,
}
