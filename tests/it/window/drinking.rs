//! Tests of the panel: drinking water, the heights of its mouths, and submerged pumps.

use crate::support::window::{click, demo, press, says, settle};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use fallwright::edit;
use fallwright::finding::Sentence;
use fallwright::layout::{Edge, Fixed, FloatValve, Layout};
use fallwright::window::App;

fn layout<'a>(harness: &'a Harness<'_, App>) -> &'a Layout {
    harness.state().session().layout()
}

fn valve(harness: &Harness<'_, App>) -> FloatValve {
    layout(harness)
        .vessel(&"pit".into())
        .unwrap()
        .float_valve
        .unwrap()
}

#[test]
fn ui_a_float_valve_says_whether_it_is_drinking_water_and_how_high_its_mouth_is() {
    let mut harness = demo();
    let mut pit = layout(&harness).vessel(&"pit".into()).unwrap().clone();
    let (floor_m, rim_m) = (pit.floor_m, pit.rim_m);
    pit.float_valve = Some(FloatValve {
        open_m: floor_m + 0.1,
        shut_m: floor_m + 0.2,
        flow_m3_s: 1e-4,
        outlet_m: None,
        drinking_water: false,
    });
    pit.make_up_m3_s = 1e-6;
    let name = Sentence(vec!["A float valve".into()]);
    let edit = edit::replace(layout(&harness), pit, name).unwrap();
    harness.state_mut().session_mut().commit(edit).unwrap();
    harness.run();
    click(&mut harness, "Pit");
    settle(&mut harness);
    press(&mut harness, "Float valve: drinking water");
    assert!(valve(&harness).drinking_water);
    press(&mut harness, "Mouth height known");
    let outlet_m = valve(&harness).outlet_m.unwrap();
    assert!((outlet_m - (rim_m + 0.05)).abs() < 1e-9, "{outlet_m}");
    press(&mut harness, "Mouth height known");
    assert_eq!(valve(&harness).outlet_m, None);
    press(&mut harness, "Make-up: drinking water");
    press(&mut harness, "Make-up mouth height known");
    let pit = layout(&harness).vessel(&"pit".into()).unwrap();
    assert!(pit.make_up_drinking_water && pit.make_up_outlet_m.is_some());
}

#[test]
fn ui_a_float_valve_and_make_up_are_added_and_taken_away() {
    let mut harness = demo();
    click(&mut harness, "Pit");
    let pit = layout(&harness).vessel(&"pit".into()).unwrap().clone();
    assert_eq!((pit.float_valve, pit.make_up_m3_s), (None, 0.0));
    press(&mut harness, "Float valve");
    let new = valve(&harness);
    // It shuts where the pit is filled to, and its mouth hangs over the rim, as drinking water asks for.
    assert!((new.shut_m - pit.fill_m).abs() < 1e-9 && new.open_m < new.shut_m);
    assert!(new.drinking_water && new.outlet_m.unwrap() > pit.rim_m);
    assert!(says(&harness, "Float valve shuts at").is_some());
    press(&mut harness, "Float valve");
    let pit = layout(&harness).vessel(&"pit".into()).unwrap();
    assert_eq!(pit.float_valve, None);
    assert!(says(&harness, "Make-up: drinking water").is_none());
    {
        let role = egui::accesskit::Role::TextInput;
        harness.get_by_role_and_label(role, "Make-up").focus();
    }
    harness.run();
    harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::A);
    harness.step();
    {
        let role = egui::accesskit::Role::TextInput;
        harness
            .get_by_role_and_label(role, "Make-up")
            .type_text("6 L/min");
    }
    harness.step();
    harness.key_press(egui::Key::Enter);
    harness.run();
    settle(&mut harness);
    let pit = layout(&harness).vessel(&"pit".into()).unwrap();
    assert!(
        (pit.make_up_m3_s - 1e-4).abs() < 1e-12,
        "{}",
        pit.make_up_m3_s
    );
    assert!(says(&harness, "Make-up: drinking water").is_some());
}

#[test]
fn ui_the_edge_of_a_mouth_is_chosen_from_its_list() {
    let mut harness = demo();
    click(&mut harness, "Crest of Cress upstand 3");
    let edge = |harness: &Harness<'_, App>| {
        let run = layout(harness).run(&"step-3".into()).unwrap();
        run.from.edge
    };
    assert_eq!(edge(&harness), Edge::Plain);
    let list = format!("Edge in Cress bed 3: {}", Edge::Plain.words());
    press(&mut harness, &list);
    press(&mut harness, Edge::Rounded.words());
    assert_eq!(edge(&harness), Edge::Rounded);
    let list = format!("Edge in Cress bed 3: {}", Edge::Rounded.words());
    assert!(says(&harness, &list).is_some());
    harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::Z);
    harness.run();
    assert_eq!(edge(&harness), Edge::Plain);
}

#[test]
fn ui_a_level_that_does_not_move_is_drinking_water() {
    let mut harness = demo();
    let main = Fixed {
        id: "main".into(),
        name: "Main".into(),
        level_m: 5.0,
        ..Fixed::default()
    };
    let edit = edit::add(layout(&harness), main, "Main").unwrap().0;
    harness.state_mut().session_mut().commit(edit).unwrap();
    harness.run();
    let name = layout(&harness).fixed.last().unwrap().name.clone();
    settle(&mut harness);
    click(&mut harness, &name);
    settle(&mut harness);
    press(&mut harness, "Drinking water");
    let fixed = layout(&harness).fixed.last().unwrap();
    assert!(fixed.drinking_water);
}

#[test]
fn ui_a_pump_stands_under_water_or_not() {
    let mut harness = demo();
    click(&mut harness, "Circulation pump");
    let wet = |harness: &Harness<'_, App>| {
        let mut pumps = layout(harness)
            .runs
            .iter()
            .filter_map(|run| run.pump.as_ref());
        pumps.next().unwrap().wet
    };
    assert_eq!(wet(&harness), None);
    // The demo says what lies before it, so that it stands dry.
    press(&mut harness, "Submerged pump");
    assert_eq!(wet(&harness), Some(true));
    press(&mut harness, "Submerged pump");
    assert_eq!(wet(&harness), Some(false));
}
