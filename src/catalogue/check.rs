//! Validation of a catalogue before anything is computed from it.

use std::collections::HashSet;

use super::error::CatalogueError as Error;
use super::pipe::{Family, Size};
use super::rule::{Choice, Rule};
use super::size_name::SizeName;
use super::source::Source;
use super::valve::{Actuation, Throttle, Valve};
use super::{Catalogue, Units};

/// Checks `own`, whose entries may cite its sources and those in `others`.
pub(super) fn check(own: &Catalogue, others: &[Source]) -> Result<(), Error> {
    unique(
        "sources",
        own.sources.iter().map(|source| source.key.as_str()),
    )?;
    unique(
        "families",
        own.families.iter().map(|family| family.key.as_str()),
    )?;
    unique(
        "fittings",
        own.fittings.iter().map(|fitting| fitting.key.as_str()),
    )?;
    unique("valves", own.valves.iter().map(|valve| valve.key.as_str()))?;
    let declared = own
        .sources
        .iter()
        .chain(others)
        .map(|source| source.key.as_str());
    let cited = Cited(declared.collect());
    own.families
        .iter()
        .try_for_each(|family| check_family(family, &cited))?;
    for fitting in &own.fittings {
        check_choices(&fitting.key, &fitting.choices, &cited)?;
    }
    own.valves
        .iter()
        .try_for_each(|valve| check_valve(valve, &cited))
}

struct Cited<'a>(HashSet<&'a str>);

impl Cited<'_> {
    fn check(&self, entry: &str, source_key: &str) -> Result<(), Error> {
        if self.0.contains(source_key) {
            return Ok(());
        }
        Err(Error::UnknownSource {
            entry: entry.to_owned(),
            source_key: source_key.to_owned(),
        })
    }
}

fn unique<'a>(list: &'static str, mut keys: impl Iterator<Item = &'a str>) -> Result<(), Error> {
    let mut seen = HashSet::new();
    match keys.find(|key| !seen.insert(*key)) {
        Some(key) => Err(Error::Twice {
            list,
            key: key.to_owned(),
        }),
        None => Ok(()),
    }
}

fn holds(is_so: bool, entry: &str, reason: &'static str) -> Result<(), Error> {
    if is_so {
        Ok(())
    } else {
        Err(Error::Impossible {
            entry: entry.to_owned(),
            reason,
        })
    }
}

fn check_family(family: &Family, cited: &Cited) -> Result<(), Error> {
    let key = &family.key;
    cited.check(key, &family.roughness_source)?;
    cited.check(key, &family.hazen_williams_source)?;
    let rough = family.roughness_m;
    holds(
        rough.is_finite() && rough >= 0.0,
        key,
        "the roughness is not a length",
    )?;
    let c = family.hazen_williams_c;
    holds(
        c.is_finite() && c > 0.0,
        key,
        "the Hazen–Williams C is not above 0",
    )?;
    holds(!family.sizes.is_empty(), key, "it has no sizes")?;
    for size in &family.sizes {
        cited.check(key, &size.source)?;
        check_size(family, size)?;
    }
    for (smaller, larger) in family.sizes.iter().zip(family.sizes.iter().skip(1)) {
        possible(
            smaller.od_m < larger.od_m,
            family,
            larger,
            "not larger outside than the size before it",
        )?;
    }
    for (index, size) in family.sizes.iter().enumerate() {
        let same = |other: &&Size| name(family, other) == name(family, size);
        let first = family.sizes.iter().position(|other| same(&other));
        possible(
            first == Some(index),
            family,
            size,
            "another size of the family has this name",
        )?;
    }
    Ok(())
}

fn name(family: &Family, size: &Size) -> Option<SizeName> {
    SizeName::read(&size.size, family.units)
}

fn check_size(family: &Family, size: &Size) -> Result<(), Error> {
    let in_units = matches!(
        (name(family, size), family.units),
        (Some(SizeName::Inch(_)), Units::Us) | (Some(SizeName::Millimetre(_)), Units::Metric)
    );
    if !in_units {
        return Err(Error::SizeNotUnderstood {
            family: family.key.clone(),
            size: size.size.clone(),
        });
    }
    let nested = size.od_m.is_finite() && size.od_m > size.bore_m && size.bore_m > 0.0;
    possible(
        nested,
        family,
        size,
        "the bore must lie between 0 and the outside diameter",
    )
}

fn possible(is_so: bool, family: &Family, size: &Size, reason: &'static str) -> Result<(), Error> {
    if is_so {
        return Ok(());
    }
    Err(Error::ImpossibleSize {
        family: family.key.clone(),
        size: size.size.clone(),
        reason,
    })
}

fn check_choices(entry: &str, choices: &[Choice], cited: &Cited) -> Result<(), Error> {
    holds(!choices.is_empty(), entry, "it has no rule for its loss")?;
    unique(
        "choices of one kind",
        choices.iter().map(|choice| choice.source.as_str()),
    )?;
    for choice in choices {
        cited.check(entry, &choice.source)?;
        check_rule(entry, &choice.rule)?;
    }
    Ok(())
}

fn check_rule(entry: &str, rule: &Rule) -> Result<(), Error> {
    let reason = "a loss is not a number of 0 or more";
    match rule {
        Rule::TurbulentTimes(n) | Rule::Fixed(n) | Rule::Diameters(n) => {
            holds(loss(*n), entry, reason)
        }
        Rule::BySize(rows) | Rule::LengthBySize(rows) => {
            holds(!rows.is_empty(), entry, "a list by size is empty")?;
            holds(rows.iter().all(|&(_, value)| loss(value)), entry, reason)?;
            let bores = rows.iter().map(|&(bore_m, _)| bore_m);
            let rising = std::iter::once(0.0)
                .chain(bores.clone())
                .zip(bores)
                .all(|(a, b)| a < b && b.is_finite());
            holds(
                rising,
                entry,
                "the bores of a list by size must rise from above 0",
            )
        }
        Rule::StepInBore => Ok(()),
    }
}

fn loss(value: f64) -> bool {
    value.is_finite() && value >= 0.0
}

fn check_valve(valve: &Valve, cited: &Cited) -> Result<(), Error> {
    let key = &valve.key;
    check_choices(key, &valve.open, cited)?;
    let plain = valve
        .open
        .first()
        .is_some_and(|choice| !choice.rule.depends_on_bore());
    holds(
        plain,
        key,
        "the first rule of a valve must be TurbulentTimes or Fixed",
    )?;
    let by_hand = valve.acts == Actuation::ByHand;
    holds(
        by_hand != valve.throttled.is_empty(),
        key,
        "a valve set by hand needs its throttled losses, and a check valve has none",
    )?;
    unique(
        "throttled losses of one valve",
        valve
            .throttled
            .iter()
            .map(|throttle| throttle.source.as_str()),
    )?;
    for throttle in &valve.throttled {
        cited.check(key, &throttle.source)?;
        check_throttle(key, throttle)?;
    }
    Ok(())
}

fn check_throttle(entry: &str, throttle: &Throttle) -> Result<(), Error> {
    let points = &throttle.points;
    let inside = points
        .iter()
        .all(|&(opening, k)| opening > 0.0 && opening < 1.0 && loss(k));
    holds(
        inside,
        entry,
        "a throttled point needs an opening between 0 and 1 and a loss",
    )?;
    let steps = points.iter().zip(points.iter().skip(1));
    let ordered = steps
        .into_iter()
        .all(|(wide, narrow)| wide.0 > narrow.0 && wide.1 <= narrow.1);
    holds(
        ordered,
        entry,
        "throttled points must close step by step, their loss rising",
    )
}
