//! A query about one layout, answered by a separate thread, so that the caller never waits. Only the newest query is
//! answered.

use super::job_slot::JobSlot;
use crate::layout::Layout;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::Arc;
use std::sync::mpsc::{Receiver, Sender, channel};
use std::thread;

/// A query about a layout.
struct Question<Q> {
    layout: Arc<Layout>,
    about: Q,
}

impl<Q: PartialEq> Question<Q> {
    fn is(&self, layout: &Arc<Layout>, about: &Q) -> bool {
        Arc::ptr_eq(&self.layout, layout) && self.about == *about
    }
}

/// Computes an answer, as long as the callback says to go on.
type Answer<Q, A> = Box<dyn Fn(&Layout, &Q, &dyn Fn() -> bool) -> Option<A> + Send>;

/// Everything sent to the thread.
struct QueryThread<Q, A> {
    slot: Arc<JobSlot<Question<Q>>>,
    answer: Answer<Q, A>,
    sender: Sender<(Question<Q>, Option<A>)>,
    wake: Arc<dyn Fn() + Send + Sync>,
}

/// The session's side.
pub(super) struct Query<Q, A> {
    slot: Arc<JobSlot<Question<Q>>>,
    results: Receiver<(Question<Q>, Option<A>)>,
    /// The last query, and its answer once known.
    asked: Option<Question<Q>>,
    found: Option<Option<A>>,
    /// The last answer, of any layout.
    last: Option<(Q, A)>,
}

impl<Q, A> Query<Q, A>
where
    Q: Clone + PartialEq + Send + 'static,
    A: Clone + Send + 'static,
{
    /// Starts the thread that answers, under this name.
    pub(super) fn new(
        name: &str,
        answer: Answer<Q, A>,
        wake: Arc<dyn Fn() + Send + Sync>,
    ) -> Query<Q, A> {
        let slot = Arc::new(JobSlot::default());
        let (sender, results) = channel();
        let worker = QueryThread {
            slot: slot.clone(),
            answer,
            sender,
            wake,
        };
        let thread = thread::Builder::new().name(name.to_owned());
        if thread.spawn(move || worker.serve()).is_err() {
            // Without a thread there are no answers, so nobody may wait for one.
            slot.end();
        }
        Query {
            slot,
            results,
            asked: None,
            found: None,
            last: None,
        }
    }

    /// Submits a query about a layout, unless it equals the last one.
    pub(super) fn ask(&mut self, layout: &Arc<Layout>, about: Q) {
        if self
            .asked
            .as_ref()
            .is_some_and(|asked| asked.is(layout, &about))
        {
            return;
        }
        let asked = || Question {
            layout: layout.clone(),
            about: about.clone(),
        };
        self.asked = Some(asked());
        self.found = None;
        self.slot.put(asked());
    }

    /// Withdraws the query.
    pub(super) fn forget(&mut self) {
        if self.asked.take().is_some() {
            self.found = None;
            self.slot.clear();
        }
    }

    /// The answer to the last query, if it belongs to this layout and is known.
    pub(super) fn found(&self, layout: &Arc<Layout>) -> Option<&A> {
        let asked = self.asked.as_ref()?;
        let of_this = Arc::ptr_eq(&asked.layout, layout);
        self.found.as_ref()?.as_ref().filter(|_| of_this)
    }

    /// The last answer to the current query, for this layout or an earlier one.
    pub(super) fn last(&self) -> Option<&A> {
        let asked = self.asked.as_ref()?;
        let (about, answer) = self.last.as_ref()?;
        (*about == asked.about).then_some(answer)
    }

    /// The result of the last query, if it belongs to this layout: an answer, or that there is none. None: not known
    /// yet.
    pub(super) fn answer(&self, layout: &Arc<Layout>) -> Option<Option<&A>> {
        let asked = self.asked.as_ref()?;
        let of_this = Arc::ptr_eq(&asked.layout, layout);
        self.found.as_ref().filter(|_| of_this).map(Option::as_ref)
    }

    /// Takes in answers; true where any arrived, or where the last query turned out to have none.
    pub(super) fn poll(&mut self) -> bool {
        let mut changed = false;
        for (answered, answer) in self.results.try_iter() {
            if let Some(answer) = &answer {
                changed = true;
                self.last = Some((answered.about.clone(), answer.clone()));
            }
            let wanted = self.asked.as_ref();
            if wanted.is_some_and(|one| one.is(&answered.layout, &answered.about)) {
                self.found = Some(answer);
                changed = true;
            }
        }
        changed
    }
}

impl<Q, A> Query<Q, A> {
    /// Waits until the thread is idle.
    pub(super) fn wait(&self) {
        self.slot.wait();
    }

    /// Whether a query is being answered.
    pub(super) fn busy(&self) -> bool {
        self.slot.busy()
    }
}

impl<Q, A> Drop for Query<Q, A> {
    fn drop(&mut self) {
        self.slot.end();
    }
}

impl<Q, A> QueryThread<Q, A> {
    fn serve(&self) {
        while let Some(asked) = self.slot.next() {
            let go_on = || self.slot.may_go_on();
            // The computation counts its own internal errors; here a panic means no answer, and the session goes on.
            let found = catch_unwind(AssertUnwindSafe(|| {
                (self.answer)(&asked.layout, &asked.about, &go_on)
            }));
            let reported = self.sender.send((asked, found.ok().flatten())).is_ok();
            self.slot.done();
            if reported {
                // The wake callback is foreign code: its panic must not end this thread.
                let _ = catch_unwind(AssertUnwindSafe(|| (self.wake)()));
            }
        }
    }
}
