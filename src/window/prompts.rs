//! Small forms: copies in a row, blocks, the search.

use super::action::Action;
use super::commands::{Command, CommandContext};
use super::theme;
use crate::draw::page::shape::Ink;
use crate::draw::section::Pick;
use crate::edit::{MOST_COPIES, Shift};
use crate::layout::Layout;
use crate::units::{self, Quantity, UnitSystem};
use egui::{Id, Key, Modal, RichText, TextEdit, Ui};

/// Most results of a search.
const MOST_FOUND: usize = 12;
/// Height of a concrete block, metres: common practice, no source.
const BLOCK_M: f64 = 0.19;

/// An open form.
#[derive(Clone, Debug, PartialEq)]
pub enum Prompt {
    /// Copies in a row.
    Row {
        /// Total number, as typed.
        count: String,
        /// Spacing, as typed.
        step: String,
        /// Whether the row goes up the page instead of across it.
        up: bool,
        /// Default spacing.
        by: Shift,
    },
    /// Blocks under vessels.
    Blocks {
        /// Number of blocks, as typed.
        count: String,
        /// Height of a block, as typed.
        height: String,
    },
    /// A search.
    Find {
        /// The search text, as typed.
        text: String,
        /// Index of the marked result.
        marked: usize,
    },
}

/// Result of a form in this frame.
pub enum Answered {
    /// It stays open.
    Open,
    /// It was cancelled.
    Left,
    /// It was answered.
    Wants(Vec<Action>),
}

impl Prompt {
    /// The form for copies in a row.
    pub fn row(by: Shift, system: UnitSystem) -> Prompt {
        Prompt::Row {
            count: "3".to_owned(),
            step: units::write(Quantity::Length, by.x_m, system),
            up: false,
            by,
        }
    }

    /// The form for blocks.
    pub fn blocks(system: UnitSystem) -> Prompt {
        Prompt::Blocks {
            count: "2".to_owned(),
            height: units::write(Quantity::Height, BLOCK_M, system),
        }
    }

    /// The search form.
    pub fn find() -> Prompt {
        Prompt::Find {
            text: String::new(),
            marked: 0,
        }
    }

    /// Shows the form.
    pub fn show(
        &mut self,
        ctx: &egui::Context,
        layout: &Layout,
        about: &CommandContext,
    ) -> Answered {
        let shown = Modal::new(Id::unique("form"))
            .frame(theme::dialog(ctx))
            .show(ctx, |ui| {
                ui.set_width(400.0);
                match self {
                    Prompt::Row {
                        count,
                        step,
                        up,
                        by,
                    } => row(ui, (count, step, up), *by, layout.units),
                    Prompt::Blocks { count, height } => blocks(ui, (count, height), layout.units),
                    Prompt::Find { text, marked } => find(ui, (text, marked), layout, about),
                }
            });
        match shown.inner {
            Answered::Open if shown.should_close() => Answered::Left,
            answered => answered,
        }
    }
}

fn heading(ui: &mut Ui, words: &str, more: &str) {
    ui.add(egui::Label::new(RichText::new(words).font(theme::strong(16.0))).wrap());
    let soft = RichText::new(more).color(theme::ink(ui, Ink::SoftText));
    ui.add(egui::Label::new(soft).wrap());
    ui.add_space(6.0);
}

/// Shows a labelled field; `first`: it takes the keyboard focus if nothing has it.
fn field(ui: &mut Ui, label: &str, text: &mut String, first: bool) {
    ui.horizontal(|ui| {
        let words = ui.label(label);
        let edit = ui
            .add(TextEdit::singleline(text).desired_width(150.0))
            .labelled_by(words.id);
        let fresh = ui.memory(|memory| memory.focused().is_none());
        if first && fresh {
            take_all(ui, &edit, text);
        }
    });
}

/// Focuses a field with its text selected, so that typing replaces it.
pub fn take_all(ui: &Ui, field: &egui::Response, text: &str) {
    use egui::text::{CCursor, CCursorRange};
    field.request_focus();
    let mut state = egui::text_edit::TextEditState::load(ui.ctx(), field.id).unwrap_or_default();
    let end = CCursor::new(text.chars().count());
    let all = CCursorRange::two(CCursor::new(0), end);
    state.cursor.set_char_range(Some(all));
    state.store(ui.ctx(), field.id);
}

/// Shows two buttons and handles their keys; an error message above them disables the first one.
fn decide(ui: &mut Ui, verb: &str, answer: Result<Action, String>) -> Answered {
    if let Err(wrong) = &answer {
        let problem = theme::ink(ui, Ink::Problem);
        ui.add(egui::Label::new(RichText::new(wrong).color(problem)).wrap());
    }
    ui.add_space(8.0);
    let mut done = ui.input(|input| input.key_pressed(Key::Enter)) && answer.is_ok();
    let mut left = false;
    ui.horizontal(|ui| {
        let button = egui::Button::new(RichText::new(verb).font(theme::strong(theme::BODY)));
        done |= ui.add_enabled(answer.is_ok(), button).clicked();
        left = ui.button("Cancel").clicked();
    });
    match answer {
        Ok(action) if done => Answered::Wants(vec![action]),
        _ if left => Answered::Left,
        _ => Answered::Open,
    }
}

fn row(
    ui: &mut Ui,
    (count, step, up): (&mut String, &mut String, &mut bool),
    by: Shift,
    system: UnitSystem,
) -> Answered {
    heading(
        ui,
        "Repeat in a row",
        "Copies include openings and the runs that lead to other parts.",
    );
    field(ui, "Total number", count, true);
    field(ui, "Spacing, centre to centre", step, false);
    ui.horizontal(|ui| {
        ui.radio_value(up, false, "Across the page");
        ui.radio_value(up, true, "Up the page");
    });
    let answer = whole(count, 2, MOST_COPIES).and_then(|count| {
        let step_m = units::read(Quantity::Length, step, system)?;
        let (x_m, y_m) = if *up { (0.0, step_m) } else { (step_m, 0.0) };
        let along_m = if by.along_m == 0.0 {
            0.0
        } else {
            step_m.abs().max(by.along_m)
        };
        let shift = Shift {
            x_m,
            y_m,
            along_m,
            ..Shift::default()
        };
        Ok(Action::InRow(count, shift))
    });
    decide(ui, "Repeat in a row", answer)
}

fn blocks(
    ui: &mut Ui,
    (count, height): (&mut String, &mut String),
    system: UnitSystem,
) -> Answered {
    heading(
        ui,
        "Raise on blocks",
        "Floors move to the height of the blocks above the datum; rims and openings move with them. \
         Full vessels are heavy: check the footing and local code.",
    );
    field(ui, "Number of blocks", count, true);
    field(ui, "Block height", height, false);
    let answer = whole(count, 0, 1000).and_then(|count| {
        let block_m = units::read(Quantity::Height, height, system)?;
        let count = u32::try_from(count).map_err(|_| "Type the number of blocks.".to_owned())?;
        if block_m > 0.0 {
            Ok(Action::OnBlocks(count, block_m))
        } else {
            Err("Type the height of one block.".to_owned())
        }
    });
    decide(ui, "Raise", answer)
}

fn whole(text: &str, least: usize, most: usize) -> Result<usize, String> {
    let number = text.trim().parse::<usize>().ok();
    let number = number.filter(|number| (least..=most).contains(number));
    number.ok_or_else(|| format!("Type a whole number from {least} to {most}."))
}

/// A search result, with its action.
struct SearchHit {
    words: String,
    soft: String,
    action: Action,
}

fn find(
    ui: &mut Ui,
    (text, marked): (&mut String, &mut usize),
    layout: &Layout,
    about: &CommandContext,
) -> Answered {
    heading(
        ui,
        "Find a command or a part",
        "Type part of its name; Enter chooses the marked one.",
    );
    field(ui, "Name", text, true);
    let found = found(text, layout, about);
    let (down, up, enter) = ui.input(|input| {
        (
            input.key_pressed(Key::ArrowDown),
            input.key_pressed(Key::ArrowUp),
            input.key_pressed(Key::Enter),
        )
    });
    let last = found.len().saturating_sub(1);
    *marked = match (down, up) {
        (true, _) => (*marked + 1).min(last),
        (_, true) => marked.saturating_sub(1),
        _ => (*marked).min(last),
    };
    let mut taken = enter.then_some(*marked);
    ui.add_space(4.0);
    for (index, one) in found.iter().enumerate() {
        let button = egui::Button::new(&one.words)
            .selected(index == *marked)
            .shortcut_text(one.soft.clone())
            .min_size(egui::vec2(ui.available_width(), 0.0));
        if ui.add(button).clicked() {
            taken = Some(index);
        }
    }
    if found.is_empty() {
        ui.weak("No matches");
    }
    match taken.and_then(|index| found.into_iter().nth(index)) {
        Some(one) => Answered::Wants(vec![one.action]),
        None => Answered::Open,
    }
}

/// Commands and parts whose names, or tooltips, contain all words of the search.
fn found(text: &str, layout: &Layout, about: &CommandContext) -> Vec<SearchHit> {
    let wanted: Vec<String> = text.split_whitespace().map(str::to_lowercase).collect();
    let holds = |words: &str| {
        let words = words.to_lowercase();
        wanted.iter().all(|one| words.contains(one.as_str()))
    };
    let commands = Command::ALL.into_iter().filter(|one| *one != Command::Find);
    let commands = commands
        .map(|one| {
            let words = match one {
                Command::Add(_) => format!("Add: {}", one.text()),
                _ => one.text().to_owned(),
            };
            let found = SearchHit {
                words,
                soft: if one.may_run(about) {
                    "command"
                } else {
                    "unavailable"
                }
                .to_owned(),
                action: Action::Do(one),
            };
            (found, one.tip())
        })
        .filter(|(found, tip)| holds(&format!("{} {tip}", found.words)))
        .map(|(found, _)| found);
    let vessels = layout.vessels.iter().map(|part| &part.id);
    let joints = layout.joints.iter().map(|part| &part.id);
    let fixed = layout.fixed.iter().map(|part| &part.id);
    let runs = layout.runs.iter().map(|part| &part.id);
    let pumps = layout.runs.iter().filter_map(|run| run.pump.as_ref());
    let pumps = pumps.map(|part| &part.id);
    let parts = vessels.chain(joints).chain(fixed).chain(runs).chain(pumps);
    let parts = parts
        .filter(|id| holds(layout.name_of(id)))
        .map(|id| SearchHit {
            words: layout.name_of(id).to_owned(),
            soft: "part".to_owned(),
            action: Action::Find(Pick::Part(id.clone())),
        });
    // Matches in names come before matches in tooltips. Unavailable commands come last; choosing one shows why it is
    // unavailable.
    let mut all: Vec<SearchHit> = commands.chain(parts).collect();
    all.sort_by_key(|one| (one.soft == "unavailable", !holds(&one.words)));
    all.truncate(MOST_FOUND);
    all
}
