//! A crest dragged on the glasshouse, frame by frame, without a display: from input to tessellated shapes.
//!
//! Goal: 95 of 100 frames take at most 8 ms of the processor. Prints the percentiles of that and of the clock,
//! which other programs disturb; criterion gives means, and here the slow frames are what counts.

// A bench ends where its case cannot be made, as a test does, and nobody calls it.
#![allow(clippy::unwrap_used, clippy::expect_used, missing_docs)]

use desk::{Desk, Took, press, report};
use egui::{Event, Modifiers, pos2};
use fallwright::draw::section::Pick;
use fallwright::layout::RunEnd;
use fallwright::session::Freshness;

mod desk;

/// Frames of one drag, and how often it is made.
const FRAMES: u16 = 120;
const DRAGS: u16 = 5;

fn main() {
    let mut desk = Desk::new();
    desk.frame(Vec::new());
    desk.settle();
    desk.frame(Vec::new());
    let crest = Pick::Crest {
        run: "step-3".into(),
        end: RunEnd::From,
    };
    let at = desk.app.place_of(&crest).expect("the crest is on the page");
    let mut held = Vec::new();
    let mut fresh = 0;
    for _ in 0..DRAGS {
        desk.frame(vec![Event::PointerMoved(at)]);
        desk.frame(vec![press(at, true)]);
        for frame in 0..FRAMES {
            // Up until the bed spills, down again, up again: never twice at one height.
            let share = f32::from(frame) / f32::from(FRAMES);
            let off = (share * 9.0).sin() * 26.0 - 8.0;
            let to = pos2(at.x, at.y + off);
            held.push(desk.frame(vec![Event::PointerMoved(to)]));
            let shown = desk.app.session().shown();
            fresh += usize::from(shown.levels != Freshness::Stale);
        }
        let shown = desk.app.session().shown();
        assert!(shown.running.is_some() && desk.app.session().previewing());
        desk.frame(vec![Event::Key {
            key: egui::Key::Escape,
            physical_key: None,
            pressed: true,
            repeat: false,
            modifiers: Modifiers::NONE,
        }]);
        desk.frame(vec![press(at, false)]);
        desk.settle();
    }
    let still: Vec<Took> = (0..60).map(|_| desk.frame(Vec::new())).collect();
    report("a frame of the drag", &held);
    report("a frame at rest", &still);
    println!(
        "frames with levels of their own height: {fresh} of {}",
        held.len()
    );
}
