//! Tests of building a layout from nothing in the window: placing, connecting, curing, undoing, saving and opening.

use crate::support::window::{Answers, Office, click, let_go, says, settle, take};
use egui_kittest::kittest::{NodeT, Queryable};
use fallwright::edit::Preset;
use fallwright::editor::DrawingKind;
use fallwright::file;
use fallwright::finding::{Code, Severity};
use fallwright::layout::Layout;

fn codes(office: &Office) -> Vec<Code> {
    let shown = office.harness.state().session().shown();
    let running = shown.findings.iter();
    running.map(|one| one.code).collect()
}

#[test]
fn ui_a_loop_of_two_beds_is_drawn_from_nothing_and_lives() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("mine.ron");
    let answers = Answers {
        save: [path.clone()].into(),
        open: [path.clone()].into(),
        ..Answers::default()
    };
    let mut office = Office::empty(answers);
    let empty = office.layout();
    let mut steps: Vec<Layout> = Vec::new();
    let mut step = |office: &mut Office| {
        let layout = office.layout();
        assert_eq!(layout.faults(), Vec::new());
        assert!(
            steps.last() != Some(&layout),
            "step {} changed nothing",
            steps.len()
        );
        steps.push(layout);
    };
    office.set_down("Bed", (-1.2, 1.0));
    step(&mut office);
    office.set_down("Bed", (1.2, 1.0));
    step(&mut office);
    office.set_down("Sump", (0.0, -1.0));
    step(&mut office);
    // A bed over the other, by its typed height: rim, medium and filling come along.
    office.pick("Bed 1");
    office.type_into("Move to height", "1050");
    step(&mut office);
    office.type_into("Rim", "4 ft 5 1/8");
    step(&mut office);
    office.type_into("Fill level", "1.28 m");
    step(&mut office);
    // What cannot be is refused, and nothing is lost.
    office.type_into("Floor height", "8 psi");
    assert!(says(&office.harness, "psi").is_some());
    office.key(egui::Key::Escape);
    for (from, to) in [("Sump 1", "Bed 1"), ("Bed 1", "Bed 2"), ("Bed 2", "Sump 1")] {
        office.pipe(from, to);
        step(&mut office);
    }
    office.key(egui::Key::H);
    let layout = office.layout();
    assert_eq!(layout.runs.len(), 3);
    assert!(layout.runs[0].pump.is_some());
    let shown = office.harness.state().session().shown();
    assert!(shown.running.unwrap().converged);
    assert!(
        !codes(&office).contains(&Code::Spills),
        "{:?}",
        codes(&office)
    );

    // Raised to the rim, the standing pipe of bed 2 lets it spill; the finding says so; lowered, it is gone.
    let crest = "Crest of Drain 2";
    let held = take(&mut office.harness, crest, -30.0);
    let_go(&mut office.harness, held);
    step(&mut office);
    assert!(
        codes(&office).contains(&Code::Spills),
        "{:?}",
        codes(&office)
    );
    assert!(says(&office.harness, "Bed 2 spills").is_some());
    // Beside the drawing its panel is headed by the same name, until it is put down.
    office.key(egui::Key::Escape);
    let held = take(&mut office.harness, crest, 30.0);
    let_go(&mut office.harness, held);
    step(&mut office);
    assert!(
        !codes(&office).contains(&Code::Spills),
        "{:?}",
        codes(&office)
    );

    // Back to the empty page step by step, and forth again: every layout is the one that it was.
    let last = office.layout();
    for wanted in steps.iter().rev().skip(1).chain([&empty]) {
        click(&mut office.harness, "Undo");
        assert_eq!(office.layout(), *wanted);
    }
    for wanted in &steps {
        click(&mut office.harness, "Redo");
        assert_eq!(office.layout(), *wanted);
    }
    assert_eq!(office.layout(), last);

    office.ctrl(egui::Key::S);
    assert_eq!(file::read(&path).unwrap(), last);
    office.ctrl(egui::Key::N);
    assert!(office.layout().vessels.is_empty());
    office.ctrl(egui::Key::O);
    assert_eq!(office.layout(), last);
}

/// From an empty page to a loop of two tanks, a bed, a sump and a pump that is checked, with nothing but the window and
/// vessels from the shelf. Every click and drag is counted; what is typed is listed.
#[test]
fn ui_a_checked_loop_takes_few_clicks() {
    let mut office = Office::empty(Answers::default());
    office.clicks = 0;
    // File, New layout.
    office.press("File");
    office.press("New");
    office.set_down("Round tank", (-1.8, 1.2));
    office.set_down("Round tank", (-1.8, -0.6));
    office.set_down("Bed", (0.4, -0.6));
    office.set_down("Sump", (0.4, 1.2));
    office.pipe_tool();
    office.pipe("Sump 1", "Tank 1");
    office.pipe("Tank 1", "Tank 2");
    office.pipe("Tank 2", "Bed 1");
    office.pipe("Bed 1", "Sump 1");
    let typed: [&str; 0] = [];
    let shown = office.harness.state().session().shown();
    let problems: Vec<Code> = shown
        .findings
        .iter()
        .filter(|one| one.severity == Severity::Problem)
        .map(|one| one.code)
        .collect();
    assert!(problems.is_empty(), "{problems:?}");
    assert!(shown.running.unwrap().converged && shown.unsolved.is_empty());
    let layout = office.layout();
    assert_eq!((layout.vessels.len(), layout.runs.len()), (4, 4));
    let pumps = layout.runs.iter().filter(|run| run.pump.is_some());
    assert_eq!(pumps.count(), 1);
    println!("clicks and drags: {}; typed: {typed:?}", office.clicks);
    assert_eq!(office.clicks, 15);
}

#[test]
fn ui_parts_are_drawn_joined_and_found_by_keys_alone() {
    let mut office = Office::empty(Answers::default());
    for name in ["round tank", "sump"] {
        office.ctrl(egui::Key::F);
        office.write(&format!("add {name}"));
        office.key(egui::Key::Enter);
    }
    assert_eq!(office.layout().vessels.len(), 2);
    office.key(egui::Key::Escape);
    office.key(egui::Key::Period);
    office.alt(egui::Key::Period);
    assert_eq!(office.harness.state().tool_state().parts().len(), 2);
    office.key(egui::Key::J);
    let layout = office.layout();
    assert_eq!(layout.runs.len(), 1);
    assert!(layout.runs[0].pump.is_none());
    // Renamed in its place.
    office.key(egui::Key::F2);
    office.write("Overflow");
    office.key(egui::Key::Enter);
    assert_eq!(office.layout().runs[0].name, "Overflow");
    // Found by its name, locked, and then no key moves it.
    office.key(egui::Key::Escape);
    office.ctrl(egui::Key::F);
    office.write("tank 1");
    office.key(egui::Key::Enter);
    office.key(egui::Key::L);
    let before = office.layout();
    assert!(before.vessels[0].already_built);
    office.key(egui::Key::ArrowUp);
    assert_eq!(office.layout(), before);
    assert!(says(&office.harness, "locked").is_some());
    office.shift(egui::Key::L);
    office.key(egui::Key::ArrowUp);
    assert!((office.layout().vessels[0].floor_m - before.vessels[0].floor_m - 0.001).abs() < 1e-9);
    // On blocks.
    office.key(egui::Key::B);
    office.write("3");
    office.key(egui::Key::Enter);
    assert!((office.layout().vessels[0].floor_m - 0.57).abs() < 1e-9);
    office.key(egui::Key::Delete);
    assert!(office.layout().runs.is_empty());
}

#[test]
fn ui_a_vessel_is_dragged_from_the_shelf_to_its_place() {
    let mut office = Office::empty(Answers::default());
    let from = {
        let button = egui::accesskit::Role::Button;
        let things = office.harness.query_all_by_label("Trough");
        let mut things = things.filter(|node| node.accesskit_node().role() == button);
        let thing = things.next();
        thing.unwrap().rect().center()
    };
    let to = office.harness.state().point_in_plan(0.5, 0.5).unwrap();
    office.harness.hover_at(from);
    office.harness.step();
    office.harness.drag_at(from);
    office.harness.step();
    for share in [0.3, 0.7, 1.0] {
        office.harness.hover_at(from + (to - from) * share);
        office.harness.step();
    }
    office.harness.drop_at(to);
    office.harness.run();
    settle(&mut office.harness);
    let layout = office.layout();
    assert_eq!(layout.vessels.len(), 1);
    let place = layout.vessels[0].place;
    assert!(
        (place.x_m - 0.5).abs() < 0.06 && (place.y_m - 0.5).abs() < 0.06,
        "{place:?}"
    );
}

#[test]
fn ui_rows_are_put_to_the_table_of_a_vessel_and_taken_out() {
    let mut office = Office::empty(Answers::default());
    office.set_down("Vessel by table", (0.0, 0.0));
    let rows = |office: &Office| match &office.layout().vessels[0].shape {
        fallwright::layout::Shape::Table { rows } => rows.clone(),
        other => panic!("{other:?}"),
    };
    let before = rows(&office);
    click(&mut office.harness, "Add row");
    let after = rows(&office);
    assert_eq!(after.len(), before.len() + 1);
    assert!((after[2].depth_m - before[1].depth_m - 0.1).abs() < 1e-12);
    assert_eq!(after[2].area_m2, before[1].area_m2);
    click(&mut office.harness, "Remove last row");
    assert_eq!(rows(&office), before);
}

#[test]
fn ui_copies_go_from_one_layout_into_another() {
    let mut office = Office::empty(Answers::default());
    office.set_down("Barrel", (0.0, 0.0));
    office.harness.event(egui::Event::Copy);
    office.harness.run();
    let text = office.harness.state().copied().unwrap().to_owned();
    office.ctrl(egui::Key::N);
    says(&office.harness, "Don't save").unwrap().click();
    office.harness.run();
    settle(&mut office.harness);
    assert!(office.layout().vessels.is_empty());
    office.harness.event(egui::Event::Paste(text));
    office.harness.run();
    settle(&mut office.harness);
    assert_eq!(office.layout().vessels.len(), 1);
    assert_eq!(office.layout().vessels[0].name, "Barrel 1");
    // What is no layout is refused, and nothing is lost.
    office
        .harness
        .event(egui::Event::Paste("some words".to_owned()));
    office.harness.run();
    assert!(says(&office.harness, "The clipboard holds no parts").is_some());
    assert_eq!(office.layout().vessels.len(), 1);
}

#[test]
fn ui_a_row_of_tanks_brings_its_drains() {
    let mut office = Office::empty(Answers::default());
    office.set_down("Round tank", (-2.0, 1.0));
    office.set_down("Sump", (2.0, -1.0));
    office.pipe_tool();
    office.pipe("Tank 1", "Sump 1");
    office.key(egui::Key::H);
    office.pick("Tank 1");
    let button = office.harness.get_by_label("Repeat in a row…");
    button.click();
    office.harness.run();
    office.write("3");
    office.key(egui::Key::Enter);
    let layout = office.layout();
    assert_eq!((layout.vessels.len(), layout.runs.len()), (4, 3));
    assert!(layout.runs.iter().all(|run| run.to.at.as_str() == "sump-1"));
    let names: Vec<&str> = layout.vessels.iter().map(|one| one.name.as_str()).collect();
    assert_eq!(names, ["Tank 1", "Sump 1", "Tank 2", "Tank 3"]);
    // All three drains at once of another size.
    office.ctrl(egui::Key::A);
    assert!(says(&office.harness, "7 parts").is_some());
}

#[test]
fn ui_the_whole_shelf_can_be_set_down_and_drawn() {
    let mut office = Office::empty(Answers::default());
    for (index, preset) in Preset::ALL.into_iter().enumerate() {
        let column = f64::from(u32::try_from(index % 4).unwrap());
        let row = f64::from(u32::try_from(index / 4).unwrap());
        office.set_down(preset.words(), (-1.8 + 1.2 * column, 1.5 - 1.2 * row));
        assert_eq!(office.layout().faults(), Vec::new(), "{preset:?}");
    }
    assert_eq!(office.layout().vessels.len(), Preset::ALL.len());
    for sheet in [DrawingKind::Section, DrawingKind::Plan] {
        let vessels = office.layout().vessels;
        let drawn = vessels.iter().filter(|vessel| {
            let pick = fallwright::draw::section::Pick::Part(vessel.id.clone());
            office.harness.state().place_on(sheet, &pick).is_some()
        });
        assert_eq!(drawn.count(), vessels.len(), "{sheet:?}");
    }
}
