//! Interpretation of a pipe size that a person types.
//!
//! One number names pipes of different outside diameters: 50 mm may be d 50 or DN 50, which is d 63; 1½ in is 48.3 mm
//! outside in inch pipe and goes with d 50 in metric pipe. So a size is never chosen silently where two diameters match
//! it.

use super::Catalogue;
use super::pipe::{Family, PipeSize, Units};
use super::size_name::SizeName;
use crate::units::{self, Quantity, UnitSystem};

/// Nominal diameters with the matching inch size and outside diameter (mm) of metric pressure pipe.
///
/// Common practice, no source: sockets, unions and valves are sold in these pairs.
const PAIRS: [(u32, &str, &str); 13] = [
    (15, "1/2 in", "20"),
    (20, "3/4 in", "25"),
    (25, "1 in", "32"),
    (32, "1-1/4 in", "40"),
    (40, "1-1/2 in", "50"),
    (50, "2 in", "63"),
    (65, "2-1/2 in", "75"),
    (80, "3 in", "90"),
    (100, "4 in", "110"),
    (125, "5 in", "140"),
    (150, "6 in", "160"),
    (200, "8 in", "225"),
    (250, "10 in", "280"),
];
/// Standards of drains in which DN is the outside diameter; from memory.
const OUTSIDE_IS_NOMINAL: [&str; 2] = ["EN 1401", "EN 1329"];
/// Most families that a refusal names for one diameter.
const MOST_NAMED: usize = 2;

/// Refusal of a size.
#[derive(Clone, Debug, PartialEq)]
pub struct SizeRefusal<'a> {
    /// What is wrong and what to type, in one or two sentences.
    pub words: String,
    /// Pipes that may have been meant, likeliest first; empty if none is near.
    pub candidates: Vec<PipeSize<'a>>,
}

/// How well a size matches what was typed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Fit {
    /// The size has this name.
    Named,
    /// The size is sold together with the one of this name.
    Paired,
}

impl Catalogue {
    /// Returns the pipes that a person may mean by the size `text` (`2"`, `1 1/2 in`, `1½`, `DN50`, `63 mm`, `63`),
    /// likeliest first: in the family `within`, or in all families, and then all of one outside diameter.
    ///
    /// Within a family it is one pipe. `system` sets the units of a refusal.
    ///
    /// # Errors
    /// The text is not a size, the size is not made, or pipes of several outside diameters match it; the refusal lists
    /// them.
    pub fn read_size(
        &self,
        text: &str,
        within: Option<&str>,
        system: UnitSystem,
    ) -> Result<Vec<PipeSize<'_>>, SizeRefusal<'_>> {
        let text = text.trim();
        match within {
            Some(key) => self.size_within(text, key, system).map(|pipe| vec![pipe]),
            None => self.size_anywhere(text, system),
        }
    }

    fn size_within(
        &self,
        text: &str,
        key: &str,
        system: UnitSystem,
    ) -> Result<PipeSize<'_>, SizeRefusal<'_>> {
        let Some(family) = self.family(key) else {
            return Err(refusal(
                format!("There is no family of pipe “{key}”."),
                Vec::new(),
            ));
        };
        let (named, paired): (Vec<_>, Vec<_>) = answers(family, text)
            .into_iter()
            .partition(|(fit, _)| *fit == Fit::Named);
        if let Some((_, pipe)) = named.first() {
            return Ok(*pipe);
        }
        let sizes = || -> String {
            let all: Vec<&str> = family.sizes.iter().map(|size| size.size.as_str()).collect();
            all.join(", ")
        };
        let offered = paired.first().map(|(_, pipe)| *pipe).or_else(|| {
            let near = self.nearest_size(key, text)?;
            self.pipe(key, near)
        });
        Err(match offered {
            Some(pipe) => refusal(
                format!(
                    "{} is not made in size {text}; the nearest is {}, {} outside.",
                    family.words,
                    pipe.size.size,
                    units::write(Quantity::Bore, pipe.od_m(), system)
                ),
                vec![pipe],
            ),
            None => refusal(
                format!(
                    "“{text}” is no size; {} is made in {}.",
                    family.words,
                    sizes()
                ),
                Vec::new(),
            ),
        })
    }

    fn size_anywhere(
        &self,
        text: &str,
        system: UnitSystem,
    ) -> Result<Vec<PipeSize<'_>>, SizeRefusal<'_>> {
        let families = self.families.iter();
        let mut found: Vec<(Fit, PipeSize<'_>)> =
            families.flat_map(|family| answers(family, text)).collect();
        // The sort is stable, so each fit keeps the order of the catalogue.
        found.sort_by_key(|(fit, _)| *fit);
        let found: Vec<PipeSize<'_>> = found.into_iter().map(|(_, pipe)| pipe).collect();
        if found.is_empty() {
            let words = format!(
                "“{text}” is no size of pipe; type one such as 2 in, 1-1/2 in, 63 mm or DN 50."
            );
            return Err(refusal(words, found));
        }
        let groups = by_diameter(&found);
        if groups.len() == 1 {
            return Ok(found);
        }
        let parts: Vec<String> = groups
            .iter()
            .map(|group| described(group, system))
            .collect();
        let words = format!(
            "{text} names pipes of several outside diameters: {}. Choose the family first.",
            parts.join("; ")
        );
        Err(refusal(words, found))
    }
}

fn refusal(words: String, candidates: Vec<PipeSize<'_>>) -> SizeRefusal<'_> {
    SizeRefusal { words, candidates }
}

/// Returns the sizes of a family that match a text: at most one by its name and one that is sold with it.
fn answers<'a>(family: &'a Family, text: &str) -> Vec<(Fit, PipeSize<'a>)> {
    let pipe = |fit: Fit, size: &str| {
        let size = family.size(size)?;
        Some((fit, PipeSize { family, size }))
    };
    let as_dn = |fit: Fit, dn: u32| {
        let drain = OUTSIDE_IS_NOMINAL
            .iter()
            .any(|standard| family.standard.starts_with(standard));
        let pair = PAIRS.iter().find(|(nominal, ..)| *nominal == dn);
        match (family.units, pair) {
            _ if drain => pipe(fit, &dn.to_string()),
            (Units::Us, Some((_, inches, _))) => pipe(fit, inches),
            (Units::Metric, Some((.., outside))) => pipe(fit, outside),
            _ => None,
        }
    };
    if let Some(dn) = nominal(text) {
        return as_dn(Fit::Named, dn).into_iter().collect();
    }
    // A bare number has the units of the family here, but not below.
    let named = pipe(Fit::Named, text);
    let paired = match SizeName::read(text, bare_units(text)) {
        Some(SizeName::Millimetre(thousandths)) if thousandths % 1000 == 0 => {
            as_dn(Fit::Paired, thousandths / 1000)
        }
        Some(inches @ SizeName::Inch(_)) if family.units == Units::Metric => PAIRS
            .iter()
            .find(|(_, size, _)| SizeName::read(size, Units::Us) == Some(inches))
            .and_then(|(.., outside)| pipe(Fit::Paired, outside)),
        _ => None,
    };
    named.into_iter().chain(paired).collect()
}

/// Parses a nominal diameter: `DN 50`, `dn50`, `DN/OD 110`.
fn nominal(text: &str) -> Option<u32> {
    let small = text.trim().to_lowercase();
    let rest = small.strip_prefix("dn")?;
    let rest = rest.strip_prefix("/od").unwrap_or(rest);
    rest.trim().parse().ok()
}

/// Guesses the units of a bare number: inch sizes end at 12, and no pipe of 13 mm or more outside is named by so few
/// inches.
fn bare_units(text: &str) -> Units {
    let large =
        SizeName::read(text, Units::Metric).is_some_and(|name| name.nominal_m() > 12.5 * 1e-3);
    if large { Units::Metric } else { Units::Us }
}

/// Groups pipes by outside diameter, in order of first occurrence.
fn by_diameter<'a, 'p>(found: &'p [PipeSize<'a>]) -> Vec<Vec<&'p PipeSize<'a>>> {
    let mut groups: Vec<Vec<&PipeSize<'a>>> = Vec::new();
    for pipe in found {
        let same = |group: &&mut Vec<&PipeSize<'a>>| {
            group
                .first()
                .is_some_and(|first| (first.od_m() - pipe.od_m()).abs() < 2e-4)
        };
        match groups.iter_mut().find(same) {
            Some(group) => group.push(pipe),
            None => groups.push(vec![pipe]),
        }
    }
    groups
}

/// Describes a group: “48.3 mm (1-1/2 in of PVC Schedule 40, …)”.
fn described(group: &[&PipeSize<'_>], system: UnitSystem) -> String {
    let first = group.first();
    let outside = first.map_or(0.0, |pipe| pipe.od_m());
    let size = first.map_or("", |pipe| pipe.size.size.as_str());
    let mut names: Vec<&str> = group
        .iter()
        .map(|pipe| pipe.family.words.as_str())
        .collect();
    let more = names.len() > MOST_NAMED;
    names.truncate(MOST_NAMED);
    let names = names.join(", ");
    let more = if more { " and others" } else { "" };
    format!(
        "{} ({size} of {names}{more})",
        units::write(Quantity::Bore, outside, system)
    )
}
