//! Looks at the open file now and then, by a thread of its own: nothing is drawn while nothing happens, and what
//! another program does to the file is to be seen all the same.

use super::file_on_disk::{ASKED_EVERY, stamp};
use super::job_slot::JobSlot;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::thread;

/// The session's end. Its thread begins with the first file.
pub(super) struct Watcher {
    slot: Arc<JobSlot<Option<PathBuf>>>,
    wake: Arc<dyn Fn() + Send + Sync>,
    watched: Option<PathBuf>,
    started: bool,
}

impl Watcher {
    /// `wake`: called when the file was written, made or taken away.
    pub(super) fn new(wake: Arc<dyn Fn() + Send + Sync>) -> Watcher {
        Watcher {
            slot: Arc::default(),
            wake,
            watched: None,
            started: false,
        }
    }

    /// Watches this file from now on, in place of any other. Cheap where it is the same.
    pub(super) fn watch(&mut self, path: Option<&Path>) {
        if self.watched.as_deref() == path {
            return;
        }
        self.watched = path.map(Path::to_path_buf);
        if !self.started {
            self.started = true;
            let (slot, wake) = (self.slot.clone(), self.wake.clone());
            let thread = thread::Builder::new().name("file watch".to_owned());
            // Without a thread it is seen at the next frame, as soon as somebody moves the mouse.
            drop(thread.spawn(move || serve(&slot, wake.as_ref())));
        }
        self.slot.put(self.watched.clone());
    }
}

impl Drop for Watcher {
    fn drop(&mut self) {
        self.slot.end();
    }
}

fn serve(slot: &JobSlot<Option<PathBuf>>, wake: &(dyn Fn() + Send + Sync)) {
    while let Some(path) = slot.next() {
        let Some(path) = path else {
            continue;
        };
        let mut seen = stamp(&path);
        while slot.may_go_on() {
            slot.rest(ASKED_EVERY);
            let now = stamp(&path);
            if now != seen {
                seen = now;
                // Whoever is woken is somebody else's code: its panic is its own affair.
                let _ = catch_unwind(AssertUnwindSafe(wake));
            }
        }
    }
}
