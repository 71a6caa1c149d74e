//! Where the session lays its jobs down and the thread picks them up: one at a time, the newest.

use std::sync::{Condvar, Mutex, MutexGuard, PoisonError};
use std::time::Duration;

/// Where both ends meet.
pub(super) struct JobSlot<J> {
    state: Mutex<SlotState<J>>,
    changed: Condvar,
}

impl<J> Default for JobSlot<J> {
    fn default() -> Self {
        JobSlot {
            state: Mutex::default(),
            changed: Condvar::default(),
        }
    }
}

struct SlotState<J> {
    job: Option<J>,
    working: bool,
    /// So many wait for the end of it.
    waiting: usize,
    ended: bool,
}

impl<J> Default for SlotState<J> {
    fn default() -> Self {
        SlotState {
            job: None,
            working: false,
            waiting: 0,
            ended: false,
        }
    }
}

impl<J> SlotState<J> {
    fn busy(&self) -> bool {
        self.working || self.job.is_some()
    }
}

impl<J> JobSlot<J> {
    /// Lays a job down, in place of any that waits.
    pub(super) fn put(&self, job: J) {
        self.state().job = Some(job);
        self.changed.notify_all();
    }

    /// Takes back a job that waits.
    pub(super) fn clear(&self) {
        self.state().job = None;
        self.changed.notify_all();
    }

    /// No more jobs: the thread ends by itself, after what it is at.
    pub(super) fn end(&self) {
        let mut state = self.state();
        state.ended = true;
        state.job = None;
        self.changed.notify_all();
    }

    /// A job waits or is being done.
    pub(super) fn busy(&self) -> bool {
        self.state().busy()
    }

    /// Waits until nothing is left to do.
    pub(super) fn wait(&self) {
        let mut state = self.state();
        state.waiting += 1;
        self.changed.notify_all();
        while state.busy() {
            state = self.changed(state);
        }
        state.waiting -= 1;
    }

    /// Waits for a job and picks it up; none at the end.
    pub(super) fn next(&self) -> Option<J> {
        let mut state = self.state();
        while !state.ended {
            if let Some(job) = state.job.take() {
                state.working = true;
                return Some(job);
            }
            state = self.changed(state);
        }
        None
    }

    /// Waits for so long, or until the end, or until somebody waits for what is to be done.
    pub(super) fn rest(&self, time: Duration) {
        let state = self.state();
        let resting = |state: &mut SlotState<J>| !state.ended && state.waiting == 0;
        // Whoever rests needs to know nothing of what has changed.
        drop(self.changed.wait_timeout_while(state, time, resting));
    }

    /// The job that was picked up is done.
    pub(super) fn done(&self) {
        self.state().working = false;
        self.changed.notify_all();
    }

    /// Nothing newer waits.
    pub(super) fn may_go_on(&self) -> bool {
        let state = self.state();
        !state.ended && state.job.is_none()
    }

    /// A panic elsewhere leaves it whole: nothing that can fail is done while it is held.
    fn state(&self) -> MutexGuard<'_, SlotState<J>> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn changed<'d>(&'d self, state: MutexGuard<'d, SlotState<J>>) -> MutexGuard<'d, SlotState<J>> {
        let waited = self.changed.wait(state);
        waited.unwrap_or_else(PoisonError::into_inner)
    }
}
