//! Tests of the tables below the drawing: sorting, reading, copying, and selection shared with the drawing.

use crate::support::window::{click, demo, let_go, says, settle, take};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use fallwright::draw::section::Pick;
use fallwright::window::App;

/// Names of the rows that are shown, from the top down.
fn rows(harness: &Harness<'_, App>) -> Vec<String> {
    let rows = harness.query_all_by_label_contains("Row ");
    let mut rows: Vec<(f32, String)> = rows
        .map(|node| {
            (
                node.rect().top(),
                node.accesskit_node().label().unwrap_or_default(),
            )
        })
        .collect();
    rows.sort_by(|a, b| a.0.total_cmp(&b.0));
    rows.into_iter().map(|(_, name)| name).collect()
}

/// What stands behind a heading in the name of a row.
fn told(row: &str, title: &str) -> String {
    let mut cells = row.split(", ");
    let cell = cells.find(|cell| cell.starts_with(title));
    cell.unwrap_or_else(|| panic!("no {title} in {row}"))
        .to_owned()
}

#[test]
fn ui_a_table_is_sorted_by_its_headings_and_a_row_is_found_on_the_drawing() {
    let mut harness = demo();
    click(&mut harness, "Vessels");
    let drawn = rows(&harness);
    assert!(drawn[0].starts_with("Row Pit"), "{drawn:?}");
    click(&mut harness, "Sort by Floor");
    let up = rows(&harness);
    assert!(up[0].starts_with("Row Pit"), "{up:?}");
    click(&mut harness, "Sort by Floor (ascending)");
    let down = rows(&harness);
    assert!(down[0].starts_with("Row Header"), "{down:?}");
    click(&mut harness, "Sort by Floor (descending)");
    assert_eq!(rows(&harness), drawn);
    let row = drawn
        .iter()
        .find(|row| row.starts_with("Row Header"))
        .unwrap()
        .clone();
    click(&mut harness, &row);
    let selected = harness.state().tool_state().selected.clone();
    assert_eq!(selected, [Pick::Part("header".into())]);
    assert!(says(&harness, "Vessel: header").is_some(), "its panel");
}

#[test]
fn ui_the_number_in_a_row_is_that_of_the_finding_and_of_the_part() {
    let mut harness = demo();
    let held = take(&mut harness, "Crest of Cress upstand 3", -22.0);
    let_go(&mut harness, held);
    assert!(says(&harness, "Cress bed 2 spills").is_some());
    click(&mut harness, "Vessels");
    click(&mut harness, "Sort by Freeboard");
    let shown = harness.state().session().shown();
    let vessels = &shown.running.unwrap().vessels;
    let bed = vessels.iter().find(|one| one.id.as_str() == "cress-2");
    let stands_m = bed.unwrap().stands_m().unwrap();
    let level_mm = format!("Level {:.0} mm", stands_m * 1000.0);
    let row = rows(&harness)
        .into_iter()
        .find(|row| row.starts_with("Row Cress bed 2"))
        .unwrap();
    assert_eq!(told(&row, "Level"), level_mm);
    assert!(row.ends_with("problem"), "{row}");
    click(&mut harness, &row);
    let level = level_mm.trim_start_matches("Level ").to_owned();
    assert!(
        harness.query_all_by_label(&level).next().is_some(),
        "{level} in the panel"
    );
    // And back to what is said of it.
    click(&mut harness, "Findings");
    assert!(says(&harness, "Cress bed 2 spills").is_some());
}

#[test]
fn ui_a_part_that_is_selected_elsewhere_is_brought_into_view() {
    let mut harness = demo();
    click(&mut harness, "Runs");
    let count = harness.state().session().layout().runs.len();
    assert!(
        rows(&harness).len() < count,
        "only the rows that are seen are laid out"
    );
    let last = harness
        .state()
        .session()
        .layout()
        .runs
        .last()
        .unwrap()
        .clone();
    let name = format!("Row {}", last.name);
    assert!(!rows(&harness).iter().any(|row| row.starts_with(&name)));
    click(&mut harness, &last.name);
    harness.run();
    assert!(
        rows(&harness).iter().any(|row| row.starts_with(&name)),
        "{name}"
    );
}

#[test]
fn ui_a_table_is_copied_as_it_stands() {
    let mut harness = demo();
    click(&mut harness, "Runs");
    click(&mut harness, "Sort by Flow");
    click(&mut harness, "Sort by Flow (ascending)");
    click(&mut harness, "Copy table");
    let text = harness.state().copied().unwrap().to_owned();
    let lines: Vec<Vec<&str>> = text
        .lines()
        .map(|line| line.split('\t').collect())
        .collect();
    assert_eq!(
        lines.len(),
        harness.state().session().layout().runs.len() + 1
    );
    assert_eq!(lines[0][5], "Flow, m³/h");
    let flows: Vec<f64> = lines[1..]
        .iter()
        .map(|line| line[5].parse().unwrap())
        .collect();
    assert!(flows.windows(2).all(|pair| pair[0] >= pair[1]), "{flows:?}");
    assert!(
        harness
            .state()
            .said()
            .unwrap()
            .starts_with("Copied a table of")
    );
    // In US units it is the same water.
    click(&mut harness, "US");
    click(&mut harness, "Copy table");
    let us = harness.state().copied().unwrap().to_owned();
    let lines: Vec<Vec<&str>> = us.lines().map(|line| line.split('\t').collect()).collect();
    assert_eq!(lines[0][5], "Flow, US gpm");
    let gpm: f64 = lines[1][5].parse().unwrap();
    assert!(
        (gpm * 0.003_785_411_784 * 60.0 - flows[0]).abs() < 1e-6,
        "{gpm}"
    );
}

#[test]
fn ui_a_table_follows_the_state_that_is_shown() {
    let mut harness = demo();
    click(&mut harness, "Pumps");
    assert!(
        rows(&harness)[0].contains("Status runs"),
        "{:?}",
        rows(&harness)
    );
    click(&mut harness, "At rest");
    settle(&mut harness);
    assert!(
        rows(&harness)[0].contains("Status off"),
        "{:?}",
        rows(&harness)
    );
}

#[test]
fn ui_an_empty_layout_has_empty_tables() {
    let mut harness = demo();
    harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::N);
    harness.run();
    settle(&mut harness);
    click(&mut harness, "Vessels");
    assert!(says(&harness, "No vessels yet").is_some());
}
