//! The undo history.

use super::{Edit, EditError};
use crate::finding::Sentence;
use crate::layout::Layout;
use std::collections::VecDeque;

/// The most steps that can be undone.
pub const MOST_STEPS: usize = 500;

/// Edits made and edits undone. It stores no layout: each call is given the current one.
#[derive(Clone, Debug)]
pub struct History {
    done: VecDeque<Edit>,
    undone: Vec<Edit>,
    most: usize,
}

impl Default for History {
    fn default() -> Self {
        History::with_limit(MOST_STEPS)
    }
}

impl History {
    /// An empty history that remembers `most` steps; the oldest are forgotten first.
    pub fn with_limit(most: usize) -> History {
        History {
            done: VecDeque::new(),
            undone: Vec::new(),
            most,
        }
    }

    /// Makes an edit and records it; undone edits can no longer be redone.
    ///
    /// Where nothing changes, the history stays as it is and the result equals `layout`.
    ///
    /// # Errors
    /// As [`Edit::apply`]; the history stays unchanged.
    pub fn commit(&mut self, layout: &Layout, edit: Edit) -> Result<Layout, EditError> {
        let outcome = edit.apply(layout)?;
        if outcome != *layout {
            self.undone.clear();
            self.remember(edit);
        }
        Ok(outcome)
    }

    /// The layout without the last edit; none where there is nothing to undo.
    ///
    /// # Errors
    /// Where `layout` is not the one that the last edit made; the history stays unchanged.
    pub fn undo(&mut self, layout: &Layout) -> Result<Option<Layout>, EditError> {
        let Some(edit) = self.done.back() else {
            return Ok(None);
        };
        let outcome = edit.inverse().apply(layout)?;
        self.undone.extend(self.done.pop_back());
        Ok(Some(outcome))
    }

    /// The layout with the last undone edit made again; none where there is nothing to redo.
    ///
    /// # Errors
    /// Where `layout` is not the one that the edit was undone from; the history stays unchanged.
    pub fn redo(&mut self, layout: &Layout) -> Result<Option<Layout>, EditError> {
        let Some(edit) = self.undone.last() else {
            return Ok(None);
        };
        let outcome = edit.apply(layout)?;
        if let Some(edit) = self.undone.pop() {
            self.remember(edit);
        }
        Ok(Some(outcome))
    }

    /// The edit that the next undo takes back.
    pub fn undo_name(&self) -> Option<&Sentence> {
        self.done.back().map(|edit| &edit.name)
    }

    /// The edit that the next redo makes again.
    pub fn redo_name(&self) -> Option<&Sentence> {
        self.undone.last().map(|edit| &edit.name)
    }

    fn remember(&mut self, edit: Edit) {
        self.done.push_back(edit);
        while self.done.len() > self.most {
            self.done.pop_front();
        }
    }
}
