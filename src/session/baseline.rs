//! Another layout that the open one is held against: as it was kept, or out of a file.

use super::{Query, Session};
use crate::evaluate::Evaluation;
use crate::file::{self, FileError};
use crate::finding::State;
use crate::layout::Layout;
use crate::states::report::StateReport;
use std::path::Path;
use std::sync::Arc;

/// What the open layout is held against.
#[derive(Clone, Copy, Debug)]
pub struct Baseline<'a> {
    /// What it is, for a reader.
    pub name: &'a str,
    /// The layout.
    pub layout: &'a Arc<Layout>,
    /// What it came to in all states; none as long as that is not known.
    pub evaluation: Option<&'a Evaluation>,
}

/// Kept by the session.
pub(super) struct BaselineSlot {
    pub name: String,
    pub layout: Arc<Layout>,
    pub answer: Query<(), Evaluation>,
}

impl Session {
    /// Keeps the committed layout as it is now, so that what is changed from here on can be held against it.
    pub fn keep_baseline(&mut self) {
        let name = match self.undo_name() {
            Some(step) => {
                let layout = &self.layout;
                let step = step.read(&|id| layout.name_of(id).to_owned(), layout.units);
                format!("Kept after: {step}")
            }
            None => "Kept as opened".to_owned(),
        };
        self.set_baseline(name, self.layout.clone());
    }

    /// Reads a file to hold the open layout against; that stays what it is.
    ///
    /// # Errors
    /// As [`file::read`]; then nothing changes.
    pub fn open_baseline(&mut self, path: &Path) -> Result<(), FileError> {
        let layout = file::read(path)?;
        let name = path.file_name().map_or_else(
            || layout.title.clone(),
            |name| name.to_string_lossy().into_owned(),
        );
        self.set_baseline(name, Arc::new(layout));
        Ok(())
    }

    /// Holds it against nothing any longer.
    pub fn drop_baseline(&mut self) {
        if self.other.take().is_some() {
            self.revision += 1;
        }
    }

    /// What the open layout is held against, if anything.
    pub fn baseline(&self) -> Option<Baseline<'_>> {
        self.other.as_ref().map(|other| Baseline {
            name: &other.name,
            layout: &other.layout,
            evaluation: other.answer.found(&other.layout),
        })
    }

    /// The report that what is shown is held against in a state: that of the layout beside it, else while a
    /// preview is shown that of the layout as committed. None where nothing is, or where it is not known.
    pub fn compared_with(&self, state: State) -> Option<&StateReport> {
        match self.baseline() {
            Some(beside) => beside.evaluation?.state(state),
            None if self.previewing() => self.results.of(&self.layout)?.state(state),
            None => None,
        }
    }

    fn set_baseline(&mut self, name: String, layout: Arc<Layout>) {
        let mut answer = self.services.evaluations(self.wake.clone());
        answer.ask(&layout, ());
        self.other = Some(BaselineSlot {
            name,
            layout,
            answer,
        });
        self.revision += 1;
    }
}
