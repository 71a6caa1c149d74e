//! Tests of the panel: vents, positions along a run, runs filled by hand.

use crate::support::window::{click, demo, press, says, settle};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use fallwright::layout::{Run, RunEnd};
use fallwright::units::UnitSystem;
use fallwright::window::App;

fn write(harness: &mut Harness<'_, App>, label: &str, text: &str) {
    let input = egui::accesskit::Role::TextInput;
    harness.get_by_role_and_label(input, label).focus();
    harness.run();
    harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::A);
    harness.step();
    harness.get_by_role_and_label(input, label).type_text(text);
    harness.step();
    harness.step();
    harness.key_press(egui::Key::Enter);
    harness.run();
    settle(harness);
}

fn value(harness: &Harness<'_, App>, label: &str) -> Option<String> {
    let input = egui::accesskit::Role::TextInput;
    let found = harness.query_by_role_and_label(input, label)?;
    found.value()
}

fn run(harness: &Harness<'_, App>, id: &str) -> Run {
    let layout = harness.state().session().layout();
    layout.run(&id.into()).unwrap().clone()
}

#[test]
fn ui_a_joint_is_vented_up_to_a_height() {
    let mut harness = demo();
    let before = harness.state().session().layout().as_ref().clone();
    let tee = |harness: &Harness<'_, App>| {
        let layout = harness.state().session().layout();
        let joint = layout.joints.iter().find(|one| one.name == "Collector 1");
        let joint = joint.unwrap();
        (joint.vented, joint.vent_top_m)
    };
    click(&mut harness, "Collector 1");
    assert_eq!(value(&harness, "Vent top"), None);
    press(&mut harness, "Vented");
    assert_eq!(tee(&harness), (true, None));
    assert!(says(&harness, "Collector 1, vented").is_some());
    assert_eq!(
        value(&harness, "Vent top").unwrap(),
        "1094 mm",
        "at the pipe"
    );
    write(&mut harness, "Vent top", "1500");
    assert_eq!(tee(&harness), (true, Some(1.5)));
    let said = harness.state().said().unwrap();
    assert_eq!(
        said,
        "Done: Set the top of the vent of Collector 1 to 1500 mm."
    );
    // Under the pipe it is refused, and the one before stays.
    write(&mut harness, "Vent top", "900");
    assert_eq!(tee(&harness), (true, Some(1.5)));
    assert!(says(&harness, "under the centre of the joint").is_some());
    assert_eq!(value(&harness, "Vent top").as_deref(), Some("900"));
    write(&mut harness, "Vent top", "1500");
    press(&mut harness, "US");
    assert!(value(&harness, "Vent top").unwrap().contains("in"));
    press(&mut harness, "Metric");
    press(&mut harness, "Vented");
    assert_eq!(tee(&harness), (false, None));
    assert_eq!(value(&harness, "Vent top"), None);
    for _ in 0..5 {
        press(&mut harness, "Undo");
    }
    assert_eq!(*harness.state().session().layout().as_ref(), before);
}

#[test]
fn ui_a_valve_is_placed_along_its_run() {
    let mut harness = demo();
    let before = harness.state().session().layout().as_ref().clone();
    click(&mut harness, "Gallery feed");
    let place = |harness: &Harness<'_, App>| {
        let valve = &run(harness, "feed-perch").valves[0];
        (valve.at_m, valve.near)
    };
    press(
        &mut harness,
        "Place along the run of Ball valve, full bore: Not given",
    );
    click(&mut harness, "Near Header");
    assert_eq!(place(&harness), (None, Some(RunEnd::From)));
    press(
        &mut harness,
        "Place along the run of Ball valve, full bore: Near Header",
    );
    click(&mut harness, "Near Manifold 1");
    assert_eq!(place(&harness), (None, Some(RunEnd::To)));
    // At a distance it begins where it was: at the far end.
    press(
        &mut harness,
        "Place along the run of Ball valve, full bore: Near Manifold 1",
    );
    click(&mut harness, "At a distance");
    let layout = harness.state().session().layout().as_ref().clone();
    let length_m = layout.length_of(layout.run(&"feed-perch".into()).unwrap());
    assert_eq!(place(&harness), (Some(length_m), None));
    let field = "Ball valve, full bore, distance from Header";
    write(&mut harness, field, "0.5 m");
    assert_eq!(place(&harness), (Some(0.5), None));
    let said = harness.state().said().unwrap();
    assert_eq!(
        said,
        "Done: Place the valve in Gallery feed 0.500 m from Header."
    );
    write(&mut harness, field, "70 m");
    assert_eq!(place(&harness), (Some(0.5), None));
    assert!(says(&harness, "outside the run").is_some());
    press(&mut harness, "US");
    assert_eq!(harness.state().session().layout().units, UnitSystem::Us);
    write(&mut harness, field, "2 ft");
    assert!((place(&harness).0.unwrap() - 0.6096).abs() < 1e-9);
    press(&mut harness, "Metric");
    press(
        &mut harness,
        "Place along the run of Ball valve, full bore: At a distance",
    );
    click(&mut harness, "Not given");
    assert_eq!(place(&harness), (None, None));
    for _ in 0..8 {
        press(&mut harness, "Undo");
    }
    assert_eq!(*harness.state().session().layout().as_ref(), before);
}

#[test]
fn ui_fittings_and_equipment_have_a_place_too_and_an_entrance_only_an_end() {
    let mut harness = demo();
    click(&mut harness, "Lift");
    press(
        &mut harness,
        "Place along the run of Pressure filter: Not given",
    );
    click(&mut harness, "At a distance");
    let lift = run(&harness, "lift");
    assert!(lift.equipment[0].at_m.unwrap() > 1.0 && lift.equipment[1].at_m.is_none());
    // Of two ball valves each has its own.
    press(
        &mut harness,
        "Place along the run of Ball valve, full bore 2: Not given",
    );
    click(&mut harness, "Near Header");
    let lift = run(&harness, "lift");
    assert_eq!(
        (lift.valves[0].near, lift.valves[2].near),
        (None, Some(RunEnd::To))
    );
    let words = |key: &str| {
        let kind = fallwright::catalogue::Catalogue::builtin().fitting(key);
        kind.unwrap().words.clone()
    };
    let union = format!("Place along the run of 4 × {}: Not given", words("union"));
    press(&mut harness, &union);
    click(&mut harness, "Near Header");
    assert_eq!(run(&harness, "lift").fittings[3].near, Some(RunEnd::To));
    let entrance = format!(
        "Place along the run of 1 × {}: Not given",
        words("entrance-inward")
    );
    press(&mut harness, &entrance);
    assert!(
        says(&harness, "At a distance").is_some(),
        "of the filter it is shown"
    );
    let offered = harness.query_all_by_label("At a distance");
    let button = egui::accesskit::Role::Button;
    assert_eq!(
        offered
            .filter(|node| node.accesskit_node().role() == button)
            .count(),
        0,
        "an entrance sits at an end"
    );
    harness.key_press(egui::Key::Escape);
    harness.run();
}

#[test]
fn ui_a_run_is_filled_by_hand() {
    let mut harness = demo();
    click(&mut harness, "Gallery feed");
    assert!(!run(&harness, "feed-perch").starts_primed);
    press(&mut harness, "Filled by hand before use");
    assert!(run(&harness, "feed-perch").starts_primed);
    let said = harness.state().said().unwrap();
    assert_eq!(said, "Done: Fill Gallery feed by hand before use.");
    press(&mut harness, "Filled by hand before use");
    assert!(!run(&harness, "feed-perch").starts_primed);
    press(&mut harness, "Undo");
    press(&mut harness, "Undo");
    assert!(harness.state().session().undo_name().is_none());
}

#[test]
fn ui_a_corner_is_vented_and_found_again_by_its_vent() {
    let mut harness = demo();
    let before = harness.state().session().layout().as_ref().clone();
    click(&mut harness, "Gallery feed");
    click(&mut harness, "Plan");
    click(&mut harness, "Corner 2 of Gallery feed at 1620 mm (plan)");
    press(&mut harness, "Vented");
    write(&mut harness, "Vent top", "1800");
    let corner = run(&harness, "feed-perch").route[1];
    assert_eq!((corner.vented, corner.vent_top_m), (true, Some(1.8)));
    let said = harness.state().said().unwrap();
    assert_eq!(
        said,
        "Done: Set the top of the vent of corner 2 of Gallery feed to 1800 mm."
    );
    // Higher, with its vent.
    write(&mut harness, "Height", "1640");
    let corner = run(&harness, "feed-perch").route[1];
    assert!((corner.z_m - 1.64).abs() < 1e-9);
    assert!((corner.vent_top_m.unwrap() - 1.82).abs() < 1e-9);
    harness.key_press(egui::Key::Escape);
    harness.run();
    click(&mut harness, "Section");
    let name = "Corner 2 of Gallery feed at 1640 mm, vented up to 1820 mm";
    click(&mut harness, name);
    assert_eq!(value(&harness, "Vent top").unwrap(), "1820 mm");
    for _ in 0..3 {
        press(&mut harness, "Undo");
    }
    assert_eq!(*harness.state().session().layout().as_ref(), before);
}

#[test]
fn ui_a_screen_is_put_before_an_opening_and_made_a_cage() {
    let mut harness = demo();
    let before = harness.state().session().layout().as_ref().clone();
    click(&mut harness, "Gallery feed");
    let screen = |harness: &Harness<'_, App>| run(harness, "feed-perch").from.screen;
    assert_eq!(screen(&harness), None);
    press(&mut harness, "Screen in Header: None");
    click(&mut harness, "Before the opening");
    let stands = screen(&harness).unwrap();
    assert_eq!((stands.area_m2, stands.open_share), (0.1, 0.4));
    let said = harness.state().said().unwrap().to_owned();
    assert!(
        said.contains("Add a screen before Gallery feed in Header"),
        "{said}"
    );
    write(&mut harness, "Screen in Header open", "50");
    write(&mut harness, "Screen in Header blinded", "25");
    let stands = screen(&harness).unwrap();
    assert_eq!((stands.open_share, stands.blinded), (0.5, 0.25));
    assert_eq!(value(&harness, "Cage in Header, foot"), None);
    press(&mut harness, "Screen in Header: Before the opening");
    click(&mut harness, "Cage");
    let floor_m = before.vessel(&"header".into()).unwrap().floor_m;
    let stands = screen(&harness).unwrap();
    assert_eq!((stands.foot_m, stands.height_m), (Some(floor_m), Some(0.3)));
    write(&mut harness, "Cage in Header, height", "250");
    assert_eq!(screen(&harness).unwrap().height_m, Some(0.25));
    press(&mut harness, "Screen in Header: Cage");
    click(&mut harness, "On the lip");
    let stands = screen(&harness).unwrap();
    assert!(stands.on_the_lip && stands.foot_m.is_none() && stands.height_m.is_none());
    press(&mut harness, "Screen in Header: On the lip");
    click(&mut harness, "None");
    assert_eq!(screen(&harness), None);
    for _ in 0..7 {
        press(&mut harness, "Undo");
    }
    assert_eq!(*harness.state().session().layout().as_ref(), before);
}
