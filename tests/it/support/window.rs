//! A window without a display.

use egui_kittest::kittest::{NodeT, Queryable};
use egui_kittest::{Harness, Node};
use fallwright::session::{Engine, Options, Session};
use fallwright::window::{App, Choose, Chosen, Kind, install};
use std::collections::VecDeque;
use std::path::{Path, PathBuf};

/// Answers to the file dialogs, in order.
#[derive(Default)]
pub struct Answers {
    pub open: VecDeque<PathBuf>,
    pub save: VecDeque<PathBuf>,
    /// The system has no dialogs.
    pub without_dialogs: bool,
}

impl Answers {
    fn answer(&mut self, list: fn(&mut Answers) -> &mut VecDeque<PathBuf>) -> Chosen {
        match list(self).pop_front() {
            _ if self.without_dialogs => Chosen::NoDialog,
            Some(path) => Chosen::Path(path),
            None => Chosen::Nothing,
        }
    }
}

impl Choose for Answers {
    fn open(&mut self, _near: Option<&Path>) -> Chosen {
        self.answer(|own| &mut own.open)
    }

    fn of_kind(&mut self, _kind: Kind, _near: Option<&Path>) -> Chosen {
        self.answer(|own| &mut own.open)
    }

    fn save(&mut self, _name: &str, _near: Option<&Path>) -> Chosen {
        self.answer(|own| &mut own.save)
    }
}

/// The window on the demo, solved.
pub fn demo() -> Harness<'static, App> {
    with(Answers::default())
}

/// The window on the demo, solved, with these answers to its file dialogs.
pub fn with(answers: Answers) -> Harness<'static, App> {
    // However slow the machine is that runs the tests, previews are waited for.
    let engine = Engine {
        patience: std::time::Duration::from_secs(600),
        ..Engine::default()
    };
    let session = Session::with_engine(Options::default(), engine);
    let app = App::new(session, Box::new(answers));
    let mut harness = Harness::builder()
        .with_size((1440.0, 870.0))
        .with_theme(egui::Theme::Light)
        .with_context_setup(install)
        .build_ui_state(|ui, app: &mut App| app.step(ui), app);
    settle(&mut harness);
    harness
}

/// Waits for everything that is solved behind the window, and lays it out.
pub fn settle(harness: &mut Harness<'_, App>) {
    harness.state_mut().session_mut().settle();
    harness.run();
}

/// Takes what has this name and moves it by so many points; the button stays down.
pub fn take(harness: &mut Harness<'_, App>, name: &str, dy: f32) -> egui::Pos2 {
    let from = harness.get_by_label(name).rect().center();
    harness.hover_at(from);
    harness.step();
    harness.drag_at(from);
    harness.step();
    let to = from + egui::vec2(0.0, dy);
    for share in [0.3, 0.7, 1.0] {
        harness.hover_at(from + (to - from) * share);
        harness.step();
    }
    to
}

/// Lets go there.
pub fn let_go(harness: &mut Harness<'_, App>, at: egui::Pos2) {
    harness.drop_at(at);
    harness.step();
    settle(harness);
}

/// Clicks what has this name, and waits.
pub fn click(harness: &mut Harness<'_, App>, name: &str) {
    {
        let words = egui::accesskit::Role::Label;
        let mut named = harness.query_all_by_label(name);
        let found = named.find(|node| node.accesskit_node().role() != words);
        found
            .unwrap_or_else(|| panic!("nothing to click is called {name}"))
            .click();
    }
    harness.run();
    settle(harness);
}

/// Something whose name holds these words.
pub fn says<'h>(harness: &'h Harness<'_, App>, words: &'h str) -> Option<Node<'h>> {
    harness.query_all_by_label_contains(words).next()
}

/// The height of the crest of a run of the shown layout, metres.
pub fn crest_m(harness: &Harness<'_, App>, run: &str) -> f64 {
    let shown = harness.state().session().shown();
    let run = shown.layout.run(&run.into()).unwrap();
    run.from.opening.as_ref().unwrap().crest_m().unwrap()
}

/// The level of a vessel that is shown, metres.
pub fn level_m(harness: &Harness<'_, App>, vessel: &str) -> f64 {
    let shown = harness.state().session().shown();
    let running = shown.running.unwrap();
    let found = running.vessels.iter().find(|one| one.id.as_str() == vessel);
    found.unwrap().level_m.unwrap()
}
