//! What can be done from anywhere: one list that menus, buttons, keys and help are made from.

use egui::{Key, KeyboardShortcut, Modifiers};

/// A command.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Command {
    /// Opens the demo.
    Demo,
    /// Opens a file.
    Open,
    /// Saves under the same name.
    Save,
    /// Saves under another name.
    SaveAs,
    /// Ends the program.
    Quit,
    /// Takes the last step back.
    Undo,
    /// Makes the step again that was taken back.
    Redo,
    /// Shows all of the layout.
    Fit,
    /// Draws larger.
    Larger,
    /// Draws smaller.
    Smaller,
    /// Selects the next crest.
    NextCrest,
    /// Selects the crest before.
    CrestBefore,
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
    pub const ALL: [Command; 21] = [
        Command::Demo,
        Command::Open,
        Command::Save,
        Command::SaveAs,
        Command::Quit,
        Command::Undo,
        Command::Redo,
        Command::Fit,
        Command::Larger,
        Command::Smaller,
        Command::NextCrest,
        Command::CrestBefore,
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

    /// Its words in a menu.
    pub fn text(self) -> &'static str {
        match self {
            Command::Demo => "Open the demo",
            Command::Open => "Open a layout…",
            Command::Save => "Save",
            Command::SaveAs => "Save as…",
            Command::Quit => "Quit",
            Command::Undo => "Undo",
            Command::Redo => "Redo",
            Command::Fit => "Show everything",
            Command::Larger => "Larger",
            Command::Smaller => "Smaller",
            Command::NextCrest => "Next crest",
            Command::CrestBefore => "Crest before",
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
            Command::Demo => "Opens the glasshouse with perch and watercress",
            Command::Open => "Opens a layout file, .ron or .json",
            Command::Save => "Writes the layout to its file",
            Command::SaveAs => "Writes the layout to another file",
            Command::Quit => "Ends the program, and asks first where something is not saved",
            Command::Undo => "Takes the last step back",
            Command::Redo => "Makes the step again that was taken back",
            Command::Fit => "Fits the whole layout into the drawing",
            Command::Larger => "Enlarges the drawing",
            Command::Smaller => "Makes the drawing smaller",
            Command::NextCrest => {
                "Selects the next crest, invert or lip; the arrow keys then set its height"
            }
            Command::CrestBefore => "Selects the crest, invert or lip before",
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

    /// Its key, where it has one.
    pub fn shortcut(self) -> Option<KeyboardShortcut> {
        const SHIFT_COMMAND: Modifiers = Modifiers::COMMAND.plus(Modifiers::SHIFT);
        let key = |modifiers, key| Some(KeyboardShortcut::new(modifiers, key));
        match self {
            Command::Open => key(Modifiers::COMMAND, Key::O),
            Command::Save => key(Modifiers::COMMAND, Key::S),
            Command::SaveAs => key(SHIFT_COMMAND, Key::S),
            Command::Quit => key(Modifiers::COMMAND, Key::Q),
            Command::Undo => key(Modifiers::COMMAND, Key::Z),
            Command::Redo => key(SHIFT_COMMAND, Key::Z),
            Command::Fit => key(Modifiers::NONE, Key::F),
            Command::Larger => key(Modifiers::NONE, Key::Plus),
            Command::Smaller => key(Modifiers::NONE, Key::Minus),
            Command::NextCrest => key(Modifiers::NONE, Key::N),
            Command::CrestBefore => key(Modifiers::SHIFT, Key::N),
            _ => None,
        }
    }

    /// The command whose key was pressed, taken out of the input. Keys without Ctrl or Cmd belong to
    /// whoever types, so they count only while nobody does.
    pub fn pressed(ctx: &egui::Context) -> Option<Command> {
        let typing = ctx.text_edit_focused();
        let mut keyed: Vec<(Command, KeyboardShortcut)> = Command::ALL
            .into_iter()
            .filter_map(|command| Some((command, command.shortcut()?)))
            .filter(|(_, key)| !typing || key.modifiers.command)
            .collect();
        // A key with Shift is asked for first: without it the same key would answer too.
        keyed.sort_by_key(|(_, key)| std::cmp::Reverse(weight(key.modifiers)));
        ctx.input_mut(|input| {
            let found = keyed
                .into_iter()
                .find(|(_, key)| input.consume_shortcut(key));
            found.map(|(command, _)| command)
        })
    }
}

fn weight(modifiers: Modifiers) -> u8 {
    u8::from(modifiers.command) + u8::from(modifiers.shift) + u8::from(modifiers.alt)
}
