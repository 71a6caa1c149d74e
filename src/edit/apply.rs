//! Applying and undoing an edit.

use super::{Edit, EditError, EditStep, fitted};
use crate::layout::{Id, Layout};

impl Edit {
    /// The layout with this edit made; `layout` itself does not change.
    ///
    /// # Errors
    /// Where `layout` differs from the one that the edit was built for, or where the result would be invalid data
    /// ([`Layout::faults`]) and could not be opened again: the first such fault.
    pub fn apply(&self, layout: &Layout) -> Result<Layout, EditError> {
        let outcome = self.made(layout)?;
        match outcome.faults().into_iter().next() {
            Some(fault) => Err(EditError::from(fault)),
            None => Ok(outcome),
        }
    }

    /// The inverse edit, under the same name.
    #[must_use]
    pub fn inverse(&self) -> Edit {
        Edit {
            name: self.name.clone(),
            steps: self.steps.iter().rev().map(EditStep::inverse).collect(),
        }
    }

    /// The parts that it changes, each once, in the order of its steps; settings are not a part.
    pub fn about(&self) -> Vec<Id> {
        let mut about = Vec::new();
        for id in self.steps.iter().filter_map(EditStep::part) {
            if !about.contains(id) {
                about.push(id.clone());
            }
        }
        about
    }

    /// Whether no step changes anything.
    pub fn changes_nothing(&self) -> bool {
        self.steps.iter().all(EditStep::changes_nothing)
    }

    /// The result, valid or not.
    fn made(&self, layout: &Layout) -> Result<Layout, EditError> {
        let mut outcome = layout.clone();
        for step in &self.steps {
            step.make(&mut outcome)?;
        }
        Ok(outcome)
    }

    /// This edit, checked on the layout; items along a run that gets shorter move with its end.
    pub(super) fn tried_on(mut self, layout: &Layout) -> Result<Edit, EditError> {
        let outcome = self.made(layout)?;
        let faults = outcome.faults();
        if faults.is_empty() {
            return Ok(self);
        }
        self.steps
            .extend(fitted::onto_runs(layout, &outcome, &faults));
        self.apply(layout).map(|_| self)
    }
}
