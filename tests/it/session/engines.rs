//! Services for tests: with all or no previews in the same call, and blocked by a gate until the test opens it.

use fallwright::layout::Layout;
use fallwright::session::Services;
use fallwright::state::State;
use std::sync::{Arc, Condvar, Mutex};
use std::time::Duration;

/// The house's own, with every preview made in the same call however slow the machine is.
pub fn patient() -> Services {
    Services {
        patience: Duration::MAX,
        ..Services::default()
    }
}

/// The house's own, with no preview made in the same call.
pub fn hasty() -> Services {
    Services {
        patience: Duration::ZERO,
        ..Services::default()
    }
}

/// Holds up a thread, and tells who came.
#[derive(Default)]
pub struct Gate {
    state: Mutex<GateState>,
    changed: Condvar,
}

#[derive(Default)]
struct GateState {
    open: bool,
    came: Vec<Layout>,
}

impl Gate {
    /// Waits at the gate until it is open.
    pub fn pass(&self, layout: &Layout) {
        let mut state = self.state.lock().unwrap();
        state.came.push(layout.clone());
        self.changed.notify_all();
        while !state.open {
            state = self.changed.wait(state).unwrap();
        }
    }

    /// Goes through with `go_on` asked all the time; whether it came through.
    pub fn pass_while(&self, layout: &Layout, go_on: &dyn Fn() -> bool) -> bool {
        let mut state = self.state.lock().unwrap();
        state.came.push(layout.clone());
        self.changed.notify_all();
        drop(state);
        loop {
            if self.state.lock().unwrap().open {
                return true;
            }
            if !go_on() {
                return false;
            }
            std::thread::yield_now();
        }
    }

    pub fn open(&self) {
        self.state.lock().unwrap().open = true;
        self.changed.notify_all();
    }

    pub fn shut(&self) {
        self.state.lock().unwrap().open = false;
    }

    /// Waits until so many have come.
    pub fn wait_for(&self, count: usize) {
        let mut state = self.state.lock().unwrap();
        while state.came.len() < count {
            state = self.changed.wait(state).unwrap();
        }
    }

    /// Everyone who came so far.
    pub fn came(&self) -> Vec<Layout> {
        self.state.lock().unwrap().came.clone()
    }
}

/// A patient engine that evaluates only behind a gate.
pub fn gated(gate: &Arc<Gate>) -> Services {
    let (gate, own) = (gate.clone(), patient());
    Services {
        evaluate: Arc::new(move |layout, states| {
            // Once for each layout: the other states follow those that are solved first.
            if states.len() < State::ALL.len() {
                gate.pass(layout);
            }
            (own.evaluate)(layout, states)
        }),
        ..patient()
    }
}

/// A patient engine that searches for cures only behind a gate.
pub fn gated_cures(gate: &Arc<Gate>) -> Services {
    let (gate, own) = (gate.clone(), patient());
    Services {
        cure: Arc::new(move |layout, evaluation, go_on| {
            gate.pass_while(layout, go_on).then_some(())?;
            (own.cure)(layout, evaluation, &|| true)
        }),
        ..patient()
    }
}
