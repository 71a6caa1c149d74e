//! Positions of items along their run, in metres, in the order in which water passes them.
//!
//! Items with a given distance are there. Items only said to be near an end are beside it, before the pump if the pump
//! draws from that end. The pump is at the end of its suction pipe; all other items are downstream of it.

use super::symbols::{Symbol, SymbolPosition, all};
use crate::layout::{Direction, Run, RunEnd};

/// An item at its position along a run.
pub(in crate::draw) struct Station<'a> {
    /// Kind of item; `None`: the pump.
    pub what: Option<Symbol<'a>>,
    /// Distance from the start of the run, metres.
    pub at_m: f64,
}

/// Returns whether the pump draws from the far end, so that the items are counted from there.
fn is_backward(run: &Run) -> bool {
    let pump = run.pump.as_ref();
    pump.is_some_and(|pump| pump.pushes == Direction::Backward)
}

/// Returns whether any item in the run has a given distance; then all items get one, so that their order is the same in
/// every drawing.
pub(in crate::draw) fn is_measured(run: &Run) -> bool {
    all(run).any(|(_, seat)| matches!(seat, Some(SymbolPosition::At(_))))
}

/// Length that one item near an end takes up, as a share of the length of a run with given distances.
const SLOT: f64 = 0.06;

/// Returns all items of a run with given distances, in order.
pub(in crate::draw) fn measured(run: &Run, length_m: f64) -> Vec<Station<'_>> {
    stations(run, length_m, SLOT * length_m)
}

impl Station<'_> {
    /// Returns its position as a share of the length of its run.
    pub fn share(&self, length_m: f64) -> f64 {
        if length_m > 0.0 {
            (self.at_m / length_m).clamp(0.0, 1.0)
        } else {
            0.0
        }
    }
}

/// Returns all items of a run of this length, in order. `slot_m`: the length that one item near an end takes up.
pub(in crate::draw) fn stations(run: &Run, length_m: f64, slot_m: f64) -> Vec<Station<'_>> {
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
        // Their list is in the order from the start of the run.
        between.reverse();
    }
    let nearest_m = placed.iter().map(|one| one.1).fold(length_m, f64::min);
    let suction_m = suction_m(run).map(|at_m| at_m.min(length_m));
    let mut list: Vec<Station<'_>> = Vec::new();
    let add = |list: &mut Vec<_>, what, at_m| list.push(Station { what, at_m });
    // Room for the items near the first end, and for the pump after them if its suction pipe has no length.
    let free_m = nearest_m.min(suction_m.unwrap_or(length_m / 2.0));
    let count = first.len() + usize::from(suction_m.is_none());
    // There are few items, so the cast is exact.
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

/// Returns the length of the suction pipe, if it is given for a dry-mounted pump.
fn suction_m(run: &Run) -> Option<f64> {
    let pump = run.pump.as_ref().filter(|pump| !pump.is_wet())?;
    let length_m = pump.suction?.length_m;
    (length_m > 0.0).then_some(length_m)
}

/// Returns the widest stretch without an item with a given distance.
fn widest(placed: &[(Symbol<'_>, f64)], span: (f64, f64)) -> (f64, f64) {
    let (from_m, to_m) = span;
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
