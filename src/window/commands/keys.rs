//! Keyboard shortcuts of commands.

use super::Command;
use crate::state::State;
use egui::{Event, Key, KeyboardShortcut, Modifiers};

impl Command {
    /// The shortcut, if any.
    pub fn shortcut(self) -> Option<KeyboardShortcut> {
        const SHIFT_COMMAND: Modifiers = Modifiers::COMMAND.plus(Modifiers::SHIFT);
        const NONE: Modifiers = Modifiers::NONE;
        let key = |modifiers, key| Some(KeyboardShortcut::new(modifiers, key));
        match self {
            Command::New => key(Modifiers::COMMAND, Key::N),
            Command::Open => key(Modifiers::COMMAND, Key::O),
            Command::Save => key(Modifiers::COMMAND, Key::S),
            Command::SaveAs => key(SHIFT_COMMAND, Key::S),
            Command::SavePicture => key(SHIFT_COMMAND, Key::P),
            Command::CopyPicture => key(SHIFT_COMMAND, Key::I),
            Command::Quit => key(Modifiers::COMMAND, Key::Q),
            Command::Undo => key(Modifiers::COMMAND, Key::Z),
            Command::Redo => key(SHIFT_COMMAND, Key::Z),
            Command::Cut => key(Modifiers::COMMAND, Key::X),
            Command::Copy => key(Modifiers::COMMAND, Key::C),
            Command::Paste => key(Modifiers::COMMAND, Key::V),
            Command::Duplicate => key(Modifiers::COMMAND, Key::D),
            Command::Row => key(SHIFT_COMMAND, Key::D),
            Command::Remove => key(NONE, Key::Delete),
            Command::SelectAll => key(Modifiers::COMMAND, Key::A),
            Command::Rename => key(NONE, Key::F2),
            Command::TurnLeft => key(NONE, Key::T),
            Command::TurnRight => key(Modifiers::SHIFT, Key::T),
            Command::Blocks => key(NONE, Key::B),
            Command::Lock => key(NONE, Key::L),
            Command::Unlock => key(Modifiers::SHIFT, Key::L),
            Command::Join => key(NONE, Key::J),
            Command::Feed => key(Modifiers::SHIFT, Key::J),
            Command::TakeHand => key(NONE, Key::H),
            Command::TakePipe => key(NONE, Key::P),
            Command::TakeManifold => key(NONE, Key::M),
            Command::TakeTape => key(Modifiers::SHIFT, Key::M),
            Command::Find => key(Modifiers::COMMAND, Key::F),
            Command::Fit => key(NONE, Key::F),
            Command::Larger => key(NONE, Key::Plus),
            Command::Smaller => key(NONE, Key::Minus),
            Command::OnlySection => key(NONE, Key::Num1),
            Command::OnlyPlan => key(NONE, Key::Num2),
            Command::BothDrawings => key(NONE, Key::Num3),
            Command::OnlyGrade => key(NONE, Key::G),
            Command::Shelf => key(NONE, Key::S),
            Command::KeepBeside => key(NONE, Key::K),
            Command::EndBeside => key(Modifiers::SHIFT, Key::K),
            Command::Watch(State::Rest) => key(NONE, Key::Num4),
            Command::Watch(State::Starting) => key(NONE, Key::Num5),
            Command::Watch(State::Running) => key(NONE, Key::Num6),
            Command::Watch(State::Fouled) => key(NONE, Key::Num7),
            Command::Watch(State::Blocked) => key(NONE, Key::Num8),
            Command::Watch(State::Stopped) => key(NONE, Key::Num9),
            Command::Play => key(NONE, Key::W),
            Command::NextEvent => key(NONE, Key::E),
            Command::EventBefore => key(Modifiers::SHIFT, Key::E),
            Command::NextPart => key(NONE, Key::Period),
            Command::PartBefore => key(NONE, Key::Comma),
            Command::NextPartToo => key(Modifiers::ALT, Key::Period),
            Command::NextCrest => key(NONE, Key::N),
            Command::CrestBefore => key(Modifiers::SHIFT, Key::N),
            Command::TypeNumber => key(NONE, Key::I),
            _ => None,
        }
    }

    /// Takes the pressed shortcut out of the input. While a text field has the focus, only those with Ctrl or Cmd
    /// count.
    pub fn pressed(ctx: &egui::Context) -> Option<Command> {
        let typing = ctx.text_edit_focused();
        let mut keyed: Vec<(Command, KeyboardShortcut)> = Command::ALL
            .into_iter()
            .filter_map(|command| Some((command, command.shortcut()?)))
            .filter(|(command, key)| !typing || (key.modifiers.command && !command.is_for_text()))
            .collect();
        // Shortcuts with Shift come first: the same key without Shift would match too.
        keyed.sort_by_key(|(_, key)| std::cmp::Reverse(weight(key.modifiers)));
        ctx.input_mut(|input| {
            let found = keyed
                .into_iter()
                .find(|(_, key)| input.consume_shortcut(key));
            let found = found.map(|(command, _)| command);
            // Systems send separate events for cutting and copying.
            found.or_else(|| match input.events.iter().find_map(by_event) {
                Some(command) if !typing => Some(command),
                _ => None,
            })
        })
    }

    /// Whether a text field handles the shortcut itself while it has the focus.
    fn is_for_text(self) -> bool {
        matches!(
            self,
            Command::Cut
                | Command::Copy
                | Command::Paste
                | Command::SelectAll
                | Command::Undo
                | Command::Redo
        )
    }
}

fn by_event(event: &Event) -> Option<Command> {
    match event {
        Event::Cut => Some(Command::Cut),
        Event::Copy => Some(Command::Copy),
        _ => None,
    }
}

fn weight(modifiers: Modifiers) -> u8 {
    u8::from(modifiers.command) + u8::from(modifiers.shift) + u8::from(modifiers.alt)
}
