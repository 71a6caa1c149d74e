//! Faults in the positions of fittings, valves and equipment along a run, and in vents.

use super::{FaultList, FaultText, PartKinds};
use crate::geometry::route_length_m;
use crate::layout::range::{ELEVATION, ROUNDING_M};
use crate::layout::{Pipe, Run, RunEnd};

/// Position given for one item of a run.
struct Placed {
    /// List and index of the item: `valves.0`.
    field: String,
    at_m: Option<f64>,
    near: Option<RunEnd>,
    /// Whether the item is an entrance or an exit.
    is_an_end: bool,
}

/// Returns every item of a run that has a position along it.
fn placed(run: &Run) -> Vec<Placed> {
    let fittings = run.fittings.iter().enumerate().map(|(index, one)| Placed {
        field: format!("fittings.{index}"),
        at_m: one.at_m,
        near: one.near,
        is_an_end: one.is_entrance_or_exit(),
    });
    let plain = |field: String, at_m: Option<f64>, near: Option<RunEnd>| Placed {
        field,
        at_m,
        near,
        is_an_end: false,
    };
    let valves = run.valves.iter().enumerate();
    let valves = valves.map(|(index, one)| plain(format!("valves.{index}"), one.at_m, one.near));
    let equipment = run.equipment.iter().enumerate();
    let equipment =
        equipment.map(|(index, one)| plain(format!("equipment.{index}"), one.at_m, one.near));
    let all = fittings.chain(valves).chain(equipment);
    all.filter(|one| one.at_m.is_some() || one.near.is_some())
        .collect()
}

pub(super) fn check(book: &mut FaultList, run: &Run, kinds: &PartKinds) {
    let placed = placed(run);
    if placed.is_empty() {
        return;
    }
    let length_m = length_m(run, kinds);
    for one in &placed {
        let field = match one.at_m {
            Some(_) => format!("{}.at_m", one.field),
            None => format!("{}.near", one.field),
        };
        if run.pipe == Pipe::Open {
            book.add(
                &field,
                format!("`{field}` is given, and the run has no pipe"),
                "leave the place out, or give the run a pipe".into(),
            );
        } else if let Some(at_m) = one.at_m {
            along(book, one, (&field, at_m), length_m);
        }
    }
}

/// Checks a position given as a distance along the run.
fn along(book: &mut FaultList, one: &Placed, (field, at_m): (&str, f64), length_m: f64) {
    let length = (length_m, "m");
    if one.near.is_some() {
        book.add(
            field,
            format!("`{field}` and `near` are both given"),
            "keep the distance or the end, and leave the other out".into(),
        );
    } else if one.is_an_end {
        book.add(
            field,
            format!("`{field}` is given for an entrance or exit, which sits at an end of the run"),
            "leave the distance out".into(),
        );
    } else if !at_m.is_finite() {
        book.say(
            field,
            format!("`{field}` is not a finite number").into(),
            FaultText::with("give a distance from 0 to {}", &[length]),
        );
    } else if at_m < 0.0 || at_m > length_m + ROUNDING_M {
        book.say(
            field,
            FaultText::with(
                &format!("`{field}` is {{}}, outside the run, which is {{}} long"),
                &[(at_m, "m"), length],
            ),
            FaultText::with(
                "give a distance from 0 to {}, from the start of the run",
                &[length],
            ),
        );
    }
}

/// Returns the length of a run in metres: the given one, else that of its route, as
/// [`Layout::length_of`](crate::layout::Layout::length_of) does. End parts are looked up by id in `kinds`, since a
/// layout may have very many runs.
fn length_m(run: &Run, kinds: &PartKinds) -> f64 {
    let drawn = || {
        let [first, last] = RunEnd::BOTH.map(|which| {
            let end = run.end(which);
            end.corner(kinds.stands(&end.at))
        });
        let mut corners = vec![first];
        corners.extend(&run.route);
        corners.push(last);
        route_length_m(&corners)
    };
    run.length_m.unwrap_or_else(drawn)
}

/// Vent given for a corner or a joint.
pub(super) struct GivenVent<'a> {
    /// Path of the fields of the vent, ending in a dot.
    pub prefix: &'a str,
    pub vented: bool,
    pub top_m: Option<f64>,
    /// What the vent stands on, in words, and the elevation of that in metres.
    pub on: (&'a str, f64),
}

/// Checks that a vent top is given only with a vent and is not below what the vent stands on.
pub(super) fn vent(book: &mut FaultList, vent: &GivenVent<'_>) {
    let Some(top_m) = vent.top_m else { return };
    let field = format!("{}vent_top_m", vent.prefix);
    let (on, height_m) = vent.on;
    if !vent.vented {
        book.add(
            &field,
            format!("`{field}` is given, and there is no vent"),
            "say `vented: true`, or leave the top out".into(),
        );
    } else if ELEVATION.holds(top_m) && top_m < height_m {
        book.say(
            &field,
            FaultText::with(
                &format!("`{field}` is {{}}, under {on} at {{}}"),
                &[(top_m, "m"), (height_m, "m")],
            ),
            FaultText::with(
                "give an elevation of {} or more above the datum",
                &[(height_m, "m")],
            ),
        );
    } else {
        book.number(&field, top_m, &ELEVATION);
    }
}
