//! A crest dragged on the glasshouse, frame by frame, without a display: from input to tessellated shapes.
//!
//! Goal: 95 of 100 frames take at most 8 ms of the processor. Prints the percentiles of that and of the clock,
//! which other programs disturb; criterion gives means, and here the slow frames are what counts.

// A bench ends where its case cannot be made, as a test does, and nobody calls it.
#![allow(clippy::unwrap_used, clippy::expect_used, missing_docs)]

use cpu_time::ThreadTime;
use egui::{Event, Modifiers, PointerButton, Pos2, RawInput, Rect, Vec2, pos2, vec2};
use fallwright::draw::section::Pick;
use fallwright::layout::RunEnd;
use fallwright::session::{Freshness, Options, Session};
use fallwright::window::{App, Choose, Chosen, Kind, install};
use std::path::Path;
use std::time::{Duration, Instant};

/// Frames of one drag, and how often it is made.
const FRAMES: u16 = 120;
const DRAGS: u16 = 5;
const SIZE: Vec2 = vec2(1440.0, 870.0);

/// What a frame took.
#[derive(Clone, Copy)]
struct Took {
    thread: Duration,
    clock: Duration,
}

struct Nobody;

impl Choose for Nobody {
    fn open(&mut self, _near: Option<&Path>) -> Chosen {
        Chosen::Nothing
    }

    fn save(&mut self, _name: &str, _near: Option<&Path>) -> Chosen {
        Chosen::Nothing
    }

    fn of_kind(&mut self, _kind: Kind, _near: Option<&Path>) -> Chosen {
        Chosen::Nothing
    }
}

struct Desk {
    ctx: egui::Context,
    app: App,
    time_s: f64,
}

impl Desk {
    /// One frame with these events, tessellated; what it took of this thread, and by the clock.
    fn frame(&mut self, events: Vec<Event>) -> Took {
        self.time_s += 1.0 / 60.0;
        let input = RawInput {
            screen_rect: Some(Rect::from_min_size(Pos2::ZERO, SIZE)),
            time: Some(self.time_s),
            events,
            ..RawInput::default()
        };
        let (start, clock) = (ThreadTime::now(), Instant::now());
        let mut output = self.ctx.run_ui(input, |ui| self.app.step(ui));
        let shapes = std::mem::take(&mut output.shapes);
        let meshes = self.ctx.tessellate(shapes, output.pixels_per_point);
        let took = Took {
            thread: start.elapsed(),
            clock: clock.elapsed(),
        };
        assert!(meshes.len() > 3);
        // A painter would have taken the letters in.
        output.textures_delta.clear();
        took
    }

    fn settle(&mut self) {
        self.app.session_mut().settle();
        self.frame(Vec::new());
    }
}

fn press(pos: Pos2, pressed: bool) -> Event {
    Event::PointerButton {
        pos,
        button: PointerButton::Primary,
        pressed,
        modifiers: Modifiers::NONE,
    }
}

fn main() {
    let ctx = egui::Context::default();
    install(&ctx);
    let app = App::new(Session::new(Options::default()), Box::new(Nobody));
    let mut desk = Desk {
        ctx,
        app,
        time_s: 0.0,
    };
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

fn report(what: &str, frames: &[Took]) {
    let of = |name: &str, pick: fn(&Took) -> Duration| {
        let mut sorted: Vec<Duration> = frames.iter().map(pick).collect();
        sorted.sort();
        let at = |percent: usize| {
            let index = (sorted.len() * percent / 100).min(sorted.len() - 1);
            sorted
                .get(index)
                .map_or(0.0, |took| took.as_secs_f64() * 1e3)
        };
        println!(
            "{what}, {name}: {} frames, median {:.2} ms, 95th percentile {:.2} ms, slowest {:.2} ms",
            sorted.len(),
            at(50),
            at(95),
            at(100)
        );
    };
    of("processor", |took| took.thread);
    of("clock", |took| took.clock);
}
