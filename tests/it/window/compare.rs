//! Tests of comparing two layouts, and of pictures of the drawings.

use crate::support::services::remembering;
use crate::support::window::{Answers, click, demo, let_go, says, settle, solved_by, take, with};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use fallwright::session::Services;
use fallwright::window::App;
use std::path::Path;
use std::sync::{Arc, Mutex};

const CREST: &str = "Crest of Cress upstand 3";

#[test]
fn ui_what_is_kept_stands_beside_what_comes_of_it_and_differences_are_told() {
    let mut harness = demo();
    harness.key_press(egui::Key::K);
    harness.run();
    settle(&mut harness);
    assert!(says(&harness, "Section: As opened").is_some());
    assert!(says(&harness, "No differences").is_some());
    let held = take(&mut harness, CREST, -22.0);
    let_go(&mut harness, held);
    settle(&mut harness);
    assert!(says(&harness, "No differences").is_none());
    // What is new, the levels that differ, and by how much.
    assert!(says(&harness, "New problem").is_some());
    let beside = harness.state().session().baseline().unwrap();
    let was = beside.evaluation.unwrap();
    let state = fallwright::state::State::Running;
    let apart = fallwright::evaluate::levels_apart(
        was.state(state).unwrap(),
        harness.state().session().shown().state(state).0.unwrap(),
    );
    let bed = apart
        .iter()
        .find(|one| one.id.as_str() == "cress-3")
        .unwrap();
    let by = fallwright::draw::results::reports::by_how_much(
        fallwright::units::Quantity::Height,
        bed.by().unwrap(),
        fallwright::units::UnitSystem::Metric,
    );
    assert!(by.starts_with('+') && says(&harness, &by).is_some(), "{by}");
    // A row leads to its part on the drawing.
    {
        let rows = harness.get_all_by_label("Cress bed 3");
        let row = rows.max_by(|a, b| a.rect().top().total_cmp(&b.rect().top()));
        row.unwrap().click_accesskit();
    }
    harness.run();
    assert_eq!(harness.state().tool_state().parts(), ["cress-3".into()]);
    click(&mut harness, "End comparison");
    assert!(harness.state().session().baseline().is_none());
    assert!(says(&harness, "Section: As opened").is_none());
}

#[test]
fn regress_the_drawing_keeps_its_size_while_what_it_is_held_against_is_solved() {
    let gate = Arc::new(Mutex::new(()));
    let (evaluate, waits) = (remembering().evaluate, gate.clone());
    let mut harness = solved_by(Services {
        evaluate: Arc::new(move |layout, states| {
            drop(waits.lock());
            evaluate(layout, states)
        }),
        ..remembering()
    });
    // The choice of the state stands just below the drawing.
    let below = |harness: &Harness<'_, App>| harness.get_by_label("At rest").rect().top();
    let before = below(&harness);
    let shut = gate.lock().unwrap();
    harness.key_press(egui::Key::K);
    // What is below takes its size from the frame before.
    for _ in 0..3 {
        harness.step();
    }
    assert!(says(&harness, "Updating…").is_some());
    assert_eq!(below(&harness), before);
    drop(shut);
    settle(&mut harness);
    assert!(says(&harness, "No differences").is_some());
    assert_eq!(below(&harness), before);
}

#[test]
fn ui_a_file_can_be_compared_with_and_one_that_cannot_be_read_says_why() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let answers = Answers {
        open: [
            root.join("tests/bad/empty.ron"),
            root.join("examples/drain-too-high.ron"),
        ]
        .into(),
        ..Answers::default()
    };
    let mut harness = with(answers);
    let compare = |harness: &mut Harness<'_, App>| {
        click(harness, "View");
        click(harness, "Compare with file…");
        settle(harness);
    };
    compare(&mut harness);
    assert!(says(&harness, "Cannot compare with this layout").is_some());
    click(&mut harness, "Close");
    compare(&mut harness);
    assert!(says(&harness, "Section: drain-too-high.ron").is_some());
    assert!(says(&harness, "Gone problem").is_some());
}

#[test]
fn ui_the_drawing_is_saved_as_it_stands_on_the_screen() {
    let folder = tempfile::tempdir().unwrap();
    let name = |ending: &str| folder.path().join(format!("seen.{ending}"));
    let answers = Answers {
        save: [
            name("svg"),
            name("png"),
            name("pdf"),
            folder.path().join("bare"),
            name("gif"),
        ]
        .into(),
        ..Answers::default()
    };
    let mut harness = with(answers);
    for _ in 0..5 {
        harness.key_press_modifiers(
            egui::Modifiers::COMMAND | egui::Modifiers::SHIFT,
            egui::Key::P,
        );
        harness.run();
    }
    let bytes = |path: &Path| std::fs::read(path).unwrap();
    let svg = String::from_utf8(bytes(&name("svg"))).unwrap();
    assert!(svg.starts_with("<svg") || svg.starts_with("<?xml"));
    assert!(svg.contains("Perch tank 1") && svg.contains("12.4 m³/h at 4.99 m"));
    assert!(bytes(&name("png")).starts_with(b"\x89PNG"));
    assert!(bytes(&name("pdf")).starts_with(b"%PDF"));
    assert!(bytes(&folder.path().join("bare.png")).starts_with(b"\x89PNG"));
    assert!(!name("gif").exists());
    assert!(says(&harness, "Choose a name that ends in .svg, .png or .pdf").is_some());
}

#[test]
fn ui_the_drawing_is_copied_as_a_picture_and_as_text() {
    let mut harness = demo();
    click(&mut harness, "Plan");
    harness.key_press_modifiers(
        egui::Modifiers::COMMAND | egui::Modifiers::SHIFT,
        egui::Key::I,
    );
    harness.run();
    let said = harness.state().said().unwrap_or_default().to_owned();
    let numbers: Vec<u32> = said
        .split(' ')
        .filter_map(|word| word.parse().ok())
        .collect();
    assert!(said.starts_with("Picture copied"), "{said}");
    // Twice the points of the drawing.
    assert!(numbers[0] > 800 && numbers[1] > 600, "{said}");
    click(&mut harness, "File");
    click(&mut harness, "Copy picture as SVG");
    let text = harness.state().copied().unwrap();
    assert!(text.contains("<svg") && text.contains("Trickle tower"));
}

#[test]
fn ui_curves_and_plots_are_saved_where_they_stand() {
    let folder = tempfile::tempdir().unwrap();
    let name = |ending: &str| folder.path().join(ending);
    let answers = Answers {
        save: [name("curves.svg"), name("plot.svg")].into(),
        ..Answers::default()
    };
    let mut harness = with(answers);
    click(&mut harness, "Stopped");
    let save = |harness: &mut Harness<'_, App>, of: &str| {
        let found = harness.query_all_by_label_contains(of);
        let node = found.last().unwrap_or_else(|| panic!("no {of}"));
        node.click_secondary();
        harness.run();
        click(harness, "Save picture…");
    };
    save(&mut harness, "Time after the stop");
    let svg = std::fs::read_to_string(name("curves.svg")).unwrap();
    assert!(svg.contains("Pit") && svg.contains("rim 50 mm"), "{svg}");
    click(&mut harness, "Running");
    click(&mut harness, "Circulation pump");
    save(&mut harness, "Duty plot of Circulation pump");
    let svg = std::fs::read_to_string(name("plot.svg")).unwrap();
    assert!(svg.contains("static lift") && svg.contains("dirty"));
}
