//! Looks at the open file now and then, by a thread of its own: nothing is drawn while nothing happens, and what
//! another program does to the file is to be seen all the same.

use super::desk::Desk;
use super::outside::{ASKED_EVERY, stamp};
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::thread;

/// The session's end. Its thread begins with the first file.
pub(super) struct Watcher {
    desk: Arc<Desk<Option<PathBuf>>>,
    wake: Arc<dyn Fn() + Send + Sync>,
    watched: Option<PathBuf>,
    started: bool,
}

impl Watcher {
    /// `wake`: called when the file was written, made or taken away.
    pub(super) fn new(wake: Arc<dyn Fn() + Send + Sync>) -> Watcher {
        Watcher {
            desk: Arc::default(),
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
            let (desk, wake) = (self.desk.clone(), self.wake.clone());
            let thread = thread::Builder::new().name("file watch".to_owned());
            // Without a thread it is seen at the next frame, as soon as somebody moves the mouse.
            drop(thread.spawn(move || serve(&desk, wake.as_ref())));
        }
        self.desk.lay_down(self.watched.clone());
    }
}

impl Drop for Watcher {
    fn drop(&mut self) {
        self.desk.end();
    }
}

fn serve(desk: &Desk<Option<PathBuf>>, wake: &(dyn Fn() + Send + Sync)) {
    while let Some(path) = desk.next() {
        let Some(path) = path else {
            continue;
        };
        let mut seen = stamp(&path);
        while desk.may_go_on() {
            desk.rest(ASKED_EVERY);
            let now = stamp(&path);
            if now != seen {
                seen = now;
                // Whoever is woken is somebody else's code: its panic is its own affair.
                let _ = catch_unwind(AssertUnwindSafe(wake));
            }
        }
    }
}
