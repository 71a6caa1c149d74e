//! A window without a display.

use egui_kittest::kittest::{NodeT, Queryable};
use egui_kittest::{Harness, Node};
use fallwright::draw::section::Pick;
use fallwright::editor::DrawingKind;
use fallwright::session::{Options, Services, Session};
use fallwright::window::{App, Chosen, FileDialogs, FileKind, install};
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

impl FileDialogs for Answers {
    fn open(&mut self, _near: Option<&Path>) -> Chosen {
        self.answer(|own| &mut own.open)
    }

    fn of_kind(&mut self, _kind: FileKind, _near: Option<&Path>) -> Chosen {
        self.answer(|own| &mut own.open)
    }

    fn save_picture(&mut self, _name: &str, _near: Option<&Path>) -> Chosen {
        self.answer(|own| &mut own.save)
    }

    fn save(&mut self, _name: &str, _near: Option<&Path>) -> Chosen {
        self.answer(|own| &mut own.save)
    }
}

/// The window on the demo, solved.
pub fn demo() -> Harness<'static, App> {
    with(Answers::default())
}

/// The window on the demo, solved, in this theme.
#[cfg(feature = "pictures")]
pub fn demo_on(theme: egui::Theme) -> Harness<'static, App> {
    let engine = super::services::remembering();
    opened(engine, Answers::default(), theme, (1280.0, 800.0))
}

/// The window on the demo, solved, with these answers to its file dialogs.
pub fn with(answers: Answers) -> Harness<'static, App> {
    let engine = super::services::remembering();
    opened(engine, answers, egui::Theme::Light, (1440.0, 870.0))
}

/// The window on the demo, solved by this engine.
pub fn solved_by(engine: Services) -> Harness<'static, App> {
    let answers = Answers::default();
    opened(engine, answers, egui::Theme::Light, (1440.0, 870.0))
}

/// The window of this session, as it begins with this file or without one.
pub fn begun(session: Session, answers: Answers, file: Option<&Path>) -> Harness<'static, App> {
    let mut app = App::new(session, Box::new(answers));
    app.begin(file);
    shown(app, egui::Theme::Light, (1440.0, 870.0))
}

/// The window on the demo with nothing solved, of this size: for what is told of no water.
pub fn dry(theme: egui::Theme, size: (f32, f32)) -> Harness<'static, App> {
    opened(super::services::dry(), Answers::default(), theme, size)
}

/// The same with these answers to its file dialogs.
pub fn dry_with(answers: Answers) -> Harness<'static, App> {
    opened(
        super::services::dry(),
        answers,
        egui::Theme::Light,
        (1440.0, 870.0),
    )
}

fn opened(
    engine: Services,
    answers: Answers,
    theme: egui::Theme,
    size: (f32, f32),
) -> Harness<'static, App> {
    let session = Session::with_services(Options::default(), engine);
    let app = App::new(session, Box::new(answers));
    shown(app, theme, size)
}

fn shown(app: App, theme: egui::Theme, size: (f32, f32)) -> Harness<'static, App> {
    let builder = Harness::builder();
    #[cfg(feature = "pictures")]
    let builder = builder.with_render_cursor(false);
    let mut harness = builder
        .with_size(size)
        .with_theme(theme)
        // A list that scrolls settles in a few frames more.
        .with_max_steps(16)
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

/// Presses what has this name in the panel, wherever the panel is scrolled to.
pub fn press(harness: &mut Harness<'_, App>, name: &str) {
    {
        let words = egui::accesskit::Role::Label;
        let mut named = harness.query_all_by_label(name);
        let found = named.find(|node| node.accesskit_node().role() != words);
        found
            .unwrap_or_else(|| panic!("nothing is called {name}"))
            .click_accesskit();
    }
    harness.run();
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

/// The window on an empty layout, with both drawings and hands that count.
pub struct Office {
    pub harness: Harness<'static, App>,
    /// Clicks and drags so far.
    pub clicks: usize,
    holds_pipe: bool,
}

impl Office {
    pub fn empty(answers: Answers) -> Office {
        let mut harness = with(answers);
        harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::N);
        harness.run();
        settle(&mut harness);
        Office {
            harness,
            clicks: 0,
            holds_pipe: false,
        }
    }

    pub fn layout(&self) -> fallwright::layout::Layout {
        self.harness.state().session().layout().as_ref().clone()
    }

    /// Clicks a button by its name.
    pub fn press(&mut self, name: &str) {
        self.clicks += 1;
        let at = {
            let button = egui::accesskit::Role::Button;
            let found = self.harness.query_all_by_label_contains(name);
            let mut found = found.filter(|node| node.accesskit_node().role() == button);
            let last = found.next_back();
            last.unwrap_or_else(|| panic!("no button {name}"))
                .rect()
                .center()
        };
        self.click_at(at);
    }

    fn click_at(&mut self, at: egui::Pos2) {
        self.harness.hover_at(at);
        self.harness.step();
        self.harness.drag_at(at);
        self.harness.step();
        self.harness.drop_at(at);
        self.harness.run();
        settle(&mut self.harness);
    }

    /// Takes something from the shelf and sets it down in the plan, metres.
    pub fn set_down(&mut self, name: &str, (x_m, y_m): (f64, f64)) {
        let at = {
            let things = self.harness.query_all_by_label(name);
            let button = egui::accesskit::Role::Button;
            let mut things = things.filter(|node| node.accesskit_node().role() == button);
            let thing = things.next();
            thing.unwrap_or_else(|| panic!("no {name}")).rect().center()
        };
        self.click_at(at);
        let place = self.harness.state().point_in_plan(x_m, y_m).unwrap();
        self.click_at(place);
        self.clicks += 2;
        self.holds_pipe = false;
    }

    pub fn pipe_tool(&mut self) {
        let at = self.harness.get_by_label("Pipe").rect().center();
        self.click_at(at);
        self.clicks += 1;
        self.holds_pipe = true;
    }

    /// Draws pipe in one drag in the plan, by the names of vessels.
    pub fn pipe(&mut self, from: &str, to: &str) {
        if !self.holds_pipe {
            self.key(egui::Key::P);
            self.holds_pipe = true;
        }
        let (from, to) = (self.in_plan(from), self.in_plan(to));
        self.harness.hover_at(from);
        self.harness.step();
        self.harness.drag_at(from);
        self.harness.step();
        for share in [0.4, 0.8, 1.0] {
            self.harness.hover_at(from + (to - from) * share);
            self.harness.step();
        }
        self.harness.drop_at(to);
        self.harness.run();
        settle(&mut self.harness);
        self.clicks += 1;
    }

    /// Where in the window a vessel of this name stands in the plan.
    fn in_plan(&self, name: &str) -> egui::Pos2 {
        let layout = self.layout();
        let mut vessels = layout.vessels.iter();
        let vessel = vessels.find(|vessel| vessel.name == name).unwrap();
        let pick = Pick::Part(vessel.id.clone());
        self.harness
            .state()
            .place_on(DrawingKind::Plan, &pick)
            .unwrap()
    }

    /// Selects a vessel by a click on it in the plan.
    pub fn pick(&mut self, name: &str) {
        let at = self.in_plan(name);
        self.click_at(at);
        self.clicks += 1;
    }

    /// Types into a field of the panel.
    pub fn type_into(&mut self, name: &str, text: &str) {
        {
            let field = egui::accesskit::Role::TextInput;
            let fields = self.harness.query_all_by_label(name);
            let mut fields = fields.filter(|node| node.accesskit_node().role() == field);
            let field = fields.next();
            field.unwrap_or_else(|| panic!("no field {name}")).focus();
        }
        self.harness.run();
        self.harness
            .key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::A);
        self.harness.run();
        self.write(text);
        self.key(egui::Key::Enter);
    }

    /// Types letters where the keyboard is.
    pub fn write(&mut self, text: &str) {
        self.harness.run();
        self.harness.event(egui::Event::Text(text.to_owned()));
        self.harness.run();
    }

    pub fn key(&mut self, key: egui::Key) {
        self.with_key(egui::Modifiers::NONE, key);
    }

    pub fn ctrl(&mut self, key: egui::Key) {
        self.with_key(egui::Modifiers::COMMAND, key);
    }

    pub fn alt(&mut self, key: egui::Key) {
        self.with_key(egui::Modifiers::ALT, key);
    }

    pub fn shift(&mut self, key: egui::Key) {
        self.with_key(egui::Modifiers::SHIFT, key);
    }

    fn with_key(&mut self, modifiers: egui::Modifiers, key: egui::Key) {
        self.harness.key_press_modifiers(modifiers, key);
        self.harness.run();
        settle(&mut self.harness);
    }
}
