//! Something that is asked of one layout and answered by a thread of its own, so that nobody waits for it: the
//! newest question, never one that was overtaken.

use super::job_slot::JobSlot;
use crate::layout::Layout;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::Arc;
use std::sync::mpsc::{Receiver, Sender, channel};
use std::thread;

/// A question about a layout.
struct Question<Q> {
    layout: Arc<Layout>,
    about: Q,
}

impl<Q: PartialEq> Question<Q> {
    fn is(&self, layout: &Arc<Layout>, about: &Q) -> bool {
        Arc::ptr_eq(&self.layout, layout) && self.about == *about
    }
}

/// Finds an answer, as long as it is told to go on.
type Answer<Q, A> = Box<dyn Fn(&Layout, &Q, &dyn Fn() -> bool) -> Option<A> + Send>;

/// Everything that goes with the thread.
struct QueryThread<Q, A> {
    slot: Arc<JobSlot<Question<Q>>>,
    answer: Answer<Q, A>,
    sender: Sender<(Question<Q>, Option<A>)>,
    wake: Arc<dyn Fn() + Send + Sync>,
}

/// The session's end.
pub(super) struct Query<Q, A> {
    slot: Arc<JobSlot<Question<Q>>>,
    results: Receiver<(Question<Q>, Option<A>)>,
    /// What was asked last, and the answer once there is one.
    asked: Option<Question<Q>>,
    found: Option<Option<A>>,
    /// The last answer there was, of whatever layout.
    last: Option<(Q, A)>,
}

impl<Q, A> Query<Q, A>
where
    Q: Clone + PartialEq + Send + 'static,
    A: Clone + Send + 'static,
{
    /// `name`: of its thread.
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
            // Without a thread there are no answers, and nobody may wait for one.
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

    /// Asks about something of a layout, unless that was the last that was asked.
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

    /// Nothing is asked any longer.
    pub(super) fn forget(&mut self) {
        if self.asked.take().is_some() {
            self.found = None;
            self.slot.clear();
        }
    }

    /// The answer to what was asked last, if that is of this layout and known.
    pub(super) fn found(&self, layout: &Arc<Layout>) -> Option<&A> {
        let asked = self.asked.as_ref()?;
        let of_this = Arc::ptr_eq(&asked.layout, layout);
        self.found.as_ref()?.as_ref().filter(|_| of_this)
    }

    /// The last answer to the question that was asked last, of that layout or one before it.
    pub(super) fn last(&self) -> Option<&A> {
        let asked = self.asked.as_ref()?;
        let (about, answer) = self.last.as_ref()?;
        (*about == asked.about).then_some(answer)
    }

    /// What came of what was asked last, if that is of this layout: an answer, or that there is none. None: not
    /// known yet.
    pub(super) fn answer(&self, layout: &Arc<Layout>) -> Option<Option<&A>> {
        let asked = self.asked.as_ref()?;
        let of_this = Arc::ptr_eq(&asked.layout, layout);
        self.found.as_ref().filter(|_| of_this).map(Option::as_ref)
    }

    /// Takes in what was found; true where it answers what was asked last.
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
    /// Waits until nothing is left to do.
    pub(super) fn wait(&self) {
        self.slot.wait();
    }

    /// Something is searched for.
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
            // Whoever made the answer counts its faults; here they answer nothing, and the session goes on.
            let found = catch_unwind(AssertUnwindSafe(|| {
                (self.answer)(&asked.layout, &asked.about, &go_on)
            }));
            let told = self.sender.send((asked, found.ok().flatten())).is_ok();
            self.slot.done();
            if told {
                // Whoever is woken is somebody else's code: its panic is its own affair.
                let _ = catch_unwind(AssertUnwindSafe(|| (self.wake)()));
            }
        }
    }
}
