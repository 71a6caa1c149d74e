//! The baseline of a comparison: an earlier version of the open layout, or another file.

use super::{Query, Session};
use crate::evaluate::Evaluation;
use crate::file::{self, FileError};
use crate::layout::Layout;
use crate::state::State;
use crate::states::report::StateReport;
use std::path::Path;
use std::sync::Arc;

/// The baseline of a comparison.
#[derive(Clone, Copy, Debug)]
pub struct Baseline<'a> {
    /// Its name, for the user.
    pub name: &'a str,
    /// The layout.
    pub layout: &'a Arc<Layout>,
    /// Its results in all states; none until they are known.
    pub evaluation: Option<&'a Evaluation>,
}

/// The session's data for the baseline.
pub(super) struct BaselineSlot {
    pub name: String,
    pub layout: Arc<Layout>,
    pub answer: Query<(), Evaluation>,
}

impl Session {
    /// Stores the present committed layout as the baseline.
    pub fn keep_baseline(&mut self) {
        let name = match self.undo_name() {
            Some(step) => {
                let layout = &self.layout;
                let step = step.read(&|id| layout.name_of(id).to_owned(), layout.units);
                format!("After: {step}")
            }
            None => "As opened".to_owned(),
        };
        self.set_baseline(name, self.layout.clone());
    }

    /// Reads a file as the baseline; the open layout does not change.
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

    /// Ends the comparison.
    pub fn drop_baseline(&mut self) {
        if self.other.take().is_some() {
            self.revision += 1;
        }
    }

    /// The baseline, if any.
    pub fn baseline(&self) -> Option<Baseline<'_>> {
        self.other.as_ref().map(|other| Baseline {
            name: &other.name,
            layout: &other.layout,
            evaluation: other.answer.found(&other.layout),
        })
    }

    /// The report to compare with in a state: that of the baseline, else, during a preview, that of the committed
    /// layout. None where there is neither, or where it is not known.
    pub fn compared_with(&self, state: State) -> Option<&StateReport> {
        match self.baseline() {
            Some(baseline) => baseline.evaluation?.state(state),
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
