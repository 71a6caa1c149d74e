//! Finds the highest crest that brings a level down to where it may be.

use super::bench::{Bench, SAME_HEIGHT_M, level_of};
use super::search::least;
use super::spill::TooHigh;
use super::step::{down, step_m};
use crate::check::blame::Crest;
use crate::finding::{Change, Cure, Piece, Sentence};
use crate::layout::{EndField, Layout, NumberField, Opening};
use crate::state::State;
use crate::units::Quantity;

/// Tolerance of a search, metres: finer than any height can be set.
const NEAR_M: f64 = 2e-5;
/// Most full solutions for the last correction.
const MOST_SETTLINGS: usize = 5;

/// A crest that can be lowered.
struct Handle {
    crest: Crest,
    field: NumberField,
    lowest_m: f64,
}

/// Lowers these crests together, each by the same amount, as little as is enough.
///
/// None where that does not work: a crest can go no lower than the floor of its vessel, or its raised intake.
pub(super) fn together(bench: &Bench<'_>, high: &TooHigh<'_>, crests: &[Crest]) -> Option<Cure> {
    let handles: Option<Vec<Handle>> = crests
        .iter()
        .map(|crest| handle(bench.layout, crest))
        .collect();
    let handles = handles?;
    let room = handles
        .iter()
        .map(|one| one.crest.height_m - one.lowest_m)
        .fold(0.0, f64::max);
    let left = |by_m: f64| {
        let changes = exact(&handles, by_m);
        Some(bench.level_m(&changes, &high.vessel.id)? - high.goal_m)
    };
    let first_m = (high.level_m - high.goal_m) * 1.001 + NEAR_M;
    let by_m = least(left, (first_m, room), NEAR_M)?;
    settle(bench, high, &handles, by_m)
}

/// Rounds down to heights that can be set, and corrects them by the full solution: water may be left behind on the way
/// to it, which the preview does not know.
fn settle(bench: &Bench<'_>, high: &TooHigh<'_>, handles: &[Handle], by_m: f64) -> Option<Cure> {
    let step = step_m(bench.layout.units);
    let mut by_m = by_m;
    let mut best = None;
    for _ in 0..MOST_SETTLINGS {
        let changes = rounded(bench, handles, by_m);
        if changes.is_empty() || best.as_ref() == Some(&changes) {
            break;
        }
        let solved = bench.solve(&changes)?;
        let level_m = level_of(solved.state(State::Running)?, &high.vessel.id)?;
        let spare_m = high.goal_m - level_m;
        if spare_m >= -SAME_HEIGHT_M && bench.cures(&solved, high.found) {
            best = Some(changes);
            if spare_m <= 1.5 * step {
                break;
            }
            by_m -= spare_m - 0.5 * step;
        } else if spare_m < -SAME_HEIGHT_M && best.is_none() {
            by_m -= spare_m - NEAR_M;
        } else {
            break;
        }
    }
    best.map(|changes| Cure {
        text: sentence(&changes),
        changes,
    })
}

fn exact(handles: &[Handle], by_m: f64) -> Vec<Change> {
    let to = |one: &Handle| (one.crest.height_m - by_m).max(one.lowest_m);
    handles.iter().map(|one| change(one, to(one))).collect()
}

fn rounded(bench: &Bench<'_>, handles: &[Handle], by_m: f64) -> Vec<Change> {
    let lowered = exact(handles, by_m).into_iter().map(|change| Change {
        to: down(change.to, bench.layout.units),
        ..change
    });
    lowered.filter(|change| change.to < change.from).collect()
}

fn change(one: &Handle, to_m: f64) -> Change {
    Change {
        part: one.crest.run.clone(),
        field: one.field,
        from: one.crest.height_m,
        to: to_m,
        quantity: Quantity::Height,
    }
}

/// Returns the field of a crest, and how low it can go.
fn handle(layout: &Layout, crest: &Crest) -> Option<Handle> {
    let run = layout.run(&crest.run)?;
    let opening = run.end(crest.which).opening.as_ref()?;
    let floor_m = layout
        .vessel(&crest.at)
        .map_or(f64::NEG_INFINITY, |vessel| vessel.floor_m);
    let lowest_m = match opening {
        Opening::RaisedIntake { intake_m, .. } => intake_m.max(floor_m),
        Opening::Floor { lip_m: None, .. } | Opening::Submerged { lip_m: None, .. } => return None,
        _ => floor_m,
    };
    Some(Handle {
        crest: crest.clone(),
        field: NumberField::End(crest.which, EndField::crest_of(opening)),
        lowest_m,
    })
}

/// Returns “Lower the crest of A from 841 mm to 807 mm, and the crest of B …”.
fn sentence(changes: &[Change]) -> Sentence {
    let mut text: Vec<Piece> = Vec::new();
    for change in changes {
        let words = match (
            text.is_empty(),
            matches!(change.field, NumberField::End(_, EndField::MouthLip)),
        ) {
            (true, false) => "Lower the crest of ",
            (true, true) => "Lower the end of ",
            (false, false) => ", and the crest of ",
            (false, true) => ", and the end of ",
        };
        text.extend([
            words.into(),
            (&change.part).into(),
            " from ".into(),
            Piece::Number(Quantity::Height, change.from),
            " to ".into(),
            Piece::Number(Quantity::Height, change.to),
        ]);
    }
    text.push(".".into());
    Sentence(text)
}
