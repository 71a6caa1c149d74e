//! The thread that solves, one job at a time: always the newest one.

use super::job_slot::JobSlot;
use super::services::{FIRST, Services};
use crate::evaluate::{Evaluation, Previewed};
use crate::layout::Layout;
use crate::state::State;
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
pub(super) struct JobResult {
    pub layout: Arc<Layout>,
    pub batch: u64,
    pub committed: bool,
    pub what: JobOutput,
}

pub(super) enum JobOutput {
    /// The preview of the running state, and its duration.
    Preview(Option<Box<Previewed>>, Duration),
    Evaluated(Arc<Evaluation>),
    Cured(Arc<Evaluation>),
}

impl JobResult {
    /// The duration of a preview.
    pub(super) fn preview_took(&self) -> Option<Duration> {
        match self.what {
            JobOutput::Preview(_, took) => Some(took),
            JobOutput::Evaluated(_) | JobOutput::Cured(_) => None,
        }
    }
}

/// The session's side, which submits jobs and takes results.
pub(super) struct EvaluationQueue {
    slot: Arc<JobSlot<Job>>,
    results: Receiver<JobResult>,
    /// Works directly, where no thread could be started.
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

    /// Submits a job in place of any waiting one.
    pub(super) fn ask(&self, job: Job) {
        match &self.instead {
            Some(worker) => drop(worker.work(&job, None)),
            None => self.slot.put(job),
        }
    }

    /// Withdraws a waiting job.
    pub(super) fn forget(&self) {
        self.slot.clear();
    }

    /// All results since the last call.
    pub(super) fn results(&self) -> Vec<JobResult> {
        self.results.try_iter().collect()
    }

    /// Whether something is being solved or waiting.
    pub(super) fn busy(&self) -> bool {
        self.slot.busy()
    }

    /// Waits until the thread is idle.
    pub(super) fn wait(&self) {
        self.slot.wait();
    }
}

/// Does not wait for the thread, which may be in the middle of a long solve.
impl Drop for EvaluationQueue {
    fn drop(&mut self) {
        self.slot.end();
    }
}

/// The thread's side.
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
            // Once more, so that an “updating” display ends.
            self.wake();
        }
    }

    /// Runs a job. `last`: the last evaluation, updated by this call, so that a committed preview is not solved
    /// twice.
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

    /// Evaluates the most important states first, then all, unless `known`; the rest is skipped where a newer job is
    /// waiting.
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
        // The session may be gone, and then nobody needs the result.
        if self.sender.send(results).is_ok() {
            self.wake();
        }
    }

    /// The wake callback is foreign code: its panic must not end this thread.
    fn wake(&self) {
        let _ = catch_unwind(AssertUnwindSafe(|| (self.wake)()));
    }
}
