//! Reports pumps that lack water while the vessels above are still filling.

use super::state_view::{SAME_HEIGHT_M, StateView};
use super::wording::{finding, height, time, with_limit};
use crate::finding::{Code, Finding, Piece, Severity};
use crate::states::report::{TrajectorySuction, TrajectoryVessel};
use crate::units::Quantity;

/// Times shorter than this count as at once, s.
const AT_ONCE_S: f64 = 0.5;

pub(super) fn find(seen: &StateView<'_>) -> Vec<Finding> {
    let course = seen.report.course.iter();
    let suctions = course.flat_map(|course| &course.suctions);
    suctions
        .filter_map(|suction| of_suction(seen, suction))
        .collect()
}

fn of_suction(seen: &StateView<'_>, suction: &TrajectorySuction) -> Option<Finding> {
    let (severity, words, since_s) = match (suction.dry_s, suction.starved_s) {
        (Some(dry_s), _) => (Severity::Problem, " runs dry while starting, after ", dry_s),
        (None, Some(starved_s)) => (
            Severity::Warning,
            " gets too little water while starting, from ",
            starved_s,
        ),
        (None, None) => return None,
    };
    let (pump, run) = seen.pumps().find(|(pump, _)| pump.id == suction.pump)?;
    let mut text: Vec<Piece> = vec!["The pump of ".into(), (&pump.run).into()];
    text.push(words.into());
    text.push(match severity {
        Severity::Warning if since_s < AT_ONCE_S => "the start".into(),
        _ => time(since_s),
    });
    if severity == Severity::Warning {
        text.push(" on".into());
    }
    text.extend([
        ": the level of ".into(),
        (&suction.vessel).into(),
        " falls to ".into(),
    ]);
    let over_m = suction.lowest_m - suction.lip_m;
    if severity == Severity::Problem || over_m <= SAME_HEIGHT_M {
        text.extend(["its intake at ".into(), height(suction.lip_m)]);
    } else {
        let over = [height(suction.lowest_m), ", ".into(), height(over_m)];
        text.extend(over);
        text.push(" over the intake".into());
    }
    text.push(".".into());
    let mut about = vec![&suction.pump, &run.drawn.id, &suction.vessel];
    if let Some(spilled) = spilled_before(seen, since_s) {
        about.push(&spilled.id);
        text.extend([
            " By then ".into(),
            (&spilled.id).into(),
            " has begun to spill, and the water it loses is missing here.".into(),
        ]);
    }
    let found = finding(seen, (Code::StarvesAtStart, severity), &about, text);
    let heights = (suction.lowest_m, suction.lip_m);
    Some(with_limit(found, Quantity::Height, heights))
}

/// The vessel that spills first, where it does so before `time_s`.
fn spilled_before<'a>(seen: &StateView<'a>, time_s: f64) -> Option<&'a TrajectoryVessel> {
    let vessels = seen.report.course.iter().flat_map(|course| &course.vessels);
    let early = vessels.filter_map(|one| Some((one, one.first_spill_s?)));
    let early = early.filter(|(_, first_s)| *first_s < time_s);
    let first = early.min_by(|a, b| a.1.total_cmp(&b.1));
    first.map(|(vessel, _)| vessel)
}
