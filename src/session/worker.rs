//! The thread that solves, one job at a time: the newest asked for, never one that was overtaken.

use super::job_slot::JobSlot;
use super::services::{FIRST, Services};
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
pub(super) struct JobResult {
    pub layout: Arc<Layout>,
    pub batch: u64,
    pub committed: bool,
    pub what: JobOutput,
}

pub(super) enum JobOutput {
    /// Running by a preview, and how long it took.
    Preview(Option<Box<Previewed>>, Duration),
    Evaluated(Arc<Evaluation>),
    Cured(Arc<Evaluation>),
}

impl JobResult {
    /// How long a preview took, where this is one.
    pub(super) fn preview_took(&self) -> Option<Duration> {
        match self.what {
            JobOutput::Preview(_, took) => Some(took),
            JobOutput::Evaluated(_) | JobOutput::Cured(_) => None,
        }
    }
}

/// The session's end: where jobs are laid down and results fetched.
pub(super) struct EvaluationQueue {
    slot: Arc<JobSlot<Job>>,
    results: Receiver<JobResult>,
    /// Works here and now, where no thread could be had.
    instead: Option<EvaluationThread>,
}

impl EvaluationQueue {
    pub(super) fn new(services: Services, wake: Arc<dyn Fn() + Send + Sync>) -> EvaluationQueue {
        let slot = Arc::new(JobSlot::default());
        let (sender, results) = channel();
        let worker = EvaluationThread {
            services,
            wake,
            slot: slot.clone(),
            sender,
        };
        let theirs = worker.clone();
        let thread = thread::Builder::new().name("evaluation".to_owned());
        let started = thread.spawn(move || theirs.serve());
        EvaluationQueue {
            slot,
            results,
            instead: started.err().map(|_| worker),
        }
    }

    /// Asks for a job, in place of any that waits.
    pub(super) fn ask(&self, job: Job) {
        match &self.instead {
            Some(worker) => drop(worker.work(&job, None)),
            None => self.slot.put(job),
        }
    }

    /// Takes a job back that waits.
    pub(super) fn forget(&self) {
        self.slot.clear();
    }

    /// Everything solved since the last call.
    pub(super) fn results(&self) -> Vec<JobResult> {
        self.results.try_iter().collect()
    }

    /// Something is being solved, or waits to be.
    pub(super) fn busy(&self) -> bool {
        self.slot.busy()
    }

    /// Waits until nothing is left to do.
    pub(super) fn wait(&self) {
        self.slot.wait();
    }
}

/// Nobody waits for the thread: it may be in the midst of a long solution.
impl Drop for EvaluationQueue {
    fn drop(&mut self) {
        self.slot.end();
    }
}

/// The thread's end.
#[derive(Clone)]
struct EvaluationThread {
    services: Services,
    wake: Arc<dyn Fn() + Send + Sync>,
    slot: Arc<JobSlot<Job>>,
    sender: Sender<JobResult>,
}

type Last = (Arc<Layout>, Arc<Evaluation>);

impl EvaluationThread {
    fn serve(&self) {
        let mut last: Option<Last> = None;
        while let Some(job) = self.slot.next() {
            last = self.work(&job, last);
            self.slot.done();
            // Once more, so that whoever shows that something is being solved sees the end of it.
            self.wake();
        }
    }

    /// Does a job. `last`: what was evaluated before, and gone over to what is now: a preview that is
    /// committed is not solved twice.
    fn work(&self, job: &Job, last: Option<Last>) -> Option<Last> {
        if job.preview_first {
            let (report, took) = self.services.timed_preview(&job.layout, None);
            self.send(job, JobOutput::Preview(report.map(Box::new), took));
            if !self.slot.may_go_on() {
                return last;
            }
        }
        let last = last.filter(|(layout, _)| Arc::ptr_eq(layout, &job.layout));
        let last = last.map(|(_, known)| known);
        if let (None, Some(known)) = (&job.evaluation, &last) {
            self.send(job, JobOutput::Evaluated(known.clone()));
        }
        let evaluation = self.evaluated(job, job.evaluation.clone().or(last));
        if job.committed && evaluation.is_whole() && self.slot.may_go_on() {
            let go_on = || self.slot.may_go_on();
            let cured = self.services.cured(&job.layout, &evaluation, &go_on);
            if let Some(cured) = cured {
                self.send(job, JobOutput::Cured(Arc::new(cured)));
            }
        }
        Some((job.layout.clone(), evaluation))
    }

    /// Evaluates in those states that are looked at most, then in all, as far as that is not `known`; the others
    /// are left out where something newer waits.
    fn evaluated(&self, job: &Job, known: Option<Arc<Evaluation>>) -> Arc<Evaluation> {
        let solved = |states: &[State]| {
            let solved = Arc::new(self.services.evaluation(&job.layout, states));
            self.send(job, JobOutput::Evaluated(solved.clone()));
            solved
        };
        let first = known.unwrap_or_else(|| solved(&FIRST));
        if first.is_whole() || !self.slot.may_go_on() {
            return first;
        }
        solved(&State::ALL)
    }

    fn send(&self, job: &Job, what: JobOutput) {
        let results = JobResult {
            layout: job.layout.clone(),
            batch: job.batch,
            committed: job.committed,
            what,
        };
        // Where the session is gone, nobody wants to know.
        if self.sender.send(results).is_ok() {
            self.wake();
        }
    }

    /// The one who is woken is somebody else's code: its panic is its own affair.
    fn wake(&self) {
        let _ = catch_unwind(AssertUnwindSafe(|| (self.wake)()));
    }
}
