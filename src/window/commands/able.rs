//! Whether a command can be done now: menus and the search ask, and so does whoever presses its key.

use super::Command;
use crate::draw::section::Pick;
use crate::editor::Hand;
use crate::session::Session;

/// What commands depend on.
#[derive(Clone, Copy, Debug, Default)]
pub struct About {
    /// Whole parts that are selected.
    parts: usize,
    /// Vessels among them.
    vessels: usize,
    /// Vessels, tees and fixed levels among them.
    ends: usize,
    /// Those of them that are locked as built.
    built: usize,
    /// Those of them that can be.
    buildable: usize,
    /// Parts of the layout.
    all: usize,
    /// What is selected last is a corner of a run.
    corner: bool,
    /// Something is selected.
    selected: bool,
    /// A picture lies under the plan.
    picture: bool,
    /// The layout is held against another.
    beside: bool,
    /// What is watched has a time of its own.
    timed: bool,
    undo: bool,
    redo: bool,
}

impl About {
    /// As it stands now.
    pub fn of(session: &Session, hand: &Hand) -> About {
        let layout = session.layout();
        let parts = hand.parts();
        let vessels = parts.iter().filter_map(|id| layout.vessel(id));
        let runs = parts.iter().filter_map(|id| layout.run(id));
        let built = vessels.clone().filter(|part| part.already_built).count()
            + runs.clone().filter(|part| part.already_built).count();
        About {
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
    /// It can be done as things stand.
    pub fn may_run(self, about: &About) -> bool {
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
}
