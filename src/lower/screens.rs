//! Screens and guards before openings.

use super::{Item, ItemAt, ItemKind, LoweringContext, ScreenFacts};
use crate::hydraulics::openings::clear_share;
use crate::hydraulics::openings::inlet::Inlet;
use crate::hydraulics::openings::screen;
use crate::hydraulics::openings::screen::{Bars, Cage, ScreenLaw};
use crate::layout::{End, Run, RunEnd};
use crate::network::{Port, Sense};

/// The data of the screen at an end; none where it has none.
pub(super) fn facts(context: &LoweringContext<'_>, end: &End) -> Option<ScreenFacts> {
    let given = end.screen.as_ref()?;
    let blinded = context.blinded(given.blinded);
    let clear_share = clear_share::clear_share(given.open_share, blinded);
    let own_k = given.k.unwrap_or_else(|| screen::rack_k(clear_share));
    let cage = given.foot_m.zip(given.height_m);
    Some(ScreenFacts {
        name: given.name.clone(),
        area_m2: given.area_m2,
        blinded,
        clear_share,
        gross_k: screen::gross_k(own_k, clear_share),
        on_the_lip: given.on_the_lip,
        cage: cage.map(|(foot_m, height_m)| Cage { foot_m, height_m }),
    })
}

/// Puts a screen before an end: on its lip, where it has one that limits it, else before it.
pub(super) fn put(context: &LoweringContext<'_>, facts: &ScreenFacts, port: &mut Port) {
    if facts.on_the_lip && !matches!(port.inlet, Inlet::Unlimited) {
        port.inlet = port.inlet.screened(facts.clear_share);
        return;
    }
    let bars = Bars {
        gross_k: facts.gross_k,
        area_m2: facts.area_m2,
        cage: facts.cage,
    };
    port.screen = (!facts.is_shut()).then(|| {
        ScreenLaw::new(
            &bars,
            context.water.kinematic_viscosity_m2_s,
            context.coefficients.gravity_m_s2,
        )
    });
}

/// Whether a screen of the run is fully blinded: nothing passes it, in either direction.
pub(super) fn is_shut(context: &LoweringContext<'_>, run: &Run) -> bool {
    let mut facts = RunEnd::BOTH
        .map(|which| facts(context, run.end(which)))
        .into_iter();
    facts.any(|facts| facts.is_some_and(|facts| facts.is_shut()))
}

/// Losses at the screens of a link, for a flow along it or back; `ends`: those at its source and its target.
pub(super) fn items(
    context: &LoweringContext<'_>,
    (run, ends): (&Run, [RunEnd; 2]),
    ports: [&Port; 2],
    way: Sense,
) -> Vec<Item> {
    let sides = [0, 1].into_iter().zip(ends).zip(ports);
    let stands = sides.filter(|(_, port)| port.screen.is_some());
    stands
        .filter_map(|((end, which), _)| {
            let enters = (end == 0) == (way == Sense::Forward);
            Some(Item {
                what: words(&facts(context, run.end(which))?),
                kind: ItemKind::Screen { end },
                at: if enters {
                    ItemAt::Entrance
                } else {
                    ItemAt::Exit
                },
            })
        })
        .collect()
}

fn words(facts: &ScreenFacts) -> String {
    let name = if facts.name.is_empty() {
        "screen"
    } else {
        &facts.name
    };
    if facts.blinded > 0.0 {
        format!("{name}, {:.0} % blinded", 100.0 * facts.blinded)
    } else {
        name.to_owned()
    }
}
