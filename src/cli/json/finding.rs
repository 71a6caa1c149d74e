//! Findings and their cures as JSON.

use super::number;
use crate::cli::names::Names;
use crate::finding::{Change, Cure, Finding, Sentence};
use crate::layout::Id;
use crate::units::{UnitSystem, si_symbol};
use serde_json::{Value, json};

/// What the text of a sentence needs: the names of parts and the units.
pub(super) struct SentenceReader<'a> {
    pub names: Names<'a>,
    pub system: UnitSystem,
}

pub(super) fn finding(reader: &SentenceReader, finding: &Finding) -> Value {
    let about: Vec<&str> = finding.about.iter().map(Id::as_str).collect();
    let cures: Vec<Value> = finding.cures.iter().map(|one| cure(reader, one)).collect();
    json!({
        "code": finding.code.word(),
        "severity": finding.severity.word(),
        "state": finding.state.word(),
        "about": about,
        "text": read(reader, &finding.text),
        "measured": number(finding.measured),
        "limit": number(finding.limit),
        "unit": si_symbol(finding.quantity),
        "cures": cures,
    })
}

fn cure(reader: &SentenceReader, cure: &Cure) -> Value {
    let changes: Vec<Value> = cure.changes.iter().map(change).collect();
    json!({ "text": read(reader, &cure.text), "changes": changes })
}

fn change(change: &Change) -> Value {
    json!({
        "part": change.part.as_str(),
        "field": change.field.path(),
        "from": number(change.from),
        "to": number(change.to),
        "unit": si_symbol(change.quantity),
    })
}

fn read(reader: &SentenceReader, sentence: &Sentence) -> String {
    sentence.read(&|id| reader.names.of(id).to_owned(), reader.system)
}
