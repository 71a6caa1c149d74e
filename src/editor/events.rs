//! Events on a drawing and tool requests: the interface between the tools and the owner of the layout.

use crate::draw::page::shape::Point;
use crate::draw::section::TouchTarget;
use crate::edit::{Edit, EditError};
use crate::layout::{Id, Layout};
use crate::units::UnitSystem;

/// The drawing of an event.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum DrawingKind {
    /// Heights.
    #[default]
    Section,
    /// The plan.
    Plan,
}

impl DrawingKind {
    /// The word for file names.
    pub fn word(self) -> &'static str {
        match self {
            DrawingKind::Section => "section",
            DrawingKind::Plan => "plan",
        }
    }
}

/// An event.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ToolEvent {
    /// The pointer moved.
    Moved(Point),
    /// The pointer left the page.
    Left,
    /// The button was pressed.
    Pressed(Point),
    /// The button was pressed with Shift: the target is added to the selection.
    PressedToo(Point),
    /// The button was released.
    Released(Point),
    /// Escape: cancels whatever is in progress.
    Dropped,
    /// Backspace: removes the last corner of a run being drawn.
    TakenBack,
    /// Moves the selection by steps.
    Nudged {
        /// Steps to the right; negative: to the left.
        right: i32,
        /// Steps up; negative: down.
        up: i32,
        /// The size of a step.
        step: NudgeSize,
    },
}

/// The size of a step.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NudgeSize {
    /// A millimetre, or a sixteenth of an inch.
    Fine,
    /// Ten millimetres, or half an inch.
    Coarse,
}

/// A tool request.
#[derive(Clone, Debug, PartialEq)]
pub enum ToolRequest {
    /// Preview an edit.
    Preview(Edit),
    /// Commit an edit.
    Commit(Edit),
    /// Commit an edit, select the new parts and describe them.
    Make(Edit, Vec<Id>),
    /// End the preview.
    Drop,
    /// Report why an edit is refused.
    Refused(EditError),
    /// Show a message.
    Say(String),
}

/// The drawing under the pointer.
#[derive(Clone, Copy)]
pub struct ToolContext<'a> {
    /// The layout without any preview.
    pub layout: &'a Layout,
    /// The targets.
    pub targets: &'a [TouchTarget],
    /// The units of steps.
    pub units: UnitSystem,
    /// Which drawing.
    pub sheet: DrawingKind,
}
