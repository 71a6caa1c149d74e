//! A survey of heights: readings from a mark, and the heights computed from them.
//!
//! Only numbers, no layout. Heights are metres above the datum of the surveyed layout.

use super::EditError;
use crate::layout::Id;

/// Allowed closing error of third-order levelling for a loop of one kilometre, metres; it grows with the square root
/// of the length [@fgcc-1984].
const ALLOWED_M_PER_ROOT_KM: f64 = 0.012;

/// The kind of reading.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Reading {
    /// A staff, or a rod with a laser receiver, stands on the point and is read at the line of sight: the higher the
    /// point, the smaller the reading.
    #[default]
    Staff,
    /// A tape, a water level or a height rod: the height of the point above the mark, negative below it.
    AboveMark,
}

/// The point of a part that was read.
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
    /// Its point.
    pub point: ReadPoint,
    /// As read, metres.
    pub reading_m: f64,
}

/// All readings from one place of the instrument.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SetUp {
    /// The reading on the point of known height, metres: on the mark in the first set-up, in the others on the
    /// turning point that the set-up before read last.
    pub on_known_m: f64,
    /// The readings on parts.
    pub sights: Vec<Sight>,
    /// The reading on the turning point that carries the height to the next set-up, metres; none in the last.
    pub on_next_m: Option<f64>,
}

/// A point of known height, read at the end from the last set-up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Closing {
    /// As read, metres.
    pub reading_m: f64,
    /// Its known height, metres above the datum: that of the mark, where the mark is read again.
    pub known_m: f64,
    /// Length of the levelling loop, metres, above 0; none: unknown.
    pub walked_m: Option<f64>,
}

/// Readings from one mark.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Survey {
    /// What the mark is: “the door sill”.
    pub mark: String,
    /// Its height, metres above the datum.
    pub mark_m: f64,
    /// The kind of readings.
    pub reads: Reading,
    /// The set-ups in order.
    pub set_ups: Vec<SetUp>,
    /// The closing reading.
    pub closing: Option<Closing>,
}

/// The computed heights.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Levels {
    /// The height of every point, metres above the datum, in the order of the readings.
    pub points: Vec<(Id, ReadPoint, f64)>,
    /// The closing error.
    pub closed: Option<Closed>,
}

/// The closing error of a survey. It is reported and not distributed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Closed {
    /// The computed height minus the known one, metres.
    pub error_m: f64,
    /// The closing error that third-order levelling allows for the distance walked, metres; none: unknown.
    pub allowed_m: Option<f64>,
}

impl Survey {
    /// The height of every point. A point read twice is listed twice.
    ///
    /// # Errors
    /// No set-up, a set-up without a point of known height, or a number that is not finite.
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
        "type a number",
    ))
}

fn no_set_up() -> EditError {
    EditError::new(
        "there are no readings",
        "read the mark first, then the floors and rims",
    )
}

/// `before`: the number of the set-up that has no turning point.
fn no_turning_point(before: usize) -> EditError {
    EditError::new(
        format!("set-up {} has no point of known height", before + 1),
        format!(
            "read one point from set-up {before} and again from set-up {}",
            before + 1
        ),
    )
}
