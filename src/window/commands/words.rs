//! What commands are called, and what they do.

use super::Command;
use crate::finding::State;

impl Command {
    /// Its words in a menu.
    pub fn text(self) -> &'static str {
        match self {
            Command::New => "New layout",
            Command::Demo => "Open the demo",
            Command::Open => "Open a layout…",
            Command::Save => "Save",
            Command::SaveAs => "Save as…",
            Command::SavePicture => "Save picture…",
            Command::CopyPicture => "Copy picture",
            Command::CopySvg => "Copy picture as SVG",
            Command::Quit => "Quit",
            Command::Undo => "Undo",
            Command::Redo => "Redo",
            Command::Cut => "Cut",
            Command::Copy => "Copy",
            Command::Paste => "Paste",
            Command::Duplicate => "Duplicate",
            Command::Row => "Put in a row…",
            Command::Remove => "Take away",
            Command::SelectAll => "Select everything",
            Command::Rename => "Rename",
            Command::TurnLeft => "Turn left",
            Command::TurnRight => "Turn right",
            Command::LineUp => "In line up the page",
            Command::LineAcross => "In line across the page",
            Command::FloorsAlike => "Floors at one height",
            Command::RimsAlike => "Rims at one height",
            Command::Blocks => "Stand on blocks…",
            Command::Lock => "Lock as built",
            Command::Unlock => "Unlock",
            Command::Join => "Lead a pipe to the next",
            Command::Feed => "Feed the others from the first",
            Command::Unbend => "Take this corner out",
            Command::Add(preset) => preset.words(),
            Command::TakeHand => "Hand",
            Command::TakePipe => "Draw pipe",
            Command::TakeManifold => "Draw a manifold",
            Command::TakeTape => "Measure",
            Command::TakeJoint => "Set a tee",
            Command::TakeFixed => "Set a fixed level",
            Command::Find => "Find a command or a part…",
            Command::Fit => "Show everything",
            Command::Larger => "Larger",
            Command::Smaller => "Smaller",
            Command::OnlySection => "Section alone",
            Command::OnlyPlan => "Plan alone",
            Command::BothDrawings => "Section and plan",
            Command::OnlyGrade => "Grade line",
            Command::Shelf => "Shelf",
            Command::Watch(state) => watched(state).0,
            Command::Play => "Play or stand still",
            Command::TimeBar => "Levels in time",
            Command::NextEvent => "Next event",
            Command::EventBefore => "Event before",
            Command::NextPart => "Next part",
            Command::PartBefore => "Part before",
            Command::NextPartToo => "Next part too",
            Command::NextCrest => "Next crest",
            Command::CrestBefore => "Crest before",
            Command::TypeNumber => "Type its number",
            Command::KeepBeside => "Keep to compare",
            Command::OpenBeside => "Compare with a file…",
            Command::EndBeside => "End the comparison",
            Command::Metric => "Metric",
            Command::Us => "US",
            Command::Light => "Light",
            Command::Dark => "Dark",
            Command::SystemTheme => "As the system",
            Command::Survey => "Take down a survey…",
            Command::LayPicture => "Lay a picture under the plan…",
            Command::ScalePicture => "Scale the picture by two clicks",
            Command::PictureAway => "Take the picture away",
        }
    }

    /// What it does, for a tooltip.
    pub fn tip(self) -> &'static str {
        match self {
            Command::New => "Begins an empty layout",
            Command::Demo => "Opens the glasshouse with perch and watercress",
            Command::Open => "Opens a layout file, .ron or .json",
            Command::Save => "Writes the layout to its file",
            Command::SaveAs => "Writes the layout to another file",
            Command::SavePicture => {
                "Saves the drawing that is looked at as it stands on the screen: .png, .svg or .pdf"
            }
            Command::CopyPicture => {
                "Copies the drawing that is looked at, to be put into a letter or a table"
            }
            Command::CopySvg => {
                "Copies the drawing that is looked at as SVG text, to be worked on elsewhere"
            }
            Command::Quit => "Ends the program, and asks first where something is not saved",
            Command::Undo => "Takes the last step back",
            Command::Redo => "Makes the step again that was taken back",
            Command::Cut => "Copies what is selected and takes it away",
            Command::Copy => {
                "Copies what is selected with the runs between, for this layout or another"
            }
            Command::Paste => "Puts in what was copied, from this layout or another",
            Command::Duplicate => "Copies what is selected with the runs between, beside itself",
            Command::Row => {
                "Puts what is selected in a row, with its openings and the runs that lead from it"
            }
            Command::Remove => "Takes what is selected away, with the runs that end there",
            Command::SelectAll => "Selects every part of the layout",
            Command::Rename => "Gives what is selected another name, in its place",
            Command::TurnLeft => "Turns what is selected by a quarter to the left in the plan",
            Command::TurnRight => "Turns what is selected by a quarter to the right in the plan",
            Command::LineUp => {
                "Sets what is selected one over the other in the plan, in line with the first"
            }
            Command::LineAcross => {
                "Sets what is selected side by side in the plan, in line with the first"
            }
            Command::FloorsAlike => {
                "Brings all floors to the height of the first; openings come along"
            }
            Command::RimsAlike => "Brings all rims to the height of the first; openings come along",
            Command::Blocks => "Stands the vessels that are selected on blocks of a given height",
            Command::Lock => {
                "Marks what is selected as built: it cannot be moved by a slip of the hand"
            }
            Command::Unlock => "Lets what is selected be changed again",
            Command::Join => {
                "Leads a run from the first vessel or tee that is selected to the second"
            }
            Command::Feed => {
                "Builds a manifold from the first that is selected to all others, each with a valve"
            }
            Command::Unbend => "Takes the corner that is selected out of its run",
            Command::Add(preset) => preset.tip(),
            Command::TakeHand => "Selects and moves",
            Command::TakePipe => {
                "Draws pipe from a vessel to the next; clicks between make corners"
            }
            Command::TakeManifold => "Draws one pipe over the vessels that it is to feed",
            Command::TakeTape => "Measures from one place to another",
            Command::TakeJoint => "Sets a tee; on a pipe it splits it",
            Command::TakeFixed => "Sets a lake, a ditch or a mains tank, whose level does not move",
            Command::Find => "Finds a command or a part by some letters of its name",
            Command::Fit => "Fits the whole layout into the drawings",
            Command::Larger => "Enlarges the drawing",
            Command::Smaller => "Makes the drawing smaller",
            Command::OnlySection => "Shows the section: heights and levels",
            Command::OnlyPlan => "Shows the plan: where things stand, seen from above",
            Command::BothDrawings => "Shows section and plan beside each other",
            Command::OnlyGrade => "Shows the grade line along the path through what is selected",
            Command::Shelf => "Shows the shelf with vessels and tools, or puts it away",
            Command::Watch(state) => watched(state).1,
            Command::Play => "Lets time go on under the drawing, or stand still",
            Command::TimeBar => "Shows the curves of levels under the states, or puts them away",
            Command::NextEvent => "Goes to the moment at which the next thing happens",
            Command::EventBefore => "Goes to the moment at which the last thing happened",
            Command::NextPart => "Selects the next part",
            Command::PartBefore => "Selects the part before",
            Command::NextPartToo => "Adds the next part to what is selected",
            Command::NextCrest => {
                "Selects the next crest, invert or lip; the arrow keys then set its height"
            }
            Command::CrestBefore => "Selects the crest, invert or lip before",
            Command::TypeNumber => {
                "Puts the keyboard into the first number of what is selected: the height of a crest"
            }
            Command::KeepBeside => {
                "Keeps the layout as it is now beside the drawing, and marks what differs from here on"
            }
            Command::OpenBeside => {
                "Shows a layout out of a file beside this one, and marks what differs"
            }
            Command::EndBeside => "Shows this layout alone again",
            Command::Metric => "Shows millimetres, litres and m³/h",
            Command::Us => "Shows feet and inches, US gallons and gallons a minute",
            Command::Light => "Dark letters on a light window",
            Command::Dark => "Light letters on a dark window",
            Command::SystemTheme => "Light or dark as the system has it",
            Command::Survey => {
                "Sets floors and rims from readings of a staff, a laser or a hose of water"
            }
            Command::LayPicture => {
                "Lays a photo from above or a scan, .png or .jpg, under the plan"
            }
            Command::ScalePicture => {
                "Brings it to scale: click both ends of something whose length you know"
            }
            Command::PictureAway => "Takes the picture from under the plan; its file stays",
        }
    }
}

/// What a state is called, and what is seen in it.
fn watched(state: State) -> (&'static str, &'static str) {
    match state {
        State::Rest => (
            "At rest",
            "The levels with the pumps off, as filled, once the water is still",
        ),
        State::Starting => (
            "Starting",
            "From rest, the pumps are switched on: vessels fill in turn, and the sump is drawn down",
        ),
        State::Running => (
            "Running",
            "The levels with the pumps on, once they are steady",
        ),
        State::Fouled => (
            "Fouled",
            "Running after years: film in the pipes, rough walls, dirty filters, screens part blinded",
        ),
        State::Blocked => (
            "Blocked",
            "While everything runs one run is shut at once: a drain clogs, a valve is shut by mistake",
        ),
        State::Stopped => (
            "Stopped",
            "The pumps stop, as when the power fails: what stands over crests runs down to the sump",
        ),
    }
}
