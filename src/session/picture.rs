//! The picture of the site: read behind, and again whenever its file has changed.

use super::Session;
use super::file_on_disk::{Stamp, stamp};
use crate::file::{FileError, Raster, read_picture};
use crate::layout::Layout;
use std::path::{Component, Path, PathBuf};
use std::sync::Arc;
use std::sync::mpsc::{Receiver, TryRecvError, channel};
use std::thread;
use std::time::{Duration, Instant};

/// Most dots a side that are kept: what a display can show, and any graphics card can take.
pub const MOST_SIDE: usize = 4096;

/// How often it is asked whether the file has changed.
const ASKED_EVERY: Duration = Duration::from_secs(1);

/// How many folders up a picture may lie to be called from the file of its layout.
const MOST_UP: usize = 3;

/// A picture that was read.
#[derive(Clone, Debug, PartialEq)]
pub struct SitePicture {
    /// Its dots, made fewer where it had more than [`MOST_SIDE`] a side.
    pub raster: Arc<Raster>,
    /// How many dots wide it is in its file: what a scale is about.
    pub width: usize,
    /// How many dots high.
    pub height: usize,
}

/// What is known of the picture under the plan.
#[derive(Clone, Debug, Default, PartialEq)]
pub enum Site {
    /// No picture lies under the plan.
    #[default]
    Nothing,
    /// It is being read.
    Reading,
    /// It is here.
    Here(SitePicture),
    /// It cannot be read: why, and what to do, in one sentence.
    Missing(String),
}

/// The picture of a session.
#[derive(Default)]
pub(super) struct Pictures {
    path: Option<PathBuf>,
    stamp: Stamp,
    asked: Option<Instant>,
    known: Site,
    results: Option<Receiver<Site>>,
}

impl Pictures {
    /// Reads this file, where it is another or has changed; none: no picture. True where what is known changed.
    fn turn_to(&mut self, path: Option<PathBuf>, wake: &Arc<dyn Fn() + Send + Sync>) -> bool {
        let same = self.path == path;
        let early = self
            .asked
            .is_some_and(|asked| asked.elapsed() < ASKED_EVERY);
        if same && (early || path.is_none()) {
            return false;
        }
        self.asked = Some(Instant::now());
        let stamp = path.as_deref().and_then(stamp);
        if same && stamp == self.stamp {
            return false;
        }
        (self.stamp, self.path) = (stamp, path.clone());
        self.results = None;
        match path {
            None => self.known = Site::Nothing,
            Some(path) => self.read(path, wake.clone()),
        }
        true
    }

    fn read(&mut self, path: PathBuf, wake: Arc<dyn Fn() + Send + Sync>) {
        let (sender, results) = channel();
        let theirs = path.clone();
        let work = move || {
            // Where the session has turned to something else, nobody wants to know.
            if sender.send(looked_at(&theirs)).is_ok() {
                wake();
            }
        };
        let started = thread::Builder::new()
            .name("picture".to_owned())
            .spawn(work);
        match started {
            Ok(_) => {
                // What was seen before stays until the new one is here.
                if !matches!(self.known, Site::Here(_)) {
                    self.known = Site::Reading;
                }
                self.results = Some(results);
            }
            Err(_) => self.known = looked_at(&path),
        }
    }

    /// Takes in what was read meanwhile.
    fn take_in(&mut self) -> bool {
        let found = match self.results.as_ref().map(Receiver::try_recv) {
            None | Some(Err(TryRecvError::Empty)) => return false,
            Some(Ok(found)) => found,
            Some(Err(TryRecvError::Disconnected)) => broken_off(),
        };
        self.results = None;
        self.known = found;
        true
    }

    /// Waits for what is being read.
    pub(super) fn wait(&mut self) {
        if let Some(results) = self.results.take() {
            self.known = results.recv().unwrap_or_else(|_| broken_off());
        }
    }

    pub(super) fn busy(&self) -> bool {
        self.results.is_some()
    }
}

fn broken_off() -> Site {
    Site::Missing("The picture could not be read: save it anew as .png.".to_owned())
}

fn looked_at(path: &Path) -> Site {
    match read_picture(path) {
        Ok(raster) => Site::Here(kept(raster)),
        Err(error) => Site::Missing(format!("The picture of the site is not shown. {error}.")),
    }
}

fn kept(raster: Raster) -> SitePicture {
    let (width, height) = (raster.width, raster.height);
    SitePicture {
        raster: Arc::new(raster.at_most(MOST_SIDE)),
        width,
        height,
    }
}

impl Session {
    /// What is known of the picture under the plan that is shown. It is read behind: [`Session::poll`] takes it
    /// in, and asks now and then whether its file has changed.
    pub fn site_picture(&self) -> &Site {
        &self.pictures.known
    }

    /// Reads a picture here and now, to see whether it can be laid under the plan: its path from the root, as a
    /// layout holds it, and how many dots wide it is.
    ///
    /// # Errors
    /// As [`read_picture`](crate::file::read_picture).
    pub fn try_picture(&mut self, path: &Path) -> Result<(String, usize), FileError> {
        let path = std::path::absolute(path).unwrap_or_else(|_| path.to_path_buf());
        let stamp = stamp(&path);
        let picture = kept(read_picture(&path)?);
        let found = (with_slashes(&path), picture.width);
        // So that it need not be read again once it is laid.
        self.pictures = Pictures {
            path: Some(PathBuf::from(&found.0)),
            stamp,
            asked: Some(Instant::now()),
            known: Site::Here(picture),
            results: None,
        };
        Ok(found)
    }

    /// Turns to the picture of what is on show, and takes in what was read.
    pub(super) fn poll_picture(&mut self) -> bool {
        let underlay = self.on_show().underlay.as_ref();
        let path = underlay.map(|one| PathBuf::from(&one.file));
        let turned = self.pictures.turn_to(path, &self.wake);
        self.pictures.take_in() || turned
    }
}

/// The layout of a file with the path of its picture from the root, so that it holds wherever the layout is saved.
pub(super) fn rooted(mut layout: Layout, file: &Path) -> Layout {
    if let Some(underlay) = &mut layout.underlay {
        let folder = file.parent().unwrap_or(Path::new(""));
        let path = plain(&folder.join(&underlay.file));
        underlay.file = with_slashes(&path);
    }
    layout
}

/// The layout as it is written into `file`: the path of its picture from there, where the picture lies in the
/// folder of the file, in one of the [`MOST_UP`] folders above that, or below them.
pub(super) fn relative_to(layout: &Layout, file: &Path) -> Layout {
    let mut layout = layout.clone();
    if let (Some(underlay), Some(folder)) = (&mut layout.underlay, file.parent()) {
        let path = plain(Path::new(&underlay.file));
        // The root holds everything, and says nothing of what belongs together.
        let folders = folder.ancestors().filter(|one| one.parent().is_some());
        let short = folders.enumerate().take(MOST_UP + 1).find_map(|(up, one)| {
            let rest = path.strip_prefix(one).ok()?;
            Some(PathBuf::from_iter(vec![".."; up]).join(rest))
        });
        if let Some(short) = short {
            underlay.file = with_slashes(&short);
        }
    }
    layout
}

/// The same path without `.` and `..` in it, as far as can be.
fn plain(path: &Path) -> PathBuf {
    let mut plain = PathBuf::new();
    for step in path.components() {
        let named = matches!(plain.components().next_back(), Some(Component::Normal(_)));
        match step {
            Component::CurDir => {}
            Component::ParentDir if named => {
                plain.pop();
            }
            other => plain.push(other),
        }
    }
    plain
}

/// As files write it on any system.
fn with_slashes(path: &Path) -> String {
    let text = path.to_string_lossy();
    if std::path::MAIN_SEPARATOR == '/' {
        text.into_owned()
    } else {
        text.replace(std::path::MAIN_SEPARATOR, "/")
    }
}
