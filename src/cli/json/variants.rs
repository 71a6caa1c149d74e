//! Fill marks and variants as JSON.

use super::finding::{self, SentenceReader};
use super::{number, state};
use crate::evaluate::{Case, Variant};
use crate::layout::Layout;
use crate::states::{FillMarks, Mark, Washing};
use serde_json::{Value, json};

pub(super) fn marks(marks: &FillMarks) -> Value {
    json!({
        "vessel": marks.vessel.as_str(),
        "pump": marks.pump.as_str(),
        "most": marks.most.as_ref().map(mark),
        "least": marks.least.as_ref().map(mark),
        "cover_m": number(marks.cover_m),
        "between_m3": number(marks.between_m3()),
        "evaporation_m3_s": number(marks.evaporation_m3_s),
        "top_up_s": number(marks.top_up_s()),
        "first_fill_s": number(marks.first_fill_s()),
    })
}

fn mark(mark: &Mark) -> Value {
    json!({
        "off_m": number(mark.off_m),
        "on_m": number(mark.on_m),
        "water_m3": number(mark.water_m3),
    })
}

pub(super) fn variant(reader: &SentenceReader, layout: &Layout, variant: &Variant) -> Value {
    let (what, way, temperature_c) = match &variant.case {
        Case::Way(id) => ("way", Some(id.as_str()), None),
        Case::Water(temperature_c) => ("water", None, Some(*temperature_c)),
        Case::AtWash => ("at-wash", None, None),
    };
    let findings = variant.findings.iter();
    let findings: Vec<Value> = findings.map(|one| finding::finding(reader, one)).collect();
    json!({
        "what": what,
        "way": way,
        "temperature_c": number(temperature_c),
        "running": state::state(layout, &variant.running),
        "washing": variant.washing.as_ref().map(washing),
        "findings": findings,
    })
}

fn washing(washing: &Washing) -> Value {
    let fell = washing.fell.as_ref();
    json!({
        "washing_s": number(washing.washing_s),
        "lost_m3": number(washing.lost_m3),
        "vessel": fell.map(|(vessel, _)| vessel.as_str()),
        "fell_m": number(fell.map(|(_, fell_m)| *fell_m)),
        "starved_s": number(washing.starved_s),
        "dry_s": number(washing.dry_s),
    })
}
