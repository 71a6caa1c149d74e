//! The top bar: menus, title, choice of drawings, units.

use super::action::Action;
use super::canvas::Views;
use super::commands::{Command, CommandContext};
use super::theme;
use crate::draw::page::shape::Ink;
use crate::edit::Preset;
use crate::session::Session;
use crate::state::State;
use crate::units::UnitSystem;
use egui::{Align, Button, Layout, MenuBar, RichText, Ui};

/// Shows the top bar.
pub fn show(ui: &mut Ui, session: &Session, about: &CommandContext, views: Views) -> Vec<Action> {
    let mut actions = Vec::new();
    MenuBar::new().ui(ui, |ui| {
        menus(ui, session, about, &mut actions);
        ui.separator();
        steps(ui, session, &mut actions);
        ui.separator();
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            units(ui, session.layout().units, &mut actions);
            ui.separator();
            drawings(ui, views, &mut actions);
            ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
                title(ui, session)
            });
        });
    });
    actions
}

/// Commands of each menu, in groups; `None` is a separator.
const FILE: &[Option<Command>] = &[
    Some(Command::Save),
    Some(Command::SaveAs),
    None,
    Some(Command::SavePicture),
    Some(Command::CopyPicture),
    Some(Command::CopySvg),
    None,
    Some(Command::Quit),
];
const CHANGE: &[Option<Command>] = &[
    None,
    Some(Command::Cut),
    Some(Command::Copy),
    Some(Command::Paste),
    Some(Command::Duplicate),
    Some(Command::Row),
    Some(Command::Remove),
    None,
    Some(Command::Rename),
    Some(Command::Lock),
    Some(Command::Unlock),
    Some(Command::Unbend),
    Some(Command::ScalePicture),
    Some(Command::PictureAway),
    None,
    Some(Command::TakeHand),
    Some(Command::TakeTape),
    Some(Command::Survey),
];
const ARRANGE: &[Option<Command>] = &[
    Some(Command::TurnLeft),
    Some(Command::TurnRight),
    None,
    Some(Command::LineUp),
    Some(Command::LineAcross),
    Some(Command::FloorsAlike),
    Some(Command::RimsAlike),
    None,
    Some(Command::Blocks),
];
const DRAW: &[Option<Command>] = &[
    Some(Command::TakePipe),
    Some(Command::TakeManifold),
    Some(Command::TakeJoint),
    Some(Command::TakeFixed),
    None,
    Some(Command::Join),
    Some(Command::Feed),
    None,
    Some(Command::LayPicture),
];
const LOOK: &[Option<Command>] = &[
    Some(Command::OnlySection),
    Some(Command::OnlyPlan),
    Some(Command::BothDrawings),
    Some(Command::OnlyGrade),
    Some(Command::Shelf),
    None,
    Some(Command::Fit),
    Some(Command::Larger),
    Some(Command::Smaller),
    None,
    Some(Command::KeepBeside),
    Some(Command::OpenBeside),
    Some(Command::EndBeside),
];
const SELECT: &[Option<Command>] = &[
    Some(Command::SelectAll),
    None,
    Some(Command::NextPart),
    Some(Command::PartBefore),
    Some(Command::NextPartToo),
    Some(Command::NextCrest),
    Some(Command::CrestBefore),
    None,
    Some(Command::TypeNumber),
];
const THEME: &[Option<Command>] = &[
    Some(Command::Light),
    Some(Command::Dark),
    Some(Command::SystemTheme),
];

const WATCH: &[Option<Command>] = &[
    Some(Command::Watch(State::Rest)),
    Some(Command::Watch(State::Starting)),
    Some(Command::Watch(State::Running)),
    Some(Command::Watch(State::Fouled)),
    Some(Command::Watch(State::Blocked)),
    Some(Command::Watch(State::Stopped)),
    None,
    Some(Command::Play),
    Some(Command::NextEvent),
    Some(Command::EventBefore),
    None,
    Some(Command::TimeBar),
];

const HELP: &[Option<Command>] = &[
    Some(Command::Find),
    Some(Command::Demo),
    None,
    Some(Command::About),
];

fn menus(ui: &mut Ui, session: &Session, about: &CommandContext, actions: &mut Vec<Action>) {
    ui.menu_button("File", |ui| {
        for command in [Command::New, Command::Open] {
            item(ui, command, about, actions);
        }
        ui.menu_button("Open recent", |ui| recent(ui, session, actions));
        ui.separator();
        list(ui, FILE, about, actions);
    });
    ui.menu_button("Edit", |ui| {
        named(
            ui,
            Command::Undo,
            step_name(session, Command::Undo),
            actions,
        );
        named(
            ui,
            Command::Redo,
            step_name(session, Command::Redo),
            actions,
        );
        list(ui, CHANGE, about, actions);
        ui.separator();
        ui.menu_button("Selection", |ui| list(ui, SELECT, about, actions));
        ui.menu_button("Arrange", |ui| list(ui, ARRANGE, about, actions));
    });
    ui.menu_button("Add", |ui| {
        ui.menu_button("Vessel", |ui| {
            for preset in Preset::ALL {
                item(ui, Command::Add(preset), about, actions);
            }
        });
        list(ui, DRAW, about, actions);
    });
    ui.menu_button("View", |ui| {
        list(ui, LOOK, about, actions);
        ui.separator();
        ui.menu_button("Theme", |ui| list(ui, THEME, about, actions));
    });
    ui.menu_button("Time", |ui| list(ui, WATCH, about, actions));
    ui.menu_button("Help", |ui| list(ui, HELP, about, actions));
}

fn list(
    ui: &mut Ui,
    commands: &[Option<Command>],
    about: &CommandContext,
    actions: &mut Vec<Action>,
) {
    for command in commands {
        match command {
            Some(command) => item(ui, *command, about, actions),
            None => {
                ui.separator();
            }
        }
    }
}

fn recent(ui: &mut Ui, session: &Session, actions: &mut Vec<Action>) {
    if session.recent().is_empty() {
        ui.weak("No recent files");
    }
    for path in session.recent() {
        let name = path.display().to_string();
        let short = path
            .file_name()
            .map_or(name.clone(), |name| name.to_string_lossy().into_owned());
        if ui.button(short).on_hover_text(name).clicked() {
            actions.push(Action::OpenFile(path.clone()));
        }
    }
}

/// A command in a menu, with its key; dimmed while it is unavailable.
pub fn item(ui: &mut Ui, command: Command, about: &CommandContext, actions: &mut Vec<Action>) {
    let now = ui.ctx().options(|options| options.theme_preference);
    let marked = match command {
        Command::Light => now == egui::ThemePreference::Light,
        Command::Dark => now == egui::ThemePreference::Dark,
        Command::SystemTheme => now == egui::ThemePreference::System,
        _ => false,
    };
    let mut button = Button::new(command.text()).selected(marked);
    if let Some(key) = command.shortcut() {
        button = button.shortcut_text(ui.ctx().format_shortcut(&key));
    }
    let response = ui.add_enabled(command.may_run(about), button);
    let response = response.on_hover_text(command.tip());
    if response.on_disabled_hover_text(command.tip()).clicked() {
        actions.push(Action::Do(command));
    }
}

/// Undo or redo with the name of the step.
fn named(ui: &mut Ui, command: Command, name: Option<String>, actions: &mut Vec<Action>) {
    let words = match &name {
        Some(name) => format!("{}: {name}", command.text()),
        None => command.text().to_owned(),
    };
    let mut button = Button::new(words);
    if let Some(key) = command.shortcut() {
        button = button.shortcut_text(ui.ctx().format_shortcut(&key));
    }
    let response = ui.add_enabled(name.is_some(), button);
    if response.on_hover_text(command.tip()).clicked() {
        actions.push(Action::Do(command));
    }
}

/// The choice of drawings.
fn drawings(ui: &mut Ui, views: Views, actions: &mut Vec<Action>) {
    // In reverse, since they are laid out from the right.
    let choices = [
        (Views::Grade, "Grade line", Command::OnlyGrade),
        (Views::Both, "Both", Command::BothDrawings),
        (Views::Plan, "Plan", Command::OnlyPlan),
        (Views::Section, "Section", Command::OnlySection),
    ];
    for (which, words, command) in choices {
        let response = ui.selectable_label(which == views, words);
        if response.on_hover_text(command.tip()).clicked() {
            actions.push(Action::Do(command));
        }
    }
}

/// The name of the step to undo or redo, in the units of the layout.
pub fn step_name(session: &Session, command: Command) -> Option<String> {
    let name = match command {
        Command::Undo => session.undo_name(),
        _ => session.redo_name(),
    }?;
    let layout = session.layout();
    Some(name.read(&|id| layout.name_of(id).to_owned(), layout.units))
}

fn steps(ui: &mut Ui, session: &Session, actions: &mut Vec<Action>) {
    for command in [Command::Undo, Command::Redo] {
        let name = step_name(session, command);
        let tip = match &name {
            Some(name) => format!("{}: {name}", command.text()),
            None => format!("Nothing to {}", command.text().to_lowercase()),
        };
        let response = ui.add_enabled(name.is_some(), Button::new(command.text()));
        let response = response.on_hover_text(&tip).on_disabled_hover_text(&tip);
        if response.clicked() {
            actions.push(Action::Do(command));
        }
    }
}

fn title(ui: &mut Ui, session: &Session) {
    let title = session.layout().title.trim();
    let title = if title.is_empty() { "Untitled" } else { title };
    let text = RichText::new(title).font(theme::strong(theme::HEADING));
    let file = session.path().and_then(|path| path.file_name());
    let saved = match (session.unsaved(), file) {
        (true, Some(file)) => format!("{}, unsaved", file.to_string_lossy()),
        (true, None) => "unsaved".to_owned(),
        (false, Some(file)) => file.to_string_lossy().into_owned(),
        (false, None) => "no file yet".to_owned(),
    };
    let soft = theme::ink(ui, Ink::SoftText);
    let whole = ui.available_width();
    ui.scope(|ui| {
        ui.set_max_width((whole * 0.7).max(60.0));
        ui.add(egui::Label::new(text).truncate());
    });
    ui.add(egui::Label::new(RichText::new(saved).color(soft)).truncate());
}

fn units(ui: &mut Ui, units: UnitSystem, actions: &mut Vec<Action>) {
    let both = [
        (Command::Us, UnitSystem::Us),
        (Command::Metric, UnitSystem::Metric),
    ];
    for (command, system) in both {
        let response = ui.selectable_label(units == system, command.text());
        if response.on_hover_text(command.tip()).clicked() && units != system {
            actions.push(Action::Do(command));
        }
    }
}
