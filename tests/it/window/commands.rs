//! Tests of the list of commands.

use fallwright::window::Command;
use std::collections::BTreeSet;

#[test]
fn no_two_commands_share_a_key_or_their_words() {
    let mut keys = Vec::new();
    let mut words = BTreeSet::new();
    for command in Command::ALL {
        assert!(words.insert(command.text()), "{} twice", command.text());
        assert!(!command.tip().is_empty());
        if let Some(key) = command.shortcut() {
            assert!(!keys.contains(&key), "{key:?} twice");
            keys.push(key);
        }
    }
    assert!(keys.len() > 8);
}

#[test]
fn keys_without_ctrl_are_left_to_those_who_type() {
    for command in Command::ALL {
        let Some(key) = command.shortcut() else {
            continue;
        };
        let plain = !key.modifiers.command && !key.modifiers.ctrl && !key.modifiers.alt;
        if plain {
            // Looked at by Command::pressed: only letters and signs, never Enter, Tab or the arrows.
            use egui::Key;
            let taken = [
                Key::Enter,
                Key::Tab,
                Key::Escape,
                Key::ArrowUp,
                Key::ArrowDown,
            ];
            assert!(!taken.contains(&key.logical_key), "{}", command.text());
        }
    }
}
