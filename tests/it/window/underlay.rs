//! Tests of the site picture under the plan, and of the message where it is missing.

use crate::support::window::{Answers, click, demo, dry_with, says, settle, with};
use egui::Key;
use egui::accesskit::Role;
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use fallwright::draw::section::Pick;
use fallwright::window::App;
use image::{Rgba, RgbaImage};
use std::path::PathBuf;
use tempfile::{TempDir, tempdir};

fn picture(folder: &TempDir) -> PathBuf {
    let path = folder.path().join("site.png");
    RgbaImage::from_pixel(200, 100, Rgba([90, 120, 60, 255]))
        .save(&path)
        .unwrap();
    path
}

fn answering(path: PathBuf) -> Harness<'static, App> {
    with(Answers {
        open: [path].into(),
        ..Answers::default()
    })
}

fn choose(harness: &mut Harness<'_, App>, command: &str) {
    let menu = if command.starts_with("Add") {
        "Add"
    } else {
        "Edit"
    };
    click(harness, menu);
    click(harness, command);
}

#[test]
fn ui_a_picture_is_laid_as_wide_as_the_plan_and_taken_away() {
    let folder = tempdir().unwrap();
    let path = picture(&folder);
    let mut harness = answering(path.clone());
    let before = harness.state().session().layout().as_ref().clone();
    choose(&mut harness, "Add site picture…");
    let laid = harness.state().session().layout().underlay.clone().unwrap();
    assert_eq!(laid.file, path.display().to_string());
    // The glasshouse is about eight metres long, and all of it lies on the picture.
    let wide_m = 200.0 * laid.metres_per_pixel;
    assert!((6.0..14.0).contains(&wide_m), "{wide_m}");
    for vessel in &before.vessels {
        assert!((laid.at.x_m..laid.at.x_m + wide_m).contains(&vessel.place.x_m));
    }
    let said = harness.state().said().unwrap();
    assert_eq!(said, "Done: Add site picture.");
    choose(&mut harness, "Remove site picture");
    assert_eq!(harness.state().session().layout().as_ref(), &before);
    click(&mut harness, "Undo");
    assert!(harness.state().session().layout().underlay.is_some());
}

#[test]
fn ui_what_is_no_picture_is_told_and_nothing_changes() {
    let folder = tempdir().unwrap();
    let path = folder.path().join("notes.png");
    std::fs::write(&path, "no picture").unwrap();
    let mut harness = answering(path);
    choose(&mut harness, "Add site picture…");
    assert!(says(&harness, "Cannot show this picture").is_some());
    assert!(says(&harness, "Give a picture saved as .png or .jpg").is_some());
    click(&mut harness, "Close");
    assert!(harness.state().session().undo_name().is_none());
}

#[test]
fn ui_without_dialogs_the_name_of_a_picture_is_typed() {
    let folder = tempdir().unwrap();
    let path = picture(&folder);
    let mut harness = with(Answers {
        without_dialogs: true,
        ..Answers::default()
    });
    choose(&mut harness, "Add site picture…");
    let words = "This system has no file dialog: type the file path.";
    let field = harness.get_by_role_and_label(Role::TextInput, words);
    field.type_text(&path.display().to_string());
    harness.run();
    click(&mut harness, "Add picture");
    assert!(harness.state().session().layout().underlay.is_some());
}

#[test]
fn ui_a_picture_that_has_gone_is_one_note_and_no_error() {
    let folder = tempdir().unwrap();
    let path = picture(&folder);
    let file = folder.path().join("house.ron");
    let mut harness = answering(path.clone());
    choose(&mut harness, "Add site picture…");
    harness.state_mut().session_mut().save_as(&file).unwrap();
    std::fs::remove_file(&path).unwrap();
    let mut harness = demo();
    harness.state_mut().open(&file);
    harness.run();
    settle(&mut harness);
    let said = harness.state().said().unwrap();
    assert!(said.starts_with("Cannot show the site picture."), "{said}");
    assert!(says(&harness, "Cannot open this layout").is_none());
    assert!(harness.state().session().shown().running.is_some());
}

#[test]
fn ui_scaling_asks_for_two_points_first_and_escape_ends_it() {
    let folder = tempdir().unwrap();
    let mut harness = answering(picture(&folder));
    choose(&mut harness, "Add site picture…");
    let before = harness.state().session().layout().as_ref().clone();
    choose(&mut harness, "Scale site picture");
    assert!(
        says(
            &harness,
            "Click one end of something whose length you know."
        )
        .is_some()
    );
    let scale = |harness: &Harness<'_, App>| {
        let button = harness.get_by_role_and_label(Role::Button, "Scale");
        !button.accesskit_node().is_disabled()
    };
    assert!(!scale(&harness));
    let field = harness.get_by_role_and_label(Role::TextInput, "Distance");
    field.focus();
    harness.run();
    let field = harness.get_by_role_and_label(Role::TextInput, "Distance");
    field.type_text("4.2 m");
    harness.run();
    assert!(says(&harness, "Two points are needed").is_some());
    assert!(!scale(&harness));
    harness.key_press(Key::Escape);
    harness.run();
    assert!(says(&harness, "Click one end of something").is_none());
    assert_eq!(harness.state().session().layout().as_ref(), &before);
}

/// Clicks what stands in the plan, with a press and a release.
fn point_at(harness: &mut Harness<'_, App>, id: &str) {
    let pick = Pick::Part(id.into());
    let at = harness.state().place_of(&pick).unwrap();
    harness.hover_at(at);
    harness.step();
    harness.drag_at(at);
    harness.step();
    harness.drop_at(at);
    harness.run();
}

/// Header and pit are clicked, which stand where the layout says; in truth they are twice as far apart.
#[test]
fn ui_two_clicks_and_a_distance_scale_the_picture() {
    let folder = tempdir().unwrap();
    let mut harness = answering(picture(&folder));
    choose(&mut harness, "Add site picture…");
    let before = harness.state().session().layout().as_ref().clone();
    choose(&mut harness, "Scale site picture");
    point_at(&mut harness, "header");
    assert!(says(&harness, "Click its other end.").is_some());
    point_at(&mut harness, "pit");
    assert!(says(&harness, "Type the distance between them.").is_some());
    assert!(
        harness.state().tool_state().selected.is_empty(),
        "the clicks were for the picture"
    );
    let place = |id: &str| before.vessel(&id.into()).unwrap().place;
    let (header, pit) = (place("header"), place("pit"));
    let apart_m = (header.x_m - pit.x_m).hypot(header.y_m - pit.y_m);
    let field = harness.get_by_role_and_label(Role::TextInput, "Distance");
    field.focus();
    harness.run();
    let field = harness.get_by_role_and_label(Role::TextInput, "Distance");
    field.type_text(&format!("{:.6} m", 2.0 * apart_m));
    harness.run();
    click(&mut harness, "Scale");
    let old = before.underlay.as_ref().unwrap();
    let new = harness.state().session().layout().underlay.clone().unwrap();
    assert!((new.metres_per_pixel / old.metres_per_pixel - 2.0).abs() < 1e-3);
    // About the header, the corner is twice as far off.
    for (old_m, new_m, about_m) in [
        (old.at.x_m, new.at.x_m, header.x_m),
        (old.at.y_m, new.at.y_m, header.y_m),
    ] {
        assert!((new_m - about_m - 2.0 * (old_m - about_m)).abs() < 0.01);
    }
    let said = harness.state().said().unwrap();
    assert!(said.starts_with("Done: Scale site picture: "), "{said}");
    click(&mut harness, "Undo");
    assert_eq!(harness.state().session().layout().as_ref(), &before);
}

#[test]
fn ui_the_plan_is_saved_with_the_picture_that_lies_under_it() {
    let folder = tempdir().unwrap();
    let saved = folder.path().join("plan.png");
    let mut harness = dry_with(Answers {
        open: [picture(&folder)].into(),
        save: [saved.clone()].into(),
        ..Answers::default()
    });
    choose(&mut harness, "Add site picture…");
    click(&mut harness, "Plan");
    harness.run();
    harness.key_press_modifiers(egui::Modifiers::COMMAND | egui::Modifiers::SHIFT, Key::P);
    harness.run();
    let found = image::open(&saved).unwrap().to_rgb8();
    // Half of its ink on a white page.
    let mixed = |own: u8| i32::midpoint(i32::from(own), 255);
    let wanted = [mixed(90), mixed(120), mixed(60)];
    let is_it = |dot: &image::Rgb<u8>| {
        let apart = dot
            .0
            .iter()
            .zip(wanted)
            .map(|(a, b)| (i32::from(*a) - b).abs());
        apart.max().unwrap_or(255) <= 2
    };
    let dots = found.pixels().filter(|dot| is_it(dot)).count();
    let all = found.pixels().count();
    assert!(dots > all / 20, "{dots} of {all}");
}
