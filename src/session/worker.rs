//! The thread that solves, one job at a time: always the newest one.

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

/// A job to solve.
pub(super) struct Job {
    pub layout: Arc<Layout>,
    /// Returned with every result.
    pub batch: u64,
    /// The layout is committed: search for cures too.
    pub committed: bool,
    /// Make a preview first.
    pub preview_first: bool,
    /// The known evaluation in all states: only cures are needed.
    pub evaluation: Option<Arc<Evaluation>>,
}

/// A result.
pub(super) struct News {
    pub layout: Arc<Layout>,
    pub batch: u64,
    pub committed: bool,
    pub what: What,
}

pub(super) enum What {
    /// The preview of the running state, and its duration.
    Preview(Option<Box<Previewed>>, Duration),
    Evaluated(Arc<Evaluation>),
    Cured(Arc<Evaluation>),
}

impl News {
    /// The duration of a preview.
    pub(super) fn preview_took(&self) -> Option<Duration> {
        match self.what {
            What::Preview(_, took) => Some(took),
            What::Evaluated(_) | What::Cured(_) => None,
        }
    }
}

/// The session's side, which submits jobs and takes results.
pub(super) struct Worker {
    desk: Arc<Desk<Job>>,
    news: Receiver<News>,
    /// Works directly, where no thread could be started.
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

    /// Submits a job in place of any waiting one.
    pub(super) fn ask(&self, job: Job) {
        match &self.instead {
            Some(clerk) => drop(clerk.work(&job, None)),
            None => self.desk.lay_down(job),
        }
    }

    /// Withdraws a waiting job.
    pub(super) fn forget(&self) {
        self.desk.clear();
    }

    /// All results since the last call.
    pub(super) fn news(&self) -> Vec<News> {
        self.news.try_iter().collect()
    }

    /// Whether something is being solved or waiting.
    pub(super) fn busy(&self) -> bool {
        self.desk.busy()
    }

    /// Waits until the thread is idle.
    pub(super) fn wait(&self) {
        self.desk.wait();
    }
}

/// Does not wait for the thread, which may be in the middle of a long solve.
impl Drop for Worker {
    fn drop(&mut self) {
        self.desk.end();
    }
}

/// The thread's side.
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
            // Once more, so that an “updating” display ends.
            self.wake();
        }
    }

    /// Runs a job. `last`: the last evaluation, updated by this call, so that a committed preview is not solved
    /// twice.
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

    /// Evaluates the most important states first, then all, unless `known`; the rest is skipped where a newer job is
    /// waiting.
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
        // The session may be gone, and then nobody needs the result.
        if self.sender.send(news).is_ok() {
            self.wake();
        }
    }

    /// The wake callback is foreign code: its panic must not end this thread.
    fn wake(&self) {
        let _ = catch_unwind(AssertUnwindSafe(|| (self.wake)()));
    }
}
