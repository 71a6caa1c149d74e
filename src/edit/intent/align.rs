//! Parts set in line, at one height, or turned about their middle.

use super::shift::{Shift, moved};
use crate::edit::field::no_part;
use crate::edit::{Edit, EditError};
use crate::finding::Sentence;
use crate::layout::{Id, Layout};

/// How parts are set in line. Each follows the first that was named.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Line {
    /// One over the other in the plan: the same distance to the right.
    UpThePage,
    /// Side by side in the plan: the same distance up the page.
    AcrossThePage,
    /// Floors at one height, as of vessels on one slab.
    Floors,
    /// Rims at one height.
    Rims,
}

impl Line {
    fn words(self) -> &'static str {
        match self {
            Line::UpThePage => "in line up the page",
            Line::AcrossThePage => "in line across the page",
            Line::Floors => "with their floors at one height",
            Line::Rims => "with their rims at one height",
        }
    }
}

/// Sets parts in line with the first of them; what is fixed to them comes along, as with
/// [`shift`](super::shift::shift).
///
/// # Errors
/// Fewer than two parts, one that is not there, or one that has no such height.
pub fn align(layout: &Layout, parts: &[Id], line: Line) -> Result<Edit, EditError> {
    let [first, others @ ..] = parts else {
        return Err(too_few());
    };
    if others.is_empty() {
        return Err(too_few());
    }
    let wanted = measure(layout, first, line)?;
    let mut after = layout.clone();
    for part in others {
        let by = wanted - measure(layout, part, line)?;
        let by = match line {
            Line::UpThePage => Shift {
                x_m: by,
                ..Shift::default()
            },
            Line::AcrossThePage => Shift {
                y_m: by,
                ..Shift::default()
            },
            Line::Floors | Line::Rims => Shift::up(by),
        };
        after = moved(&after, std::slice::from_ref(part), by);
    }
    let words = format!("Set {} parts {}", parts.len(), line.words());
    Edit::between(Sentence(vec![words.into()]), layout, &after).tried_on(layout)
}

fn too_few() -> EditError {
    EditError::new("one part is in line by itself", "select two or more")
}

fn measure(layout: &Layout, part: &Id, line: Line) -> Result<f64, EditError> {
    let place = layout.place_of(part).ok_or_else(|| no_part(part));
    match line {
        Line::UpThePage => place.map(|place| place.x_m),
        Line::AcrossThePage => place.map(|place| place.y_m),
        Line::Floors => layout.foot_m(part).ok_or_else(|| no_part(part)),
        Line::Rims => layout
            .vessel(part)
            .map(|vessel| vessel.rim_m)
            .ok_or_else(|| {
                let what = "only a vessel has a rim";
                EditError::new(what, "leave joints and fixed levels out").part(part)
            }),
    }
}

/// Stands vessels on blocks: `count` of them, each `block_m` high, on the datum. The floors come to that height.
///
/// # Errors
/// No vessel, one that is not there, or a height that the layout cannot hold.
pub fn stand_on(
    layout: &Layout,
    parts: &[Id],
    count: u32,
    block_m: f64,
) -> Result<Edit, EditError> {
    if parts.is_empty() {
        return Err(EditError::new(
            "no vessel is selected",
            "select the vessels that stand on blocks",
        ));
    }
    if !(block_m.is_finite() && block_m > 0.0) {
        return Err(EditError::new(
            "a block has no height",
            "give how high one block is",
        ));
    }
    let to_m = f64::from(count) * block_m;
    let mut after = layout.clone();
    for part in parts {
        let vessel = layout.vessel(part).ok_or_else(|| {
            EditError::new(
                "only a vessel stands on blocks",
                "leave the other parts out",
            )
            .part(part)
        })?;
        let by = Shift::up(to_m - vessel.floor_m);
        after = moved(&after, std::slice::from_ref(part), by);
    }
    let words = match count {
        1 => "Stand on 1 block".to_owned(),
        more => format!("Stand on {more} blocks"),
    };
    Edit::between(Sentence(vec![words.into()]), layout, &after).tried_on(layout)
}
