//! Families of pipe and their sizes.

use serde::{Deserialize, Serialize};

use super::size_name::SizeName;

/// Pipe of one material, standard and wall, with all its sizes.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Family {
    /// Key in kebab-case, unique among the families.
    pub key: String,
    /// Name of the family in words.
    pub words: String,
    /// Abbreviation of the material, as printed on the pipe.
    pub material: String,
    /// Standard, with its class or series.
    pub standard: String,
    /// Meaning of the bores of this family.
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
    /// Sizes by outside diameter, smallest first.
    pub sizes: Vec<Size>,
}

/// Meaning of the bores of a family. The same pipe has a larger bore by its minimum wall than it has on average as
/// made.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum BoreBasis {
    /// Outside diameter less two minimum walls: the largest bore that the standard allows.
    MinimumWall,
    /// Bore to expect of pipe as made.
    Average,
    /// Outside diameter less two nominal walls.
    NominalWall,
}

/// Units in which the sizes of a family are named, independent of how they are stored.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Units {
    /// Inches of nominal size, which no dimension of the pipe equals.
    Us,
    /// Millimetres of outside diameter.
    Metric,
}

/// One size; its name, outside diameter and bore belong together.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Size {
    /// Nominal size as usually written: `1-1/2 in`, `63`.
    pub size: String,
    /// Outside diameter, metres.
    pub od_m: f64,
    /// Inside diameter, metres; [`Family::bore_is`] gives its meaning.
    pub bore_m: f64,
    /// Key of the source.
    pub source: String,
}

/// A size with its family; neither is sufficient without the other.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PipeSize<'a> {
    /// The family: material, standard and wall.
    pub family: &'a Family,
    /// The size: name and diameters.
    pub size: &'a Size,
}

impl Family {
    /// Returns the size that `text` names, in any spelling.
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
