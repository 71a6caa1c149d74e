//! What the guide prints is what the program prints.

use super::program::{call, text};
use std::collections::HashSet;

const PAGE: &str = include_str!("../../../docs/guide/what-happens-when.md");

#[test]
fn the_pieces_of_the_page_are_real() {
    let example = |name: &str| format!("{}/examples/{name}.ron", env!("CARGO_MANIFEST_DIR"));
    let beds = example("two-beds");
    let words: [&[&str]; 2] = [
        &["check", &beds],
        &["trace", &beds, "--state", "blocked", "--block", "hole-2"],
    ];
    let printed: Vec<String> = words
        .iter()
        .map(|words| text(&call(words).stdout))
        .collect();
    let printed: HashSet<&str> = printed.iter().flat_map(|out| out.lines()).collect();
    let pieces = PAGE.lines().filter_map(|line| line.strip_prefix("    "));
    let mut count = 0;
    for piece in pieces.filter(|line| !line.starts_with("fallwright ")) {
        if !piece.starts_with("limits: ") {
            assert!(printed.contains(piece), "{piece}");
            count += 1;
        }
    }
    assert!(count > 35, "{count}");
}

#[test]
fn the_commands_of_the_page_give_an_answer() {
    let commands = PAGE
        .lines()
        .filter_map(|line| line.trim().strip_prefix("fallwright "));
    let mut count = 0;
    for command in commands {
        let words: Vec<String> = command
            .split(' ')
            .map(|word| {
                word.replace(
                    "examples/",
                    concat!(env!("CARGO_MANIFEST_DIR"), "/examples/"),
                )
            })
            .collect();
        let words: Vec<&str> = words.iter().map(String::as_str).collect();
        assert_ne!(call(&words).status.code(), Some(2), "{command}");
        count += 1;
    }
    assert_eq!(count, 3);
}
