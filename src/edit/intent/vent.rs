//! Vents at corners of runs and at joints.

use super::one_part;
use crate::edit::field::no_part;
use crate::edit::{Edit, EditError, Part};
use crate::finding::Piece;
use crate::layout::{Id, Layout};

/// The place of a vent.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum VentAt {
    /// A corner of a run, counted from 0.
    Corner(Id, usize),
    /// A joint.
    Joint(Id),
}

/// Whether there is a vent.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Venting {
    /// Vented.
    Vented,
    /// Not vented: a vent top is removed too.
    Closed,
}

/// Adds a vent, or removes it with its top.
///
/// # Errors
/// A missing run, corner or joint.
pub fn vent(layout: &Layout, at: &VentAt, to: Venting) -> Result<Edit, EditError> {
    let (VentAt::Corner(id, _) | VentAt::Joint(id)) = at;
    let (place, before) = Part::find(layout, id).ok_or_else(|| no_part(id))?;
    let mut after = before.clone();
    let slots = match (&mut after, at) {
        (Part::Run(run), VentAt::Corner(_, index)) => {
            let corner = run.route.get_mut(*index);
            corner.map(|corner| (&mut corner.vented, &mut corner.vent_top_m))
        }
        (Part::Joint(joint), VentAt::Joint(_)) => Some((&mut joint.vented, &mut joint.vent_top_m)),
        _ => None,
    };
    let (vented, top_m) = slots.ok_or_else(|| nowhere(id))?;
    *vented = to == Venting::Vented;
    if to == Venting::Closed {
        *top_m = None;
    }
    let verb = match to {
        Venting::Vented => "Add a vent at ",
        Venting::Closed => "Remove the vent at ",
    };
    one_part(layout, place, (before, after), words(verb, at))
}

fn words(verb: &str, at: &VentAt) -> Vec<Piece> {
    match at {
        VentAt::Corner(run, index) => {
            vec![format!("{verb}corner {} of ", index + 1).into(), run.into()]
        }
        VentAt::Joint(joint) => vec![verb.into(), joint.into()],
    }
}

fn nowhere(id: &Id) -> EditError {
    let what = "the layout has no such corner or joint";
    EditError::new(what, "choose an existing one").part(id)
}
