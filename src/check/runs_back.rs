//! Reports the water that runs back when the pumps stop, and whether there is room for it.

use super::pump_feed::intake;
use super::state_view::SMALLEST_SHOWN_M;
use super::state_view::{StateView, VesselSeen};
use super::wording::{finding, height, volume, with_limit};
use crate::finding::{Code, Finding, Piece, Severity};
use crate::layout::Id;
use crate::states::report::BackReport;
use crate::units::Quantity;

/// Smallest volume running back that is reported, m³: a jugful. Common practice, no source.
const LEAST_M3: f64 = 1e-3;

pub(super) fn find(seen: &StateView<'_>) -> Vec<Finding> {
    let course = seen.report.course.as_ref();
    let back = course.and_then(|course| course.back);
    let told = back.and_then(|back| reported(seen, back));
    told.into_iter().collect()
}

/// Returns the vessels that pumps draw from, each once.
pub(super) fn sumps<'a>(seen: &StateView<'a>) -> Vec<&'a Id> {
    let mut found: Vec<&Id> = Vec::new();
    for run in seen.runs.iter().filter(|run| run.drawn.pump.is_some()) {
        let from = run.end(intake(run));
        if seen.vessel(from).is_some() && !found.contains(&from) {
            found.push(from);
        }
    }
    found
}

/// Total volume that runs back, m³.
pub(super) fn sum_m3(back: &BackReport) -> f64 {
    back.drained_m3 + back.siphoned_m3 + back.in_runs_m3
}

fn reported(seen: &StateView<'_>, back: BackReport) -> Option<Finding> {
    let sumps = sumps(seen);
    let first = seen.vessel(sumps.first()?)?;
    // A sump that spills is reported by `spills`.
    let spills = sumps.iter().filter_map(|id| seen.vessel(id));
    if sum_m3(&back) < LEAST_M3 || spills.into_iter().any(|held| seen.floods(held)) {
        return None;
    }
    let one = sumps.len() == 1;
    let mut text: Vec<Piece> = vec![
        if one {
            "Once the pump has stopped, "
        } else {
            "Once the pumps have stopped, "
        }
        .into(),
        volume(sum_m3(&back)),
        " have run back into ".into(),
        (*sumps.first()?).into(),
    ];
    for other in sumps.iter().skip(1) {
        text.extend([" and ".into(), (*other).into()]);
    }
    if one {
        text.extend(room_left(first));
    }
    text.push(".".into());
    let severity = if siphons(&back) {
        text.extend(through_pump(&back));
        Severity::Warning
    } else {
        Severity::Note
    };
    if back.in_runs_m3 >= LEAST_M3 {
        text.extend([
            " Of that ".into(),
            volume(back.in_runs_m3),
            " stood in runs that empty.".into(),
        ]);
    }
    let found = finding(seen, (Code::RunsBack, severity), &sumps, text);
    Some(with_limit(found, Quantity::Volume, room_for_all(&back)))
}

/// Total volume that runs back and the room that there was for it, m³; NaN where none of the vessels that pumps draw
/// from can spill.
fn room_for_all(back: &BackReport) -> (f64, f64) {
    let all_m3 = sum_m3(back);
    (
        all_m3,
        back.room_m3.map_or(f64::NAN, |left_m3| all_m3 + left_m3),
    )
}

/// Returns the words for the room that is left in the vessel, as the end of a sentence.
fn room_left(held: &VesselSeen<'_>) -> Vec<Piece> {
    match held.here.freeboard_m() {
        None => Vec::new(),
        Some(free_m) if free_m < SMALLEST_SHOWN_M => vec![", which is then full to the rim".into()],
        Some(free_m) => vec![
            ", which then stands ".into(),
            height(free_m),
            " under its rim".into(),
        ],
    }
}

fn through_pump(back: &BackReport) -> Vec<Piece> {
    let mut text: Vec<Piece> = Vec::new();
    if back.drained_m3 + back.in_runs_m3 < LEAST_M3 {
        text.push(" All of it".into());
    } else {
        text.extend([" Of that ".into(), volume(back.siphoned_m3)]);
    }
    text.push(" came back through the pump, drawn down from where it delivers.".into());
    text
}

/// Returns whether most of the water comes back through the pump itself, stopped neither by a check valve nor by air at
/// its mouth.
fn siphons(back: &BackReport) -> bool {
    back.siphoned_m3 >= LEAST_M3 && back.siphoned_m3 > back.drained_m3 + back.in_runs_m3
}
