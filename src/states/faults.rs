//! Single failures while everything runs.

use super::hybrid_system::{HybridSystem, set_check, stand_still};
use super::report::BlockedCase;
use super::{EndOfState, PumpsOnAndOff, StateNotConverged, blocked};
use crate::layout::{Id, Layout};
use crate::lower::Lowered;
use crate::network::{Check, Link, Node};

/// A failure mode.
///
/// A new one needs its variant, its word, its line in [`suspects`] and its change in [`broken`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Fault {
    /// A run is shut: clogged, or a valve closed by mistake.
    RunShut,
    /// A screen of a run is fully blinded.
    ScreenBlinded,
    /// A pump stops while all others continue; also: its float switch never turns it on.
    PumpStands,
    /// The float switch of a pump no longer turns it off.
    SwitchStaysOn,
    /// All pumps stop, and the check valve of a run stays open.
    CheckOpen,
    /// All pumps stop, and the siphon break hole of a run is clogged.
    BreakClogged,
    /// The float valve of a vessel stays open.
    ValveOpen,
    /// The float valve of a vessel stays shut.
    ValveShut,
}

impl Fault {
    /// Every failure mode, for completeness tests and the docs.
    pub const ALL: [Fault; 8] = [
        Fault::RunShut,
        Fault::ScreenBlinded,
        Fault::PumpStands,
        Fault::SwitchStaysOn,
        Fault::CheckOpen,
        Fault::BreakClogged,
        Fault::ValveOpen,
        Fault::ValveShut,
    ];

    /// The word for scripts.
    pub fn word(self) -> &'static str {
        match self {
            Fault::RunShut => "run-shut",
            Fault::ScreenBlinded => "screen-blinded",
            Fault::PumpStands => "pump-stands",
            Fault::SwitchStaysOn => "float-switch-stays-on",
            Fault::CheckOpen => "check-valve-stays-open",
            Fault::BreakClogged => "siphon-break-clogged",
            Fault::ValveOpen => "float-valve-stays-open",
            Fault::ValveShut => "float-valve-stays-shut",
        }
    }

    /// Whether the failed part belongs to a vessel; else to a run.
    fn is_of_vessel(self) -> bool {
        matches!(self, Fault::ValveOpen | Fault::ValveShut)
    }
}

/// A possible failure.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Suspect {
    /// The failure mode.
    pub fault: Fault,
    /// Index in the layout of its run; of its vessel, where a float valve fails.
    pub place: usize,
    /// The part that fails.
    pub part: Id,
}

/// All possible failures: by mode, then in the order of the layout.
///
/// Runs and screens count only where water flows in normal operation: the failure of a standby alone changes
/// nothing.
pub fn suspects(layout: &Layout, built: &PumpsOnAndOff, running: &EndOfState) -> Vec<Suspect> {
    let carrying = blocked::carrying(layout, built, running);
    let mut found = Vec::new();
    for fault in Fault::ALL {
        let count = if fault.is_of_vessel() {
            layout.vessels.len()
        } else {
            layout.runs.len()
        };
        let places = (0..count).filter(|&place| match fault {
            Fault::RunShut => carrying.binary_search(&place).is_ok(),
            Fault::ScreenBlinded => {
                carrying.binary_search(&place).is_ok() && has_screen(layout, place)
            }
            Fault::PumpStands => pumps(built, place),
            Fault::SwitchStaysOn => pumps(built, place) && has_switch(built, place),
            Fault::CheckOpen => holds_one_way(built, place),
            Fault::BreakClogged => has_break(built, place),
            Fault::ValveOpen | Fault::ValveShut => has_float_valve(layout, place),
        });
        found.extend(places.filter_map(|place| suspect(layout, fault, place)));
    }
    found
}

fn suspect(layout: &Layout, fault: Fault, place: usize) -> Option<Suspect> {
    let part = if fault.is_of_vessel() {
        &layout.vessels.get(place)?.id
    } else {
        let drawn = layout.runs.get(place)?;
        match (fault, &drawn.pump) {
            (Fault::PumpStands | Fault::SwitchStaysOn, Some(pump)) => &pump.id,
            _ => &drawn.id,
        }
    };
    Some(Suspect {
        fault,
        place,
        part: part.clone(),
    })
}

/// The outcome of a failure within a day. `built`: walls as built; for a clogged siphon break, lowered without its
/// hole.
pub fn fault_case(
    layout: &Layout,
    built: &PumpsOnAndOff,
    running: &EndOfState,
    suspect: &Suspect,
) -> Result<BlockedCase, StateNotConverged> {
    let failed = broken(built, suspect);
    let start = blocked::start_of(&failed.on, running);
    // The switches keep their modes, unless one of them has failed.
    let keeps = !matches!(
        suspect.fault,
        Fault::PumpStands | Fault::SwitchStaysOn | Fault::CheckOpen | Fault::BreakClogged
    );
    let modes = running.modes.as_deref().filter(|_| keeps);
    let hybrid = HybridSystem::new(layout, failed.on.clone(), failed.off)
        .primed(&running.primed)
        .with_water(running.way.water.clone());
    let (lowered, way) = blocked::simulated(&hybrid, &start, modes, blocked::DAY_S)?;
    let case = blocked::case(layout, &lowered, running, suspect.place, &way);
    Ok(BlockedCase {
        run: suspect.part.clone(),
        ..case
    })
}

/// The lowered layout with that part failed.
fn broken(built: &PumpsOnAndOff, suspect: &Suspect) -> PumpsOnAndOff {
    let mut failed = built.clone();
    match suspect.fault {
        Fault::RunShut | Fault::ScreenBlinded => {
            set_check(&mut failed.on, suspect.place, Check::Shut);
            set_check(&mut failed.off, suspect.place, Check::Shut);
        }
        Fault::PumpStands => stand_still(&mut failed.on, &failed.off, suspect.place),
        Fault::SwitchStaysOn => {
            if let Some(facts) = failed.on.origin.run_facts.get_mut(suspect.place) {
                facts.float = None;
            }
        }
        Fault::CheckOpen => {
            failed.on = failed.off.clone();
            set_check(&mut failed.on, suspect.place, Check::None);
            set_check(&mut failed.off, suspect.place, Check::None);
        }
        Fault::BreakClogged => failed.on = failed.off.clone(),
        Fault::ValveOpen | Fault::ValveShut => {
            for lowered in [&mut failed.on, &mut failed.off] {
                stick(lowered, suspect.place, suspect.fault);
            }
        }
    }
    failed
}

/// Makes the float valve of a vessel pass its maximum, or nothing, at every level.
fn stick(lowered: &mut Lowered, place: usize, fault: Fault) {
    let node = lowered.origin.vessels.get(place).copied();
    let node = node.map(|node| (node as u32).into());
    let node = node.and_then(|node| lowered.network.node_weight_mut(node));
    if let Some(Node::Vessel { source, .. }) = node
        && let Some(float) = source.float.take()
        && fault == Fault::ValveOpen
    {
        source.constant_m3_s += float.flow_m3_s;
    }
}

fn pumps(built: &PumpsOnAndOff, run: usize) -> bool {
    let facts = built.on.origin.run_facts.get(run);
    facts.is_some_and(|facts| facts.pump_on)
}

fn has_switch(built: &PumpsOnAndOff, run: usize) -> bool {
    let facts = built.on.origin.run_facts.get(run);
    facts.is_some_and(|facts| facts.float.is_some())
}

/// Whether a siphon break works: a hole already closed by film does not.
fn has_break(built: &PumpsOnAndOff, run: usize) -> bool {
    let facts = built.off.origin.run_facts.get(run);
    let hole = facts.and_then(|facts| facts.siphon_break);
    hole.is_some_and(|hole| !hole.grown_over)
}

fn has_screen(layout: &Layout, run: usize) -> bool {
    let run = layout.runs.get(run);
    run.is_some_and(|run| run.from.screen.is_some() || run.to.screen.is_some())
}

fn has_float_valve(layout: &Layout, vessel: usize) -> bool {
    let vessel = layout.vessels.get(vessel);
    vessel.is_some_and(|vessel| vessel.float_valve.is_some())
}

fn holds_one_way(built: &PumpsOnAndOff, run: usize) -> bool {
    let link = built.off.origin.runs.get(run).copied();
    let law = link.and_then(|link| built.off.network.edge_weight((link as u32).into()));
    match law {
        Some(Link::Run(law)) => matches!(law.check, Check::ForwardOnly | Check::BackwardOnly),
        _ => false,
    }
}
