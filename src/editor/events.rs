//! What happens on a drawing, and what is asked for: the words between the hand and whoever holds the layout.

use crate::draw::section::TouchTarget;
use crate::draw::shape::Point;
use crate::edit::{Edit, EditError};
use crate::layout::{Id, Layout};
use crate::units::UnitSystem;

/// Which drawing the hand is on.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum DrawingKind {
    /// Heights.
    #[default]
    Section,
    /// From above.
    Plan,
}

impl DrawingKind {
    /// Its word, for names of files.
    pub fn word(self) -> &'static str {
        match self {
            DrawingKind::Section => "section",
            DrawingKind::Plan => "plan",
        }
    }
}

/// What happened.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ToolEvent {
    /// The pointer moved.
    Moved(Point),
    /// It left the page.
    Left,
    /// It was pressed.
    Pressed(Point),
    /// It was pressed with Shift: what it is on is added to what is selected.
    PressedToo(Point),
    /// It was let go.
    Released(Point),
    /// Whatever is held is to be dropped: Escape.
    Dropped,
    /// The last place of a run that is being drawn is to be taken back: Backspace.
    TakenBack,
    /// What is selected is to move by steps.
    Nudged {
        /// Steps to the right; negative: to the left.
        right: i32,
        /// Steps up; negative: down.
        up: i32,
        /// How large.
        step: NudgeSize,
    },
}

/// The size of a nudge.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NudgeSize {
    /// A millimetre, or a sixteenth of an inch.
    Fine,
    /// Ten millimetres, or half an inch.
    Coarse,
}

/// What is to be done about it.
#[derive(Clone, Debug, PartialEq)]
pub enum ToolRequest {
    /// Show the layout as if this were done.
    Preview(Edit),
    /// Do it.
    Commit(Edit),
    /// Do it, select what it made, and say what that is.
    Make(Edit, Vec<Id>),
    /// Show the layout as it is.
    Drop,
    /// Say why it cannot be done.
    Refused(EditError),
    /// Say this.
    Say(String),
}

/// What the hand is over.
#[derive(Clone, Copy)]
pub struct ToolContext<'a> {
    /// The layout as it is, without any preview.
    pub layout: &'a Layout,
    /// What can be touched.
    pub targets: &'a [TouchTarget],
    /// The units that steps are taken in.
    pub units: UnitSystem,
    /// Which drawing it is.
    pub sheet: DrawingKind,
}
