//! Protects built parts, so that nothing already glued or drilled is moved by accident.

use super::{Edit, EditError, EditStep, Part};
use crate::finding::Sentence;
use crate::layout::{Id, Layout, Run, Vessel};

impl Edit {
    /// Refuses an edit that changes what is built: shape, heights, place, openings, pipe and route of a part that is
    /// locked before and after. Operating data (names, fill levels, valve openings, pump speed) may change.
    ///
    /// # Errors
    /// The first such part, with the cure.
    pub fn spares_what_is_built(&self) -> Result<(), EditError> {
        let breach = self.steps.iter().find_map(|step| match step {
            EditStep::Part {
                before: Some(before),
                after,
                ..
            } => breaks(before, after.as_ref()).then(|| before.id()),
            _ => None,
        });
        match breach {
            None => Ok(()),
            Some(part) => {
                let what = "this part is locked as built";
                Err(EditError::new(what, "unlock it before you change it").part(part))
            }
        }
    }
}

fn breaks(before: &Part, after: Option<&Part>) -> bool {
    match (before, after) {
        (Part::Vessel(old), None) => old.already_built,
        (Part::Run(old), None) => old.already_built,
        (Part::Vessel(old), Some(Part::Vessel(new))) => {
            old.already_built && new.already_built && as_built(old) != as_built(new)
        }
        (Part::Run(old), Some(Part::Run(new))) => {
            old.already_built && new.already_built && laid(old) != laid(new)
        }
        _ => false,
    }
}

/// A vessel without its operating data.
fn as_built(vessel: &Vessel) -> Vessel {
    let mut built = vessel.clone();
    built.name.clear();
    built.role = crate::layout::Role::default();
    built.fill_m = 0.0;
    built.spills_to = None;
    built.make_up_m3_s = 0.0;
    built.make_up_outlet_m = None;
    built.make_up_drinking_water = false;
    built.float_valve = None;
    built.under_cover = false;
    built.catch_area_m2 = None;
    built.wanted_turnover_per_h = None;
    // Its place along the section only concerns the drawing.
    built.place.along_m = 0.0;
    built
}

/// A run without its operating data.
fn laid(run: &Run) -> Run {
    let mut built = run.clone();
    built.name.clear();
    for valve in &mut built.valves {
        valve.opening = 1.0;
        valve.k = None;
    }
    for piece in &mut built.equipment {
        piece.out = false;
    }
    built.pump = None;
    built.check_valve_failed = false;
    built.carries_solids = false;
    built.starts_primed = false;
    built
}

/// Locks parts as built, or unlocks them.
///
/// # Errors
/// A missing part.
pub fn lock(layout: &Layout, parts: &[Id], lock: Lock) -> Result<Edit, EditError> {
    let mut after = layout.clone();
    if let Some(missing) = parts.iter().find(|part| !layout.has(part)) {
        return Err(super::field::no_part(missing));
    }
    let built = lock == Lock::Built;
    for vessel in after
        .vessels
        .iter_mut()
        .filter(|one| parts.contains(&one.id))
    {
        vessel.already_built = built;
    }
    for run in after.runs.iter_mut().filter(|one| parts.contains(&one.id)) {
        run.already_built = built;
    }
    let what = match parts {
        [one] => layout.name_of(one).to_owned(),
        many => format!("{} parts", many.len()),
    };
    let words = match lock {
        Lock::Built => format!("Lock {what} as built"),
        Lock::Open => format!("Unlock {what}"),
    };
    Edit::between(Sentence(vec![words.into()]), layout, &after).tried_on(layout)
}

/// Whether a part is built and locked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lock {
    /// Built: drilled and glued.
    Built,
    /// Only planned.
    Open,
}
