//! What the hand holds.

use crate::edit::Preset;

/// A tool.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Tool {
    /// Nothing: it selects and moves.
    #[default]
    Hand,
    /// A vessel from the shelf, to be set down.
    Vessel(Preset),
    /// A joint, to be set down.
    Joint,
    /// A level that does not move, to be set down.
    Fixed,
    /// Pipe, to be drawn from part to part.
    Pipe,
    /// Pipe to many vessels at once.
    Manifold,
    /// The tape: it measures and changes nothing.
    Tape,
}

impl Tool {
    /// What it is called.
    pub fn words(self) -> &'static str {
        match self {
            Tool::Hand => "Select",
            Tool::Vessel(preset) => preset.words(),
            Tool::Joint => "Tee",
            Tool::Fixed => "Fixed level",
            Tool::Pipe => "Pipe",
            Tool::Manifold => "Manifold",
            Tool::Tape => "Tape",
        }
    }

    /// What to do with it, said while it is held.
    pub fn hint(self) -> &'static str {
        match self {
            Tool::Hand => "Click to select, drag to move; Shift adds to what is selected.",
            Tool::Vessel(_) => "Click where it is to stand, or drag its size. Escape puts it back.",
            Tool::Joint => "Click where the tee is to be; on a pipe it splits it.",
            Tool::Fixed => "Click where a lake, a ditch or a mains tank is.",
            Tool::Pipe => {
                "Click or drag from a vessel to the next; clicks between make corners. Backspace takes \
                           the last corner back."
            }
            Tool::Manifold => "Press on what feeds and draw over the vessels that are to be fed.",
            Tool::Tape => "Drag from one place to another to measure.",
        }
    }
}
