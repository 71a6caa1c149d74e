//! What can be done from anywhere: one list that menus, buttons, keys, the search and help are made from.

mod context;
mod keys;
mod words;

pub use context::CommandContext;

use crate::edit::Preset;
use crate::finding::State;

/// A command.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Command {
    /// Begins an empty layout.
    New,
    /// Opens the demo.
    Demo,
    /// Opens a file.
    Open,
    /// Saves under the same name.
    Save,
    /// Saves under another name.
    SaveAs,
    /// Saves the drawing that is looked at as a picture.
    SavePicture,
    /// Copies it as a picture.
    CopyPicture,
    /// Copies it as SVG text.
    CopySvg,
    /// Ends the program.
    Quit,
    /// Takes the last step back.
    Undo,
    /// Makes the step again that was taken back.
    Redo,
    /// Copies what is selected and takes it away.
    Cut,
    /// Copies what is selected.
    Copy,
    /// Puts in what was copied.
    Paste,
    /// Copies what is selected beside itself.
    Duplicate,
    /// Puts what is selected in a row.
    Row,
    /// Takes what is selected away.
    Remove,
    /// Selects every part.
    SelectAll,
    /// Gives what is selected another name, in its place.
    Rename,
    /// Turns what is selected to the left.
    TurnLeft,
    /// Turns what is selected to the right.
    TurnRight,
    /// Sets what is selected in line up the page.
    LineUp,
    /// Sets what is selected in line across the page.
    LineAcross,
    /// Sets the floors at one height.
    FloorsAlike,
    /// Sets the rims at one height.
    RimsAlike,
    /// Stands what is selected on blocks.
    Blocks,
    /// Locks what is selected as built.
    Lock,
    /// Unlocks it.
    Unlock,
    /// Leads a run from the first part that is selected to the second.
    Join,
    /// Builds a manifold from the first part that is selected to the others.
    Feed,
    /// Takes a corner out of a run.
    Unbend,
    /// Adds a vessel from the shelf.
    Add(Preset),
    /// Takes the hand.
    TakeHand,
    /// Takes pipe into the hand.
    TakePipe,
    /// Takes a manifold into the hand.
    TakeManifold,
    /// Takes the tape.
    TakeTape,
    /// Takes a tee.
    TakeJoint,
    /// Takes a level that does not move.
    TakeFixed,
    /// Finds a command or a part by its name.
    Find,
    /// Shows all of the layout.
    Fit,
    /// Draws larger.
    Larger,
    /// Draws smaller.
    Smaller,
    /// The section alone.
    OnlySection,
    /// The plan alone.
    OnlyPlan,
    /// Section and plan.
    BothDrawings,
    /// The grade line alone.
    OnlyGrade,
    /// Shows the shelf, or puts it away.
    Shelf,
    /// Watches a state.
    Watch(State),
    /// Lets time go on, or stand still.
    Play,
    /// Shows the curves under the states, or puts them away.
    TimeBar,
    /// Goes to what happens next.
    NextEvent,
    /// Goes to what happened before.
    EventBefore,
    /// Selects the next part.
    NextPart,
    /// Selects the part before.
    PartBefore,
    /// Adds the next part to what is selected.
    NextPartToo,
    /// Selects the next crest.
    NextCrest,
    /// Selects the crest before.
    CrestBefore,
    /// Puts the keyboard into the first number of what is selected.
    TypeNumber,
    /// Keeps the layout as it is, to hold it against what comes of it.
    KeepBeside,
    /// Holds the layout against a file.
    OpenBeside,
    /// Ends the comparison.
    EndBeside,
    /// Millimetres, litres, m³/h.
    Metric,
    /// Feet and inches, US gallons.
    Us,
    /// Dark letters on light.
    Light,
    /// Light letters on dark.
    Dark,
    /// As the system has it.
    SystemTheme,
    /// Takes readings down that become floors and rims.
    Survey,
    /// Lays a picture of the site under the plan.
    LayPicture,
    /// Brings it to scale.
    ScalePicture,
    /// Takes it away.
    PictureAway,
}

impl Command {
    /// Every command.
    pub const ALL: [Command; 84] = [
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
    ];
}
