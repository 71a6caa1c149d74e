//! Pictures of the window, compared with those that were looked at and kept: feature `screens`, which needs a
//! software Vulkan driver.
//!
//! `UPDATE_SNAPSHOTS=1 cargo test --features screens screens` takes them again; look at each before keeping it.

use crate::support::window::{demo_on, settle};
use egui::Theme;
use egui_kittest::{Harness, SnapshotOptions};
use fallwright::window::App;

/// Where they are kept.
const KEPT: &str = "tests/it/window/pictures";
/// Pixels that may differ: letters and round edges come out a little otherwise from one driver to the next.
const MOST_OFF: usize = 400;

/// Compares the window with the picture of this name.
fn is_as_kept(harness: &mut Harness<'_, App>, name: &str) {
    settle(harness);
    let options = SnapshotOptions::new()
        .output_path(KEPT)
        .threshold(2.0)
        .max_failed_pixels(MOST_OFF);
    harness.snapshot_options(name, &options);
}

#[test]
fn ui_the_demo_as_it_opens() {
    for (theme, name) in [(Theme::Light, "demo-light"), (Theme::Dark, "demo-dark")] {
        is_as_kept(&mut demo_on(theme), name);
    }
}
