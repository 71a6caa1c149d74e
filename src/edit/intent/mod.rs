//! What a user can do: each intent is a small function that builds an edit.
//!
//! Each of them tries its edit on the layout, so that a returned edit can be made there.

pub(super) mod add;
pub(super) mod align;
pub(super) mod along;
pub(super) mod changes;
pub(super) mod copy;
pub(super) mod crest;
mod each;
pub(super) mod edge;
pub(super) mod floor;
pub(super) mod fresh;
pub(super) mod name;
pub(super) mod number;
pub(super) mod pipe;
pub(super) mod pump_curve;
pub(super) mod remove;
pub(super) mod replace;
pub(super) mod screen;
pub(super) mod setting;
pub(super) mod shift;
pub(super) mod survey;
pub(super) mod underlay;
pub(super) mod valve;
pub(super) mod vent;
pub(super) mod within;

use super::{Edit, EditError, EditStep, Part};
use crate::finding::{Piece, Sentence};
use crate::layout::Layout;

/// The edit that changes one part from `before` to `after`.
fn one_part(
    layout: &Layout,
    place: usize,
    (before, after): (Part, Part),
    name: Vec<Piece>,
) -> Result<Edit, EditError> {
    let step = EditStep::Part {
        place,
        before: Some(before),
        after: Some(after),
    };
    let edit = Edit {
        name: Sentence(name),
        steps: vec![step],
    };
    edit.tried_on(layout)
}
