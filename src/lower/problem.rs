//! What is wrong with a drawing, as far as it shows while it is lowered.

use crate::layout::{Id, RunEnd};

/// A problem of a drawing: the parts, the numbers, and nothing in words.
#[derive(Clone, Debug, PartialEq)]
pub enum Problem {
    /// No run reaches a vessel or a joint.
    NotReached(Id),
    /// Vessels spill into each other, in this order.
    SpillRing(Vec<Id>),
    /// A vessel is to spill into something higher.
    SpillUphill(SpillUphill),
    /// Two vessels occupy the same space.
    Overlap {
        /// The vessels.
        vessels: [Id; 2],
        /// How far they reach into each other, metres.
        by_m: f64,
        /// How far they may, metres.
        limit_m: f64,
    },
    /// Hazen–Williams is used in a bore that is too small for it.
    HazenWilliamsBore {
        /// The run.
        run: Id,
        /// Its bore, metres.
        bore_m: f64,
        /// The smallest bore that the formula is meant for, metres.
        least_m: f64,
    },
    /// Hazen–Williams is used with water that is too cold or too warm for it.
    HazenWilliamsTemperature {
        /// The runs that use it.
        runs: Vec<Id>,
        /// The temperature of the water, °C.
        temperature_c: f64,
        /// The lowest and highest temperature that it is used for, °C.
        range_c: [f64; 2],
    },
    /// A run names something that is not in the catalogue.
    NotInCatalogue {
        /// The run.
        run: Id,
        /// What it names.
        entry: UnknownEntry,
        /// The nearest entry that the catalogue has.
        nearest: Option<String>,
    },
    /// The curve of a pump cannot be read, rises, or is a guess.
    PumpCurve {
        /// The pump.
        pump: Id,
        /// Its run.
        run: Id,
        /// What is wrong with its curve.
        fault: CurveFault,
    },
    /// A raised-intake overflow without an open vent.
    UnventedOverflow {
        /// The run.
        run: Id,
        /// The part where its intake is.
        at: Id,
    },
    /// A run has a raised intake at both ends.
    TwoRaisedIntakes {
        /// The run.
        run: Id,
        /// The part at the end that is computed as a plain upstand.
        at: Id,
    },
    /// An opening is above the rim of its vessel.
    CrestAboveRim {
        /// The opening and its height.
        opening: OpeningHeight,
        /// The rim, metres.
        rim_m: f64,
    },
    /// An opening is below the floor of its vessel.
    OpeningBelowFloor {
        /// The opening and its height.
        opening: OpeningHeight,
        /// The floor, metres.
        floor_m: f64,
    },
    /// A notch is narrower than those that its law was measured on.
    NarrowNotch {
        /// The run.
        run: Id,
        /// What is too small.
        size: NotchSize,
        /// Its value.
        value: f64,
        /// The smallest value measured.
        least: f64,
    },
    /// An end of a run names no part of the layout.
    EndsNowhere {
        /// The run.
        run: Id,
        /// The missing part.
        missing: Id,
    },
    /// A number so large that its unit may be wrong.
    LargeNumber {
        /// Which number.
        number: LargeNumber,
        /// The parts with such a number, largest first.
        parts: Vec<Id>,
        /// The largest.
        value: f64,
        /// The largest that passes.
        limit: f64,
    },
    /// A pipe is wider than the vessel that it ends at.
    WiderThanVessel {
        /// The run.
        run: Id,
        /// The vessel.
        vessel: Id,
        /// The bore, metres.
        bore_m: f64,
        /// The widest pipe that fits, metres.
        width_m: f64,
    },
}

/// A vessel that is to spill into something higher.
#[derive(Clone, Debug, PartialEq)]
pub struct SpillUphill {
    /// The vessel.
    pub from: Id,
    /// Its rim, metres.
    pub rim_m: f64,
    /// What it is to spill into.
    pub to: Id,
    /// The height that the spill would have to climb to, metres.
    pub height_m: f64,
    /// What is at that height.
    pub target: SpillTarget,
}

/// What a spill has to get over.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SpillTarget {
    /// The rim of a vessel.
    Rim,
    /// A fixed level.
    Level,
}

/// Something that a run names and the catalogue does not have.
#[derive(Clone, Debug, PartialEq)]
pub enum UnknownEntry {
    /// A family of pipe.
    Family {
        /// The family.
        family: String,
        /// The bore that is used instead, metres.
        stand_in_m: f64,
    },
    /// A size of a known family.
    Size {
        /// The family.
        family: String,
        /// The size.
        size: String,
        /// The bore that is used instead, metres.
        stand_in_m: f64,
    },
    /// A kind of fitting.
    Fitting(String),
    /// A source for the K of a known fitting.
    Choice {
        /// The fitting in words.
        fitting: String,
        /// The source.
        choice: String,
    },
    /// The second bore of a step, which is missing.
    SecondBore {
        /// The fitting in words.
        fitting: String,
    },
    /// A kind of valve.
    Valve(String),
}

/// What is wrong with the curve of a pump.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CurveFault {
    /// It cannot be read.
    Unreadable,
    /// It rises with flow somewhere.
    Rises,
    /// It is a guess from a label.
    Guessed,
}

/// An opening in a vessel, and its height.
#[derive(Clone, Debug, PartialEq)]
pub struct OpeningHeight {
    /// The run.
    pub run: Id,
    /// The end that carries the opening.
    pub end: RunEnd,
    /// The vessel.
    pub vessel: Id,
    /// The height, metres.
    pub height_m: f64,
}

/// The size of a notch.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NotchSize {
    /// The width of a rectangular notch, metres.
    Width,
    /// The angle of a V-notch, degrees.
    Angle,
}

/// A number that has a largest ordinary value.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LargeNumber {
    /// The bore of a run, metres.
    Bore,
    /// The length of a run, metres.
    Length,
    /// The volume of a vessel, m³.
    Volume,
    /// The rim of a vessel, metres.
    Rim,
    /// The make-up of a part, m³/s.
    MakeUp,
    /// The flow at the end of a pump curve, m³/s.
    PumpFlow,
    /// The shut-off head of a pump, metres.
    PumpHead,
}
