//! The findings as text, worst first: what, where, by how much, and what would cure it.

use super::wrap::{letters, wrap};
use super::{TextReader, WIDTH, heading, one_line};
use crate::evaluate::Evaluation;
use crate::finding::{Code, Finding, Sentence, Severity};
use crate::state::State;

/// Column where the sentences start.
const INDENT: usize = 13;

/// The section of findings.
pub(super) fn lines(reader: &TextReader, evaluation: &Evaluation) -> Vec<String> {
    let mut lines = heading("Findings");
    if evaluation.findings.is_empty() {
        let why = if evaluation.states.is_empty() {
            "no state could be checked"
        } else {
            "nothing was found wrong in the states above"
        };
        lines.push(format!("  None: {why}."));
        return lines;
    }
    let mut sorted: Vec<&Finding> = evaluation.findings.iter().collect();
    sorted.sort_by_key(|one| one.severity);
    let mut before: Option<&Finding> = None;
    for finding in sorted {
        if before.is_some() {
            lines.push(String::new());
        }
        // Consecutive findings about blocked paths have the same cures, so they are written once.
        let again = before.is_some_and(|before| before.code == finding.code);
        let quiet = again && finding.state == State::Blocked;
        lines.extend(if quiet {
            sentence(reader, finding)
        } else {
            one(reader, finding)
        });
        before = Some(finding);
    }
    lines
}

/// The symbol of a severity: severities are marked by shape and word, to be read without colour.
pub(super) fn mark(severity: Severity) -> &'static str {
    match severity {
        Severity::Problem => "▲",
        Severity::Warning => "△",
        Severity::Note => "■",
    }
}

/// One finding with its cures.
pub(super) fn one(reader: &TextReader, finding: &Finding) -> Vec<String> {
    let mut lines = sentence(reader, finding);
    lines.extend(cures(reader, finding));
    lines
}

fn sentence(reader: &TextReader, finding: &Finding) -> Vec<String> {
    let head = format!("  {} {}", mark(finding.severity), finding.severity.word());
    let text = with_state(read(reader, &finding.text), finding.state);
    hang(&head, &with_code(&text, finding.code))
}

fn cures(reader: &TextReader, finding: &Finding) -> Vec<String> {
    let mut lines = Vec::new();
    for (index, cure) in finding.cures.iter().enumerate() {
        let head = if index == 0 { "cure:" } else { "or:" };
        let head = format!("{head:>width$}", width = INDENT - 1);
        lines.extend(hang(&head, &read(reader, &cure.text)));
    }
    lines
}

/// Appends the state to the sentence, unless the sentence names it.
fn with_state(text: String, state: State) -> String {
    let title = state.title();
    if text.contains(title) {
        text
    } else {
        format!("{text} ({title})")
    }
}

/// Appends the code to the sentence, which is also the name of its page.
pub(super) fn with_code(text: &str, code: Code) -> String {
    format!("{text} [{}]", code.word())
}

/// Says where the pages of the codes are.
pub(super) fn pages() -> Vec<String> {
    wrap(
        "The word in brackets is the code of a finding: docs/findings/CODE.md says what it means, why it matters \
         and what cures it.",
        WIDTH,
    )
}

/// `text` to the right of `head`, further lines aligned with the first.
fn hang(head: &str, text: &str) -> Vec<String> {
    let blank = " ".repeat(INDENT.saturating_sub(letters(head)));
    let mut start = format!("{head}{blank}");
    let mut lines = Vec::new();
    for line in wrap(text, WIDTH - INDENT) {
        lines.push(format!("{start}{line}").trim_end().to_owned());
        start = " ".repeat(INDENT);
    }
    lines
}

fn read(reader: &TextReader, sentence: &Sentence) -> String {
    one_line(&sentence.read(&|id| reader.name(id), reader.system))
}
