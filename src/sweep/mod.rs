//! Parallel evaluation of many cases of one layout.
//!
//! Invariant: the results do not depend on the number of cores or on the order of completion; knows no
//! window, no file and no sentence.

use crate::evaluate::{AsBuilt, FailureCase, NotConverged, worst_first};
use crate::states::{self, Executor};
use std::num::NonZero;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;

/// The parallel executor: one thread per core.
#[derive(Clone, Copy, Debug, Default)]
pub struct Parallel {
    /// Number of cores left free; at least one is always used.
    pub spared: usize,
}

impl Executor for Parallel {
    fn share_out(&self, count: usize, work: &(dyn Fn(usize) + Sync)) {
        let cores = thread::available_parallelism().map_or(1, NonZero::get);
        let executor = cores.saturating_sub(self.spared).max(1);
        let next = AtomicUsize::new(0);
        let turn = || {
            loop {
                let place = next.fetch_add(1, Ordering::Relaxed);
                if place >= count {
                    break;
                }
                work(place);
            }
        };
        thread::scope(|scope| {
            for _ in 1..executor.min(count) {
                scope.spawn(turn);
            }
            turn();
        });
    }
}

/// Simulates every possible failure and returns the cases, worst first.
pub fn faults(as_built: &AsBuilt<'_>) -> Result<Vec<FailureCase>, NotConverged> {
    let suspects = as_built.suspects();
    let cases = each(&suspects, |suspect| as_built.fail(suspect));
    let mut cases = cases
        .into_iter()
        .collect::<Result<Vec<FailureCase>, NotConverged>>()?;
    worst_first(&mut cases);
    Ok(cases)
}

/// Applies `work` to every item, on all cores; the results are in the order of the items.
pub fn each<T: Sync, R: Send>(items: &[T], work: impl Fn(&T) -> R + Sync) -> Vec<R> {
    states::each(&Parallel::default(), items, work)
}
