//! The thread that solves, one job at a time: the newest asked for, never one that was overtaken.

use super::desk::Desk;
use super::engine::{Engine, FIRST};
use crate::evaluate::{Evaluation, Previewed};
use crate::finding::State;
use crate::layout::Layout;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::Arc;
use std::sync::mpsc::{Receiver, Sender, channel};
use std::thread;
use std::time::Duration;

/// Something to solve.
pub(super) struct Job {
    pub layout: Arc<Layout>,
    /// Goes back with every result.
    pub batch: u64,
    /// It is committed: cures are searched for.
    pub committed: bool,
    /// A preview is wanted before all else.
    pub preview_first: bool,
    /// It is evaluated already, in all states: only cures are wanted.
    pub evaluation: Option<Arc<Evaluation>>,
}

/// Something solved.
pub(super) struct News {
    pub layout: Arc<Layout>,
    pub batch: u64,
    pub committed: bool,
    pub what: What,
}

pub(super) enum What {
    /// Running by a preview, and how long it took.
    Preview(Option<Box<Previewed>>, Duration),
    Evaluated(Arc<Evaluation>),
    Cured(Arc<Evaluation>),
}

impl News {
    /// How long a preview took, where this is one.
    pub(super) fn preview_took(&self) -> Option<Duration> {
        match self.what {
            What::Preview(_, took) => Some(took),
            What::Evaluated(_) | What::Cured(_) => None,
        }
    }
}

/// The session's end: where jobs are laid down and results fetched.
pub(super) struct Worker {
    desk: Arc<Desk<Job>>,
    news: Receiver<News>,
    /// Works here and now, where no thread could be had.
    instead: Option<Clerk>,
}

impl Worker {
    pub(super) fn new(engine: Engine, wake: Arc<dyn Fn() + Send + Sync>) -> Worker {
        let desk = Arc::new(Desk::default());
        let (sender, news) = channel();
        let clerk = Clerk {
            engine,
            wake,
            desk: desk.clone(),
            sender,
        };
        let theirs = clerk.clone();
        let thread = thread::Builder::new().name("evaluation".to_owned());
        let started = thread.spawn(move || theirs.serve());
        Worker {
            desk,
            news,
            instead: started.err().map(|_| clerk),
        }
    }

    /// Asks for a job, in place of any that waits.
    pub(super) fn ask(&self, job: Job) {
        match &self.instead {
            Some(clerk) => drop(clerk.work(&job, None)),
            None => self.desk.lay_down(job),
        }
    }

    /// Takes a job back that waits.
    pub(super) fn forget(&self) {
        self.desk.clear();
    }

    /// Everything solved since the last call.
    pub(super) fn news(&self) -> Vec<News> {
        self.news.try_iter().collect()
    }

    /// Something is being solved, or waits to be.
    pub(super) fn busy(&self) -> bool {
        self.desk.busy()
    }

    /// Waits until nothing is left to do.
    pub(super) fn wait(&self) {
        self.desk.wait();
    }
}

/// Nobody waits for the thread: it may be in the midst of a long solution.
impl Drop for Worker {
    fn drop(&mut self) {
        self.desk.end();
    }
}

/// The thread's end.
#[derive(Clone)]
struct Clerk {
    engine: Engine,
    wake: Arc<dyn Fn() + Send + Sync>,
    desk: Arc<Desk<Job>>,
    sender: Sender<News>,
}

type Last = (Arc<Layout>, Arc<Evaluation>);

impl Clerk {
    fn serve(&self) {
        let mut last: Option<Last> = None;
        while let Some(job) = self.desk.next() {
            last = self.work(&job, last);
            self.desk.done();
            // Once more, so that whoever shows that something is being solved sees the end of it.
            self.wake();
        }
    }

    /// Does a job. `last`: what was evaluated before, and gone over to what is now: a preview that is
    /// committed is not solved twice.
    fn work(&self, job: &Job, last: Option<Last>) -> Option<Last> {
        if job.preview_first {
            let (report, took) = self.engine.timed_preview(&job.layout, None);
            self.tell(job, What::Preview(report.map(Box::new), took));
            if !self.desk.may_go_on() {
                return last;
            }
        }
        let last = last.filter(|(layout, _)| Arc::ptr_eq(layout, &job.layout));
        let last = last.map(|(_, known)| known);
        if let (None, Some(known)) = (&job.evaluation, &last) {
            self.tell(job, What::Evaluated(known.clone()));
        }
        let evaluation = self.evaluated(job, job.evaluation.clone().or(last));
        if job.committed && evaluation.is_whole() && self.desk.may_go_on() {
            let go_on = || self.desk.may_go_on();
            let cured = self.engine.cured(&job.layout, &evaluation, &go_on);
            if let Some(cured) = cured {
                self.tell(job, What::Cured(Arc::new(cured)));
            }
        }
        Some((job.layout.clone(), evaluation))
    }

    /// Evaluates in those states that are looked at most, then in all, as far as that is not `known`; the others
    /// are left out where something newer waits.
    fn evaluated(&self, job: &Job, known: Option<Arc<Evaluation>>) -> Arc<Evaluation> {
        let solved = |states: &[State]| {
            let solved = Arc::new(self.engine.evaluation(&job.layout, states));
            self.tell(job, What::Evaluated(solved.clone()));
            solved
        };
        let first = known.unwrap_or_else(|| solved(&FIRST));
        if first.is_whole() || !self.desk.may_go_on() {
            return first;
        }
        solved(&State::ALL)
    }

    fn tell(&self, job: &Job, what: What) {
        let news = News {
            layout: job.layout.clone(),
            batch: job.batch,
            committed: job.committed,
            what,
        };
        // Where the session is gone, nobody wants to know.
        if self.sender.send(news).is_ok() {
            self.wake();
        }
    }

    /// The one who is woken is somebody else's code: its panic is its own affair.
    fn wake(&self) {
        let _ = catch_unwind(AssertUnwindSafe(|| (self.wake)()));
    }
}
