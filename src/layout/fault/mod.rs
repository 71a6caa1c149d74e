//! Faults that make a layout invalid as data.
//!
//! Invariant: each number is judged alone or against its neighbours. Whether the plumbing works (a crest above its rim,
//! a run that climbs) is reported by findings, never here.

mod machines;
mod opening;
mod placed;
mod run;
mod said;
mod underlay;
mod vessel;
mod way;
mod whole;

use super::range::{MOST_CHARACTERS, Range};
use super::{Id, Layout, Place};
use std::collections::{HashMap, HashSet};
use std::fmt::Display;

pub use said::FaultText;

/// Largest number of parts (vessels, joints, fixed levels and runs together) in a layout.
pub const MOST_PARTS: usize = 400_000;

/// One reason why a layout cannot be used.
#[derive(Clone, Debug, PartialEq)]
pub struct Fault {
    /// Part at fault; `None` for a fault of the layout as a whole.
    pub part: Option<Id>,
    /// Path of the field from the part, or from the layout where `part` is `None`: `from.at`, `pipe.own.bore_m`,
    /// `shape.table.rows.0.depth_m`. Rows are counted from 0.
    pub field: String,
    /// Description of what is wrong.
    pub what: FaultText,
    /// How to correct it.
    pub cure: FaultText,
}

impl Layout {
    /// Returns every fault of this layout as data: settings first, then part by part; empty if the layout is valid.
    pub fn faults(&self) -> Vec<Fault> {
        let parts = self.vessels.len() + self.joints.len() + self.fixed.len() + self.runs.len();
        let mut book = FaultList::default();
        if parts > MOST_PARTS {
            book.add(
                "",
                format!("the layout has {parts} parts"),
                format!("keep it to {MOST_PARTS} parts, or split it into several layouts"),
            );
            return book.faults;
        }
        let places = PartKinds::of(self);
        whole::check(&mut book, self);
        vessel::check(&mut book, self, &places);
        for (index, run) in self.runs.iter().enumerate() {
            book.begin(&run.id, format!("runs.{index}."));
            run::check(&mut book, run, &places);
        }
        way::check(&mut book, self);
        book.faults
    }
}

/// Kind of part that a run can end at.
#[derive(Clone, Copy, PartialEq, Eq)]
enum PartKind {
    Vessel,
    Joint,
    Fixed,
}

/// A part that a run can end at: its kind, its place, and its floor, centre or level in metres.
struct EndPart {
    kind: PartKind,
    place: Place,
    foot_m: f64,
}

/// Every part that a run can end at, by id.
struct PartKinds<'a>(HashMap<&'a str, EndPart>);

impl<'a> PartKinds<'a> {
    fn of(layout: &'a Layout) -> Self {
        let stands = |kind, place, foot_m| EndPart {
            kind,
            place,
            foot_m,
        };
        let vessels = layout.vessels.iter();
        let vessels = vessels.map(|v| (&v.id, stands(PartKind::Vessel, v.place, v.floor_m)));
        let joints = layout.joints.iter();
        let joints = joints.map(|j| (&j.id, stands(PartKind::Joint, j.place, j.elevation_m)));
        let fixed = layout.fixed.iter();
        let fixed = fixed.map(|f| (&f.id, stands(PartKind::Fixed, f.place, f.level_m)));
        let mut kinds = HashMap::new();
        for (id, stands) in vessels.chain(joints).chain(fixed) {
            kinds.entry(id.as_str()).or_insert(stands);
        }
        PartKinds(kinds)
    }

    fn get(&self, id: &Id) -> Option<PartKind> {
        self.0.get(id.as_str()).map(|stands| stands.kind)
    }

    /// Returns the place of a part and its floor, centre or level in metres.
    fn stands(&self, id: &Id) -> Option<(Place, f64)> {
        let found = self.0.get(id.as_str());
        found.map(|stands| (stands.place, stands.foot_m))
    }
}

/// Collects the faults part by part.
#[derive(Default)]
struct FaultList {
    part: Option<Id>,
    /// Path from the layout to the part; used where the part has no id to name it by.
    path: String,
    seen: HashSet<Id>,
    faults: Vec<Fault>,
}

impl FaultList {
    /// Starts the next part and checks its id.
    fn begin(&mut self, id: &Id, path: String) {
        self.part = (!id.as_str().is_empty()).then(|| id.clone());
        self.path = path;
        self.id(id);
    }

    fn id(&mut self, id: &Id) {
        let text = id.as_str();
        self.words("id", text);
        if text.is_empty() {
            let cure = "give the part a short id of its own, such as `bed-1`";
            self.add("id", "`id` is empty".into(), cure.into());
        } else if text.contains(|c: char| c.is_whitespace() || c.is_control()) {
            self.add(
                "id",
                format!("the id {text:?} has a space or a control character in it"),
                "write it in one word, such as `bed-1`".into(),
            );
        } else if self.seen.contains(id) {
            self.add(
                "id",
                format!("the id `{text}` is used twice"),
                "give each vessel, joint, fixed level, run, pump and operating mode an id of its own".into(),
            );
        }
        self.seen.insert(id.clone());
    }

    fn add(&mut self, field: impl Display, what: String, cure: String) {
        self.say(field, what.into(), cure.into());
    }

    /// Adds a fault whose text contains numbers with units.
    fn say(&mut self, field: impl Display, what: FaultText, cure: FaultText) {
        let field = match self.part {
            Some(_) => field.to_string(),
            None => format!("{}{field}", self.path),
        };
        self.faults.push(Fault {
            part: self.part.clone(),
            field,
            what,
            cure,
        });
    }

    fn number(&mut self, field: impl Display, value: f64, range: &Range) {
        if !range.holds(value) {
            let what = FaultText::with(&format!("`{field}` is {{}}"), &[range.with_unit(value)]);
            self.say(field, what, range.cure());
        }
    }

    fn number_if_given(&mut self, field: impl Display, value: Option<f64>, range: &Range) {
        if let Some(value) = value {
            self.number(field, value, range);
        }
    }

    fn words(&mut self, field: impl Display, text: &str) {
        // The byte length is never less than the character count, so most texts pass without counting.
        if text.len() > MOST_CHARACTERS && text.chars().count() > MOST_CHARACTERS {
            let what = format!("`{field}` is {} characters long", text.chars().count());
            self.add(
                field,
                what,
                format!("keep it to {MOST_CHARACTERS} characters"),
            );
        }
    }
}
