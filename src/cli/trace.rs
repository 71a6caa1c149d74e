//! `trace`: levels and flows in time.

use super::args::Trace;
use super::words::TraceState;
use super::{Failure, Outcome, json, services, text};
use crate::evaluate::AsBuilt;
use crate::layout::{Id, Layout};
use crate::states::{Fault, InitialChange, SimulationResult};

/// A simulation with the change that started it.
pub struct TraceReport {
    /// The change at second 0, as a heading.
    pub heading: String,
    /// Note about primed runs, where those were asked for.
    pub primed: Option<&'static str>,
    /// The key of the state.
    pub state: &'static str,
    /// The run that was shut.
    pub block: Option<Id>,
    /// The simulation result.
    pub traced: SimulationResult,
}

/// Reads the layout, solves it, simulates and reports.
pub(super) fn trace(asked: &Trace) -> Outcome {
    match (simulated(asked), asked.json) {
        (Ok(out), _) => Outcome {
            out,
            ..Outcome::default()
        },
        (Err(failure), true) => Outcome::failed_json(&failure),
        (Err(failure), false) => Outcome::failed(&failure),
    }
}

fn simulated(asked: &Trace) -> Result<String, Failure> {
    if asked.block.is_some() && asked.state != TraceState::Blocked {
        let what = "--block goes with --state blocked";
        return Err(Failure::new(
            what,
            "Leave it out, or ask for --state blocked",
        ));
    }
    let mut layout = services::read(&asked.file)?;
    if let Some(units) = asked.units {
        layout.units = units.into();
    }
    let told = reported(asked, &layout).map_err(|failure| failure.in_file(&asked.file))?;
    Ok(match (asked.json, asked.csv) {
        (true, _) => json::print(&json::trace_json(&layout, &told)),
        (_, true) => text::trace_csv(&told.traced),
        _ => text::trace_text(&layout, &told),
    })
}

fn reported(asked: &Trace, layout: &Layout) -> Result<TraceReport, Failure> {
    // Looked up first, so that an unknown run is reported before anything is solved.
    let named = asked.block.as_deref().map(|id| run(layout, id));
    let named = named.transpose()?;
    let ground = services::as_built(layout)?;
    let (ground, note) = match asked.primed {
        true => primed(ground).map(|(ground, note)| (ground, Some(note)))?,
        false => (ground, None),
    };
    let (turn, block) = match asked.state {
        TraceState::Starting => (InitialChange::Start, None),
        TraceState::Stopped => (InitialChange::Stop, None),
        TraceState::Blocked => {
            let place = match named {
                Some(place) => place,
                None => worst(&ground)?,
            };
            (InitialChange::Block(place), layout.runs.get(place))
        }
    };
    let block = block.map(|run| run.id.clone());
    let traced = services::trace(&ground, turn, asked.until)?;
    Ok(TraceReport {
        heading: heading(layout, asked.state, block.as_ref()),
        primed: note,
        state: asked.state.word(),
        block,
        traced,
    })
}

/// The layout with every run primed that can be, and a note about it; the layout as it is where all of them are
/// already.
fn primed(ground: AsBuilt<'_>) -> Result<(AsBuilt<'_>, &'static str), Failure> {
    const BEGINS: &str = "Every run that can be primed begins full over its high point.";
    const AS_IT_IS: &str =
        "Running, every run that can be primed is so anyway: this is the main outcome.";
    if ground.is_primed() {
        return Ok((ground, AS_IT_IS));
    }
    let primed = ground.primed().map(|primed| (primed, BEGINS));
    primed.ok_or_else(|| {
        Failure::new(
            "no run of this layout can be primed",
            "Leave out --primed: only a run over a high point without a vent can run full there",
        )
    })
}

fn heading(layout: &Layout, state: TraceState, block: Option<&Id>) -> String {
    let pumps = layout.runs.iter().any(|run| run.pump.is_some());
    if state != TraceState::Blocked && !pumps {
        return "There is no pump to switch: it stays as at rest".to_owned();
    }
    let shut = block.map(|id| format!("{} shut", text::one_line(layout.name_of(id))));
    match (state, shut) {
        (TraceState::Starting, _) => "Starting: from rest, the pumps are switched on".to_owned(),
        (TraceState::Stopped, _) => "Stopped: from running, the pumps are switched off".to_owned(),
        (TraceState::Blocked, shut) => {
            format!("Blocked: from running, {}", shut.unwrap_or_default())
        }
    }
}

/// The index of a run; the error suggests the one that was probably meant.
fn run(layout: &Layout, id: &str) -> Result<usize, Failure> {
    let found = layout.runs.iter().position(|run| run.id.as_str() == id);
    found.ok_or_else(|| {
        let known: Vec<String> = layout.runs.iter().map(|run| run.id.to_string()).collect();
        let cure = match services::nearest(id, &known) {
            Some(near) => format!("Did you mean {near}?"),
            None => "Give the id of a run, as in the file".to_owned(),
        };
        let what = if is_part(layout, &Id::from(id)) {
            format!("the part {id} is no run, and only runs can be shut")
        } else {
            format!("there is no run with the id {id}")
        };
        Failure::new(what, cure)
    })
}

fn is_part(layout: &Layout, id: &Id) -> bool {
    let vessels = layout.vessels.iter().map(|part| &part.id);
    let joints = layout.joints.iter().map(|part| &part.id);
    let fixed = layout.fixed.iter().map(|part| &part.id);
    let pumps = layout.runs.iter().filter_map(|run| run.pump.as_ref());
    let pumps = pumps.map(|pump| &pump.id);
    vessels
        .chain(joints)
        .chain(fixed)
        .chain(pumps)
        .any(|part| part == id)
}

/// The index of the run that does most harm when shut.
fn worst(ground: &AsBuilt<'_>) -> Result<usize, Failure> {
    let cases = services::faults(ground)?;
    let worst = cases.iter().find(|case| case.fault == Fault::RunShut);
    let runs = &ground.layout().runs;
    let place = worst.and_then(|case| runs.iter().position(|run| run.id == case.part));
    place.ok_or_else(|| {
        Failure::new(
            "no run carries water, so there is none to block",
            "Name one with --block to shut it all the same",
        )
    })
}
