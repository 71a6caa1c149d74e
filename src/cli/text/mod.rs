//! Results as plain text for people, at most [`WIDTH`] columns, without colour.
//!
//! Invariant: shows what is in the evaluation; computes nothing but counts of findings.

mod csv;
mod events;
mod faults;
mod findings;
mod fixed;
mod fouled;
mod marks;
mod outcome;
mod pumps;
mod runs;
mod table;
mod trace;
mod trajectory;
mod variants;
mod vessels;
mod words;
mod wrap;

pub use csv::trace_csv;
pub use faults::faults_text;
pub use trace::trace_text;
pub use words::words_text;
pub use wrap::{one_line, printable, steers, with_short_words};

use super::names::Names;
use crate::evaluate::Evaluation;
use crate::finding::Severity;
use crate::layout::{Id, Layout};
use crate::state::State;
use crate::states::report::StateReport;
use crate::units::UnitSystem;

/// Greatest width of the text, columns.
pub const WIDTH: usize = 98;

/// The last line of every report.
pub const CAUTION: &str = "Estimates for planning. Keep electricity away from water. Local code and licensed practice decide.";

/// What all sections of the report need.
struct TextReader<'a> {
    layout: &'a Layout,
    names: Names<'a>,
    system: UnitSystem,
}

impl TextReader<'_> {
    /// The name of a part, safe to print.
    fn name(&self, id: &Id) -> String {
        one_line(self.names.of(id))
    }
}

/// Returns the whole report, in the units of `system`; every line ends with a line feed.
pub fn report_text(layout: &Layout, evaluation: &Evaluation, system: UnitSystem) -> String {
    let reader = TextReader {
        layout,
        names: Names::new(layout),
        system,
    };
    let mut lines = title(layout, evaluation);
    let running = evaluation.state(State::Running);
    for report in &evaluation.states {
        lines.extend(state(&reader, report, running));
    }
    for (which, parts) in &evaluation.unsolved {
        lines.extend(not_converged(&reader, *which, parts));
    }
    let marks = evaluation.marks.as_ref();
    if let Some(marks) = marks.filter(|marks| marks::fit(layout, marks)) {
        lines.extend(marks::marks(&reader, marks));
    }
    let variants = &evaluation.variants;
    lines.extend(variants::variants(&reader, variants, running));
    lines.extend(findings::lines(&reader, evaluation));
    lines.push(String::new());
    if has_findings(evaluation) {
        lines.extend(findings::pages());
    }
    lines.push(not_checked(&evaluation.not_checked));
    lines.push(CAUTION.to_owned());
    lines.push(String::new());
    lines.join("\n")
}

fn has_findings(evaluation: &Evaluation) -> bool {
    let variants = evaluation.variants.iter();
    let otherwise = variants.flat_map(|one| &one.findings);
    evaluation.findings.iter().chain(otherwise).next().is_some()
}

fn title(layout: &Layout, evaluation: &Evaluation) -> Vec<String> {
    let mut lines = wrap::wrap(&title_of(layout), WIDTH);
    let told = (checked(&evaluation.states), count(evaluation));
    lines.extend(wrap::wrap(&format!("{}: {}.", told.0, told.1), WIDTH));
    lines.push("Heights stand above the layout's datum.".to_owned());
    lines
}

/// The title of the layout.
fn title_of(layout: &Layout) -> String {
    let name = one_line(&layout.title);
    if name.is_empty() {
        "Layout without a title".to_owned()
    } else {
        name
    }
}

fn checked(states: &[StateReport]) -> String {
    let titles: Vec<&str> = states.iter().map(|one| one.state.title()).collect();
    if titles.is_empty() {
        "Nothing could be checked".to_owned()
    } else {
        format!("Checked {}", list(&titles))
    }
}

fn count(evaluation: &Evaluation) -> String {
    counted(|severity| {
        let all = evaluation.findings.iter();
        all.filter(|one| one.severity == severity).count()
    })
}

/// The counts of findings, such as `1 problem, no warnings, 2 notes`.
fn counted(number: impl Fn(Severity) -> usize) -> String {
    let of = |severity: Severity| match number(severity) {
        0 => format!("no {}s", severity.word()),
        1 => format!("1 {}", severity.word()),
        many => format!("{many} {}s", severity.word()),
    };
    let (problems, warnings) = (of(Severity::Problem), of(Severity::Warning));
    format!("{problems}, {warnings}, {}", of(Severity::Note))
}

fn state(reader: &TextReader, report: &StateReport, running: Option<&StateReport>) -> Vec<String> {
    let mut lines = heading(report.state.title());
    if !report.converged {
        lines.push("  This state did not settle; its numbers are not to be relied on.".to_owned());
        lines.push(String::new());
    }
    lines.extend(outcome::first(reader, report));
    lines.extend(match (report.state, running) {
        (State::Starting, _) => trajectory::starting(reader, report),
        (State::Blocked, _) => trajectory::blocked(reader, report),
        (State::Stopped, running) => trajectory::stopped(reader, report, running),
        (State::Fouled, Some(running)) if !report.vessels.is_empty() => {
            fouled::fouled(reader, report, running)
        }
        _ => whole(reader, report),
    });
    lines.extend(outcome::second(reader, report));
    lines
}

/// A state with all its tables.
fn whole(reader: &TextReader, report: &StateReport) -> Vec<String> {
    // The levels as built come first, then those that the flow requires.
    let (needed, report) = (report, report.real());
    let mut lines = vessels::vessels(reader, report);
    lines.extend(vessels::cycle(reader, report));
    lines.extend(vessels::with_spill(reader, needed));
    lines.extend(fixed::fixed(reader, report));
    lines.extend(fixed::joints(reader, report));
    lines.extend(runs::runs(reader, report));
    lines.extend(runs::through_holes(reader, report));
    for pump in &report.pumps {
        lines.extend(pumps::pump(reader, report, pump));
    }
    lines
}

fn not_converged(reader: &TextReader, which: State, parts: &[Id]) -> Vec<String> {
    let mut lines = heading(which.title());
    let names: Vec<String> = parts.iter().map(|id| reader.name(id)).collect();
    let place = if names.is_empty() {
        String::new()
    } else {
        format!(" It fails at {}.", list(&names))
    };
    let text = format!("This state could not be solved.{place}");
    let wrapped = wrap::wrap(&text, WIDTH - 2);
    lines.extend(wrapped.into_iter().map(|line| format!("  {line}")));
    lines
}

fn not_checked(states: &[State]) -> String {
    if states.is_empty() {
        return "Not checked: no state was left out.".to_owned();
    }
    let titles: Vec<&str> = states.iter().map(|state| state.title()).collect();
    format!("Not checked: {}.", titles.join(", "))
}

/// A heading with an empty line above and a rule below.
fn heading(title: &str) -> Vec<String> {
    let mut letters = title.chars();
    let first = letters.next().map(|letter| letter.to_uppercase());
    let title: String = first.into_iter().flatten().chain(letters).collect();
    let rule = "─".repeat(WIDTH);
    vec![String::new(), title, rule]
}

/// `a`, `a and b`, `a, b and c`.
fn list(words: &[impl AsRef<str>]) -> String {
    let words: Vec<&str> = words.iter().map(AsRef::as_ref).collect();
    match words.split_last() {
        None => String::new(),
        Some((only, [])) => (*only).to_owned(),
        Some((last, rest)) => format!("{} and {last}", rest.join(", ")),
    }
}
