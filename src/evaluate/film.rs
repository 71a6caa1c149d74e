//! Interpolated series of a layout: what happens from second 0 on, at any moment.

use super::both;
use super::ground::{Ground, Stranded, stranded};
use crate::catalogue::Catalogue;
use crate::finding::State;
use crate::layout::{Id, Layout};
use crate::lower::{Age, Walls};
use crate::states::{self, Film, Turn};

/// What the series shows.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Watched {
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
pub fn film(
    layout: &Layout,
    catalogue: &Catalogue,
    watched: &Watched,
    go_on: &dyn Fn() -> bool,
) -> Result<Option<Film>, Stranded> {
    let turn = match watched {
        Watched::Starting => return start(layout, catalogue, Walls::AsBuilt).map(Some),
        Watched::Running => {
            let film = start(layout, catalogue, Walls::Tall)?;
            return Ok(film.round_of());
        }
        Watched::Stopped => Turn::Stop,
        Watched::Blocked(id) => match layout.runs.iter().position(|run| run.id == *id) {
            Some(run) => Turn::Block(run),
            None => return Ok(None),
        },
    };
    let ground = Ground::new(layout, catalogue)?;
    if !go_on() {
        return Ok(None);
    }
    ground.film(turn).map(Some)
}

/// A start needs no running state.
fn start(layout: &Layout, catalogue: &Catalogue, walls: Walls) -> Result<Film, Stranded> {
    let built = both(layout, catalogue, Walls::AsBuilt, Age::New);
    let rest = states::rest(layout, &built.off).map_err(|one| stranded(State::Rest, one))?;
    let walled = match walls {
        Walls::AsBuilt => built,
        Walls::Tall => both(layout, catalogue, Walls::Tall, Age::New),
    };
    let film = states::film(layout, &walled, &rest.reached, Turn::Start);
    film.map_err(|one| stranded(State::Starting, one))
}
