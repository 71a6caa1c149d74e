//! The bar at the top: menus, the title, the state that is shown, units.

use super::commands::Command;
use super::theme;
use super::wants::Want;
use crate::draw::shape::Ink;
use crate::finding::State;
use crate::session::Session;
use crate::units::UnitSystem;
use egui::{Align, Button, Layout, MenuBar, RichText, Ui};

/// The states that can be shown.
const STATES: [State; 2] = [State::Rest, State::Running];

/// The bar.
pub fn show(ui: &mut Ui, session: &Session, state: State) -> Vec<Want> {
    let mut wants = Vec::new();
    MenuBar::new().ui(ui, |ui| {
        menus(ui, session, &mut wants);
        ui.separator();
        steps(ui, session, &mut wants);
        ui.separator();
        title(ui, session);
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            units(ui, session.layout().units, &mut wants);
            ui.separator();
            states(ui, state, &mut wants);
        });
    });
    wants
}

fn menus(ui: &mut Ui, session: &Session, wants: &mut Vec<Want>) {
    ui.menu_button("File", |ui| {
        item(ui, Command::Open, true, wants);
        ui.menu_button("Open again", |ui| recent(ui, session, wants));
        item(ui, Command::Demo, true, wants);
        ui.separator();
        item(ui, Command::Save, true, wants);
        item(ui, Command::SaveAs, true, wants);
        ui.separator();
        item(ui, Command::Quit, true, wants);
    });
    ui.menu_button("Change", |ui| {
        named(ui, Command::Undo, step_name(session, Command::Undo), wants);
        named(ui, Command::Redo, step_name(session, Command::Redo), wants);
        ui.separator();
        item(ui, Command::Survey, true, wants);
        ui.separator();
        let laid = session.layout().underlay.is_some();
        item(ui, Command::LayPicture, true, wants);
        item(ui, Command::ScalePicture, laid, wants);
        item(ui, Command::PictureAway, laid, wants);
    });
    ui.menu_button("Look", |ui| {
        for command in [Command::Fit, Command::Larger, Command::Smaller] {
            item(ui, command, true, wants);
        }
        ui.separator();
        for command in [Command::NextCrest, Command::CrestBefore] {
            item(ui, command, true, wants);
        }
        ui.separator();
        for command in [Command::Light, Command::Dark, Command::SystemTheme] {
            item(ui, command, true, wants);
        }
    });
}

fn recent(ui: &mut Ui, session: &Session, wants: &mut Vec<Want>) {
    if session.recent().is_empty() {
        ui.weak("Files that were opened stand here.");
    }
    for path in session.recent() {
        let name = path.display().to_string();
        let short = path
            .file_name()
            .map_or(name.clone(), |name| name.to_string_lossy().into_owned());
        if ui.button(short).on_hover_text(name).clicked() {
            wants.push(Want::OpenFile(path.clone()));
        }
    }
}

/// A command in a menu, with its key.
fn item(ui: &mut Ui, command: Command, enabled: bool, wants: &mut Vec<Want>) {
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
    let response = ui.add_enabled(enabled, button);
    if response.on_hover_text(command.tip()).clicked() {
        wants.push(Want::Do(command));
    }
}

/// Undo or redo with the name of its step.
fn named(ui: &mut Ui, command: Command, name: Option<String>, wants: &mut Vec<Want>) {
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
        wants.push(Want::Do(command));
    }
}

/// The name of the step that undo or redo is about, for a reader.
pub fn step_name(session: &Session, command: Command) -> Option<String> {
    let name = match command {
        Command::Undo => session.undo_name(),
        _ => session.redo_name(),
    }?;
    let layout = session.layout();
    Some(name.read(&|id| layout.name_of(id).to_owned(), layout.units))
}

fn steps(ui: &mut Ui, session: &Session, wants: &mut Vec<Want>) {
    for command in [Command::Undo, Command::Redo] {
        let name = step_name(session, command);
        let tip = match &name {
            Some(name) => format!("{}: {name}", command.text()),
            None => format!("Nothing to {}", command.text().to_lowercase()),
        };
        let response = ui.add_enabled(name.is_some(), Button::new(command.text()));
        let response = response.on_hover_text(&tip).on_disabled_hover_text(&tip);
        if response.clicked() {
            wants.push(Want::Do(command));
        }
    }
}

fn title(ui: &mut Ui, session: &Session) {
    let title = session.layout().title.trim();
    let title = if title.is_empty() { "No title" } else { title };
    let text = RichText::new(title).font(theme::strong(theme::HEADING));
    let wide = (ui.available_width() - 430.0).max(80.0);
    ui.allocate_ui_with_layout(
        egui::vec2(wide, ui.available_height()),
        Layout::left_to_right(Align::Center),
        |ui| {
            ui.add(egui::Label::new(text).truncate());
            let file = session.path().and_then(|path| path.file_name());
            let saved = match (session.unsaved(), file) {
                (true, _) => "not saved".to_owned(),
                (false, Some(file)) => file.to_string_lossy().into_owned(),
                (false, None) => "demo".to_owned(),
            };
            let soft = theme::ink(ui, Ink::SoftText);
            ui.add(egui::Label::new(RichText::new(saved).color(soft)).truncate());
        },
    );
}

fn states(ui: &mut Ui, shown: State, wants: &mut Vec<Want>) {
    for state in STATES.into_iter().rev() {
        let (words, tip) = match state {
            State::Rest => (
                "At rest",
                "The levels with the pump off, once the water is still",
            ),
            _ => (
                "Running",
                "The levels with the pump on, once they are steady",
            ),
        };
        let response = ui.selectable_label(state == shown, words);
        if response.on_hover_text(tip).clicked() {
            wants.push(Want::Show(state));
        }
    }
}

fn units(ui: &mut Ui, units: UnitSystem, wants: &mut Vec<Want>) {
    let both = [
        (Command::Us, UnitSystem::Us),
        (Command::Metric, UnitSystem::Metric),
    ];
    for (command, system) in both {
        let response = ui.selectable_label(units == system, command.text());
        if response.on_hover_text(command.tip()).clicked() && units != system {
            wants.push(Want::Do(command));
        }
    }
}
