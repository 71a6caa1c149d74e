//! Pumps to whose suction no water can come any more.

use super::Reached;
use super::runs::NO_FLOW_M3_S;
use crate::layout::{Direction, Id, Layout};
use crate::lower::Lowered;
use crate::network::{Check, Link, has_supply};

/// The first pump that moved water in `running`, runs on, and draws from a joint to which no open way leads as the
/// layout stands now.
pub(super) fn first_cut_off<'a>(
    layout: &'a Layout,
    now: &Lowered,
    running: &Reached,
) -> Option<&'a Id> {
    let runs = layout.runs.iter().enumerate();
    let mut cut = runs.filter_map(|(place, run)| {
        let pump = run.pump.as_ref()?;
        let facts = now.origin.run_facts.get(place)?;
        let &link = now.origin.runs.get(place)?;
        let moved = running.way.end.flow_m3_s.get(link)?.abs() >= NO_FLOW_M3_S;
        let (source, target) = now.network.edge_endpoints((link as u32).into())?;
        let from_source = (pump.pushes == Direction::Forward) != facts.reversed;
        let suction = if from_source { source } else { target };
        let runs_on = facts.pump_on && moved && !is_shut(now, link);
        (runs_on && !has_supply(&now.network, suction.index(), link)).then_some(&pump.id)
    });
    cut.next()
}

/// A run that lets water pass neither way.
pub(super) fn is_shut(lowered: &Lowered, link: usize) -> bool {
    let law = lowered.network.edge_weight((link as u32).into());
    matches!(law, Some(Link::Run(law)) if law.check == Check::Shut)
}
