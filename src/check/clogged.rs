//! Reports what floods when the pumps stop while a siphon break is clogged.

use super::wording::{volume, with_limit};
use crate::finding::{Code, Finding, Piece, Sentence, Severity};
use crate::layout::{Id, Layout};
use crate::state::State;
use crate::states::report::{StateReport, VesselReport, is_small_spill};
use crate::units::Quantity;

/// Returns one finding for the vessels that flood with the siphon break of `run` clogged and do not with it open; the
/// vessel that loses most is first. `(open, clogged)`: the stopped state with the hole open, and with it clogged.
///
/// A clogged hole is only a possible failure, so that this is never more than a warning, as for a blocked path.
pub fn clogged_break(
    layout: &Layout,
    run: &Id,
    (open, clogged): (&StateReport, &StateReport),
) -> Option<Finding> {
    let water_m3 = open.water_m3();
    let mut floods: Vec<(&Id, f64)> = clogged
        .vessels
        .iter()
        .filter_map(|one| Some((&one.id, one.lost_m3()?)))
        .filter(|(id, lost_m3)| {
            let vessel = layout.vessel(id);
            let before_m3 = open.vessels.iter().find(|one| one.id == **id);
            let before_m3 = before_m3.and_then(VesselReport::lost_m3);
            let can_spill = vessel.is_some_and(|vessel| vessel.rim_perimeter_m != Some(0.0));
            can_spill && before_m3.is_none() && !is_small_spill(*lost_m3, water_m3)
        })
        .collect();
    floods.sort_by(|a, b| b.1.total_cmp(&a.1));
    let (_, most_m3) = *floods.first()?;
    let mut text: Vec<Piece> = vec![
        "With the siphon break of ".into(),
        run.into(),
        " clogged, water is drawn back through it once stopped: ".into(),
    ];
    for (place, (id, lost_m3)) in floods.iter().enumerate() {
        if place > 0 {
            text.push(" and ".into());
        }
        text.extend([
            volume(*lost_m3),
            " run over the rim of ".into(),
            (*id).into(),
        ]);
    }
    text.push(".".into());
    let about = floods.iter().map(|(id, _)| (*id).clone());
    let found = Finding {
        code: Code::SpillsWhenBlocked,
        severity: Severity::Warning,
        state: State::Stopped,
        about: about.chain([run.clone()]).collect(),
        text: Sentence(text),
        measured: None,
        limit: None,
        quantity: Quantity::Volume,
        cures: Vec::new(),
    };
    Some(with_limit(found, Quantity::Volume, (most_m3, 0.0)))
}
