//! Whether a vessel spills, and in which words it is said on a drawing.

use super::labels::LabelLine;
use super::reports::Reports;
use super::shape::Ink;
use crate::layout::Vessel;
use crate::states::report::VesselReport;
use crate::units::{self, Quantity, UnitSystem};

/// Less than this would be written as 0 mm, metres.
const ROUNDS_TO_0_M: f64 = 0.0005;

/// The level that its flow needs stands over its rim, or no level is enough; not where all that came of it was a splash.
pub(super) fn spills(part: &Vessel, reports: &Reports<'_>) -> bool {
    let never = part.rim_perimeter_m == Some(0.0);
    let over = |report: &VesselReport| report.is_over_rim() && !reports.only_splashed(&part.id);
    !never && reports.vessel(&part.id).is_some_and(over)
}

/// It has spilled, and does no longer: in which words, from the longest to the shortest; nothing where it has not.
pub(super) fn spilled(
    report: &VesselReport,
    (splash, system): (bool, UnitSystem),
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

/// By how much it spills, from the longest to the shortest.
pub(super) fn forms(report: &VesselReport, system: UnitSystem) -> Vec<Vec<LabelLine>> {
    let over = match report.freeboard_m() {
        Some(free) if -free < ROUNDS_TO_0_M => "spills, just over the rim".to_owned(),
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
