//! Whether a vessel spills, and the text on a drawing about it.

use crate::draw::canvas::labels::LabelLine;
use crate::draw::page::shape::Ink;
use crate::draw::results::reports::Reports;
use crate::layout::Vessel;
use crate::states::report::VesselReport;
use crate::units::{self, Quantity, UnitSystem};

/// Height that would be written as 0 mm, metres.
const SMALLEST_SHOWN_M: f64 = 0.0005;

/// Returns whether the level that the flow needs is above the rim, or no level is enough; false if the spill is only
/// worth a note.
pub(in crate::draw) fn spills(part: &Vessel, reports: &Reports<'_>) -> bool {
    let never = part.rim_perimeter_m == Some(0.0);
    let over = |report: &VesselReport| report.is_over_rim() && !reports.only_splashed(&part.id);
    !never && reports.vessel(&part.id).is_some_and(over)
}

/// Returns the texts for a vessel that has spilled and no longer does, from the longest to the shortest; empty if it
/// has not spilled.
pub(in crate::draw) fn spilled(
    report: &VesselReport,
    splash: bool,
    system: UnitSystem,
) -> Vec<Vec<LabelLine>> {
    let Some(lost_m3) = report.lost_m3() else {
        return Vec::new();
    };
    let lost = units::write(Quantity::Volume, lost_m3, system);
    let line = |words: String| match splash {
        true => LabelLine::new(words, 12.0, Ink::SoftText),
        false => LabelLine::new(words, 12.0, Ink::Problem).strong(),
    };
    vec![
        vec![line(format!("has spilled {lost}"))],
        vec![line("has spilled".to_owned())],
    ]
}

/// Returns the texts on how much a vessel spills, from the longest to the shortest.
pub(in crate::draw) fn forms(report: &VesselReport, system: UnitSystem) -> Vec<Vec<LabelLine>> {
    let over = match report.freeboard_m() {
        Some(free) if -free < SMALLEST_SHOWN_M => "spills, just over the rim".to_owned(),
        Some(free) => {
            let over = units::write(Quantity::Height, -free, system);
            format!("spills, would need {over} over the rim")
        }
        None => "spills, fills without end".to_owned(),
    };
    let line = |words: String| LabelLine::new(words, 12.0, Ink::Problem).strong();
    let lost = report
        .with_spill
        .filter(|spill| spill.spill_m3_s > 1e-7)
        .map(|spill| units::write(Quantity::Flow, spill.spill_m3_s, system));
    let mut forms = Vec::new();
    if let Some(lost) = lost {
        forms.push(vec![line(over.clone()), line(format!("{lost} runs over"))]);
    }
    forms.push(vec![line(over)]);
    forms.push(vec![line("spills".to_owned())]);
    forms
}
