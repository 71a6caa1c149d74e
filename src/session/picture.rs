//! The site picture: read by a thread, and again whenever its file changes.

use super::Session;
use super::file_on_disk::{Stamp, stamp};
use crate::file::{FileError, Raster, read_picture};
use crate::layout::Layout;
use std::path::{Component, Path, PathBuf};
use std::sync::Arc;
use std::sync::mpsc::{Receiver, TryRecvError, channel};
use std::thread;
use std::time::{Duration, Instant};

/// Greatest width and height kept, pixels: enough for any display and graphics card.
pub const MOST_SIDE: usize = 4096;

/// Interval between checks of the file.
const ASKED_EVERY: Duration = Duration::from_secs(1);

/// Number of folders upward from the layout file within which the path of the picture is stored as a relative one.
const MOST_UP: usize = 3;

/// A loaded picture.
#[derive(Clone, Debug, PartialEq)]
pub struct SitePicture {
    /// Its pixels, reduced where it had more than [`MOST_SIDE`] a side.
    pub raster: Arc<Raster>,
    /// Width of the file in pixels, to which the scale refers.
    pub width: usize,
    /// Height of the file in pixels.
    pub height: usize,
}

/// State of the picture under the plan.
#[derive(Clone, Debug, Default, PartialEq)]
pub enum Site {
    /// There is no picture.
    #[default]
    Nothing,
    /// It is being read.
    Reading,
    /// It is loaded.
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
    /// Reads this file if it is another one or has changed; none: no picture. Returns whether the state changed.
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
            // The session may have moved on, and then nobody needs the result.
            if sender.send(looked_at(&theirs)).is_ok() {
                wake();
            }
        };
        let started = thread::Builder::new()
            .name("picture".to_owned())
            .spawn(work);
        match started {
            Ok(_) => {
                // The old picture stays until the new one is loaded.
                if !matches!(self.known, Site::Here(_)) {
                    self.known = Site::Reading;
                }
                self.results = Some(results);
            }
            Err(_) => self.known = looked_at(&path),
        }
    }

    /// Takes in a finished picture; true where there was one.
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

    /// Waits for the picture being read.
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
    Site::Missing("Cannot read the picture: save it again as .png.".to_owned())
}

fn looked_at(path: &Path) -> Site {
    match read_picture(path) {
        Ok(raster) => Site::Here(kept(raster)),
        Err(error) => Site::Missing(format!("Cannot show the site picture. {error}.")),
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
    /// The state of the displayed picture. It is read by a thread: [`Session::poll`] takes it in and checks its file
    /// at intervals.
    pub fn site_picture(&self) -> &Site {
        &self.pictures.known
    }

    /// Reads a picture at once, to see whether it can be added under the plan: its absolute path, as a layout stores
    /// it, and its width in pixels.
    ///
    /// # Errors
    /// As [`read_picture`](crate::file::read_picture).
    pub fn try_picture(&mut self, path: &Path) -> Result<(String, usize), FileError> {
        let path = std::path::absolute(path).unwrap_or_else(|_| path.to_path_buf());
        let stamp = stamp(&path);
        let picture = kept(read_picture(&path)?);
        let found = (with_slashes(&path), picture.width);
        // Kept, so that it need not be read again once it is added.
        self.pictures = Pictures {
            path: Some(PathBuf::from(&found.0)),
            stamp,
            asked: Some(Instant::now()),
            known: Site::Here(picture),
            results: None,
        };
        Ok(found)
    }

    /// Selects the picture of the displayed layout, and takes in what was read.
    pub(super) fn poll_picture(&mut self) -> bool {
        let underlay = self.on_show().underlay.as_ref();
        let path = underlay.map(|one| PathBuf::from(&one.file));
        let turned = self.pictures.turn_to(path, &self.wake);
        self.pictures.take_in() || turned
    }
}

/// The layout of a file with the absolute path of its picture, so that it stays valid wherever the layout is saved.
pub(super) fn rooted(mut layout: Layout, file: &Path) -> Layout {
    if let Some(underlay) = &mut layout.underlay {
        let folder = file.parent().unwrap_or(Path::new(""));
        let path = plain(&folder.join(&underlay.file));
        underlay.file = with_slashes(&path);
    }
    layout
}

/// The layout as written into `file`: the path of its picture is relative where the picture is in the folder of the
/// file, in one of the [`MOST_UP`] folders above, or below them.
pub(super) fn relative_to(layout: &Layout, file: &Path) -> Layout {
    let mut layout = layout.clone();
    if let (Some(underlay), Some(folder)) = (&mut layout.underlay, file.parent()) {
        let path = plain(Path::new(&underlay.file));
        // Everything is below the root, so a common root does not mean that the files belong together.
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

/// The same path without `.` and `..`, as far as possible.
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

/// The path as text, with the separator of layout files on every system.
fn with_slashes(path: &Path) -> String {
    let text = path.to_string_lossy();
    if std::path::MAIN_SEPARATOR == '/' {
        text.into_owned()
    } else {
        text.replace(std::path::MAIN_SEPARATOR, "/")
    }
}
