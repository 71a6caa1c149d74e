//! Interpolated series of a layout: what happens from second 0 on, at any moment.

use super::as_built::{AsBuilt, NotConverged, not_converged};
use super::both;
use crate::catalogue::Catalogue;
use crate::layout::{Id, Layout};
use crate::lower::{Age, Walls};
use crate::state::State;
use crate::states::{self, InitialChange, InterpolatedSeries};

/// What the series shows.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Observed {
    /// The pumps start, from rest.
    Starting,
    /// The last period of a layout that runs in a limit cycle.
    Running,
    /// A run is shut while everything runs.
    Blocked(Id),
    /// The pumps stop.
    Stopped,
}

/// Simulates the chosen series. None where `go_on` returned false, where there is no such run, and where a running
/// layout reaches a steady state.
///
/// # Errors
/// A state on the way did not converge.
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
