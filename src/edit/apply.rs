//! An edit made, and taken back.

use super::{Edit, EditError, EditStep, fitted};
use crate::layout::{Id, Layout};

impl Edit {
    /// The layout with this edit made; `layout` stays as it is.
    ///
    /// # Errors
    /// Where what stands in the layout is not what the edit was built on, and where the outcome would
    /// be impossible as data ([`Layout::faults`]) and could not be opened again: the first such fault.
    pub fn apply(&self, layout: &Layout) -> Result<Layout, EditError> {
        let outcome = self.made(layout)?;
        match outcome.faults().into_iter().next() {
            Some(fault) => Err(EditError::from(fault)),
            None => Ok(outcome),
        }
    }

    /// The edit that takes this one back, under the same name.
    #[must_use]
    pub fn inverse(&self) -> Edit {
        Edit {
            name: self.name.clone(),
            steps: self.steps.iter().rev().map(EditStep::inverse).collect(),
        }
    }

    /// The parts that it touches, each once, in the order of its steps; the settings are no part.
    pub fn about(&self) -> Vec<Id> {
        let mut about = Vec::new();
        for id in self.steps.iter().filter_map(EditStep::part) {
            if !about.contains(id) {
                about.push(id.clone());
            }
        }
        about
    }

    /// Every step leaves things as they are.
    pub fn changes_nothing(&self) -> bool {
        self.steps.iter().all(EditStep::changes_nothing)
    }

    /// The outcome, whatever it is.
    fn made(&self, layout: &Layout) -> Result<Layout, EditError> {
        let mut outcome = layout.clone();
        for step in &self.steps {
            step.make(&mut outcome)?;
        }
        Ok(outcome)
    }

    /// This edit, once it is seen that it can be made; what sits along a run that gets shorter comes with it.
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
