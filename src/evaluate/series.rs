//! Films of a layout: what happens from second 0 on, to be looked at at any moment.

use super::as_built::{AsBuilt, NotConverged, not_converged};
use super::both;
use crate::catalogue::Catalogue;
use crate::finding::State;
use crate::layout::{Id, Layout};
use crate::lower::{Age, Walls};
use crate::states::{self, InitialChange, InterpolatedSeries};

/// What can be watched.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Observed {
    /// The pumps start, from rest.
    Starting,
    /// The last round of a layout that runs in a cycle.
    Running,
    /// A run is shut while everything runs.
    Blocked(Id),
    /// The pumps stop.
    Stopped,
}

/// Films what is to be watched. None where `go_on` said no, where there is no such run, and where a layout that is
/// watched running comes to rest.
///
/// # Errors
/// A state on the way could not be solved.
pub fn series(
    layout: &Layout,
    catalogue: &Catalogue,
    watched: &Observed,
    go_on: &dyn Fn() -> bool,
) -> Result<Option<InterpolatedSeries>, NotConverged> {
    let turn = match watched {
        Observed::Starting => return start(layout, catalogue, Walls::AsBuilt).map(Some),
        Observed::Running => {
            let film = start(layout, catalogue, Walls::Tall)?;
            return Ok(film.round_of());
        }
        Observed::Stopped => InitialChange::Stop,
        Observed::Blocked(id) => match layout.runs.iter().position(|run| run.id == *id) {
            Some(run) => InitialChange::Block(run),
            None => return Ok(None),
        },
    };
    let as_built = AsBuilt::new(layout, catalogue)?;
    if !go_on() {
        return Ok(None);
    }
    as_built.series(turn).map(Some)
}

/// A start needs no running state.
fn start(
    layout: &Layout,
    catalogue: &Catalogue,
    walls: Walls,
) -> Result<InterpolatedSeries, NotConverged> {
    let built = both(layout, catalogue, Walls::AsBuilt, Age::New);
    let rest = states::rest(layout, &built.off).map_err(|one| not_converged(State::Rest, one))?;
    let walled = match walls {
        Walls::AsBuilt => built,
        Walls::Tall => both(layout, catalogue, Walls::Tall, Age::New),
    };
    let film = states::series(layout, &walled, &rest.reached, InitialChange::Start);
    film.map_err(|one| not_converged(State::Starting, one))
}
