//! A survey of heights: readings taken down from a mark, and what they come to.
//!
//! Plain numbers; no layout. Heights are metres above the datum of the layout that the survey is for.

use super::EditError;
use crate::layout::Id;

/// What third-order levelling may be out by round a loop of one kilometre, metres; it grows with the root
/// of the length [@fgcc-1984].
const ALLOWED_M_PER_ROOT_KM: f64 = 0.012;

/// What a reading says.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Reading {
    /// A staff, or a rod with the receiver of a laser, stands on the point and is read at the line of sight:
    /// the higher the point, the smaller the reading.
    #[default]
    Staff,
    /// A tape, a hose of water or a rod that shows heights: how far the point is above the mark, negative
    /// below it.
    AboveMark,
}

/// What was read of a part.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum ReadPoint {
    /// The inside bottom of a vessel.
    Floor,
    /// A place on the rim of a vessel.
    Rim,
    /// The centre of a joint, the level of a fixed level.
    Height,
}

/// One reading.
#[derive(Clone, Debug, PartialEq)]
pub struct Sight {
    /// The part.
    pub part: Id,
    /// What of it.
    pub point: ReadPoint,
    /// As read, metres.
    pub reading_m: f64,
}

/// All that was read while the instrument stood in one place.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SetUp {
    /// The reading on the point whose height is known, metres: on the mark in the first set-up, in each
    /// other on the turning point that the set-up before it read last.
    pub on_known_m: f64,
    /// The readings on parts.
    pub sights: Vec<Sight>,
    /// The reading on the turning point that carries the height over to the next set-up, metres; none in
    /// the last.
    pub on_next_m: Option<f64>,
}

/// A point of known height that is read at the end, from the last set-up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Closing {
    /// As read, metres.
    pub reading_m: f64,
    /// Its known height, metres above the datum: that of the mark, where the mark is read again.
    pub known_m: f64,
    /// How far the line of levels went round, metres, above 0; none: not known.
    pub walked_m: Option<f64>,
}

/// Readings taken down from one mark.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Survey {
    /// What the mark is: “the door sill”.
    pub mark: String,
    /// Its height, metres above the datum.
    pub mark_m: f64,
    /// What the readings say.
    pub reads: Reading,
    /// Where the instrument stood, one place after the other.
    pub set_ups: Vec<SetUp>,
    /// The reading that closes it.
    pub closing: Option<Closing>,
}

/// What the readings come to.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Levels {
    /// The height of every point, metres above the datum, in the order of the readings.
    pub points: Vec<(Id, ReadPoint, f64)>,
    /// How it closes.
    pub closed: Option<Closed>,
}

/// How a survey closes. The error is told and spread over nothing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Closed {
    /// The height that was found, less the one that is known, metres.
    pub error_m: f64,
    /// What third-order levelling may be out by over the way that was walked, metres; none: not known.
    pub allowed_m: Option<f64>,
}

impl Survey {
    /// The height of every point. What was read twice stands there twice.
    ///
    /// # Errors
    /// No set-up at all, a set-up that starts from no known point, a number that is not finite.
    pub fn levels(&self) -> Result<Levels, EditError> {
        let mut levels = Levels::default();
        let mut known_m = finite(self.mark_m)?;
        let mut zero_m = None;
        for (index, set_up) in self.set_ups.iter().enumerate() {
            let here_m = self.zero_m(known_m, finite(set_up.on_known_m)?);
            for sight in &set_up.sights {
                let height_m = self.height_m(here_m, finite(sight.reading_m)?);
                levels
                    .points
                    .push((sight.part.clone(), sight.point, height_m));
            }
            let last = index + 1 == self.set_ups.len();
            known_m = match set_up.on_next_m {
                Some(reading_m) => self.height_m(here_m, finite(reading_m)?),
                None if last => known_m,
                None => return Err(no_turning_point(index + 1)),
            };
            zero_m = Some(here_m);
        }
        let zero_m = zero_m.ok_or_else(no_set_up)?;
        let closed = self.closing.map(|closing| self.closed(zero_m, closing));
        levels.closed = closed.transpose()?;
        Ok(levels)
    }

    /// The height at which a reading would be 0.
    fn zero_m(&self, known_m: f64, reading_m: f64) -> f64 {
        match self.reads {
            Reading::Staff => known_m + reading_m,
            Reading::AboveMark => known_m - reading_m,
        }
    }

    fn height_m(&self, zero_m: f64, reading_m: f64) -> f64 {
        match self.reads {
            Reading::Staff => zero_m - reading_m,
            Reading::AboveMark => zero_m + reading_m,
        }
    }

    fn closed(&self, zero_m: f64, closing: Closing) -> Result<Closed, EditError> {
        let found_m = self.height_m(zero_m, finite(closing.reading_m)?);
        let walked_m = closing.walked_m.filter(|walked_m| *walked_m > 0.0);
        Ok(Closed {
            error_m: found_m - finite(closing.known_m)?,
            allowed_m: walked_m.map(|walked_m| ALLOWED_M_PER_ROOT_KM * (walked_m / 1000.0).sqrt()),
        })
    }
}

fn finite(number: f64) -> Result<f64, EditError> {
    if number.is_finite() {
        return Ok(number);
    }
    Err(EditError::new(
        "a reading is not a finite number",
        "give a plain number",
    ))
}

fn no_set_up() -> EditError {
    EditError::new(
        "nothing was read from anywhere",
        "read the mark first, then the floors and rims",
    )
}

/// `before`: the number of the set-up that carries nothing over.
fn no_turning_point(before: usize) -> EditError {
    EditError::new(
        format!(
            "set-up {} starts from no point whose height is known",
            before + 1
        ),
        format!(
            "read one point from set-up {before} and again from set-up {}",
            before + 1
        ),
    )
}
