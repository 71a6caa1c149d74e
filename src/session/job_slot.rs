//! The job slot between the session and its worker thread: one job, the latest wins.

use std::sync::{Condvar, Mutex, MutexGuard, PoisonError};
use std::time::Duration;

/// The shared state of both ends.
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
    /// Number of threads that wait for the slot to become idle.
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
    /// Submits a job in place of any waiting one.
    pub(super) fn put(&self, job: J) {
        self.state().job = Some(job);
        self.changed.notify_all();
    }

    /// Withdraws a waiting job.
    pub(super) fn clear(&self) {
        self.state().job = None;
        self.changed.notify_all();
    }

    /// Closes the slot: the thread ends after its current job.
    pub(super) fn end(&self) {
        let mut state = self.state();
        state.ended = true;
        state.job = None;
        self.changed.notify_all();
    }

    /// Whether a job is waiting or running.
    pub(super) fn busy(&self) -> bool {
        self.state().busy()
    }

    /// Waits until the slot is idle.
    pub(super) fn wait(&self) {
        let mut state = self.state();
        state.waiting += 1;
        self.changed.notify_all();
        while state.busy() {
            state = self.changed(state);
        }
        state.waiting -= 1;
    }

    /// Waits for a job and takes it; none once the slot is closed.
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

    /// Waits for this long, or until the slot is closed, or until somebody waits for the job.
    pub(super) fn rest(&self, time: Duration) {
        let state = self.state();
        let resting = |state: &mut SlotState<J>| !state.ended && state.waiting == 0;
        // This thread only pauses, so it does not use the state that it wakes up to.
        drop(self.changed.wait_timeout_while(state, time, resting));
    }

    /// Marks the taken job as finished.
    pub(super) fn done(&self) {
        self.state().working = false;
        self.changed.notify_all();
    }

    /// Whether no newer job is waiting.
    pub(super) fn may_go_on(&self) -> bool {
        let state = self.state();
        !state.ended && state.job.is_none()
    }

    /// Locks the state. A poisoned lock is accepted: nothing under the lock can fail, so the data is valid.
    fn state(&self) -> MutexGuard<'_, SlotState<J>> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn changed<'d>(&'d self, state: MutexGuard<'d, SlotState<J>>) -> MutexGuard<'d, SlotState<J>> {
        let waited = self.changed.wait(state);
        waited.unwrap_or_else(PoisonError::into_inner)
    }
}
