//! How high a crest may be set: searched for by a thread of its own, so that a drag does not wait for it.
//!
//! A band does not depend on where its crest is, so it stays good while the crest is dragged.

use super::desk::Desk;
use super::engine::Engine;
use crate::advise::Band;
use crate::layout::{Id, Layout, RunEnd};
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::Arc;
use std::sync::mpsc::{Receiver, Sender, channel};
use std::thread;

/// The crest of a layout whose band is asked for.
#[derive(Clone)]
pub(super) struct Asked {
    layout: Arc<Layout>,
    run: Id,
    end: RunEnd,
}

impl Asked {
    fn is(&self, layout: &Arc<Layout>, run: &Id, end: RunEnd) -> bool {
        Arc::ptr_eq(&self.layout, layout) && self.run == *run && self.end == end
    }
}

/// The session's end.
pub(super) struct Bands {
    desk: Arc<Desk<Asked>>,
    news: Receiver<(Asked, Option<Band>)>,
    /// What was asked for last, and the answer once there is one.
    asked: Option<Asked>,
    found: Option<Option<Band>>,
}

impl Bands {
    pub(super) fn new(engine: Engine, wake: Arc<dyn Fn() + Send + Sync>) -> Bands {
        let desk = Arc::new(Desk::default());
        let (sender, news) = channel();
        let theirs = desk.clone();
        let thread = thread::Builder::new().name("bands".to_owned());
        let started = thread.spawn(move || serve(&theirs, &engine, &sender, &*wake));
        if started.is_err() {
            // Without a thread there are no bands, and nobody may wait for one.
            desk.end();
        }
        Bands {
            desk,
            news,
            asked: None,
            found: None,
        }
    }

    /// Asks for the band of a crest of a layout, unless that was the last that was asked for.
    pub(super) fn ask(&mut self, layout: &Arc<Layout>, run: &Id, end: RunEnd) {
        let known = self.asked.as_ref();
        if known.is_some_and(|asked| asked.is(layout, run, end)) {
            return;
        }
        let asked = Asked {
            layout: layout.clone(),
            run: run.clone(),
            end,
        };
        self.asked = Some(asked.clone());
        self.found = None;
        self.desk.lay_down(asked);
    }

    /// Nothing is asked for any longer.
    pub(super) fn forget(&mut self) {
        if self.asked.take().is_some() {
            self.found = None;
            self.desk.clear();
        }
    }

    /// The band that was asked for last, if it is of this layout and known.
    pub(super) fn found(&self, layout: &Arc<Layout>) -> Option<&Band> {
        let asked = self.asked.as_ref()?;
        let of_this = Arc::ptr_eq(&asked.layout, layout);
        self.found.as_ref()?.as_ref().filter(|_| of_this)
    }

    /// Takes in what was found; true where it is what was asked for last.
    pub(super) fn poll(&mut self) -> bool {
        let mut changed = false;
        for (asked, band) in self.news.try_iter() {
            let wanted = self.asked.as_ref();
            if wanted.is_some_and(|one| one.is(&asked.layout, &asked.run, asked.end)) {
                self.found = Some(band);
                changed = true;
            }
        }
        changed
    }

    /// Waits until nothing is left to do.
    pub(super) fn wait(&self) {
        self.desk.wait();
    }

    /// Something is searched for.
    pub(super) fn busy(&self) -> bool {
        self.desk.busy()
    }
}

impl Drop for Bands {
    fn drop(&mut self) {
        self.desk.end();
    }
}

fn serve(
    desk: &Desk<Asked>,
    engine: &Engine,
    sender: &Sender<(Asked, Option<Band>)>,
    wake: &(dyn Fn() + Send + Sync),
) {
    while let Some(asked) = desk.next() {
        let go_on = || desk.may_go_on();
        let band = engine.band_of(&asked.layout, (&asked.run, asked.end), &go_on);
        let told = sender.send((asked, band)).is_ok();
        desk.done();
        if told {
            // Whoever is woken is somebody else's code: its panic is its own affair.
            let _ = catch_unwind(AssertUnwindSafe(wake));
        }
    }
}
