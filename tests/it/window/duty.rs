//! Tests of the duty plot: in the panel of a pump, and in its own window.

use crate::support::window::{click, demo, says, settle};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use fallwright::edit;
use fallwright::finding::Sentence;
use fallwright::layout::NpshPoint;
use fallwright::session::Freshness;
use fallwright::window::App;

/// What a screen reader is told of each plot that is shown.
fn plots(harness: &Harness<'_, App>) -> Vec<String> {
    let plots = harness.query_all_by_label_contains("Duty plot of ");
    plots
        .map(|node| node.accesskit_node().label().unwrap_or_default())
        .collect()
}

#[test]
fn ui_the_panel_of_a_pump_shows_its_duty_against_the_system() {
    let mut harness = demo();
    click(&mut harness, "Circulation pump");
    settle(&mut harness);
    let report = harness.state().session().shown().running.unwrap().pumps[0].clone();
    let plot = plots(&harness).pop().unwrap();
    assert!(plot.contains(&format!("{:.2} m", report.head_m)), "{plot}");
    // The lift at the duty is that of the panel, the one with no flow where the curve begins.
    let (system, fresh) = harness.state().session().system().unwrap();
    assert_eq!(fresh, Freshness::Preview);
    let begins_m = system.clean[0].head_m;
    assert!(report.static_m - begins_m > 0.1, "{begins_m}");
    let told = format!(
        "static lift {:.2} m at the duty, {begins_m:.2} m with no flow",
        report.static_m
    );
    assert!(plot.contains(&told), "{plot}");
    for (row, head_m) in [
        ("Static lift", report.static_m),
        ("Lift at no flow", begins_m),
    ] {
        assert!(says(&harness, row).is_some());
        assert!(says(&harness, &format!("{head_m:.2} m")).is_some());
    }
}

/// The demo whose pump asks for so much at any flow, metres.
fn asking(npsh_m: f64) -> Harness<'static, App> {
    let mut harness = demo();
    let layout = harness.state().session().layout();
    let with_pump = |run: &&fallwright::layout::Run| run.pump.is_some();
    let mut lift = layout.runs.iter().find(with_pump).unwrap().clone();
    if let Some(pump) = &mut lift.pump {
        let flow_m3_s = 0.001;
        pump.npsh_required = vec![NpshPoint { flow_m3_s, npsh_m }];
    }
    let name = Sentence(vec!["A sheet".into()]);
    let edit = edit::replace(layout, lift, name).unwrap();
    harness.state_mut().session_mut().commit(edit).unwrap();
    harness.run();
    click(&mut harness, "Circulation pump");
    settle(&mut harness);
    harness
}

#[test]
fn ui_what_the_sheet_of_a_pump_asks_for_is_held_to_what_there_is() {
    for (asked_m, short) in [(3.0, false), (12.0, true)] {
        let harness = asking(asked_m);
        let pump = harness.state().session().shown().running.unwrap().pumps[0].clone();
        assert_eq!(pump.npsh_required_m, Some(asked_m));
        let left_m = pump.npsh_available_m.unwrap() - asked_m;
        let words = if short {
            format!("{:.2} m short: water boils in the pump", -left_m)
        } else {
            format!("{left_m:.2} m to spare")
        };
        assert!(says(&harness, "NPSH required").is_some());
        assert!(says(&harness, &words).is_some(), "{words}");
    }
}

#[test]
fn ui_the_plot_opens_large_and_stays_when_something_else_is_selected() {
    let mut harness = demo();
    click(&mut harness, "Circulation pump");
    click(&mut harness, "Larger plot");
    assert!(says(&harness, "Duty of Circulation pump").is_some());
    assert_eq!(plots(&harness).len(), 2);
    click(&mut harness, "Pit");
    settle(&mut harness);
    let plot = plots(&harness);
    assert_eq!(plot.len(), 1);
    assert!(plot[0].contains("static lift"), "{plot:?}");
}

#[test]
fn ui_a_pump_at_another_speed_has_another_duty_on_the_same_system() {
    let mut harness = demo();
    click(&mut harness, "Circulation pump");
    settle(&mut harness);
    let before = plots(&harness).pop().unwrap();
    {
        let field = harness.get_by_role_and_label(egui::accesskit::Role::TextInput, "Speed");
        field.focus();
    }
    harness.run();
    harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::A);
    harness.step();
    harness
        .get_by_role_and_label(egui::accesskit::Role::TextInput, "Speed")
        .type_text("90");
    harness.step();
    harness.key_press(egui::Key::Enter);
    harness.run();
    settle(&mut harness);
    let after = plots(&harness).pop().unwrap();
    let static_lift_m = |plot: &str| -> f64 {
        let told = plot.split("static lift").nth(1).unwrap();
        let number = told.split_whitespace().next().unwrap();
        number.parse().unwrap()
    };
    // Less flow leaves more water in the pit, and the lift is from its level.
    let (before_m, after_m) = (static_lift_m(&before), static_lift_m(&after));
    assert!(
        (0.02..0.3).contains(&(before_m - after_m)),
        "{before_m} {after_m}"
    );
}
