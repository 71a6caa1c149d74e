//! The window without a display, frame by frame: from input to tessellated shapes, and what each took.

// A bench ends where its case cannot be made, as a test does, and nobody calls it.
#![allow(clippy::unwrap_used, clippy::expect_used, missing_docs)]

use cpu_time::ThreadTime;
use egui::{Event, Modifiers, PointerButton, Pos2, RawInput, Rect, Vec2, vec2};
use fallwright::session::{Options, Session};
use fallwright::window::{App, Chosen, FileDialogs, FileKind, install};
use std::path::Path;
use std::time::{Duration, Instant};

const SIZE: Vec2 = vec2(1440.0, 870.0);

/// What a frame took.
#[derive(Clone, Copy)]
pub struct Took {
    pub thread: Duration,
    pub clock: Duration,
}

struct Nobody;

impl FileDialogs for Nobody {
    fn open(&mut self, _near: Option<&Path>) -> Chosen {
        Chosen::Nothing
    }

    fn save_picture(&mut self, _name: &str, _near: Option<&Path>) -> Chosen {
        Chosen::Nothing
    }

    fn save(&mut self, _name: &str, _near: Option<&Path>) -> Chosen {
        Chosen::Nothing
    }

    fn of_kind(&mut self, _kind: FileKind, _near: Option<&Path>) -> Chosen {
        Chosen::Nothing
    }
}

pub struct Desk {
    pub ctx: egui::Context,
    pub app: App,
    time_s: f64,
}

impl Desk {
    /// The window on the demo.
    pub fn new() -> Desk {
        let ctx = egui::Context::default();
        install(&ctx);
        let app = App::new(Session::new(Options::default()), Box::new(Nobody));
        Desk {
            ctx,
            app,
            time_s: 0.0,
        }
    }

    /// One frame with these events, tessellated; what it took of this thread, and by the clock.
    pub fn frame(&mut self, events: Vec<Event>) -> Took {
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
}

/// The first button pressed, or let go.
pub fn press(pos: Pos2, pressed: bool) -> Event {
    Event::PointerButton {
        pos,
        button: PointerButton::Primary,
        pressed,
        modifiers: Modifiers::NONE,
    }
}

/// Prints the percentiles of what frames took.
pub fn report(what: &str, frames: &[Took]) {
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
