//! Aligns parts, sets them at one height, or turns them.

use super::each::moved_each;
use super::shift::{Shift, tidy};
use crate::edit::field::no_part;
use crate::edit::{Edit, EditError};
use crate::finding::Sentence;
use crate::layout::{Id, Layout, RunEnd};
use std::collections::HashMap;

/// Kinds of alignment. Each follows the first named part.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Alignment {
    /// In one line up the page of the plan: the same X.
    UpThePage,
    /// In one line across the page of the plan: the same Y.
    AcrossThePage,
    /// Floors at one height, as of vessels on one slab.
    Floors,
    /// Rims at one height.
    Rims,
}

impl Alignment {
    fn words(self) -> &'static str {
        match self {
            Alignment::UpThePage => "vertically in the plan",
            Alignment::AcrossThePage => "horizontally in the plan",
            Alignment::Floors => "by their floors",
            Alignment::Rims => "by their rims",
        }
    }
}

/// Aligns parts with the first of them; everything fixed to them moves too, as with [`shift`](super::shift::shift).
///
/// # Errors
/// Fewer than two parts, a missing part, or one without such a height.
pub fn align(layout: &Layout, parts: &[Id], line: Alignment) -> Result<Edit, EditError> {
    let [first, others @ ..] = parts else {
        return Err(too_few());
    };
    if others.is_empty() {
        return Err(too_few());
    }
    let wanted = measure(layout, first, line)?;
    let mut each = HashMap::new();
    for part in others {
        let by = wanted - measure(layout, part, line)?;
        let by = match line {
            Alignment::UpThePage => Shift {
                x_m: by,
                ..Shift::default()
            },
            Alignment::AcrossThePage => Shift {
                y_m: by,
                ..Shift::default()
            },
            Alignment::Floors | Alignment::Rims => Shift::up(by),
        };
        each.insert(part.clone(), by);
    }
    let after = moved_each(layout, &each);
    let words = format!("Align {} parts {}", parts.len(), line.words());
    Edit::between(Sentence(vec![words.into()]), layout, &after).tried_on(layout)
}

fn too_few() -> EditError {
    EditError::new("one part cannot be aligned", "select two or more")
}

fn measure(layout: &Layout, part: &Id, line: Alignment) -> Result<f64, EditError> {
    let place = layout.place_of(part).ok_or_else(|| no_part(part));
    match line {
        Alignment::UpThePage => place.map(|place| place.x_m),
        Alignment::AcrossThePage => place.map(|place| place.y_m),
        Alignment::Floors => layout.foot_m(part).ok_or_else(|| no_part(part)),
        Alignment::Rims => layout
            .vessel(part)
            .map(|vessel| vessel.rim_m)
            .ok_or_else(|| {
                let what = "only a vessel has a rim";
                EditError::new(what, "deselect joints and fixed levels").part(part)
            }),
    }
}

/// Turns parts about their common centre in the plan, degrees anticlockwise; their openings and corners turn too.
///
/// # Errors
/// No part, or a missing one.
pub fn turn(layout: &Layout, parts: &[Id], by_deg: f64) -> Result<Edit, EditError> {
    let places: Result<Vec<_>, _> = parts
        .iter()
        .filter(|part| layout.run(part).is_none())
        .map(|part| layout.place_of(part).ok_or_else(|| no_part(part)))
        .collect();
    let places = places?;
    if places.is_empty() {
        return Err(EditError::new(
            "nothing in the selection can be turned",
            "select a vessel",
        ));
    }
    let ends = |of: fn(&crate::layout::Place) -> f64| {
        let all = places.iter().map(of);
        let (low, high) = all.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), one| {
            (low.min(one), high.max(one))
        });
        (low + high) / 2.0
    };
    let middle = (ends(|place| place.x_m), ends(|place| place.y_m));
    let after = turned(layout, parts, by_deg, middle);
    let words = match parts {
        [one] => format!("Turn {} by {by_deg:.0}°", layout.name_of(one)),
        many => format!("Turn {} parts by {by_deg:.0}°", many.len()),
    };
    Edit::between(Sentence(vec![words.into()]), layout, &after).tried_on(layout)
}

fn turned(layout: &Layout, parts: &[Id], by_deg: f64, middle: (f64, f64)) -> Layout {
    let (sin, cos) = by_deg.to_radians().sin_cos();
    let about = |x: &mut f64, y: &mut f64| {
        let (dx, dy) = (*x - middle.0, *y - middle.1);
        *x = tidy(middle.0 + dx * cos - dy * sin);
        *y = tidy(middle.1 + dx * sin + dy * cos);
    };
    let mut after = layout.clone();
    for vessel in after
        .vessels
        .iter_mut()
        .filter(|one| parts.contains(&one.id))
    {
        about(&mut vessel.place.x_m, &mut vessel.place.y_m);
        vessel.place.turned_deg = tidy((vessel.place.turned_deg + by_deg).rem_euclid(360.0));
    }
    for joint in after
        .joints
        .iter_mut()
        .filter(|one| parts.contains(&one.id))
    {
        about(&mut joint.place.x_m, &mut joint.place.y_m);
    }
    for fixed in after.fixed.iter_mut().filter(|one| parts.contains(&one.id)) {
        about(&mut fixed.place.x_m, &mut fixed.place.y_m);
    }
    for run in &mut after.runs {
        let goes = RunEnd::BOTH.map(|which| parts.contains(&run.end(which).at));
        for (which, goes) in RunEnd::BOTH.into_iter().zip(goes) {
            if let Some(place) = run.end_mut(which).place.as_mut().filter(|_| goes) {
                about(&mut place.x_m, &mut place.y_m);
            }
        }
        if goes == [true, true] {
            run.route
                .iter_mut()
                .for_each(|corner| about(&mut corner.x_m, &mut corner.y_m));
        }
    }
    after
}

/// Raises vessels on `count` blocks, each `block_m` high, above the datum. Their floors move to that height.
///
/// # Errors
/// No vessel, a missing one, or a height that would make the layout invalid.
pub fn stand_on(
    layout: &Layout,
    parts: &[Id],
    count: u32,
    block_m: f64,
) -> Result<Edit, EditError> {
    if parts.is_empty() {
        return Err(EditError::new(
            "no vessel is selected",
            "select the vessels to raise",
        ));
    }
    if !(block_m.is_finite() && block_m > 0.0) {
        return Err(EditError::new(
            "the block height is missing",
            "type the height of one block",
        ));
    }
    let to_m = f64::from(count) * block_m;
    let mut each = HashMap::new();
    for part in parts {
        let vessel = layout.vessel(part).ok_or_else(|| {
            EditError::new(
                "only vessels can be raised on blocks",
                "deselect the other parts",
            )
            .part(part)
        })?;
        let by = Shift::up(to_m - vessel.floor_m);
        each.insert(part.clone(), by);
    }
    let after = moved_each(layout, &each);
    let words = match count {
        1 => "Raise on 1 block".to_owned(),
        more => format!("Raise on {more} blocks"),
    };
    Edit::between(Sentence(vec![words.into()]), layout, &after).tried_on(layout)
}
