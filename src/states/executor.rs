//! Executor: runs many cases of one layout, sequentially or in parallel.
//!
//! The solver knows no threads: it is given an executor, and its results do not depend on the number of threads.

use std::sync::{Mutex, PoisonError};

/// An executor that distributes work.
pub trait Executor: Sync {
    /// Calls `work` once for every index below `count`, in any order; returns when all calls are done.
    fn share_out(&self, count: usize, work: &(dyn Fn(usize) + Sync));
}

/// The sequential executor: one after the other, on the calling thread.
#[derive(Clone, Copy, Debug)]
pub struct Sequential;

impl Executor for Sequential {
    fn share_out(&self, count: usize, work: &(dyn Fn(usize) + Sync)) {
        (0..count).for_each(work);
    }
}

/// Applies `work` to every item; the results are in the order of the items.
pub fn each<T: Sync, R: Send>(
    executor: &dyn Executor,
    items: &[T],
    work: impl Fn(&T) -> R + Sync,
) -> Vec<R> {
    let answers: Vec<Mutex<Option<R>>> = items.iter().map(|_| Mutex::new(None)).collect();
    executor.share_out(items.len(), &|place| {
        if let (Some(item), Some(answer)) = (items.get(place), answers.get(place)) {
            *answer.lock().unwrap_or_else(PoisonError::into_inner) = Some(work(item));
        }
    });
    let answers = answers.into_iter();
    answers
        .filter_map(|answer| answer.into_inner().unwrap_or_else(PoisonError::into_inner))
        .collect()
}
