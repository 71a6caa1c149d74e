//! Many cases of one layout, by as many hands as there are.
//!
//! What is solved knows no thread: it is given hands, and what comes out does not depend on how many they are.

use std::sync::{Mutex, PoisonError};

/// Hands that share work out.
pub trait Executor: Sync {
    /// Does `work` once for every number below `count`, in any order; returns when all of it is done.
    fn share_out(&self, count: usize, work: &(dyn Fn(usize) + Sync));
}

/// Does one after the other, on the thread that asks.
#[derive(Clone, Copy, Debug)]
pub struct Sequential;

impl Executor for Sequential {
    fn share_out(&self, count: usize, work: &(dyn Fn(usize) + Sync)) {
        (0..count).for_each(work);
    }
}

/// `work` done for every item; the answers are in the order of the items.
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
