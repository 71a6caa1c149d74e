//! Texts for the events of a simulation.

use crate::layout::Id;
use crate::states::{Event, EventKind};

/// Describes an event as a clause. `name` returns the name of a part.
pub fn event_sentence(told: &Event, name: &dyn Fn(&Id) -> String) -> String {
    let part = |place: usize| told.about.get(place).map(name).unwrap_or_default();
    let (first, second) = (part(0), part(1));
    let pump = pump_called(&first);
    match told.what {
        EventKind::RimReached => format!("{first} reaches its rim"),
        EventKind::SpillBegins => format!("{first} begins to spill"),
        EventKind::SpillEnds => format!("{first} spills no more"),
        EventKind::IntakeUncovered => {
            format!("less than one bore of water stands over the intake of {pump} in {second}")
        }
        EventKind::IntakeCovered => {
            format!("one bore of water stands over the intake of {pump} in {second} again")
        }
        EventKind::SuctionStarved => format!("{pump} gets too little water"),
        EventKind::SuctionRecovered => format!("{pump} has all the water that it can move again"),
        EventKind::PumpRunsDry => format!("{pump} runs dry and stops"),
        EventKind::PumpRestarts => format!("{pump} has water again and starts"),
        EventKind::FloatOn => format!("the float switch turns {first} on"),
        EventKind::FloatOff => format!("the float switch turns {first} off"),
        EventKind::SiphonPrimed => format!("{first} runs full over its high point"),
        EventKind::SiphonBroken => siphon_broken(&first),
        EventKind::Still => "nothing moves any more".to_owned(),
    }
}

/// Describes the breaking of the siphon in a run.
pub fn siphon_broken(run: &str) -> String {
    format!("{run} draws air and breaks")
}

/// Returns the name of a pump, preceded by “Pump” unless it contains the word.
pub fn pump_called(name: &str) -> String {
    if name.to_lowercase().contains("pump") {
        name.to_owned()
    } else {
        format!("Pump {name}")
    }
}
