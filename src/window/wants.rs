//! What the window was asked for in one frame. Panels only ask; the app grants, after the frame is laid out.

use super::commands::Command;
use crate::draw::outcome::Which;
use crate::draw::section::Pick;
use crate::draw::shape::Drawing;
use crate::edit::{Edit, Shift};
use crate::editor::Tool;
use crate::evaluate::Case;
use crate::finding::State;
use crate::layout::Id;
use std::path::PathBuf;
use std::rc::Rc;

/// A drawing as it stands on the screen, and the word for it in the name of a file.
#[derive(Clone, Debug, PartialEq)]
pub struct Shot {
    /// The word.
    pub word: &'static str,
    /// The drawing.
    pub drawing: Rc<Drawing>,
}

/// One request.
#[derive(Clone, Debug, PartialEq)]
pub enum Want {
    /// A command.
    Do(Command),
    /// The layout as if an edit were made.
    Preview(Edit),
    /// The same for a cure, which stays until it is made or dropped.
    LookAt(Edit),
    /// The layout without a preview.
    DropPreview,
    /// An edit.
    Make(Edit),
    /// An edit, and then these are selected.
    MakeAnd(Edit, Vec<Id>),
    /// What is in the clipboard, to be put in.
    Paste(String),
    /// Take this tool.
    Take(Tool),
    /// Put what is selected in a row of so many, each this far from the one before.
    InRow(usize, Shift),
    /// Stand what is selected on so many blocks, each this high.
    OnBlocks(u32, f64),
    /// Select this, and bring it into view.
    Find(Pick),
    /// Show the water in this state.
    Show(State),
    /// Show it in this way of running; none: as drawn.
    Way(Option<Case>),
    /// Show this outcome of the state: what it comes to, or the other one.
    Outcome(Which),
    /// Show what comes of shutting this run.
    Shut(Id),
    /// Show it at this moment, s; none: at the end.
    Time(Option<f64>),
    /// Open this file.
    OpenFile(PathBuf),
    /// Say what the curve of this pump is.
    Curve(Id),
    /// Show the duty plot of this pump large.
    Plot(Id),
    /// Put this text into the clipboard, and say what it is.
    Put(String, String),
    /// Save or copy this picture.
    Picture(Command, Shot),
    /// Say this.
    Say(String),
}
