//! Cures of what is wrong with the drawing itself; they need no search.

use super::advice;
use crate::check::of_problem;
use crate::finding::{Change, Code, Cure, Finding, Piece, Sentence};
use crate::layout::{EndField, Id, Layout, NumberField, Opening};
use crate::lower::problem::{CurveFault, OpeningHeight, Problem, UnknownEntry};
use crate::units::Quantity;
use std::collections::HashMap;

/// The findings on a drawing with their cures, by code and first part.
pub(super) struct DrawingCures(HashMap<(Code, Option<Id>), Vec<CuredFinding>>);

/// A finding on a drawing, without its cures, and its cures.
type CuredFinding = (Finding, Vec<Cure>);

impl DrawingCures {
    pub(super) fn new(layout: &Layout, problems: &[Problem]) -> DrawingCures {
        let mut all = DrawingCures(HashMap::new());
        for problem in problems {
            let found = of_problem(problem);
            let known = all.0.entry(key(&found)).or_default();
            known.push((found, cure(layout, problem).into_iter().collect()));
        }
        all
    }

    /// The cures of a finding without cures; none where it is not about the drawing.
    pub(super) fn of(&self, found: &Finding) -> Vec<Cure> {
        let mut known = self.0.get(&key(found)).into_iter().flatten();
        let same = known.find(|(one, _)| one == found);
        same.map(|(_, cures)| cures.clone()).unwrap_or_default()
    }
}

fn key(found: &Finding) -> (Code, Option<Id>) {
    (found.code, found.about.first().cloned())
}

fn cure(layout: &Layout, problem: &Problem) -> Option<Cure> {
    let words = match problem {
        Problem::NotReached(_) => return None,
        Problem::CrestAboveRim { opening, rim_m } => return lower_it(layout, opening, *rim_m),
        Problem::SpillRing(vessels) => return Some(spill_lower(vessels.first()?)),
        Problem::SpillUphill(climb) => return Some(spill_lower(&climb.from)),
        Problem::Overlap {
            vessels: [one, other],
            ..
        } => return Some(move_apart(one, other)),
        Problem::NotInCatalogue { entry, nearest, .. } => {
            return Some(advice(vec![choose(entry, nearest.as_deref()).into()]));
        }
        Problem::EndsNowhere { .. } => "Connect it to a vessel, a joint or a fixed level.",
        Problem::HazenWilliamsBore { .. } | Problem::HazenWilliamsTemperature { .. } => {
            "Use Darcy–Weisbach here."
        }
        Problem::PumpCurve { fault, .. } => of_curve(*fault),
        Problem::UnventedOverflow { .. } => "Open the top of the crest to the air.",
        Problem::TwoRaisedIntakes { .. } => {
            "Give one end a plain opening, or put a joint between the two crests."
        }
        Problem::OpeningBelowFloor { .. } => {
            "Check the height of the opening against the floor: both count from the datum."
        }
        Problem::NarrowNotch { .. } => {
            "Leave that much more room over it, or time its flow once and enter its coefficient."
        }
        Problem::LargeNumber { .. } | Problem::WiderThanVessel { .. } => {
            "Check the unit and the decimal point. If the number is right, leave it."
        }
    };
    Some(advice(vec![words.into()]))
}

fn of_curve(fault: CurveFault) -> &'static str {
    match fault {
        CurveFault::Unreadable => {
            "Give at least two points of its sheet, each with more flow than the one before."
        }
        CurveFault::Rises => {
            "Check the points against its sheet, and keep the duty beyond the highest head."
        }
        CurveFault::Guessed => {
            "Give points of its sheet, or measure its flow at two heads with a bucket and a watch."
        }
    }
}

fn spill_lower(vessel: &Id) -> Cure {
    advice(vec![
        "Let ".into(),
        vessel.into(),
        " spill to something lower, or to nothing.".into(),
    ])
}

fn move_apart(one: &Id, other: &Id) -> Cure {
    advice(vec![
        "Move ".into(),
        one.into(),
        " or ".into(),
        other.into(),
        ".".into(),
    ])
}

/// The nearest entry of the catalogue, or the number that it would have given.
fn choose(entry: &UnknownEntry, nearest: Option<&str>) -> String {
    let instead = match entry {
        UnknownEntry::SecondBore { .. } => return "Give the bore that it leads to.".to_owned(),
        UnknownEntry::Family { .. } | UnknownEntry::Size { .. } => "give the bore itself",
        _ => "give its K",
    };
    match nearest {
        Some(word) => format!("Write “{word}”, the nearest in the catalogue, or {instead}."),
        None => format!("Choose one from the catalogue, or {instead}."),
    }
}

/// Lowered to the freeboard below the rim, where that is still above the floor.
fn lower_it(layout: &Layout, set: &OpeningHeight, rim_m: f64) -> Option<Cure> {
    let run = layout.runs.iter().find(|run| run.id == set.run)?;
    let opening = run.end(set.end).opening.as_ref()?;
    let floor_m = layout.vessel(&set.vessel)?.floor_m;
    let to = rim_m - layout.limits.freeboard_m;
    let lowest_m = match opening {
        Opening::RaisedIntake { intake_m, .. } => intake_m.max(floor_m),
        _ => floor_m,
    };
    if to <= lowest_m {
        return None;
    }
    Some(Cure {
        text: Sentence(vec![
            "Lower it to ".into(),
            Piece::Number(Quantity::Height, to),
            " or less: the water stands above it when it flows.".into(),
        ]),
        changes: vec![Change {
            part: set.run.clone(),
            field: NumberField::End(set.end, EndField::crest_of(opening)),
            from: set.height_m,
            to,
            quantity: Quantity::Height,
        }],
    })
}
