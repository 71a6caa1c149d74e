//! Failures as text, worst first.

use super::findings::{mark, pages, with_code};
use super::pumps::title;
use super::table::{Column, table};
use super::trajectory::outcome;
use super::wrap::wrap;
use super::{CAUTION, TextReader, WIDTH, heading, list};
use crate::cli::faults::{FaultsReport, NOT_COVERED, SHUT};
use crate::cli::names::Names;
use crate::evaluate::FailureCase;
use crate::finding::{Code, Severity};
use crate::states::report::{BlockedCase, reported_spill_m3};
use crate::states::{Fault, ShutSuction};
use crate::units::{Quantity, span, write};

/// Returns the report; every line ends with a line feed.
pub fn faults_text(told: &FaultsReport) -> String {
    let (layout, cases) = (&told.layout, &told.cases);
    let reader = TextReader {
        layout,
        names: Names::new(layout),
        system: layout.units,
    };
    let mut lines = wrap(&super::title_of(layout), WIDTH);
    lines.push(format!(
        "{}.",
        super::counted(|severity| told.count(severity))
    ));
    lines.extend(heading(
        "One thing fails at a time, from running, for a day",
    ));
    if cases.is_empty() {
        lines.push("  There is nothing in this layout yet that could fail.".to_owned());
    }
    let harm = |case: &&FailureCase| case.severity != Severity::Note;
    let splash = |case: &&FailureCase| {
        case.case.only_splashes() && reported_spill_m3(case.case.spilled_m3).is_some()
    };
    let (harm, none): (Vec<&FailureCase>, Vec<&FailureCase>) = cases.iter().partition(harm);
    if !harm.is_empty() {
        lines.extend(harmful(&reader, &harm));
        lines.push(String::new());
        let least = span(layout.limits.blocked_spill_s);
        lines.extend(said(&format!(
            "A problem is what spills in less than {least}; what spills later, or leaves a pump without \
             water, is a warning."
        )));
    }
    let (splashes, none): (Vec<&FailureCase>, Vec<&FailureCase>) =
        none.into_iter().partition(splash);
    lines.extend(splashing(&reader, &splashes));
    lines.extend(harmless(&reader, &none, told));
    lines.extend(told.shut.iter().flat_map(|one| shut(&reader, one)));
    lines.extend(once_primed(&reader, cases));
    lines.push(String::new());
    lines.extend(said(&format!("Not covered: {}.", NOT_COVERED.join("; "))));
    lines.push(String::new());
    if !told.shut.is_empty() {
        lines.extend(pages());
    }
    lines.push(CAUTION.to_owned());
    lines.push(String::new());
    lines.join("\n")
}

fn harmful(reader: &TextReader, cases: &[&FailureCase]) -> Vec<String> {
    let words = |cell: &dyn Fn(&FailureCase) -> String| cases.iter().map(|one| cell(one)).collect();
    let outcomes: Vec<&BlockedCase> = cases.iter().map(|one| &one.case).collect();
    let mut columns = vec![
        Column::words("", words(&|one| mark(one.severity).to_owned())),
        Column::words("what fails", words(&|one| what(reader, one))),
    ];
    columns.extend(outcome(reader, &outcomes));
    table(&columns)
}

/// The failures with only a splash: a note, and no harm.
fn splashing(reader: &TextReader, cases: &[&FailureCase]) -> Vec<String> {
    if cases.is_empty() {
        return Vec::new();
    }
    let told = cases.iter().map(|one| {
        let lost = write(Quantity::Volume, one.case.spilled_m3, reader.system);
        let from = one.case.spills.as_ref().map(|id| reader.name(id));
        let from = from.map_or(String::new(), |name| format!(" from {name}"));
        format!("{} ({lost}{from})", what(reader, one))
    });
    let told: Vec<String> = told.collect();
    let text = format!(
        "Only a splash runs over within a day, and no pump lacks water, with: {}.",
        list(&told)
    );
    let mut lines = vec![String::new()];
    lines.extend(said(&text));
    lines
}

fn harmless(reader: &TextReader, cases: &[&FailureCase], told: &FaultsReport) -> Vec<String> {
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

/// The failures with other consequences in the second outcome; empty where there are none.
fn once_primed(reader: &TextReader, cases: &[FailureCase]) -> Vec<String> {
    let told = cases.iter().filter_map(|one| {
        let second = one.second.as_ref()?;
        differs(&one.case, second).then(|| {
            let comes = comes_of(reader, second);
            format!("Once primed, {}: {comes}.", what(reader, one))
        })
    });
    let mut lines: Vec<String> = told.flat_map(|text| said(&text)).collect();
    if !lines.is_empty() {
        lines.insert(0, String::new());
    }
    lines
}

/// Smallest relative change of a time that is reported.
const SAME_TIME: f64 = 0.05;

/// Whether another vessel spills, another pump lacks water, or the same does at another time.
fn differs(main: &BlockedCase, second: &BlockedCase) -> bool {
    let moved = |before: Option<f64>, after: Option<f64>| match (before, after) {
        (Some(before), Some(after)) => (after - before).abs() > SAME_TIME * before,
        (None, None) => false,
        _ => true,
    };
    main.spills != second.spills
        || main.starves != second.starves
        || moved(main.first_spill_s, second.first_spill_s)
        || moved(main.starved_s, second.starved_s)
}

/// The consequences of a failure, in words.
fn comes_of(reader: &TextReader, case: &BlockedCase) -> String {
    let spills = case.spills.as_ref().zip(case.first_spill_s);
    let spills =
        spills.map(|(id, time_s)| format!("{} spills after {}", reader.name(id), span(time_s)));
    let starves = case.starves.as_ref().zip(case.starved_s);
    let starves = starves.map(|(id, time_s)| {
        let pump = title(&reader.name(id));
        format!("{pump} lacks water after {}", span(time_s))
    });
    let told: Vec<String> = spills.into_iter().chain(starves).collect();
    if told.is_empty() {
        "nothing spills and no pump lacks water within a day".to_owned()
    } else {
        list(&told)
    }
}

/// A pump whose suction is shut before any failure.
fn shut(reader: &TextReader, one: &ShutSuction) -> Vec<String> {
    let runs: Vec<String> = one.shut.iter().map(|id| reader.name(id)).collect();
    let verb = if runs.len() == 1 { "is" } else { "are" };
    let text = format!(
        "{} {} cannot draw water as the layout is drawn: {} {verb} shut before it.",
        mark(SHUT),
        title(&reader.name(&one.pump)),
        list(&runs)
    );
    let mut lines = vec![String::new()];
    lines.extend(said(&with_code(&text, Code::SuctionShut)));
    lines
}

fn said(text: &str) -> Vec<String> {
    let wrapped = wrap(text, WIDTH - 2);
    wrapped
        .into_iter()
        .map(|line| format!("  {line}"))
        .collect()
}

/// A failure, in words.
fn what(reader: &TextReader, failed: &FailureCase) -> String {
    let part = reader.name(&failed.part);
    match failed.fault {
        Fault::RunShut => format!("{part} shut"),
        Fault::ScreenBlinded => format!("screen of {part} blinded"),
        Fault::PumpStands => format!("{} stands still", title(&part)),
        Fault::SwitchStaysOn => format!("float switch of {part} stays on"),
        Fault::CheckOpen => format!("check valve of {part} stays open at a stop"),
        Fault::BreakClogged => format!("siphon break of {part} clogged at a stop"),
        Fault::ValveOpen => format!("float valve of {part} stays open"),
        Fault::ValveShut => format!("float valve of {part} stays shut"),
    }
}
