//! Many cases of one layout, on all cores.
//!
//! Invariant: what comes out does not depend on how many cores there are or which was done first; knows no
//! window, no file and no sentence.

use crate::evaluate::{Failed, Ground, Stranded, worst_first};
use std::num::NonZero;
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;

/// Everything that may fail, failed in turn, worst first.
pub fn faults(ground: &Ground<'_>) -> Result<Vec<Failed>, Stranded> {
    let suspects = ground.suspects();
    let cases = each(&suspects, |suspect| ground.fail(suspect));
    let mut cases = cases
        .into_iter()
        .collect::<Result<Vec<Failed>, Stranded>>()?;
    worst_first(&mut cases);
    Ok(cases)
}

/// `work` done for every item, on all cores; the answers are in the order of the items.
pub fn each<T: Sync, R: Send>(items: &[T], work: impl Fn(&T) -> R + Sync) -> Vec<R> {
    let cores = thread::available_parallelism().map_or(1, NonZero::get);
    let next = AtomicUsize::new(0);
    let done: Mutex<Vec<(usize, R)>> = Mutex::new(Vec::with_capacity(items.len()));
    let turn = || {
        loop {
            let place = next.fetch_add(1, Ordering::Relaxed);
            let Some(item) = items.get(place) else { break };
            let answer = work(item);
            done.lock()
                .unwrap_or_else(|held| held.into_inner())
                .push((place, answer));
        }
    };
    thread::scope(|scope| {
        for _ in 1..cores.min(items.len()) {
            scope.spawn(turn);
        }
        turn();
    });
    let mut done = done.into_inner().unwrap_or_else(|held| held.into_inner());
    done.sort_by_key(|(place, _)| *place);
    done.into_iter().map(|(_, answer)| answer).collect()
}
