//! What can fail while everything runs, one thing at a time.

use super::plant::Plant;
use super::report::BlockedCase;
use super::{Both, Reached, Unsolved, blocked, start_at};
use crate::layout::{Id, Layout};
use crate::network::{Check, Link};
use crate::solve::System;

/// A way to fail.
///
/// A new one needs its variant, its word, its line in [`suspects`] and its change in [`broken`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Fault {
    /// A run is shut: clogged, or a valve closed by mistake.
    RunShut,
    /// A pump stands still while all others go on.
    PumpStands,
    /// All pumps stop, and the check valve of a run stays open.
    CheckOpen,
}

impl Fault {
    /// Every way, for completeness tests and the docs.
    pub const ALL: [Fault; 3] = [Fault::RunShut, Fault::PumpStands, Fault::CheckOpen];

    /// The word for scripts.
    pub fn word(self) -> &'static str {
        match self {
            Fault::RunShut => "run-shut",
            Fault::PumpStands => "pump-stands",
            Fault::CheckOpen => "check-valve-open",
        }
    }
}

/// Something that may fail.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Suspect {
    /// How.
    pub fault: Fault,
    /// Place of its run in the layout.
    pub run: usize,
    /// The part that fails.
    pub part: Id,
}

/// Everything that may fail: each run that carries water, each pump, each check valve that is not before a
/// pump that never runs; in the order of the layout, by kind.
pub fn suspects(layout: &Layout, built: &Both, running: &Reached) -> Vec<Suspect> {
    let suspect = |fault: Fault, run: usize| {
        let drawn = layout.runs.get(run)?;
        let part = match (fault, &drawn.pump) {
            (Fault::PumpStands, Some(pump)) => &pump.id,
            _ => &drawn.id,
        };
        Some(Suspect {
            fault,
            run,
            part: part.clone(),
        })
    };
    let runs = blocked::carrying(layout, built, running);
    let pumps = (0..layout.runs.len()).filter(|&run| pumps(built, run));
    let checks = (0..layout.runs.len()).filter(|&run| holds_one_way(built, run));
    let shut = runs.into_iter().map(|run| (Fault::RunShut, run));
    let stand = pumps.map(|run| (Fault::PumpStands, run));
    let open = checks.map(|run| (Fault::CheckOpen, run));
    let all = shut.chain(stand).chain(open);
    all.filter_map(|(fault, run)| suspect(fault, run)).collect()
}

/// What comes of it within a day.
pub fn fault_case(
    layout: &Layout,
    built: &Both,
    running: &Reached,
    suspect: &Suspect,
) -> Result<BlockedCase, Unsolved> {
    let failed = broken(built, suspect);
    let start = start_at(
        &failed.on,
        &System::new(&failed.on.network),
        &running.levels_m,
    );
    let plant = Plant::new(layout, failed.on, failed.off);
    // Where a pump is out, the switches are not those that ran.
    let as_it_ran = suspect.fault == Fault::RunShut;
    let modes = running.modes.as_deref().filter(|_| as_it_ran);
    let (lowered, way) = blocked::followed(&plant, &start, modes, blocked::DAY_S)?;
    Ok(blocked::case(layout, &lowered, running, suspect.run, &way))
}

/// The layout with that part failed.
fn broken(built: &Both, suspect: &Suspect) -> Both {
    let mut failed = built.clone();
    match suspect.fault {
        Fault::RunShut => {
            set_check(&mut failed, suspect.run, Check::Shut);
        }
        Fault::PumpStands => take_over(&mut failed, suspect.run),
        Fault::CheckOpen => {
            failed.on = failed.off.clone();
            set_check(&mut failed, suspect.run, Check::None);
        }
    }
    failed
}

fn set_check(both: &mut Both, run: usize, check: Check) {
    for lowered in [&mut both.on, &mut both.off] {
        let link = lowered.origin.runs.get(run).copied();
        let edge = link.map(|link| (link as u32).into());
        let law = edge.and_then(|edge| lowered.network.edge_weight_mut(edge));
        if let Some(Link::Run(law)) = law {
            law.check = check;
        }
    }
}

/// The run as it is with its pump off, also where the others are on.
fn take_over(both: &mut Both, run: usize) {
    let Some(&link) = both.on.origin.runs.get(run) else {
        return;
    };
    let edge = (link as u32).into();
    if let (Some(law), Some(stands)) = (
        both.on.network.edge_weight_mut(edge),
        both.off.network.edge_weight(edge),
    ) {
        law.clone_from(stands);
    }
    if let (Some(facts), Some(stands)) = (
        both.on.origin.run_facts.get_mut(run),
        both.off.origin.run_facts.get(run),
    ) {
        facts.clone_from(stands);
    }
}

fn pumps(built: &Both, run: usize) -> bool {
    let facts = built.on.origin.run_facts.get(run);
    facts.is_some_and(|facts| facts.pump_on)
}

fn holds_one_way(built: &Both, run: usize) -> bool {
    let link = built.off.origin.runs.get(run).copied();
    let law = link.and_then(|link| built.off.network.edge_weight((link as u32).into()));
    match law {
        Some(Link::Run(law)) => matches!(law.check, Check::ForwardOnly | Check::BackwardOnly),
        _ => false,
    }
}
