//! The availability of commands, for menus, the search and keys.

use super::Command;
use crate::draw::section::Pick;
use crate::editor::ToolState;
use crate::session::Session;

/// The state that the availability of commands depends on.
#[derive(Clone, Copy, Debug, Default)]
pub struct CommandContext {
    /// Number of parts in the selection.
    parts: usize,
    /// Number of vessels among them.
    vessels: usize,
    /// Number of vessels, joints and fixed levels among them.
    ends: usize,
    /// Number of those that are locked as built.
    built: usize,
    /// Number of those that can be locked: vessels and runs.
    buildable: usize,
    /// Number of parts of the layout.
    all: usize,
    /// Whether the last selected target is a corner of a run.
    corner: bool,
    /// Whether anything is selected.
    selected: bool,
    /// Whether there is a picture under the plan.
    picture: bool,
    /// Whether the layout is being compared.
    beside: bool,
    /// Whether the state that is shown has a simulation to play.
    timed: bool,
    undo: bool,
    redo: bool,
}

impl CommandContext {
    /// Collects the context from the session and the selection.
    pub fn of(session: &Session, hand: &ToolState) -> CommandContext {
        let layout = session.layout();
        let parts = hand.parts();
        let vessels = parts.iter().filter_map(|id| layout.vessel(id));
        let runs = parts.iter().filter_map(|id| layout.run(id));
        let built = vessels.clone().filter(|part| part.already_built).count()
            + runs.clone().filter(|part| part.already_built).count();
        CommandContext {
            parts: parts.len(),
            vessels: vessels.clone().count(),
            ends: parts
                .iter()
                .filter(|id| layout.place_of(id).is_some())
                .count(),
            built,
            buildable: vessels.count() + runs.count(),
            all: layout.vessels.len()
                + layout.joints.len()
                + layout.fixed.len()
                + layout.runs.len(),
            corner: matches!(hand.last(), Some(Pick::Corner { .. })),
            selected: hand.last().is_some(),
            picture: layout.underlay.is_some(),
            beside: session.baseline().is_some(),
            timed: session.series().is_some(),
            undo: session.undo_name().is_some(),
            redo: session.redo_name().is_some(),
        }
    }
}

impl Command {
    /// Whether the command is available.
    pub fn may_run(self, about: &CommandContext) -> bool {
        match self {
            Command::Undo => about.undo,
            Command::Redo => about.redo,
            Command::Cut | Command::Copy | Command::Remove | Command::Rename => about.parts > 0,
            Command::Duplicate | Command::Row | Command::TurnLeft | Command::TurnRight => {
                about.ends > 0
            }
            Command::LineUp | Command::LineAcross | Command::FloorsAlike => about.ends > 1,
            Command::RimsAlike => about.vessels > 1,
            Command::Blocks => about.vessels > 0,
            Command::Lock => about.buildable > about.built,
            Command::Unlock => about.built > 0,
            Command::Join => about.ends == 2,
            Command::Feed => about.ends > 2,
            Command::Unbend => about.corner,
            Command::TypeNumber => about.selected,
            Command::SelectAll
            | Command::NextPart
            | Command::PartBefore
            | Command::NextPartToo
            | Command::NextCrest
            | Command::CrestBefore => about.all > 0,
            Command::EndBeside => about.beside,
            Command::Play | Command::NextEvent | Command::EventBefore => about.timed,
            Command::ScalePicture | Command::PictureAway => about.picture,
            _ => true,
        }
    }

    /// Why the command is unavailable, and what to do first.
    pub fn why_not(self) -> &'static str {
        match self {
            Command::Undo => "Nothing to undo",
            Command::Redo => "Nothing to redo",
            Command::Duplicate | Command::Row | Command::TurnLeft | Command::TurnRight => {
                "Select a vessel, a tee or a fixed level first"
            }
            Command::LineUp | Command::LineAcross | Command::FloorsAlike => {
                "Select two or more vessels, tees or fixed levels first"
            }
            Command::RimsAlike => "Select two or more vessels first",
            Command::Blocks => "Select a vessel first",
            Command::Lock => "Nothing in the selection to lock",
            Command::Unlock => "Nothing in the selection is locked",
            Command::Join => "Select two vessels, tees or fixed levels first",
            Command::Feed => "Select three or more vessels, tees or fixed levels first",
            Command::Unbend => "Select a corner of a run first",
            Command::SelectAll
            | Command::NextPart
            | Command::PartBefore
            | Command::NextPartToo
            | Command::NextCrest
            | Command::CrestBefore => "The layout has no parts yet",
            Command::EndBeside => "Nothing is being compared",
            Command::Play | Command::NextEvent | Command::EventBefore => {
                "Choose Starting, Blocked or Stopped first"
            }
            Command::ScalePicture | Command::PictureAway => "There is no site picture",
            _ => "Select a part first",
        }
    }
}
