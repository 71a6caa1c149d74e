//! Screens and guards before openings.

use super::{Ground, Item, ItemAt, ItemKind, ScreenFacts};
use crate::hydraulics::loss::Minor;
use crate::hydraulics::screen;
use crate::layout::{End, Opening, Run, RunEnd};

/// What is known of the screen at an end; none where it has none.
pub(super) fn facts(ground: &Ground<'_>, end: &End) -> Option<ScreenFacts> {
    let given = end.screen.as_ref()?;
    let blinded = ground.blinded(given.blinded);
    let clear_share = screen::clear_share(given.open_share, blinded);
    let own_k = given.k.unwrap_or_else(|| screen::rack_k(clear_share));
    Some(ScreenFacts {
        name: given.name.clone(),
        area_m2: given.area_m2,
        blinded,
        clear_share,
        gross_k: screen::gross_k(own_k, clear_share),
    })
}

/// Its loss, on the velocity over its whole area.
pub(super) fn minor(facts: &ScreenFacts) -> Minor {
    Minor {
        k: facts.gross_k,
        bore_m: screen::equal_bore_m(facts.area_m2),
    }
}

/// What the screens of a run lose, but for one that stands before a rising leg: that is part of the leg.
pub(super) fn items(ground: &Ground<'_>, run: &Run) -> Vec<Item> {
    let in_pipe = |which: &RunEnd| !stands_before_a_rise(run, *which);
    let ends = RunEnd::BOTH.into_iter().filter(in_pipe);
    ends.filter_map(|which| {
        let facts = facts(ground, run.end(which))?;
        Some(Item {
            what: words(&facts),
            kind: ItemKind::Minor(minor(&facts)),
            at: ItemAt::Full,
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

/// Of two raised intakes the second is computed as a plain upstand.
fn stands_before_a_rise(run: &Run, which: RunEnd) -> bool {
    let raised = |end: &End| matches!(end.opening, Some(Opening::RaisedIntake { .. }));
    match which {
        RunEnd::From => raised(&run.from),
        RunEnd::To => raised(&run.to) && !raised(&run.from),
    }
}
