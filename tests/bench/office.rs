//! A drawing of 2,000 parts in the window: a frame at rest, under the pointer, and while a vessel is moved.
//!
//! Goal: 95 of 100 frames take at most 8 ms of the processor, with section and plan beside each other.

// A bench ends where its case cannot be made, as a test does, and nobody calls it.
#![allow(clippy::unwrap_used, clippy::expect_used, missing_docs)]

use desk::{Desk, Took, press, report};
use egui::{Event, Key, Modifiers, Pos2, pos2};
use fallwright::draw::section::Pick;
use fallwright::editor::DrawingKind;
use fallwright::file;
use terraces::terraces;

mod desk;
mod terraces;

const FRAMES: u16 = 120;

fn key(key: Key) -> Event {
    Event::Key {
        key,
        physical_key: None,
        pressed: true,
        repeat: false,
        modifiers: Modifiers::NONE,
    }
}

fn moved(from: Pos2, share: f32) -> Event {
    let off = (share * 7.0).sin() * 60.0;
    Event::PointerMoved(pos2(from.x + off, from.y + off / 2.0))
}

fn main() {
    let layout = terraces(26);
    let parts = layout.vessels.len() + layout.runs.len();
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("terraces.ron");
    file::write(&layout, &path).expect("written");
    let mut desk = Desk::new();
    desk.frame(Vec::new());
    desk.app.open(&path);
    for (name, views) in [
        ("section", Key::Num1),
        ("plan", Key::Num2),
        ("both", Key::Num3),
    ] {
        desk.frame(vec![key(views)]);
        for _ in 0..10 {
            desk.frame(Vec::new());
        }
        let still: Vec<Took> = (0..60).map(|_| desk.frame(Vec::new())).collect();
        report(&format!("{parts} parts, {name}, a frame at rest"), &still);
        let sheet = if name == "section" {
            DrawingKind::Section
        } else {
            DrawingKind::Plan
        };
        let vessel = Pick::Part(layout.vessels[13].id.clone());
        let at = desk
            .app
            .place_on(sheet, &vessel)
            .expect("the vessel is drawn");
        let over: Vec<Took> = (0..FRAMES)
            .map(|turn| desk.frame(vec![moved(at, f32::from(turn) / f32::from(FRAMES))]))
            .collect();
        report(&format!("{parts} parts, {name}, under the pointer"), &over);
        desk.frame(vec![Event::PointerMoved(at)]);
        desk.frame(vec![press(at, true)]);
        let held: Vec<Took> = (0..FRAMES)
            .map(|turn| desk.frame(vec![moved(at, f32::from(turn) / f32::from(FRAMES))]))
            .collect();
        assert!(desk.app.tool_state().drags(), "nothing is dragged");
        report(&format!("{parts} parts, {name}, a vessel moved"), &held);
        desk.frame(vec![key(Key::Escape)]);
        desk.frame(vec![press(at, false)]);
    }
}
