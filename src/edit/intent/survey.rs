//! Floors, rims and heights from a survey.

use super::each::moved_each;
use super::shift::{Shift, tidy};
use crate::edit::field::no_part;
use crate::edit::levels::{Levels, ReadPoint, Survey};
use crate::edit::{Edit, EditError};
use crate::finding::Sentence;
use crate::layout::{Id, Layout, Vessel};
use crate::units::{self, Quantity};
use std::collections::HashSet;

/// The surveyed heights of one part.
#[derive(Clone, Debug, PartialEq)]
pub struct Surveyed {
    /// The part.
    pub part: Id,
    /// Its heights, metres above the datum.
    pub stands: SurveyedHeights,
    /// How far its floor, centre or level moves up, metres.
    pub moved_m: f64,
}

/// Surveyed heights, metres above the datum.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum SurveyedHeights {
    /// A vessel.
    Vessel {
        /// Its inside bottom: read, or the old depth below the rim that was read.
        floor_m: f64,
        /// Its rim: the lowest reading, or the old depth above the floor that was read.
        rim_m: f64,
        /// Difference between the highest and the lowest reading on the rim; none with fewer than two readings.
        out_of_level_m: Option<f64>,
    },
    /// A joint or a fixed level.
    At {
        /// Its centre, or its level.
        height_m: f64,
    },
}

/// The surveyed heights of each part that was read, in the order of the layout.
///
/// The lowest reading on a rim counts, because the vessel spills there. Where only the rim or only the floor was
/// read, the inside depth stays.
///
/// # Errors
/// As [`Survey::levels`]; no reading; a missing part; a floor or height read twice; a reading that the part cannot
/// have.
pub fn surveyed(layout: &Layout, survey: &Survey) -> Result<Vec<Surveyed>, EditError> {
    let levels = survey.levels()?;
    if levels.points.is_empty() {
        return Err(EditError::new(
            "there are no readings",
            "type the reading on a floor, a rim or a joint",
        ));
    }
    known(layout, &levels)?;
    let vessels = layout.vessels.iter().map(|one| vessel(one, &levels));
    let joints = layout.joints.iter().map(|one| (&one.id, one.elevation_m));
    let fixed = layout.fixed.iter().map(|one| (&one.id, one.level_m));
    let points = joints.chain(fixed).map(|one| point(one, &levels));
    vessels
        .chain(points)
        .filter_map(Result::transpose)
        .collect()
}

/// Sets floors, rims and heights from a survey, as one edit.
///
/// Everything fixed to a vessel moves with its floor: fill level, medium, float valve, float switches, heights of
/// openings. Runs follow as when parts are moved by hand. A closing error is not distributed.
///
/// # Errors
/// As [`surveyed`]; a rim not above its floor; heights that would make the layout invalid.
pub fn survey(layout: &Layout, survey: &Survey) -> Result<Edit, EditError> {
    let found = surveyed(layout, survey)?;
    // A pipe is not fixed to the water of a lake: fixed levels move nothing else.
    let fixed: HashSet<&Id> = layout.fixed.iter().map(|one| &one.id).collect();
    let moves = found.iter().filter(|one| !fixed.contains(&one.part));
    let moves = moves.map(|one| (one.part.clone(), Shift::up(one.moved_m)));
    let mut outcome = moved_each(layout, &moves.collect());
    for one in &found {
        put(&mut outcome, one)?;
    }
    let name = Sentence(vec![name(&found, survey).into()]);
    Edit::between(name, layout, &outcome).tried_on(layout)
}

fn name(found: &[Surveyed], survey: &Survey) -> String {
    let vessels = found
        .iter()
        .any(|one| matches!(one.stands, SurveyedHeights::Vessel { .. }));
    let what = if vessels {
        "floors and rims"
    } else {
        "heights"
    };
    let mark = match survey.mark.trim() {
        "" => "a mark",
        mark => mark,
    };
    format!("Set {what} from the survey with mark {mark}")
}

/// Whether every part that was read exists.
fn known(layout: &Layout, levels: &Levels) -> Result<(), EditError> {
    let there = |id: &Id| {
        layout.vessel(id).is_some()
            || layout.joints.iter().any(|one| one.id == *id)
            || layout.fixed.iter().any(|one| one.id == *id)
    };
    match levels.points.iter().find(|(id, _, _)| !there(id)) {
        Some((id, _, _)) => Err(no_part(id)),
        None => Ok(()),
    }
}

fn vessel(part: &Vessel, levels: &Levels) -> Result<Option<Surveyed>, EditError> {
    refuse(
        levels,
        &part.id,
        ReadPoint::Height,
        "a vessel has a floor and a rim",
    )?;
    let floor_m = single(levels, &part.id, ReadPoint::Floor)?;
    let rims: Vec<f64> = heights(levels, &part.id, ReadPoint::Rim).collect();
    let lowest_m = rims.iter().copied().reduce(f64::min);
    let highest_m = rims.iter().copied().reduce(f64::max);
    let depth_m = part.rim_m - part.floor_m;
    let (floor_m, rim_m) = match (floor_m, lowest_m) {
        (None, None) => return Ok(None),
        (Some(floor_m), Some(rim_m)) => (floor_m, rim_m),
        (Some(floor_m), None) => (floor_m, floor_m + depth_m),
        (None, Some(rim_m)) => (rim_m - depth_m, rim_m),
    };
    let spread = lowest_m.zip(highest_m).filter(|_| rims.len() > 1);
    Ok(Some(Surveyed {
        part: part.id.clone(),
        stands: SurveyedHeights::Vessel {
            floor_m,
            rim_m,
            out_of_level_m: spread.map(|(lowest_m, highest_m)| highest_m - lowest_m),
        },
        moved_m: floor_m - part.floor_m,
    }))
}

fn point((id, now_m): (&Id, f64), levels: &Levels) -> Result<Option<Surveyed>, EditError> {
    for other in [ReadPoint::Floor, ReadPoint::Rim] {
        refuse(
            levels,
            id,
            other,
            "this part has one height, without floor and rim",
        )?;
    }
    let found = single(levels, id, ReadPoint::Height)?;
    Ok(found.map(|height_m| Surveyed {
        part: id.clone(),
        stands: SurveyedHeights::At { height_m },
        moved_m: height_m - now_m,
    }))
}

fn heights<'l>(levels: &'l Levels, id: &'l Id, point: ReadPoint) -> impl Iterator<Item = f64> + 'l {
    let own = levels.points.iter().filter(move |one| one.0 == *id);
    own.filter(move |one| one.1 == point).map(|one| one.2)
}

/// The one height that was read.
fn single(levels: &Levels, id: &Id, point: ReadPoint) -> Result<Option<f64>, EditError> {
    let mut found = heights(levels, id, point);
    let first = found.next();
    if found.next().is_none() {
        return Ok(first);
    }
    let what = match point {
        ReadPoint::Floor => "its floor was read twice",
        _ => "it was read twice",
    };
    Err(EditError::new(what, "keep one of the readings").part(id))
}

fn refuse(levels: &Levels, id: &Id, point: ReadPoint, what: &str) -> Result<(), EditError> {
    match heights(levels, id, point).next() {
        Some(_) => Err(EditError::new(what, "remove the other reading").part(id)),
        None => Ok(()),
    }
}

fn put(layout: &mut Layout, found: &Surveyed) -> Result<(), EditError> {
    let units = layout.units;
    match found.stands {
        SurveyedHeights::Vessel { floor_m, rim_m, .. } => {
            if rim_m <= floor_m {
                let write = |height_m| units::write(Quantity::Height, height_m, units);
                let what = format!(
                    "its rim at {} is not above its floor at {}",
                    write(rim_m),
                    write(floor_m)
                );
                let cure = "check both readings and how they were taken";
                return Err(EditError::new(what, cure).part(&found.part));
            }
            let mut vessels = layout.vessels.iter_mut();
            if let Some(part) = vessels.find(|one| one.id == found.part) {
                (part.floor_m, part.rim_m) = (tidy(floor_m), tidy(rim_m));
            }
        }
        SurveyedHeights::At { height_m } => {
            if let Some(part) = layout.joints.iter_mut().find(|one| one.id == found.part) {
                part.elevation_m = tidy(height_m);
            }
            if let Some(part) = layout.fixed.iter_mut().find(|one| one.id == found.part) {
                part.level_m = tidy(height_m);
            }
        }
    }
    Ok(())
}
