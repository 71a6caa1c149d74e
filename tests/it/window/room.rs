//! Tests of the areas of the window: dragged and stored sizes, one-line panels, the focus ring.

use crate::support::window::{click, demo, dry, says, settle};
use egui::{Color32, Theme, vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use fallwright::editor::DrawingKind;
use fallwright::session::{Options, Session};
use fallwright::window::App;

fn window() -> Harness<'static, App> {
    dry(Theme::Light, (1440.0, 870.0))
}

/// All of the drawing, in the window.
fn drawing(harness: &Harness<'_, App>) -> egui::Rect {
    says(harness, "Section of ").unwrap().rect()
}

/// Presses at a place, moves, and lets go.
fn drag(harness: &mut Harness<'_, App>, from: egui::Pos2, by: egui::Vec2) {
    harness.hover_at(from);
    harness.step();
    harness.drag_at(from);
    harness.step();
    for share in [0.5, 1.0] {
        harness.hover_at(from + by * share);
        harness.step();
    }
    harness.drop_at(from + by);
    harness.run();
}

#[test]
fn ui_the_panel_is_dragged_wider_and_stays_so_whatever_is_selected() {
    let mut harness = window();
    let before = drawing(&harness);
    drag(
        &mut harness,
        before.right_center() + vec2(0.5, 0.0),
        vec2(-90.0, 0.0),
    );
    let after = drawing(&harness);
    assert!(
        (before.right() - after.right() - 90.0).abs() < 3.0,
        "{before} {after}"
    );
    click(&mut harness, "Cress bed 3");
    assert_eq!(drawing(&harness), after);
}

#[test]
fn ui_sizes_that_were_dragged_are_there_at_the_next_start() {
    let folder = tempfile::tempdir().unwrap();
    let settings = folder.path().join("recent-files.txt");
    let open = || {
        let options = Options {
            settings: Some(settings.clone()),
            ..Options::default()
        };
        let session = Session::with_services(options, crate::support::services::dry());
        let choose = Box::new(crate::support::window::Answers::default());
        let app = App::new(session, choose);
        let mut harness = Harness::builder()
            .with_size((1440.0, 870.0))
            .with_context_setup(fallwright::window::install)
            .build_ui_state(|ui, app: &mut App| app.step(ui), app);
        harness.run();
        harness
    };
    let mut first = open();
    let before = drawing(&first);
    drag(
        &mut first,
        before.right_center() + vec2(0.5, 0.0),
        vec2(-70.0, 0.0),
    );
    let dragged = drawing(&first);
    assert!(dragged.right() < before.right() - 60.0);
    let second = open();
    assert_eq!(drawing(&second), dragged);
    // What is no size is left alone.
    std::fs::write(
        folder.path().join("window-sizes.txt"),
        "panel NaN\nbelow -3\nhello\n",
    )
    .unwrap();
    assert_eq!(drawing(&open()), before);
}

#[test]
fn ui_where_one_line_is_to_be_said_below_the_drawing_it_takes_one_line() {
    let mut harness = window();
    let full = drawing(&harness);
    harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::N);
    harness.run();
    click(&mut harness, "Section");
    assert!(says(&harness, "Nothing to check yet.").is_some());
    let empty = drawing(&harness);
    assert!(empty.bottom() > full.bottom() + 80.0, "{full} {empty}");
    // A table has its room again.
    click(&mut harness, "Runs");
    assert!(drawing(&harness).bottom() < empty.bottom() - 80.0);
}

#[test]
fn ui_after_a_state_with_a_time_the_curves_leave_one_line() {
    let mut harness = demo();
    let before = drawing(&harness);
    click(&mut harness, "Stopped");
    let with_curves = drawing(&harness);
    assert!(before.bottom() - with_curves.bottom() > 100.0);
    // Their edge is dragged.
    drag(
        &mut harness,
        with_curves.center_bottom() + vec2(0.0, 0.5),
        vec2(0.0, -60.0),
    );
    let dragged = drawing(&harness).bottom();
    assert!(
        (with_curves.bottom() - dragged - 60.0).abs() < 3.0,
        "{with_curves} {dragged}"
    );
    click(&mut harness, "Running");
    let after = drawing(&harness).bottom();
    assert!(before.bottom() - after < 40.0, "{before} {after}");
    click(&mut harness, "Stopped");
    assert!((drawing(&harness).bottom() - dragged).abs() < 1.0);
}

#[test]
fn ui_what_was_looked_at_stays_whole_when_an_area_opens() {
    let mut harness = window();
    let middle = drawing(&harness).center();
    harness.hover_at(middle);
    harness.run();
    harness.key_press(egui::Key::Plus);
    harness.run();
    let seen = |harness: &Harness<'_, App>| {
        let look = harness.state().tool_state().look.view().unwrap();
        (look.shown(), look.points_per_metre_up)
    };
    let (before, scale) = seen(&harness);
    harness.key_press(egui::Key::K);
    harness.run();
    let (now, _) = seen(&harness);
    assert!(now.left_m <= before.left_m + 1e-6 && now.right_m >= before.right_m - 1e-6);
    assert!(now.low_m <= before.low_m + 1e-6 && now.high_m >= before.high_m - 1e-6);
    harness.key_press_modifiers(egui::Modifiers::SHIFT, egui::Key::K);
    harness.run();
    assert!((seen(&harness).1 - scale).abs() < 1e-9);
    assert!(
        harness
            .state()
            .place_on(
                DrawingKind::Section,
                &fallwright::draw::section::Pick::Part("header".into())
            )
            .is_some()
    );
}

#[test]
fn ui_while_states_are_being_solved_the_list_says_that_more_may_be_found() {
    let harness = window();
    // This engine solves none of them.
    assert!(says(&harness, "Still solving: at rest, starting, running").is_some());
    let solved = demo();
    assert!(says(&solved, "Still solving").is_none());
    assert!(says(&solved, "so far").is_none());
}

#[test]
fn ui_one_key_leads_from_a_crest_to_its_height() {
    let mut harness = window();
    click(&mut harness, "Crest of Cress upstand 3");
    harness.key_press(egui::Key::I);
    harness.run();
    let field = harness.get_by_role_and_label(egui::accesskit::Role::TextInput, "Crest");
    assert!(field.accesskit_node().is_focused());
    // All of it is selected: what is typed stands in its place.
    harness.event(egui::Event::Text("1201".to_owned()));
    harness.run();
    harness.key_press(egui::Key::Enter);
    harness.run();
    assert!((crate::support::window::crest_m(&harness, "step-3") - 1.201).abs() < 1e-12);
}

/// How bright it is, 0 to 1, as contrast is reckoned by the Web Content Accessibility Guidelines 2.2.
fn luminance(color: Color32) -> f64 {
    let part = |value: u8| {
        let share = f64::from(value) / 255.0;
        match share <= 0.04045 {
            true => share / 12.92,
            false => ((share + 0.055) / 1.055).powf(2.4),
        }
    };
    0.2126 * part(color.r()) + 0.7152 * part(color.g()) + 0.0722 * part(color.b())
}

fn contrast(one: Color32, other: Color32) -> f64 {
    let (one, other) = (luminance(one), luminance(other));
    (one.max(other) + 0.05) / (one.min(other) + 0.05)
}

/// Every rectangle that is painted, inside groups too.
fn boxes(shape: &egui::Shape, out: &mut Vec<egui::epaint::RectShape>) {
    match shape {
        egui::Shape::Vec(all) => all.iter().for_each(|one| boxes(one, out)),
        egui::Shape::Rect(rect) => out.push(rect.clone()),
        _ => {}
    }
}

fn painted(harness: &Harness<'_, App>) -> Vec<egui::epaint::RectShape> {
    let mut out = Vec::new();
    for clipped in &harness.output().shapes {
        boxes(&clipped.shape, &mut out);
    }
    out
}

#[test]
fn ui_a_ring_shows_where_the_keyboard_is_in_both_looks() {
    for theme in [Theme::Light, Theme::Dark] {
        let mut harness = dry(theme, (1440.0, 870.0));
        for _ in 0..12 {
            harness.key_press(egui::Key::Tab);
            harness.run();
            let id = harness.ctx.memory(|memory| memory.focused()).unwrap();
            let rect = harness.ctx.read_response(id).unwrap().interact_rect;
            let ring = painted(&harness).into_iter().find(|one| {
                one.fill == Color32::TRANSPARENT
                    && one.stroke.width >= 2.0
                    && one.rect.contains_rect(rect)
                    && one.rect.width() < rect.width() + 8.0
            });
            let ring = ring.unwrap_or_else(|| panic!("no ring about {rect}"));
            let style = harness.ctx.style_of(theme);
            let visuals = &style.visuals;
            for ground in [
                visuals.panel_fill,
                visuals.extreme_bg_color,
                visuals.widgets.inactive.bg_fill,
            ] {
                let found = contrast(ring.stroke.color, ground);
                assert!(found >= 3.0, "{theme:?} {ground:?}: {found}");
            }
        }
    }
}

#[test]
fn ui_the_headings_of_a_comparison_stand_on_a_ground_of_the_window() {
    for theme in [Theme::Light, Theme::Dark] {
        let mut harness = dry(theme, (1440.0, 870.0));
        harness.key_press(egui::Key::K);
        harness.run();
        let panel = harness.ctx.style_of(theme).visuals.panel_fill;
        for words in ["As opened", "Now"] {
            let rect = harness.get_by_label(words).rect();
            // Not that of the harness, which is as large as the window.
            let grounds = painted(&harness);
            let mut grounds = grounds.iter();
            let ground = grounds.find(|one| {
                one.rect.height() < 60.0 && one.rect.contains_rect(rect) && one.fill == panel
            });
            assert!(ground.is_some(), "{words} in {theme:?}");
        }
    }
}

#[test]
fn ui_what_stands_below_the_drawing_is_dragged_higher() {
    let mut harness = window();
    let before = drawing(&harness);
    // The line over the findings, under the strip with the states.
    let below = says(&harness, "Findings").unwrap().rect().top() - 8.5;
    let edge = egui::pos2(before.center().x, below);
    drag(&mut harness, edge, vec2(0.0, -75.0));
    let after = drawing(&harness);
    assert!(
        (before.bottom() - after.bottom() - 75.0).abs() < 4.0,
        "{before} {after}"
    );
    // A state that is not followed in time: a bar of time has a row of its own.
    harness.key_press(egui::Key::Num7);
    harness.run();
    harness.key_press(egui::Key::Num6);
    harness.run();
    assert_eq!(drawing(&harness), after);
}

/// Presses Ctrl and a letter.
fn ctrl(harness: &mut Harness<'_, App>, key: egui::Key) {
    harness.key_press_modifiers(egui::Modifiers::COMMAND, key);
    harness.run();
}

#[test]
fn ui_a_copy_stands_beside_what_was_copied_and_vessels_in_each_other_are_said() {
    let answers = crate::support::window::Answers::default();
    let mut harness = crate::support::window::Office::empty(answers).harness;
    let preset = fallwright::edit::Preset::ALL[0];
    let vessel = preset.vessel(0.0, fallwright::layout::Place::default());
    let session = harness.state_mut().session_mut();
    let (edit, id) = fallwright::edit::add(session.layout(), vessel, "Tank").unwrap();
    session.commit(edit).unwrap();
    harness.run();
    harness.key_press(egui::Key::Period);
    harness.run();
    for turn in 0..3 {
        ctrl(&mut harness, egui::Key::D);
        let layout = harness.state().session().layout().clone();
        assert_eq!(layout.vessels.len(), turn + 2);
        assert!(
            fallwright::layout::overlaps(&layout).is_empty(),
            "copy {turn}"
        );
    }
    assert!(says(&harness, "overlap in the plan").is_none());
    // Pushed into the next one.
    let session = harness.state_mut().session_mut();
    let aside = crate::support::fields::number(session.layout(), &id, "place.x_m", 0.6);
    session.commit(aside.unwrap()).unwrap();
    settle(&mut harness);
    assert!(says(&harness, "stand in each other").is_some());
}

#[test]
fn ui_the_line_at_the_bottom_is_of_now() {
    let mut harness = demo();
    click(&mut harness, "US");
    assert!(
        harness
            .state()
            .said()
            .is_some_and(|said| said.starts_with("Done: "))
    );
    let held = crate::support::window::take(&mut harness, "Crest of Cress upstand 3", -7.0);
    assert_eq!(harness.state().said(), None);
    crate::support::window::let_go(&mut harness, held);
    let said = harness.state().said().unwrap().to_owned();
    assert!(
        said.starts_with("Done: Set the crest of Cress upstand 3 to"),
        "{said}"
    );
    let mut empty = window();
    ctrl(&mut empty, egui::Key::N);
    empty.state_mut().say_nothing();
    empty.run();
    assert!(says(&empty, "Nothing here yet").is_some());
    assert!(says(&empty, "Levels are up to date").is_none());
}

/// The words that are painted, and where they begin.
fn painted_words(harness: &Harness<'_, App>) -> Vec<(String, egui::Pos2)> {
    fn collect(shape: &egui::Shape, out: &mut Vec<(String, egui::Pos2)>) {
        match shape {
            egui::Shape::Text(text) => out.push((text.galley.text().to_owned(), text.pos)),
            egui::Shape::Vec(all) => all.iter().for_each(|one| collect(one, out)),
            _ => {}
        }
    }
    let mut out = Vec::new();
    for clipped in &harness.output().shapes {
        collect(&clipped.shape, &mut out);
    }
    out
}

#[test]
fn ui_while_a_vessel_is_set_down_in_the_section_its_height_shows_at_the_pointer() {
    let mut harness = window();
    let floor = |harness: &Harness<'_, App>| {
        let mut words = painted_words(harness).into_iter();
        words.find(|(words, _)| words.starts_with("floor "))
    };
    let at = {
        let button = egui::accesskit::Role::Button;
        let shelf = harness.query_all_by_label("Round tank");
        let mut shelf = shelf.filter(|node| node.accesskit_node().role() == button);
        shelf.next().expect("a tank on the shelf").rect().center()
    };
    harness.hover_at(at);
    harness.step();
    harness.drag_at(at);
    harness.step();
    harness.drop_at(at);
    harness.run();
    let middle = drawing(&harness).center();
    let height = |harness: &mut Harness<'_, App>, pointer: egui::Pos2| {
        harness.hover_at(pointer);
        harness.run();
        let (words, place) = floor(harness).expect("its height");
        // Beside what is set down, and not under the hand.
        assert!((place - pointer).length() < 80.0, "{place} {pointer}");
        let number = words.trim_start_matches("floor ").trim_end_matches(" mm");
        number.parse::<f64>().unwrap_or_else(|_| panic!("{words}"))
    };
    let low = height(&mut harness, middle + vec2(0.0, 60.0));
    let high = height(&mut harness, middle - vec2(0.0, 60.0));
    assert!(high > low, "{high} over {low}");
    // What was shown is what it gets.
    let pointer = middle - vec2(0.0, 60.0);
    let count = harness.state().session().layout().vessels.len();
    harness.drag_at(pointer);
    harness.step();
    harness.drop_at(pointer);
    harness.run();
    let layout = harness.state().session().layout().clone();
    assert_eq!(layout.vessels.len(), count + 1);
    let floor_m = layout.vessels.last().map(|vessel| vessel.floor_m);
    assert!(
        (floor_m.unwrap() * 1000.0 - high).abs() < 1.0,
        "{floor_m:?} {high}"
    );
}
