//! Compares pictures of the main views with the approved ones. The tests need a graphics stack and a software Vulkan
//! driver, so they are built only with the feature `pictures`. Each view is taken in light with metric units and in
//! dark with US units.
//!
//! `UPDATE_SNAPSHOTS=1 cargo test --features pictures --test it screens::` takes them again; look at each before
//! keeping it.

use crate::support::window::{click, demo_on, let_go, settle, take};
use egui::Theme;
use egui_kittest::kittest::Queryable;
use egui_kittest::{Harness, SnapshotOptions, SnapshotResults};
use fallwright::window::App;
use std::path::Path;

/// Where they are kept.
const KEPT: &str = "tests/it/window/pictures";
/// How far a pixel may be off, squared distance in YIQ, and how many may be further: letters and round edges come
/// out a little otherwise from one driver to the next.
const OFF: f32 = 2.0;
const MOST_OFF: usize = 300;

/// Takes a view in both themes and compares it.
fn is_as_kept(name: &str, view: impl Fn(&mut Harness<'_, App>)) {
    let mut results = SnapshotResults::new();
    for (theme, look) in [(Theme::Light, "light"), (Theme::Dark, "dark-us")] {
        let mut harness = demo_on(theme);
        view(&mut harness);
        settle(&mut harness);
        if theme == Theme::Dark {
            click(&mut harness, "US");
        }
        // What the line at the bottom says last is no part of a view.
        harness.state_mut().say_nothing();
        harness.run();
        let options = SnapshotOptions::new()
            .output_path(KEPT)
            .threshold(OFF)
            .max_failed_pixels(MOST_OFF);
        harness.snapshot_options(format!("{name}-{look}"), &options);
        results.extend_harness(&mut harness);
    }
}

fn opened(harness: &mut Harness<'_, App>, example: &str) {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let path = root.join(format!("examples/{example}.ron"));
    harness.state_mut().open(&path);
    harness.run();
    settle(harness);
}

#[test]
fn ui_the_section_is_as_kept() {
    is_as_kept("section", |_| {});
}

#[test]
fn ui_a_spilling_bed_is_as_kept() {
    is_as_kept("spill", |harness| {
        opened(harness, "drain-too-high");
        click(harness, "Crest of Cress upstand 3");
    });
}

#[test]
fn ui_section_and_plan_are_as_kept() {
    is_as_kept("both", |harness| {
        click(harness, "Both");
        click(harness, "Trench");
    });
}

#[test]
fn ui_the_grade_line_is_as_kept() {
    is_as_kept("grade", |harness| click(harness, "Grade line"));
}

#[test]
fn ui_the_duty_of_a_pump_is_as_kept() {
    is_as_kept("duty", |harness| {
        click(harness, "Circulation pump");
        harness.get_by_label("Larger plot").scroll_to_me();
        harness.run();
        click(harness, "Larger plot");
    });
}

#[test]
fn ui_the_time_bar_is_as_kept() {
    is_as_kept("stopped", |harness| {
        click(harness, "Stopped");
        harness.key_press_modifiers(egui::Modifiers::SHIFT, egui::Key::E);
        harness.run();
        harness.key_press(egui::Key::E);
        harness.run();
    });
}

#[test]
fn ui_a_blocked_run_is_as_kept() {
    is_as_kept("blocked", |harness| click(harness, "Blocked"));
}

#[test]
fn ui_a_table_is_as_kept() {
    is_as_kept("table", |harness| {
        click(harness, "Runs");
    });
}

#[test]
fn ui_a_comparison_is_as_kept() {
    is_as_kept("compared", |harness| {
        harness.key_press(egui::Key::K);
        harness.run();
        settle(harness);
        let held = take(harness, "Crest of Cress upstand 3", -7.0);
        let_go(harness, held);
    });
}
