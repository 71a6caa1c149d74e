//! Labels and tooltips of commands.

use super::Command;
use crate::state::State;

impl Command {
    /// The label in a menu.
    pub fn text(self) -> &'static str {
        match self {
            Command::New => "New",
            Command::Demo => "Open demo",
            Command::Open => "Open…",
            Command::Save => "Save",
            Command::SaveAs => "Save as…",
            Command::SavePicture => "Save picture…",
            Command::CopyPicture => "Copy picture",
            Command::CopySvg => "Copy picture as SVG",
            Command::Quit => "Quit",
            Command::About => "About Fallwright",
            Command::Undo => "Undo",
            Command::Redo => "Redo",
            Command::Cut => "Cut",
            Command::Copy => "Copy",
            Command::Paste => "Paste",
            Command::Duplicate => "Duplicate",
            Command::Row => "Repeat in a row…",
            Command::Remove => "Delete",
            Command::SelectAll => "Select all",
            Command::Rename => "Rename",
            Command::TurnLeft => "Turn left",
            Command::TurnRight => "Turn right",
            Command::LineUp => "Align vertically in plan",
            Command::LineAcross => "Align horizontally in plan",
            Command::FloorsAlike => "Align floors",
            Command::RimsAlike => "Align rims",
            Command::Blocks => "Raise on blocks…",
            Command::Lock => "Lock as built",
            Command::Unlock => "Unlock",
            Command::Join => "Connect with a pipe",
            Command::Feed => "Feed through a manifold",
            Command::Unbend => "Remove corner",
            Command::Add(preset) => preset.words(),
            Command::TakeHand => "Select",
            Command::TakePipe => "Pipe",
            Command::TakeManifold => "Manifold",
            Command::TakeTape => "Measure",
            Command::TakeJoint => "Tee",
            Command::TakeFixed => "Fixed level",
            Command::Find => "Find a command or a part…",
            Command::Fit => "Zoom to fit",
            Command::Larger => "Zoom in",
            Command::Smaller => "Zoom out",
            Command::OnlySection => "Section",
            Command::OnlyPlan => "Plan",
            Command::BothDrawings => "Section and plan",
            Command::OnlyGrade => "Grade line",
            Command::Shelf => "Shelf",
            Command::Watch(state) => watched(state).0,
            Command::Play => "Play/Pause",
            Command::TimeBar => "Time bar",
            Command::NextEvent => "Next event",
            Command::EventBefore => "Previous event",
            Command::NextPart => "Next part",
            Command::PartBefore => "Previous part",
            Command::NextPartToo => "Add next part to selection",
            Command::NextCrest => "Next crest",
            Command::CrestBefore => "Previous crest",
            Command::TypeNumber => "Edit value",
            Command::KeepBeside => "Compare from here",
            Command::OpenBeside => "Compare with file…",
            Command::EndBeside => "End comparison",
            Command::Metric => "Metric",
            Command::Us => "US",
            Command::Light => "Light",
            Command::Dark => "Dark",
            Command::SystemTheme => "Follow system",
            Command::Survey => "Enter survey…",
            Command::LayPicture => "Add site picture…",
            Command::ScalePicture => "Scale site picture",
            Command::PictureAway => "Remove site picture",
        }
    }

    /// The tooltip.
    pub fn tip(self) -> &'static str {
        match self {
            Command::New => "Starts an empty layout",
            Command::Demo => "Opens the perch and watercress glasshouse",
            Command::Open => "Opens a layout file, .ron or .json",
            Command::Save => "Saves the layout to its file",
            Command::SaveAs => "Saves the layout to another file",
            Command::SavePicture => {
                "Saves the current drawing as it is on the screen: .png, .svg or .pdf"
            }
            Command::CopyPicture => "Copies the current drawing as a picture, to paste elsewhere",
            Command::CopySvg => "Copies the current drawing as SVG text, to edit elsewhere",
            Command::Quit => "Closes the program; asks first if there is unsaved work",
            Command::About => "Shows the version and what the results are good for",
            Command::Undo => "Undoes the last step",
            Command::Redo => "Redoes the step that was undone",
            Command::Cut => "Copies the selection and deletes it",
            Command::Copy => "Copies the selection and the runs between its parts",
            Command::Paste => "Pastes what was copied, from this layout or another",
            Command::Duplicate => {
                "Places a copy of the selection and the runs between its parts beside it"
            }
            Command::Row => {
                "Repeats the selection in a row, with its openings and the runs that leave it"
            }
            Command::Remove => "Deletes the selection and the runs that end there",
            Command::SelectAll => "Selects every part of the layout",
            Command::Rename => "Renames the selected part in place",
            Command::TurnLeft => "Turns the selection a quarter turn to the left in the plan",
            Command::TurnRight => "Turns the selection a quarter turn to the right in the plan",
            Command::LineUp => {
                "Lines the selection up above and below the first selected part, in the plan"
            }
            Command::LineAcross => {
                "Lines the selection up beside the first selected part, in the plan"
            }
            Command::FloorsAlike => {
                "Moves all floors to the height of the first; openings move with them"
            }
            Command::RimsAlike => {
                "Moves all rims to the height of the first; openings move with them"
            }
            Command::Blocks => "Raises the selected vessels on blocks of a given height",
            Command::Lock => "Marks the selection as built, so that it cannot be moved by accident",
            Command::Unlock => "Lets the selection be changed again",
            Command::Join => "Draws a run from the first selected vessel or tee to the second",
            Command::Feed => {
                "Builds a manifold from the first selected part to the others, with a valve for each"
            }
            Command::Unbend => "Removes the selected corner from its run",
            Command::Add(preset) => preset.tip(),
            Command::TakeHand => "Selects and moves",
            Command::TakePipe => {
                "Draws pipe from one vessel to the next; clicks in between make corners"
            }
            Command::TakeManifold => "Draws one pipe across the vessels that it feeds",
            Command::TakeTape => "Measures from one place to another",
            Command::TakeJoint => "Places a tee; on a pipe, it splits the run",
            Command::TakeFixed => {
                "Places a lake, a ditch or a mains tank: a level that does not move"
            }
            Command::Find => "Finds a command or a part by letters of its name",
            Command::Fit => "Fits the whole layout in the drawings",
            Command::Larger => "Enlarges the drawing",
            Command::Smaller => "Shrinks the drawing",
            Command::OnlySection => "Shows the section: heights and levels",
            Command::OnlyPlan => "Shows the plan: the layout from above",
            Command::BothDrawings => "Shows section and plan side by side",
            Command::OnlyGrade => "Shows the grade line along the path through the selection",
            Command::Shelf => "Shows or hides the shelf with tools and vessels",
            Command::Watch(state) => watched(state).1,
            Command::Play => "Plays or pauses what happens in time",
            Command::TimeBar => "Shows or hides the curves of levels under the states",
            Command::NextEvent => "Goes to the next event",
            Command::EventBefore => "Goes to the previous event",
            Command::NextPart => "Selects the next part",
            Command::PartBefore => "Selects the previous part",
            Command::NextPartToo => "Adds the next part to the selection",
            Command::NextCrest => {
                "Selects the next crest, invert or lip; the arrow keys then set its height"
            }
            Command::CrestBefore => "Selects the previous crest, invert or lip",
            Command::TypeNumber => {
                "Goes to the first number of the selected part: the height of a crest"
            }
            Command::KeepBeside => {
                "Keeps the layout as it is now, and marks every later difference"
            }
            Command::OpenBeside => {
                "Compares this layout with another file, and marks the differences"
            }
            Command::EndBeside => "Stops comparing",
            Command::Metric => "Shows millimetres, litres and m³/h",
            Command::Us => "Shows feet and inches, US gallons and gallons a minute",
            Command::Light => "Dark text on light",
            Command::Dark => "Light text on dark",
            Command::SystemTheme => "Light or dark, as the system is set",
            Command::Survey => {
                "Sets floors and rims from readings with a staff, a laser or a water level"
            }
            Command::LayPicture => "Puts an aerial photo or a scan, .png or .jpg, under the plan",
            Command::ScalePicture => {
                "Scales the picture: click both ends of something whose length you know"
            }
            Command::PictureAway => "Removes the picture from under the plan; its file stays",
        }
    }
}

/// The name of a state and what it shows.
fn watched(state: State) -> (&'static str, &'static str) {
    match state {
        State::Rest => (
            "At rest",
            "The levels with the pumps off, as filled, once the water is still",
        ),
        State::Starting => (
            "Starting",
            "The pumps switch on from rest: vessels fill in turn and the sump is drawn down",
        ),
        State::Running => (
            "Running",
            "The levels with the pumps on, once they are steady",
        ),
        State::Fouled => (
            "Fouled",
            "Running after years: film in the pipes, rough walls, dirty filters, part-blinded screens",
        ),
        State::Blocked => (
            "Blocked",
            "One run is shut suddenly while everything runs: a drain clogs or a valve is closed by mistake",
        ),
        State::Stopped => (
            "Stopped",
            "The pumps stop, as in a power cut: the water above the crests drains to the sump",
        ),
    }
}
