//! The six states of a system: their names, keys and titles.
//!
//! Invariant: knows nothing else.

/// The six states of a system.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum State {
    /// Pumps off: simulated from the fill levels until the water is at rest.
    Rest,
    /// From rest with the pumps on, simulated until steady.
    Starting,
    /// The end of the starting simulation.
    Running,
    /// Running with film, rough walls, dirty filters, part-blinded screens.
    Fouled,
    /// From running, with one path shut suddenly.
    Blocked,
    /// From running with the pumps switched off, until the water is at rest.
    Stopped,
}

impl State {
    /// All six, in display order.
    pub const ALL: [State; 6] = [
        State::Rest,
        State::Starting,
        State::Running,
        State::Fouled,
        State::Blocked,
        State::Stopped,
    ];

    /// The key for scripts: lower case, one word.
    pub fn word(self) -> &'static str {
        match self {
            State::Rest => "rest",
            State::Starting => "starting",
            State::Running => "running",
            State::Fouled => "fouled",
            State::Blocked => "blocked",
            State::Stopped => "stopped",
        }
    }

    /// The title for people.
    pub fn title(self) -> &'static str {
        match self {
            State::Rest => "at rest",
            other => other.word(),
        }
    }
}
