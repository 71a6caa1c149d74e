//! What happens in a state, in words.

use crate::evaluate::{Told, What};
use crate::layout::Id;

/// One thing that happened, as part of a sentence. `name`: of a part.
pub fn sentence(told: &Told, name: &dyn Fn(&Id) -> String) -> String {
    let part = |place: usize| told.about.get(place).map(name).unwrap_or_default();
    let (first, second) = (part(0), part(1));
    let pump = pump_called(&first);
    match told.what {
        What::RimReached => format!("{first} reaches its rim"),
        What::SpillBegins => format!("{first} begins to spill"),
        What::SpillEnds => format!("{first} spills no more"),
        What::IntakeUncovered => {
            format!("less than one bore of water stands over the intake of {pump} in {second}")
        }
        What::IntakeCovered => {
            format!("one bore of water stands over the intake of {pump} in {second} again")
        }
        What::SuctionStarved => format!("{pump} gets too little water"),
        What::SuctionRecovered => format!("{pump} has all the water that it can move again"),
        What::PumpRunsDry => format!("{pump} runs dry and stops"),
        What::PumpRestarts => format!("{pump} has water again and starts"),
        What::FloatOn => format!("the float switch turns {first} on"),
        What::FloatOff => format!("the float switch turns {first} off"),
        What::SiphonPrimed => format!("{first} runs full over its high point"),
        What::SiphonBroken => siphon_broken(&first),
        What::Still => "nothing moves any more".to_owned(),
    }
}

/// What happens to a run over whose high point the column of water parts.
pub fn siphon_broken(run: &str) -> String {
    format!("{run} draws air and breaks")
}

/// The name of a pump, so that it is known for one.
pub fn pump_called(name: &str) -> String {
    if name.to_lowercase().contains("pump") {
        name.to_owned()
    } else {
        format!("Pump {name}")
    }
}
