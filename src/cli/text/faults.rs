//! Failures for people, worst first.

use super::course::outcome;
use super::findings::mark;
use super::pumps::title;
use super::table::{Column, table};
use super::wrap::wrap;
use super::{CAUTION, Reader, WIDTH, heading, list};
use crate::cli::faults::{NOT_COVERED, Told};
use crate::cli::names::Names;
use crate::evaluate::{Failed, Fault, ShutSuction};
use crate::finding::Severity;
use crate::states::report::BlockedCase;
use crate::units::span;

/// The report; every line ends with a line feed.
pub fn faults_text(told: &Told) -> String {
    let (layout, cases) = (&told.layout, &told.cases);
    let reader = Reader {
        names: Names::new(layout),
        system: layout.units,
    };
    let mut lines = wrap(&super::title_of(layout), WIDTH);
    lines.push(format!(
        "{}.",
        super::counted(|severity| count(cases, severity))
    ));
    lines.extend(heading(
        "One thing fails at a time, from running, for a day",
    ));
    if cases.is_empty() {
        lines.push("  There is nothing in this layout yet that could fail.".to_owned());
    }
    let harm = |case: &&Failed| case.severity != Severity::Note;
    let (harm, none): (Vec<&Failed>, Vec<&Failed>) = cases.iter().partition(harm);
    if !harm.is_empty() {
        lines.extend(harmful(&reader, &harm));
        lines.push(String::new());
        let least = span(layout.limits.blocked_spill_s);
        lines.extend(said(&format!(
            "A problem is what spills in less than {least}; what spills later, or leaves a pump without \
             water, is a warning."
        )));
    }
    lines.extend(harmless(&reader, &none, told));
    lines.extend(told.shut.iter().flat_map(|one| shut(&reader, one)));
    lines.push(String::new());
    lines.extend(said(&format!("Not covered: {}.", NOT_COVERED.join("; "))));
    lines.push(String::new());
    lines.push(CAUTION.to_owned());
    lines.push(String::new());
    lines.join("\n")
}

fn count(cases: &[Failed], severity: Severity) -> usize {
    let of = cases.iter().filter(|case| case.severity == severity);
    of.count()
}

fn harmful(reader: &Reader, cases: &[&Failed]) -> Vec<String> {
    let words = |cell: &dyn Fn(&Failed) -> String| cases.iter().map(|one| cell(one)).collect();
    let outcomes: Vec<&BlockedCase> = cases.iter().map(|one| &one.case).collect();
    let mut columns = vec![
        Column::words("", words(&|one| mark(one.severity).to_owned())),
        Column::words("what fails", words(&|one| what(reader, one))),
    ];
    columns.extend(outcome(reader, &outcomes));
    table(&columns)
}

fn harmless(reader: &Reader, cases: &[&Failed], told: &Told) -> Vec<String> {
    if cases.is_empty() {
        return Vec::new();
    }
    let names: Vec<String> = cases.iter().map(|one| what(reader, one)).collect();
    let text = format!(
        "Nothing spills and no {}pump lacks water within a day with: {}.",
        if told.shut.is_empty() { "" } else { "other " },
        list(&names)
    );
    let mut lines = vec![String::new()];
    lines.extend(said(&text));
    lines
}

/// A pump that lacks water before anything fails.
fn shut(reader: &Reader, one: &ShutSuction) -> Vec<String> {
    let runs: Vec<String> = one.shut.iter().map(|id| reader.name(id)).collect();
    let verb = if runs.len() == 1 { "is" } else { "are" };
    let text = format!(
        "{} cannot draw water as the layout is drawn: {} {verb} shut before it.",
        title(&reader.name(&one.pump)),
        list(&runs)
    );
    let mut lines = vec![String::new()];
    lines.extend(said(&text));
    lines
}

fn said(text: &str) -> Vec<String> {
    let wrapped = wrap(text, WIDTH - 2);
    wrapped
        .into_iter()
        .map(|line| format!("  {line}"))
        .collect()
}

/// What fails, in words.
fn what(reader: &Reader, failed: &Failed) -> String {
    let part = reader.name(&failed.part);
    match failed.fault {
        Fault::RunShut => format!("{part} shut"),
        Fault::ScreenBlinded => format!("screen of {part} blinded"),
        Fault::PumpStands => format!("{} stands still", title(&part)),
        Fault::SwitchStaysOn => format!("float switch of {part} stays on"),
        Fault::CheckOpen => format!("check valve of {part} stays open at a stop"),
        Fault::ValveOpen => format!("float valve of {part} stays open"),
        Fault::ValveShut => format!("float valve of {part} stays shut"),
    }
}
