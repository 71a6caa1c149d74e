//! Tests that the page of commands and keys agrees with the program.

use egui::{KeyboardShortcut, ModifierNames};
use fallwright::window::Command;
use std::path::Path;

fn row(command: Command) -> String {
    let written = |key: KeyboardShortcut| key.format(&ModifierNames::NAMES, false);
    let key = command.shortcut().map(written).unwrap_or_default();
    let cells = [command.text(), key.as_str(), command.tip()];
    let cells = cells.map(|cell| {
        if cell.is_empty() {
            " ".to_owned()
        } else {
            format!(" {cell} ")
        }
    });
    format!("|{}|", cells.join("|"))
}

#[test]
fn the_page_of_keys_has_every_command_and_no_other() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("docs/guide/keys.md");
    let page = std::fs::read_to_string(path).unwrap();
    let table = page.split("## ").find(|part| part.starts_with("Commands"));
    let lines = table.unwrap().lines();
    let rows: Vec<&str> = lines.filter(|line| line.starts_with('|')).skip(2).collect();
    let wanted: Vec<String> = Command::ALL.into_iter().map(row).collect();
    assert_eq!(rows, wanted, "the table should be\n{}", wanted.join("\n"));
}
