//! Pumps whose suction no water can reach.

use super::NO_FLOW_M3_S;
use super::{EndOfState, PumpsOnAndOff};
use crate::layout::{Direction, Id, Layout};
use crate::lower::Lowered;
use crate::network::{Check, Link, Supply, supply};

/// A pump without an open path to draw water from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ShutSuction {
    /// The pump.
    pub pump: Id,
    /// The shut runs upstream of it.
    pub shut: Vec<Id>,
}

/// The pumps that run and draw from joints without an open path to water, in the layout as drawn.
pub fn shut_suctions(layout: &Layout, built: &PumpsOnAndOff) -> Vec<ShutSuction> {
    let runs = layout.runs.iter().enumerate();
    let cut = runs.filter_map(|(place, run)| {
        let supply = before_pump(layout, &built.on, place)?;
        let links = built.on.origin.runs.iter();
        let named = links.zip(&layout.runs);
        let shut = named.filter(|(link, _)| supply.shut.contains(link));
        (!supply.comes && !supply.shut.is_empty()).then_some(ShutSuction {
            pump: run.pump.as_ref()?.id.clone(),
            shut: shut.map(|(_, run)| run.id.clone()).collect(),
        })
    });
    cut.collect()
}

/// The first pump that moved water in `running`, still runs, and now draws from a joint without an open path to
/// water.
pub(super) fn first_cut_off<'a>(
    layout: &'a Layout,
    now: &Lowered,
    running: &EndOfState,
) -> Option<&'a Id> {
    let runs = layout.runs.iter().enumerate();
    let mut cut = runs.filter_map(|(place, run)| {
        let &link = now.origin.runs.get(place)?;
        let moved = running.way.end.flow_m3_s.get(link)?.abs() >= NO_FLOW_M3_S;
        let supply = before_pump(layout, now, place).filter(|_| moved)?;
        (!supply.comes).then_some(&run.pump.as_ref()?.id)
    });
    cut.next()
}

/// The supply of the running pump in a run that is not shut itself; none without one. `place`: index of the run.
fn before_pump(layout: &Layout, now: &Lowered, place: usize) -> Option<Supply> {
    let pump = layout.runs.get(place)?.pump.as_ref()?;
    let facts = now.origin.run_facts.get(place)?;
    let &link = now.origin.runs.get(place)?;
    let (source, target) = now.network.edge_endpoints((link as u32).into())?;
    let from_source = (pump.pushes == Direction::Forward) != facts.reversed;
    let suction = if from_source { source } else { target };
    let runs = facts.pump_on && !is_shut(now, link);
    runs.then(|| supply(&now.network, suction.index(), link))
}

/// Whether a run passes water in neither direction.
pub(super) fn is_shut(lowered: &Lowered, link: usize) -> bool {
    let law = lowered.network.edge_weight((link as u32).into());
    matches!(law, Some(Link::Run(law)) if law.check == Check::Shut)
}
