//! The text typed into the survey, and its parsing.

use crate::edit::{Closing, ReadPoint, Reading, SetUp, Sight, Survey};
use crate::layout::{Id, Layout};
use crate::units::{self, Quantity, UnitSystem};
use std::collections::HashMap;

/// Longest reading that is accepted in metres or feet without a unit.
const LONGEST_BARE: f64 = 100.0;

/// The kind of unit of a number without one.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) enum BareUnit {
    /// Millimetres, inches.
    #[default]
    Small,
    /// Metres, feet.
    Large,
}

/// One field of the form.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum FormField {
    MarkHeight,
    /// The reading on the known point from this set-up.
    Known(usize),
    /// The reading on the turning point from this set-up.
    Next(usize),
    /// A reading on a part from this set-up.
    Row(usize, Id, ReadPoint),
    Closing,
    ClosingHeight,
    Walked,
}

/// One set-up of the instrument.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct InstrumentForm {
    pub on_known: String,
    pub on_next: String,
    pub rows: HashMap<(Id, ReadPoint), String>,
}

/// The text of the whole form.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct SurveyForm {
    pub mark: String,
    pub mark_height: String,
    pub reads: Reading,
    pub bare: BareUnit,
    /// Never empty.
    pub set_ups: Vec<InstrumentForm>,
    /// The index of the set-up whose readings are shown.
    pub shown: usize,
    pub closing: String,
    /// Empty where it is the height of the mark.
    pub closing_height: String,
    pub walked: String,
}

impl Default for SurveyForm {
    fn default() -> Self {
        SurveyForm {
            mark: String::new(),
            mark_height: "0".to_owned(),
            reads: Reading::default(),
            bare: BareUnit::default(),
            set_ups: vec![InstrumentForm::default()],
            shown: 0,
            closing: String::new(),
            closing_height: String::new(),
            walked: String::new(),
        }
    }
}

/// The readings of a form.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct SurveyRead {
    /// None while a required reading is missing, such as that on the mark.
    pub survey: Option<Survey>,
    /// Fields that could not be read, and why.
    pub wrong: Vec<(FormField, String)>,
}

impl SurveyRead {
    pub(super) fn why(&self, place: &FormField) -> Option<&str> {
        let found = self.wrong.iter().find(|(wrong, _)| wrong == place);
        found.map(|(_, why)| why.as_str())
    }
}

/// Reads the fields one by one, and collects the errors.
struct FormReader {
    units: UnitSystem,
    bare: BareUnit,
    wrong: Vec<(FormField, String)>,
}

impl SurveyForm {
    /// The set-up whose readings are shown, to edit.
    pub(super) fn standing(&mut self) -> Option<&mut InstrumentForm> {
        self.set_ups.get_mut(self.shown)
    }

    /// Reads the form for the parts of this layout, in their order.
    pub(super) fn read(&self, layout: &Layout) -> SurveyRead {
        let mut reader = FormReader {
            units: layout.units,
            bare: self.bare,
            wrong: Vec::new(),
        };
        let mark_m = reader.height(FormField::MarkHeight, &self.mark_height);
        let set_ups: Option<Vec<SetUp>> = (0..self.set_ups.len())
            .map(|index| self.set_up(index, layout, &mut reader))
            .collect();
        let closing = self.closing(&mut reader, mark_m);
        let survey = mark_m.zip(set_ups).map(|(mark_m, set_ups)| Survey {
            mark: self.mark.trim().to_owned(),
            mark_m,
            reads: self.reads,
            set_ups,
            closing,
        });
        SurveyRead {
            survey,
            wrong: reader.wrong,
        }
    }

    /// Reads a set-up; none where no levels can be computed from it.
    fn set_up(&self, index: usize, layout: &Layout, reader: &mut FormReader) -> Option<SetUp> {
        let typed = self.set_ups.get(index)?;
        let known = reader.reading(FormField::Known(index), &typed.on_known);
        let first_by_tape = index == 0 && self.reads == Reading::AboveMark;
        let on_known_m = match known {
            // Heights above the mark are measured from the mark itself.
            None if first_by_tape && typed.on_known.trim().is_empty() => Some(0.0),
            known => known,
        };
        let on_next_m = reader.reading(FormField::Next(index), &typed.on_next);
        let mut sights = Vec::new();
        for (part, point) in readable(layout) {
            let Some(text) = typed.rows.get(&(part.clone(), point)) else {
                continue;
            };
            let place = FormField::Row(index, part.clone(), point);
            // A rim may be read at several points.
            for one in text.split(';').filter(|one| !one.trim().is_empty()) {
                sights.extend(reader.reading(place.clone(), one).map(|reading_m| Sight {
                    part: part.clone(),
                    point,
                    reading_m,
                }));
            }
        }
        Some(SetUp {
            on_known_m: on_known_m?,
            sights,
            on_next_m,
        })
    }

    fn closing(&self, reader: &mut FormReader, mark_m: Option<f64>) -> Option<Closing> {
        let known_m = match self.closing_height.trim() {
            "" => mark_m,
            text => reader.height(FormField::ClosingHeight, text),
        };
        let walked_m = reader.walked(&self.walked);
        Some(Closing {
            reading_m: reader.reading(FormField::Closing, &self.closing)?,
            known_m: known_m?,
            walked_m,
        })
    }
}

/// The points of each part that can be read, in the order of the layout.
pub(super) fn readable(layout: &Layout) -> impl Iterator<Item = (&Id, ReadPoint)> {
    let vessels = layout.vessels.iter();
    let both = [ReadPoint::Floor, ReadPoint::Rim];
    let vessels = vessels.flat_map(move |part| both.map(|point| (&part.id, point)));
    let joints = layout.joints.iter().map(|part| &part.id);
    let fixed = layout.fixed.iter().map(|part| &part.id);
    vessels.chain(joints.chain(fixed).map(|id| (id, ReadPoint::Height)))
}

impl FormReader {
    /// Reads a field; none where it is empty or cannot be read.
    fn reading(&mut self, place: FormField, text: &str) -> Option<f64> {
        let long = self.bare == BareUnit::Large
            && bare(text).is_some_and(|number| number.abs() > LONGEST_BARE);
        if long {
            let unit = word(BareUnit::Large, self.units);
            let text = text.trim();
            let why = format!("{text} {unit} is longer than any staff: type the unit too.");
            self.wrong.push((place, why));
            return None;
        }
        self.height(place, text)
    }

    fn height(&mut self, place: FormField, text: &str) -> Option<f64> {
        if text.trim().is_empty() {
            return None;
        }
        let read = match self.bare {
            BareUnit::Small => self.small(text),
            BareUnit::Large => units::read(Quantity::Length, text, self.units),
        };
        read.map_err(|why| self.wrong.push((place, why))).ok()
    }

    /// Reads millimetres or inches. Staffs are read to the whole millimetre, so a number with decimals was probably
    /// meant in metres.
    fn small(&self, text: &str) -> Result<f64, String> {
        let pointed = text.contains(['.', ',']) && bare(text).is_some();
        if pointed && self.units == UnitSystem::Metric {
            let text = text.trim();
            return Err(format!(
                "{text} could be metres: type the unit too, or choose m above."
            ));
        }
        units::read(Quantity::Height, text, self.units)
    }

    fn walked(&mut self, text: &str) -> Option<f64> {
        if text.trim().is_empty() {
            return None;
        }
        let read = units::read(Quantity::Length, text, self.units);
        read.map_err(|why| self.wrong.push((FormField::Walked, why)))
            .ok()
    }
}

/// Parses a number without a unit.
fn bare(text: &str) -> Option<f64> {
    text.trim().replace(',', ".").parse().ok()
}

/// The symbol of the unit of a number without one.
pub(super) fn word(bare: BareUnit, units: UnitSystem) -> &'static str {
    match (bare, units) {
        (BareUnit::Small, UnitSystem::Metric) => "mm",
        (BareUnit::Large, UnitSystem::Metric) => "m",
        (BareUnit::Small, UnitSystem::Us) => "in",
        (BareUnit::Large, UnitSystem::Us) => "ft",
    }
}
