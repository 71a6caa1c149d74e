//! The tools.

use crate::edit::Preset;

/// A tool.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Tool {
    /// Selects and moves.
    #[default]
    Hand,
    /// Places a vessel from the shelf.
    Vessel(Preset),
    /// Places a joint.
    Joint,
    /// Places a fixed level.
    Fixed,
    /// Draws pipe from part to part.
    Pipe,
    /// Draws pipe to many vessels at once.
    Manifold,
    /// Measures and changes nothing.
    Tape,
}

impl Tool {
    /// Its label.
    pub fn words(self) -> &'static str {
        match self {
            Tool::Hand => "Select",
            Tool::Vessel(preset) => preset.words(),
            Tool::Joint => "Tee",
            Tool::Fixed => "Fixed level",
            Tool::Pipe => "Pipe",
            Tool::Manifold => "Manifold",
            Tool::Tape => "Measure",
        }
    }

    /// Instructions shown while it is active.
    pub fn hint(self) -> &'static str {
        match self {
            Tool::Hand => "Click to select, drag to move; Shift adds to the selection.",
            Tool::Vessel(_) => "Click to place it, or drag to size it. Escape cancels.",
            Tool::Joint => "Click to place the tee; on a pipe, it splits the run.",
            Tool::Fixed => "Click to place a lake, a ditch or a mains tank.",
            Tool::Pipe => {
                "Click or drag from one vessel to the next; clicks between make corners. Backspace removes \
                           the last corner."
            }
            Tool::Manifold => {
                "Press on the feeding vessel and draw over the vessels that it feeds."
            }
            Tool::Tape => "Drag from one place to another to measure.",
        }
    }
}
