//! Pumps that lack water while the vessels above still fill.

use super::seen::{SAME_M, Seen};
use super::tell::{finding, height, held_to, time};
use crate::finding::{Code, Finding, Piece, Severity};
use crate::states::report::CourseSuction;
use crate::units::Quantity;

pub(super) fn find(seen: &Seen<'_>) -> Vec<Finding> {
    let course = seen.report.course.iter();
    let suctions = course.flat_map(|course| &course.suctions);
    suctions
        .filter_map(|suction| of_suction(seen, suction))
        .collect()
}

fn of_suction(seen: &Seen<'_>, suction: &CourseSuction) -> Option<Finding> {
    let (severity, words, since_s) = match (suction.dry_s, suction.starved_s) {
        (Some(dry_s), _) => (Severity::Problem, " runs dry while starting, after ", dry_s),
        (None, Some(starved_s)) => (
            Severity::Warning,
            " is held back for want of water while starting, from ",
            starved_s,
        ),
        (None, None) => return None,
    };
    let (pump, run) = seen.pumps().find(|(pump, _)| pump.id == suction.pump)?;
    let mut text: Vec<Piece> = vec!["The pump of ".into(), (&pump.run).into()];
    text.push(words.into());
    text.extend([
        time(since_s),
        ": the level of ".into(),
        (&suction.vessel).into(),
        " falls to ".into(),
        height(suction.lowest_m),
    ]);
    text.extend(over_lip(suction));
    text.push(".".into());
    let about = [&suction.pump, &run.drawn.id, &suction.vessel];
    let found = finding(seen, (Code::StarvesAtStart, severity), &about, text);
    let heights = (suction.lowest_m, suction.lip_m);
    Some(held_to(found, Quantity::Height, heights))
}

fn over_lip(suction: &CourseSuction) -> Vec<Piece> {
    let over_m = suction.lowest_m - suction.lip_m;
    if over_m > SAME_M {
        vec![", ".into(), height(over_m), " over the intake".into()]
    } else {
        vec![", where the intake is".into()]
    }
}
