//! Every command: menus, buttons, keys, the search and the help are made from this list.

mod context;
mod keys;
mod words;

pub use context::CommandContext;

use crate::edit::Preset;
use crate::state::State;

/// A command.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Command {
    /// Starts an empty layout.
    New,
    /// Opens the demo.
    Demo,
    /// Opens a file.
    Open,
    /// Saves under the same name.
    Save,
    /// Saves under another name.
    SaveAs,
    /// Saves the current drawing as a picture.
    SavePicture,
    /// Copies the current drawing as a picture.
    CopyPicture,
    /// Copies the current drawing as SVG text.
    CopySvg,
    /// Shows what the program is, and its version.
    About,
    /// Quits the program.
    Quit,
    /// Undoes the last step.
    Undo,
    /// Redoes the step that was undone.
    Redo,
    /// Copies the selection and deletes it.
    Cut,
    /// Copies the selection.
    Copy,
    /// Pastes what was copied.
    Paste,
    /// Duplicates the selection beside itself.
    Duplicate,
    /// Repeats the selection in a row.
    Row,
    /// Deletes the selection.
    Remove,
    /// Selects every part.
    SelectAll,
    /// Renames the selected part in place.
    Rename,
    /// Turns the selection to the left.
    TurnLeft,
    /// Turns the selection to the right.
    TurnRight,
    /// Aligns the selection up the page.
    LineUp,
    /// Aligns the selection across the page.
    LineAcross,
    /// Aligns floors.
    FloorsAlike,
    /// Aligns rims.
    RimsAlike,
    /// Raises the selection on blocks.
    Blocks,
    /// Locks the selection as built.
    Lock,
    /// Unlocks the selection.
    Unlock,
    /// Connects the first selected part to the second with a run.
    Join,
    /// Connects the first selected part to the others through a manifold.
    Feed,
    /// Removes a corner of a run.
    Unbend,
    /// Adds a vessel from the shelf.
    Add(Preset),
    /// The selection tool.
    TakeHand,
    /// The pipe tool.
    TakePipe,
    /// The manifold tool.
    TakeManifold,
    /// The measuring tool.
    TakeTape,
    /// The tee tool.
    TakeJoint,
    /// The fixed-level tool.
    TakeFixed,
    /// Finds a command or a part by name.
    Find,
    /// Fits the whole layout.
    Fit,
    /// Zooms in.
    Larger,
    /// Zooms out.
    Smaller,
    /// Shows only the section.
    OnlySection,
    /// Shows only the plan.
    OnlyPlan,
    /// Shows section and plan.
    BothDrawings,
    /// Shows only the grade line.
    OnlyGrade,
    /// Shows or hides the shelf.
    Shelf,
    /// Shows a state.
    Watch(State),
    /// Plays or pauses.
    Play,
    /// Shows or hides the curves in the time bar.
    TimeBar,
    /// Goes to the next event.
    NextEvent,
    /// Goes to the previous event.
    EventBefore,
    /// Selects the next part.
    NextPart,
    /// Selects the previous part.
    PartBefore,
    /// Adds the next part to the selection.
    NextPartToo,
    /// Selects the next crest.
    NextCrest,
    /// Selects the previous crest.
    CrestBefore,
    /// Moves the keyboard focus to the first number of the selection.
    TypeNumber,
    /// Keeps the layout as the baseline of a comparison.
    KeepBeside,
    /// Compares the layout with a file.
    OpenBeside,
    /// Ends the comparison.
    EndBeside,
    /// Metric units: millimetres, litres, m³/h.
    Metric,
    /// US units: feet and inches, US gallons.
    Us,
    /// The light theme.
    Light,
    /// The dark theme.
    Dark,
    /// The theme of the system.
    SystemTheme,
    /// Opens the survey dialog.
    Survey,
    /// Adds a picture of the site under the plan.
    LayPicture,
    /// Scales that picture.
    ScalePicture,
    /// Removes that picture.
    PictureAway,
}

impl Command {
    /// Every command.
    pub const ALL: [Command; 85] = [
        Command::New,
        Command::Demo,
        Command::Open,
        Command::Save,
        Command::SaveAs,
        Command::SavePicture,
        Command::CopyPicture,
        Command::CopySvg,
        Command::Quit,
        Command::Undo,
        Command::Redo,
        Command::Cut,
        Command::Copy,
        Command::Paste,
        Command::Duplicate,
        Command::Row,
        Command::Remove,
        Command::SelectAll,
        Command::Rename,
        Command::TurnLeft,
        Command::TurnRight,
        Command::LineUp,
        Command::LineAcross,
        Command::FloorsAlike,
        Command::RimsAlike,
        Command::Blocks,
        Command::Lock,
        Command::Unlock,
        Command::Join,
        Command::Feed,
        Command::Unbend,
        Command::Add(Preset::RoundTank),
        Command::Add(Preset::Bed),
        Command::Add(Preset::Cube),
        Command::Add(Preset::Barrel),
        Command::Add(Preset::ConeBottom),
        Command::Add(Preset::Trough),
        Command::Add(Preset::Pond),
        Command::Add(Preset::Sump),
        Command::Add(Preset::Header),
        Command::Add(Preset::OwnTable),
        Command::TakeHand,
        Command::TakePipe,
        Command::TakeManifold,
        Command::TakeTape,
        Command::TakeJoint,
        Command::TakeFixed,
        Command::Find,
        Command::Fit,
        Command::Larger,
        Command::Smaller,
        Command::OnlySection,
        Command::OnlyPlan,
        Command::BothDrawings,
        Command::OnlyGrade,
        Command::Shelf,
        Command::Watch(State::Rest),
        Command::Watch(State::Starting),
        Command::Watch(State::Running),
        Command::Watch(State::Fouled),
        Command::Watch(State::Blocked),
        Command::Watch(State::Stopped),
        Command::Play,
        Command::NextEvent,
        Command::EventBefore,
        Command::TimeBar,
        Command::NextPart,
        Command::PartBefore,
        Command::NextPartToo,
        Command::NextCrest,
        Command::CrestBefore,
        Command::TypeNumber,
        Command::KeepBeside,
        Command::OpenBeside,
        Command::EndBeside,
        Command::Metric,
        Command::Us,
        Command::Light,
        Command::Dark,
        Command::SystemTheme,
        Command::Survey,
        Command::LayPicture,
        Command::ScalePicture,
        Command::PictureAway,
        Command::About,
    ];
}
