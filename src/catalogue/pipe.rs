//! Families of pipe and their sizes.

use serde::{Deserialize, Serialize};

use super::size_name::SizeName;

/// Pipe of one material, standard and wall, in all its sizes.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Family {
    /// Kebab-case, unique among the families.
    pub key: String,
    /// What people call it.
    pub words: String,
    /// Abbreviation of the material, as printed on the pipe.
    pub material: String,
    /// The standard, with its class or series.
    pub standard: String,
    /// What the bores of this family stand for.
    pub bore_is: BoreBasis,
    /// Units in which its sizes are named.
    pub units: Units,
    /// Roughness of the new wall, metres.
    pub roughness_m: f64,
    /// Key of the source of `roughness_m`.
    pub roughness_source: String,
    /// Hazen–Williams C of the new wall.
    pub hazen_williams_c: f64,
    /// Key of the source of `hazen_williams_c`.
    pub hazen_williams_source: String,
    /// By outside diameter, smallest first.
    pub sizes: Vec<Size>,
}

/// What a family's bore stands for: the same pipe has a larger bore on paper by its minimum wall than
/// it has on average when made.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum BoreBasis {
    /// Outside diameter less two minimum walls: the largest bore that the standard allows.
    MinimumWall,
    /// The bore to expect of pipe as made.
    Average,
    /// Outside diameter less two nominal walls.
    NominalWall,
}

/// Units in which a family's sizes are named; says nothing of how they are stored.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Units {
    /// Inches of nominal size, which no part of the pipe measures.
    Us,
    /// Millimetres of outside diameter.
    Metric,
}

/// One size: name, outside diameter and bore belong together.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Size {
    /// Nominal size as people say it: `1-1/2 in`, `63`.
    pub size: String,
    /// Outside diameter, metres.
    pub od_m: f64,
    /// Inside diameter, metres; what it stands for is [`Family::bore_is`].
    pub bore_m: f64,
    /// Key of the source.
    pub source: String,
}

/// A size together with its family: neither says much without the other.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PipeSize<'a> {
    /// Material, standard and wall.
    pub family: &'a Family,
    /// Name and diameters.
    pub size: &'a Size,
}

impl Family {
    /// The size that `text` names, however it is written.
    pub fn size(&self, text: &str) -> Option<&Size> {
        let wanted = SizeName::read(text, self.units)?;
        self.sizes
            .iter()
            .find(|size| SizeName::read(&size.size, self.units) == Some(wanted))
    }
}

impl PipeSize<'_> {
    /// Outside diameter, metres.
    pub fn od_m(&self) -> f64 {
        self.size.od_m
    }

    /// Inside diameter, metres.
    pub fn bore_m(&self) -> f64 {
        self.size.bore_m
    }
}
