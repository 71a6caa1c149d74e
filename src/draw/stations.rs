//! Where along its run everything sits, in metres: in the order in which water meets it.
//!
//! What somebody gave a distance sits there. What is only said to be near an end sits beside it, before the pump where
//! the pump draws from that end. The pump stands behind its suction pipe; all else is behind the pump as it pushes.

use super::symbols::{Symbol, SymbolPosition, all};
use crate::layout::{Direction, Run, RunEnd};

/// One thing in its place along a run.
pub(super) struct Station<'a> {
    /// What; none: the pump.
    pub what: Option<Symbol<'a>>,
    /// How far from the start of the run, metres.
    pub at_m: f64,
}

/// The water is met from the end that the pump draws from; from the start where there is none.
fn is_backward(run: &Run) -> bool {
    let pump = run.pump.as_ref();
    pump.is_some_and(|pump| pump.pushes == Direction::Backward)
}

/// Somebody gave the distance of something in it: then all of it has one, so that nothing changes places from drawing
/// to drawing.
pub(super) fn is_measured(run: &Run) -> bool {
    all(run).any(|(_, seat)| matches!(seat, Some(SymbolPosition::At(_))))
}

/// Of a run that is measured, what one thing beside an end takes up, as a share of its length.
const SLOT: f64 = 0.06;

/// Everything in a run that is measured, in its order.
pub(super) fn measured(run: &Run, length_m: f64) -> Vec<Station<'_>> {
    stations(run, length_m, SLOT * length_m)
}

impl Station<'_> {
    /// Where it is as a share of the length of its run.
    pub fn share(&self, length_m: f64) -> f64 {
        if length_m > 0.0 {
            (self.at_m / length_m).clamp(0.0, 1.0)
        } else {
            0.0
        }
    }
}

/// Everything in a run of this length, in its order. `slot_m`: what one thing beside an end takes up.
pub(super) fn stations(run: &Run, length_m: f64, slot_m: f64) -> Vec<Station<'_>> {
    let backward = is_backward(run);
    let turned = |at_m: f64| if backward { length_m - at_m } else { at_m };
    let (mut first, mut last, mut between, mut placed) = (vec![], vec![], vec![], vec![]);
    for (what, seat) in all(run) {
        match seat {
            Some(SymbolPosition::At(at_m)) => {
                placed.push((what, turned(at_m.clamp(0.0, length_m))))
            }
            Some(SymbolPosition::Near(end)) if (end == RunEnd::To) == backward => first.push(what),
            Some(SymbolPosition::Near(_)) => last.push(what),
            None => between.push(what),
        }
    }
    if backward {
        // They are listed from the start of the run.
        between.reverse();
    }
    let nearest_m = placed.iter().map(|one| one.1).fold(length_m, f64::min);
    let suction_m = suction_m(run).map(|at_m| at_m.min(length_m));
    let mut list: Vec<Station<'_>> = Vec::new();
    let add = |list: &mut Vec<_>, what, at_m| list.push(Station { what, at_m });
    // Beside the first end, and the pump behind it where its suction pipe has no length.
    let free_m = nearest_m.min(suction_m.unwrap_or(length_m / 2.0));
    let count = first.len() + usize::from(suction_m.is_none());
    // A handful: a cast that loses nothing.
    let step_m = slot_m.min(free_m / (count + 1) as f64);
    let mut at_m = 0.0;
    for what in first {
        at_m += step_m;
        add(&mut list, Some(what), at_m);
    }
    if let Some(pump) = &run.pump {
        at_m = match suction_m {
            Some(suction_m) => suction_m,
            None if pump.is_wet() => 0.0,
            None => at_m + step_m,
        };
        add(&mut list, None, at_m);
    }
    let furthest_m = placed.iter().map(|one| one.1).fold(at_m, f64::max);
    let step_m = slot_m.min((length_m - furthest_m) / (last.len() + 1) as f64);
    let end_m = length_m - last.len() as f64 * step_m;
    for (number, what) in last.into_iter().enumerate() {
        add(
            &mut list,
            Some(what),
            length_m - (number + 1) as f64 * step_m,
        );
    }
    let (from_m, to_m) = widest(&placed, (at_m, end_m));
    for (what, at_m) in placed {
        add(&mut list, Some(what), at_m);
    }
    let step_m = (to_m - from_m) / (between.len() + 1) as f64;
    for (number, what) in between.into_iter().enumerate() {
        add(&mut list, Some(what), from_m + (number + 1) as f64 * step_m);
    }
    for one in &mut list {
        one.at_m = turned(one.at_m);
    }
    list.sort_by(|a, b| a.at_m.total_cmp(&b.at_m));
    list
}

/// Length of the suction pipe, where that is given of a pump that stands dry.
fn suction_m(run: &Run) -> Option<f64> {
    let pump = run.pump.as_ref().filter(|pump| !pump.is_wet())?;
    let length_m = pump.suction?.length_m;
    (length_m > 0.0).then_some(length_m)
}

/// The widest stretch that nothing with a distance of its own is in.
fn widest(placed: &[(Symbol<'_>, f64)], (from_m, to_m): (f64, f64)) -> (f64, f64) {
    let mut edges: Vec<f64> = placed.iter().map(|one| one.1).collect();
    edges.retain(|at_m| (from_m..=to_m).contains(at_m));
    edges.extend([from_m, to_m]);
    edges.sort_by(f64::total_cmp);
    let gaps = edges.windows(2).filter_map(|pair| match *pair {
        [low_m, high_m] => Some((low_m, high_m)),
        _ => None,
    });
    let wide = |gap: &(f64, f64)| gap.1 - gap.0;
    gaps.rev()
        .max_by(|a, b| wide(a).total_cmp(&wide(b)))
        .unwrap_or((from_m, to_m))
}
