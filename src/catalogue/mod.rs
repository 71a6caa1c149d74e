//! The catalogue: pipe, fittings and valves that can be bought, with their head losses.
//!
//! Plain data, parsed from text. The loss of a fitting has no single true value, so every figure carries the key of its
//! source and a kind may offer several (`docs/method/catalogue.md`).
//!
//! Invariant: does not depend on a layout, a network or the file system; the built-in text is part of the program.

mod check;
mod error;
mod fitting;
mod nearest;
mod pipe;
mod rule;
mod size_name;
mod source;
mod typed;
mod valve;

use std::sync::LazyLock;

use serde::{Deserialize, Serialize};

pub use error::CatalogueError;
pub use fitting::{Fitting, FittingPosition};
pub use pipe::{BoreBasis, Family, PipeSize, Size, Units};
pub use rule::{Choice, FittingContext, Rule};
pub use source::{Provenance, Source};
pub use typed::SizeRefusal;
pub use valve::{Actuation, LEAST_OPENING, Throttle, Valve};

/// Families of pipe, kinds of fitting and valve, and the sources they cite.
///
/// The text form may omit any of the four lists.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Catalogue {
    /// Sources that the `source` keys refer to.
    pub sources: Vec<Source>,
    /// Pipe, by family.
    pub families: Vec<Family>,
    /// Fittings, entrances and exits.
    pub fittings: Vec<Fitting>,
    /// Valves, check valves and foot valves.
    pub valves: Vec<Valve>,
}

const BUILTIN_TEXTS: [&str; 4] = [
    include_str!("../../assets/catalogue/sources.ron"),
    include_str!("../../assets/catalogue/pipes.ron"),
    include_str!("../../assets/catalogue/fittings.ron"),
    include_str!("../../assets/catalogue/valves.ron"),
];

static BUILTIN: LazyLock<Catalogue> = LazyLock::new(read_builtin);

#[expect(
    clippy::expect_used,
    reason = "the text is compiled in, never the user's; a test reads it"
)]
fn read_builtin() -> Catalogue {
    let parts = BUILTIN_TEXTS.iter().map(|text| Catalogue::parse(text));
    let parts: Result<Vec<Catalogue>, CatalogueError> = parts.collect();
    let mut whole = Catalogue::default();
    for part in parts.expect("the built-in catalogue reads") {
        whole.append(part);
    }
    whole
}

impl Catalogue {
    /// Returns the catalogue built into the program, parsed once.
    pub fn builtin() -> &'static Catalogue {
        &BUILTIN
    }

    /// Parses and checks a user's catalogue.
    ///
    /// It may cite the built-in sources as well as its own.
    ///
    /// # Errors
    /// The first error in it: text that cannot be parsed, a key used twice, an undeclared source, an impossible size.
    pub fn from_ron(text: &str) -> Result<Catalogue, CatalogueError> {
        let own = Catalogue::parse(text)?;
        check::check(&own, &Catalogue::builtin().sources)?;
        Ok(own)
    }

    /// Returns this catalogue with the entries of `other` appended, as when a user's is added to the built-in one.
    ///
    /// # Errors
    /// Like [`Catalogue::from_ron`]; most often a key that both use.
    pub fn joined(&self, other: &Catalogue) -> Result<Catalogue, CatalogueError> {
        let mut whole = self.clone();
        whole.append(other.clone());
        check::check(&whole, &[])?;
        Ok(whole)
    }

    /// Returns the family with this key.
    pub fn family(&self, key: &str) -> Option<&Family> {
        self.families.iter().find(|family| family.key == key)
    }

    /// Returns all families, in the order in which they are offered.
    pub fn families(&self) -> impl Iterator<Item = &Family> {
        self.families.iter()
    }

    /// Returns one size of a family; `size` may be written in any usual way (`1-1/2"`, `1½ in`, `63`, `d63 mm`).
    ///
    /// A bare number has the units of the family; millimetres never match an inch size, nor the reverse.
    pub fn pipe(&self, family: &str, size: &str) -> Option<PipeSize<'_>> {
        let family = self.family(family)?;
        let size = family.size(size)?;
        Some(PipeSize { family, size })
    }

    /// Returns the kind of fitting with this key.
    pub fn fitting(&self, kind: &str) -> Option<&Fitting> {
        self.fittings.iter().find(|fitting| fitting.key == kind)
    }

    /// Returns the kind of valve with this key.
    pub fn valve(&self, kind: &str) -> Option<&Valve> {
        self.valves.iter().find(|valve| valve.key == kind)
    }

    /// Returns the source with this key.
    pub fn source(&self, key: &str) -> Option<&Source> {
        self.sources.iter().find(|source| source.key == key)
    }

    fn parse(text: &str) -> Result<Catalogue, CatalogueError> {
        ron::from_str(text).map_err(CatalogueError::from)
    }

    fn append(&mut self, mut other: Catalogue) {
        self.sources.append(&mut other.sources);
        self.families.append(&mut other.families);
        self.fittings.append(&mut other.fittings);
        self.valves.append(&mut other.valves);
    }
}
