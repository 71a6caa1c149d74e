//! A layout drawn from nothing, by the same edits that the window makes.

use fallwright::edit::{self, Preset, propose};
use fallwright::finding::Sentence;
use fallwright::layout::{Id, Layout, Place};
use fallwright::units::UnitSystem;

/// What is drawn.
pub struct Drawn {
    pub layout: Layout,
}

pub fn place(x_m: f64, y_m: f64, along_m: f64) -> Place {
    Place {
        x_m,
        y_m,
        along_m,
        ..Place::default()
    }
}

impl Drawn {
    pub fn empty() -> Drawn {
        Drawn {
            layout: Layout::default(),
        }
    }

    /// A vessel from the shelf, at its own height.
    pub fn add(&mut self, preset: Preset, at: Place) -> Id {
        let vessel = preset.vessel(preset.floor_m(), at);
        let (edit, id) = edit::add(&self.layout, vessel, preset.stem()).unwrap();
        self.layout = edit.apply(&self.layout).unwrap();
        id
    }

    /// The run that is proposed from one to the other.
    pub fn run(&mut self, from: &Id, to: &Id) -> Id {
        let made = propose::run(&self.layout, from, to, &[]).unwrap();
        self.layout = made.edit.apply(&self.layout).unwrap();
        made.run
    }

    pub fn read(&self, text: &Sentence) -> String {
        let name_of = |id: &Id| self.layout.name_of(id).to_owned();
        text.read(&name_of, UnitSystem::Metric)
    }
}
