//! Tests of the dialog “Curve of the pump”: its four kinds of input, driven by accessible names.

use crate::support::window::{Answers, click, demo, says, settle, with};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use fallwright::layout::CurveForm;
use fallwright::window::App;
use image::{Rgba, RgbaImage};
use std::path::PathBuf;

fn opened(answers: Answers) -> Harness<'static, App> {
    let mut harness = with(answers);
    click(&mut harness, "Circulation pump");
    click(&mut harness, "Curve…");
    assert!(says(&harness, "Curve of Circulation pump").is_some());
    harness
}

fn write(harness: &mut Harness<'_, App>, label: &str, text: &str) {
    let field = |harness: &mut Harness<'_, App>| {
        let mut all = harness.query_all_by_label(label);
        let role = |node: &egui_kittest::Node<'_>| {
            use egui::accesskit::Role;
            matches!(
                egui_kittest::kittest::NodeT::accesskit_node(node).role(),
                Role::TextInput | Role::MultilineTextInput
            )
        };
        let found = all.find(role);
        found
            .unwrap_or_else(|| panic!("no field is called {label}"))
            .focus();
    };
    field(harness);
    harness.run();
    harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::A);
    harness.step();
    harness.event(egui::Event::Text(text.to_owned()));
    harness.run();
    settle(harness);
}

fn curve(harness: &Harness<'_, App>) -> CurveForm {
    let layout = harness.state().session().layout();
    let mut pumps = layout.runs.iter().filter_map(|run| run.pump.as_ref());
    pumps.next().unwrap().curve.clone()
}

/// Flow in m³/h and head in metres, to the third decimal.
fn points(harness: &Harness<'_, App>) -> Vec<(f64, f64)> {
    let CurveForm::Points(points) = curve(harness) else {
        panic!("{:?}", curve(harness))
    };
    let round = |value: f64| (value * 1e3).round() / 1e3;
    points
        .iter()
        .map(|one| (round(one.flow_m3_s * 3600.0), round(one.head_m)))
        .collect()
}

fn is_open(harness: &Harness<'_, App>) -> bool {
    says(harness, "Curve of Circulation pump").is_some()
}

#[test]
fn ui_points_are_typed_and_taken_as_one_step() {
    let mut harness = opened(Answers::default());
    let before = curve(&harness);
    let CurveForm::Points(old) = &before else {
        panic!("{before:?}")
    };
    let last = old.len();
    // In the empty row behind the old ones.
    write(
        &mut harness,
        &format!("Flow of row {}", last + 1),
        "900 L/min",
    );
    assert!(says(&harness, &format!("Row {}: Type a head such as", last + 1)).is_some());
    write(&mut harness, &format!("Head of row {}", last + 1), "1 kPa");
    assert!(harness.state().session().previewing());
    click(&mut harness, "Use this curve");
    assert!(!is_open(&harness) && !harness.state().session().previewing());
    let now = points(&harness);
    assert_eq!(now.len(), last + 1);
    assert_eq!(now[last], (54.0, 0.102));
    let said = harness.state().said().unwrap();
    assert_eq!(
        said,
        format!(
            "Done: Set the curve of Circulation pump to {} points.",
            last + 1
        )
    );
    click(&mut harness, "Undo");
    assert_eq!(curve(&harness), before);
}

#[test]
fn ui_a_unit_that_is_wrong_is_told_beside_its_row_and_nothing_can_be_taken() {
    let mut harness = opened(Answers::default());
    let before = curve(&harness);
    write(&mut harness, "Head of row 1", "22 L/min");
    assert!(says(&harness, "Row 1: L/min is a flow; a head is typed such as").is_some());
    harness.key_press(egui::Key::Enter);
    harness.run();
    assert!(is_open(&harness));
    harness.key_press(egui::Key::Escape);
    harness.run();
    harness.key_press(egui::Key::Escape);
    harness.run();
    assert!(!is_open(&harness));
    assert_eq!(curve(&harness), before);
    assert!(!harness.state().session().previewing());
    assert!(harness.state().session().undo_name().is_none());
}

#[test]
fn ui_a_label_makes_a_guess_that_is_called_one_everywhere() {
    let mut harness = opened(Answers::default());
    click(&mut harness, "Label");
    write(&mut harness, "Largest flow", "20 m³/h");
    write(&mut harness, "Largest head", "8 psi");
    assert!(says(&harness, "This is a guess").is_some());
    assert!(says(&harness, "In this layout it then delivers from").is_some());
    harness.key_press(egui::Key::Enter);
    harness.run();
    settle(&mut harness);
    assert!(!is_open(&harness));
    assert!(curve(&harness).is_guess());
    assert!(says(&harness, "guess").is_some());
    assert!(says(&harness, "is a guess from the two numbers of its label").is_some());
    // Both edges are solved, and the middle lies between them.
    harness.run();
    let session = harness.state().session();
    let guess = session.guess().unwrap();
    let (low, high) = (guess.low.unwrap().flow_m3_s, guess.high.unwrap().flow_m3_s);
    let middle = session.shown().running.unwrap().pumps[0].flow_m3_s;
    assert!(low < middle && middle < high, "{low} {middle} {high}");
    assert!(says(&harness, "Flow range").is_some());
}

#[test]
fn ui_a_table_is_opened_and_its_units_are_told() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("pump.csv");
    std::fs::write(&path, "Head [ft];Flow [gpm]\n20;0\n15,5;40\n8;70\n").unwrap();
    let mut harness = opened(Answers {
        open: [path].into(),
        ..Answers::default()
    });
    click(&mut harness, "Table (CSV)");
    click(&mut harness, "Choose file…");
    assert!(says(&harness, "Read as flow in gpm and head in ft.").is_some());
    click(&mut harness, "Use this curve");
    assert_eq!(
        points(&harness),
        [(0.0, 6.096), (9.085, 4.724), (15.899, 2.438)]
    );
}

#[test]
fn ui_a_table_that_is_pasted_is_told_what_is_wrong_with_its_line() {
    let mut harness = opened(Answers::default());
    click(&mut harness, "Table (CSV)");
    write(&mut harness, "Table", "0;6\n5;tall\n");
    assert!(says(&harness, "Line 2: head: tall cannot be read").is_some());
    write(&mut harness, "Table", "0;6\n5;4\n9;1\n");
    assert!(says(&harness, "Read as flow in m³/h and head in m.").is_some());
    click(&mut harness, "Use this curve");
    assert_eq!(points(&harness), [(0.0, 6.0), (5.0, 4.0), (9.0, 1.0)]);
}

#[test]
fn ui_a_file_that_cannot_be_read_is_told() {
    let mut harness = opened(Answers {
        open: [PathBuf::from("no-such.csv")].into(),
        ..Answers::default()
    });
    click(&mut harness, "Table (CSV)");
    click(&mut harness, "Choose file…");
    assert!(says(&harness, "There is no such file").is_some());
    click(&mut harness, "Picture");
    write(&mut harness, "File path", "Cargo.toml");
    click(&mut harness, "Open");
    assert!(says(&harness, "The file is no picture").is_some());
}

/// A picture of 400 by 300 dots.
fn picture(folder: &tempfile::TempDir) -> PathBuf {
    let path = folder.path().join("sheet.png");
    let dots = RgbaImage::from_pixel(400, 300, Rgba([255, 255, 255, 255]));
    dots.save(&path).unwrap();
    path
}

/// Clicks a dot of the picture.
fn dot(harness: &mut Harness<'_, App>, (x, y): (f32, f32)) {
    let rect = harness.get_by_label("Picture of the data sheet").rect();
    let at = rect.min + egui::vec2(x / 400.0 * rect.width(), y / 300.0 * rect.height());
    harness.hover_at(at);
    harness.step();
    harness.drag_at(at);
    harness.step();
    harness.drop_at(at);
    harness.run();
    settle(harness);
}

#[test]
fn ui_a_picture_is_traced_with_two_marks_on_each_axis() {
    let folder = tempfile::tempdir().unwrap();
    let answers = Answers {
        open: [picture(&folder)].into(),
        ..Answers::default()
    };
    let mut harness = opened(answers);
    click(&mut harness, "Picture");
    assert!(says(&harness, "Open a picture of the data sheet first").is_none());
    click(&mut harness, "Choose file…");
    assert!(says(&harness, "Click the first mark on the flow axis.").is_some());
    // 0 to 20 m³/h over 300 dots, 0 to 6 m over 240.
    dot(&mut harness, (50.0, 270.0));
    dot(&mut harness, (350.0, 270.0));
    dot(&mut harness, (50.0, 270.0));
    assert!(says(&harness, "Click the second mark on the head axis.").is_some());
    dot(&mut harness, (50.0, 30.0));
    write(&mut harness, "Second mark on the flow axis", "20");
    write(&mut harness, "Second mark on the head axis", "6");
    for at in [(50.0, 30.0), (200.0, 110.0), (320.0, 230.0), (330.0, 10.0)] {
        dot(&mut harness, at);
    }
    click(&mut harness, "Remove last point");
    assert!(says(&harness, "3 points").is_some());
    click(&mut harness, "Use this curve");
    let found = points(&harness);
    // A window is laid out in whole points, so a click is a fraction of a dot off.
    for ((flow, head), (wanted_flow, wanted_head)) in
        found.iter().zip([(0.0, 6.0), (10.0, 4.0), (18.0, 1.0)])
    {
        assert!((flow - wanted_flow).abs() < 0.1, "{found:?}");
        assert!((head - wanted_head).abs() < 0.05, "{found:?}");
    }
    assert_eq!(found.len(), 3);
}

#[test]
fn ui_the_dialog_fits_a_small_window_and_works_in_us_units() {
    let mut harness = demo();
    harness.set_size(egui::vec2(1100.0, 700.0));
    harness.run();
    click(&mut harness, "US");
    click(&mut harness, "Circulation pump");
    click(&mut harness, "Curve…");
    for way in ["Points", "Label", "Table (CSV)", "Picture"] {
        click(&mut harness, way);
        for name in ["Use this curve", "Cancel"] {
            let rect = harness.get_by_label(name).rect();
            assert!(
                rect.max.y < 700.0 && rect.min.x > 0.0,
                "{way}: {name} at {rect:?}"
            );
        }
    }
    click(&mut harness, "Label");
    write(&mut harness, "Largest flow", "90");
    write(&mut harness, "Largest head", "20");
    click(&mut harness, "Use this curve");
    let CurveForm::Label {
        largest_head_m,
        largest_flow_m3_s,
    } = curve(&harness)
    else {
        panic!("{:?}", curve(&harness))
    };
    assert!(
        (largest_head_m - 6.096).abs() < 1e-9,
        "{largest_head_m} {largest_flow_m3_s}"
    );
    assert!((largest_flow_m3_s - 90.0 * 0.003_785_411_784 / 60.0).abs() < 1e-12);
}
