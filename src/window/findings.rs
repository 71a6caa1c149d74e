//! The list of findings, worst first, each with its cures.

use super::action::Action;
use super::theme;
use crate::draw::page::shape::Ink;
use crate::draw::section::Pick;
use crate::edit::{self, Edit};
use crate::finding::{Code, Cure, Finding, Piece, Sentence, Severity};
use crate::layout::{Id, Layout, Opening, RunEnd};
use crate::session::{Freshness, Shown};
use crate::state::State;
use egui::{RichText, ScrollArea, Sense, Ui, vec2};
use std::collections::HashMap;

/// Most findings listed; the worst come first.
const MOST_SHOWN: usize = 50;
/// Least width of a column of findings, points, and the most columns.
const COLUMN: f32 = 700.0;
const MOST_COLUMNS: usize = 3;

/// What is needed to write sentences.
struct SentenceContext<'a> {
    /// The committed layout, which cures change.
    layout: &'a Layout,
    shown: &'a Shown<'a>,
    names: HashMap<&'a Id, &'a str>,
}

impl SentenceContext<'_> {
    fn read(&self, text: &Sentence) -> String {
        // A stale finding may name a deleted part.
        let name = |id: &Id| {
            let known = self.names.get(id);
            known.map_or_else(|| id.to_string(), |name| (*name).to_owned())
        };
        text.read(&name, self.shown.layout.units)
    }
}

/// Shows all findings and convergence errors. `previewed`: a cure that is previewed and not applied.
pub fn show(
    ui: &mut Ui,
    layout: &Layout,
    shown: &Shown<'_>,
    previewed: Option<&Edit>,
) -> Vec<Action> {
    let mut actions = Vec::new();
    if let Some(edit) = previewed {
        preview(ui, layout, edit, &mut actions);
    }
    ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
        for (state, about) in shown.unsolved {
            ui.scope(|ui| {
                dimmed(ui, shown.reported);
                not_converged(ui, shown.layout, *state, about);
            });
        }
        let told = SentenceContext {
            layout,
            shown,
            names: match shown.findings {
                [] => HashMap::new(),
                _ => shown.layout.names(),
            },
        };
        list(ui, &told, &mut actions);
        let soft = theme::ink(ui, Ink::SoftText);
        let more = shown.findings.len().saturating_sub(MOST_SHOWN);
        if more > 0 {
            let words = format!("{more} more not listed; solve these first.");
            ui.label(RichText::new(words).color(soft));
        }
        if let Some(words) = awaited(shown) {
            ui.label(RichText::new(words).color(soft));
        }
    });
    actions
}

/// Shows the findings in as many columns as fit, filled one after the other.
fn list(ui: &mut Ui, told: &SentenceContext<'_>, actions: &mut Vec<Action>) {
    let all: Vec<(usize, &Finding)> = told.shown.findings.iter().enumerate().collect();
    let all = all.get(..MOST_SHOWN.min(all.len())).unwrap_or_default();
    // The ratio is a small number, so the cast truncates safely.
    let room = (ui.available_width() / COLUMN) as usize;
    let count = room.clamp(1, MOST_COLUMNS).min(all.len().max(1));
    let each = all.len().div_ceil(count).max(1);
    let mut column = |ui: &mut Ui, part: &[(usize, &Finding)]| {
        for (index, finding) in part {
            ui.push_id(index, |ui| {
                dimmed(ui, told.shown.freshness(finding.state));
                one(ui, told, finding, actions);
            });
        }
    };
    if count == 1 {
        return column(ui, all);
    }
    ui.columns(count, |columns| {
        for (ui, part) in columns.iter_mut().zip(all.chunks(each)) {
            column(ui, part);
        }
    });
}

/// Message that lists the states still being solved, which may bring more findings.
fn awaited(shown: &Shown<'_>) -> Option<String> {
    shown.age?;
    let awaited = State::ALL.into_iter();
    let awaited = awaited.filter(|state| shown.freshness(*state) != Freshness::Solved);
    let names: Vec<&str> = awaited.map(State::title).collect();
    let (last, first) = names.split_last()?;
    let names = match first {
        [] => (*last).to_owned(),
        first => format!("{} and {last}", first.join(", ")),
    };
    Some(format!("Still solving: {names}."))
}

/// The message to show where one line is enough: no findings and no convergence errors.
pub fn in_one_line(shown: &Shown<'_>) -> Option<&'static str> {
    let known = shown.running.is_some() || shown.layout.vessels.is_empty();
    (known && shown.unsolved.is_empty() && shown.findings.is_empty()).then(|| nothing(shown))
}

/// Dims stale findings.
fn dimmed(ui: &mut Ui, fresh: Freshness) {
    if fresh == Freshness::Stale {
        ui.multiply_opacity(0.45);
    }
}

/// Message where there are no findings.
fn nothing(shown: &Shown<'_>) -> &'static str {
    let all = State::ALL
        .into_iter()
        .all(|state| shown.freshness(state) == Freshness::Solved);
    if shown.layout.vessels.is_empty() {
        "Nothing to check yet."
    } else if all {
        "No problems found in any of the six states."
    } else {
        "No problems found so far; still solving."
    }
}

/// Shows a previewed cure, with buttons to apply or cancel it.
fn preview(ui: &mut Ui, layout: &Layout, edit: &Edit, actions: &mut Vec<Action>) {
    let name = edit
        .name
        .read(&|id| layout.name_of(id).to_owned(), layout.units);
    ui.horizontal_wrapped(|ui| {
        let tip = "Applies the previewed change as one step";
        if ui.button("Apply preview").on_hover_text(tip).clicked() {
            actions.push(Action::Make(edit.clone()));
        }
        let tip = "Returns to the layout as it is (Escape)";
        if ui.button("Cancel").on_hover_text(tip).clicked() {
            actions.push(Action::DropPreview);
        }
        let accent = theme::ink(ui, Ink::Accent);
        ui.label(RichText::new(format!("Preview: {name}.")).color(accent));
    });
}

/// Shows the number of findings, and whether they are being updated.
pub fn count(ui: &mut Ui, shown: &Shown<'_>) {
    let soft = theme::ink(ui, Ink::SoftText);
    let so_far = match awaited(shown) {
        Some(_) if !shown.findings.is_empty() => " so far",
        _ => "",
    };
    let counted = counted(shown.findings);
    ui.label(RichText::new(format!("{counted}{so_far}")).color(soft));
    if let Some(words) = stale(shown) {
        ui.label(RichText::new(words).color(soft));
    }
}

/// Message while results are stale or incomplete.
fn stale(shown: &Shown<'_>) -> Option<&'static str> {
    shown.age.map(|_| "Updating…")
}

fn counted(findings: &[Finding]) -> String {
    let of = |severity: Severity| {
        findings
            .iter()
            .filter(|one| one.severity == severity)
            .count()
    };
    let words = |count: usize, one: &str| match count {
        0 => None,
        1 => Some(format!("1 {one}")),
        count => Some(format!("{count} {one}s")),
    };
    let all = [
        words(of(Severity::Problem), "problem"),
        words(of(Severity::Warning), "warning"),
        words(of(Severity::Note), "note"),
    ];
    let all: Vec<String> = all.into_iter().flatten().collect();
    all.join(" · ")
}

fn not_converged(ui: &mut Ui, layout: &Layout, state: State, about: &[Id]) {
    let names: Vec<&str> = about.iter().take(5).map(|id| layout.name_of(id)).collect();
    let place = if names.is_empty() {
        String::new()
    } else {
        format!("; check {}", names.join(", "))
    };
    let words = format!(
        "{} could not be solved{place}. Check the last change, or undo it.",
        state.title()
    );
    ui.horizontal(|ui| {
        mark(ui, Severity::Problem);
        ui.add(egui::Label::new(words).wrap());
    });
}

fn one(ui: &mut Ui, told: &SentenceContext<'_>, finding: &Finding, actions: &mut Vec<Action>) {
    let shown = told.shown;
    let words = told.read(&finding.text);
    let words = if words.contains(finding.state.title()) {
        words
    } else {
        format!("{words} ({})", finding.state.title())
    };
    ui.horizontal_top(|ui| {
        ui.set_width(ui.available_width());
        mark(ui, finding.severity);
        ui.vertical(|ui| {
            let text = RichText::new(&words).font(theme::strong(theme::BODY));
            let label = egui::Label::new(text).wrap().sense(Sense::CLICK);
            let tip = "Click to show it on the drawing";
            let response = ui.add(label).on_hover_text(tip);
            let response = response.on_hover_cursor(egui::CursorIcon::PointingHand);
            if response.clicked() {
                actions.push(seen_in(finding));
                actions.extend(position(shown.layout, finding).map(Action::Find));
            }
            let fresh = shown.freshness(finding.state);
            for (index, cure) in finding.cures.iter().enumerate() {
                ui.push_id(index, |ui| cure_row(ui, told, (cure, fresh), actions));
            }
        });
    });
    ui.add_space(4.0);
}

/// The state in which the finding can be seen; for blocked paths, that of the first run listed.
fn seen_in(finding: &Finding) -> Action {
    match (finding.state, finding.about.get(1)) {
        (State::Blocked, Some(run)) => Action::Shut(run.clone()),
        (state, _) => Action::Show(state),
    }
}

/// Shows a cure: its text, and buttons where the program can apply it.
fn cure_row(
    ui: &mut Ui,
    told: &SentenceContext<'_>,
    (cure, fresh): (&Cure, Freshness),
    actions: &mut Vec<Action>,
) {
    let words = told.read(&cure.text);
    ui.horizontal(|ui| {
        if !cure.changes.is_empty() && fresh == Freshness::Solved {
            buttons(ui, told, (cure, &words), actions);
        }
        ui.add(egui::Label::new(&words).wrap());
    });
}

fn buttons(
    ui: &mut Ui,
    told: &SentenceContext<'_>,
    (cure, words): (&Cure, &str),
    actions: &mut Vec<Action>,
) {
    let layout = told.layout;
    let button = |ui: &mut Ui, short: &str, tip: &str| {
        let response = ui.button(short).on_hover_text(tip);
        let name = format!("{short}: {words}");
        response
            .widget_info(|| egui::WidgetInfo::labeled(egui::accesskit::Role::Button, true, &name));
        // The second click of a double-click may land on the button of another cure.
        response.clicked() && !response.double_clicked()
    };
    let preview = button(
        ui,
        "Preview",
        "Shows the levels with this change; Escape cancels",
    );
    let apply = button(ui, "Apply", "Makes this change as one step");
    if !preview && !apply {
        return;
    }
    let name = Sentence(vec![Piece::Words(trimmed(words))]);
    actions.push(match edit::changes(layout, &cure.changes, name) {
        Ok(edit) if apply => Action::Make(edit),
        Ok(edit) => Action::LookAt(edit),
        Err(refused) => {
            Action::Say(refused.read(&|id| layout.name_of(id).to_owned(), told.shown.layout.units))
        }
    });
}

/// A cure as the name of a step, without its full stop.
fn trimmed(words: &str) -> String {
    words.trim_end_matches('.').to_owned()
}

/// The target of a finding: the crest that causes it, else the part that it affects.
pub fn position(layout: &Layout, finding: &Finding) -> Option<Pick> {
    let by_height = matches!(
        finding.code,
        Code::Spills | Code::LittleFreeboard | Code::CrestAboveRim
    );
    if by_height {
        let crest = finding.about.iter().find_map(|id| crest_of(layout, id));
        if crest.is_some() {
            return crest;
        }
    }
    finding.about.first().cloned().map(Pick::Part)
}

fn crest_of(layout: &Layout, id: &Id) -> Option<Pick> {
    let run = layout.run(id)?;
    let set = run.from.opening.as_ref().and_then(Opening::crest_m);
    set.map(|_| Pick::Crest {
        run: run.id.clone(),
        end: RunEnd::From,
    })
}

/// Shows the symbol of a severity, distinct by its shape alone.
fn mark(ui: &mut Ui, severity: Severity) {
    let (rect, response) = ui.allocate_exact_size(vec2(18.0, 17.0), Sense::HOVER);
    response.widget_info(|| {
        egui::WidgetInfo::labeled(egui::accesskit::Role::Image, true, severity.word())
    });
    paint_mark(ui, rect.center(), (severity, 1.0));
}

/// Paints the symbol of a severity centred on a point, with this opacity.
pub fn paint_mark(ui: &Ui, middle: egui::Pos2, (severity, strength): (Severity, f32)) {
    let ink = match severity {
        Severity::Problem => Ink::Problem,
        Severity::Warning => Ink::Warning,
        Severity::Note => Ink::Note,
    };
    let color = theme::ink(ui, ink).gamma_multiply(strength);
    let triangle = vec![
        middle + vec2(0.0, -7.0),
        middle + vec2(7.5, 6.0),
        middle + vec2(-7.5, 6.0),
    ];
    let painter = ui.painter();
    match severity {
        Severity::Problem => {
            painter.add(egui::Shape::convex_polygon(
                triangle,
                color,
                egui::Stroke::NONE,
            ));
        }
        Severity::Warning => {
            let edge = egui::Stroke::new(1.8, color);
            painter.add(egui::Shape::closed_line(triangle, edge));
        }
        Severity::Note => {
            let square = egui::Rect::from_center_size(middle, vec2(9.0, 9.0));
            painter.rect_filled(square, 0.0, color);
        }
    }
}
