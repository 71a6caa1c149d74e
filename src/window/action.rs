//! Actions that panels ask for in a frame. The app carries them out after the frame is laid out.

use super::commands::Command;
use crate::draw::page::shape::Drawing;
use crate::draw::results::outcome::WhichOutcome;
use crate::draw::section::Pick;
use crate::edit::{Edit, Shift};
use crate::editor::Tool;
use crate::evaluate::Case;
use crate::layout::Id;
use crate::state::State;
use std::path::PathBuf;
use std::rc::Rc;

/// A drawing on the screen, and the word for its file name.
#[derive(Clone, Debug, PartialEq)]
pub struct Snapshot {
    /// The word.
    pub word: &'static str,
    /// The drawing.
    pub drawing: Rc<Drawing>,
}

/// One action.
#[derive(Clone, Debug, PartialEq)]
pub enum Action {
    /// Run a command.
    Do(Command),
    /// Preview an edit.
    Preview(Edit),
    /// Preview a cure, until it is applied or cancelled.
    LookAt(Edit),
    /// End the preview.
    DropPreview,
    /// Commit an edit.
    Make(Edit),
    /// Commit an edit, then select these.
    MakeAnd(Edit, Vec<Id>),
    /// Paste what is in the clipboard.
    Paste(String),
    /// Choose this tool.
    Take(Tool),
    /// Repeat the selection in a row of so many, with this spacing.
    InRow(usize, Shift),
    /// Raise the selection on so many blocks of this height.
    OnBlocks(u32, f64),
    /// Select this and bring it into view.
    Find(Pick),
    /// Show this state.
    Show(State),
    /// Show this operating mode; none: as drawn.
    Way(Option<Case>),
    /// Show the main or the other outcome of the state.
    Outcome(WhichOutcome),
    /// Show the state with this run shut.
    Shut(Id),
    /// Show this time, s; none: the end.
    Time(Option<f64>),
    /// Open this file.
    OpenFile(PathBuf),
    /// Open the curve dialog of this pump.
    Curve(Id),
    /// Open the large duty plot of this pump.
    Plot(Id),
    /// Copy this text, and report what it is.
    Put(String, String),
    /// Save or copy this picture.
    Picture(Command, Snapshot),
    /// Show this message.
    Say(String),
}
