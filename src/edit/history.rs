//! What was done and can be taken back.

use super::{Edit, EditError};
use crate::finding::Sentence;
use crate::layout::Layout;
use std::collections::VecDeque;

/// The most steps that can be taken back.
pub const MOST_STEPS: usize = 500;

/// The edits made, and those taken back. It holds no layout: each call is given the one that stands.
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

    /// Makes an edit and remembers it; what was taken back before can no longer be made again.
    ///
    /// Where nothing changes, nothing is remembered or forgotten, and the outcome equals `layout`.
    ///
    /// # Errors
    /// As [`Edit::apply`]; the history stays as it was.
    pub fn commit(&mut self, layout: &Layout, edit: Edit) -> Result<Layout, EditError> {
        let outcome = edit.apply(layout)?;
        if outcome != *layout {
            self.undone.clear();
            self.remember(edit);
        }
        Ok(outcome)
    }

    /// The layout without the last edit; none where nothing is left to take back.
    ///
    /// # Errors
    /// Where `layout` is not the one that the last edit made; the history stays as it was.
    pub fn undo(&mut self, layout: &Layout) -> Result<Option<Layout>, EditError> {
        let Some(edit) = self.done.back() else {
            return Ok(None);
        };
        let outcome = edit.inverse().apply(layout)?;
        self.undone.extend(self.done.pop_back());
        Ok(Some(outcome))
    }

    /// The layout with the edit made again that was taken back last; none where there is none.
    ///
    /// # Errors
    /// Where `layout` is not the one that the edit was taken back from; the history stays as it was.
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

    /// What the next undo takes back.
    pub fn undo_name(&self) -> Option<&Sentence> {
        self.done.back().map(|edit| &edit.name)
    }

    /// What the next redo makes again.
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
