//! Suggestions for a mistyped key or size.

use super::{Catalogue, pipe::Family, size_name::SizeName};

impl Catalogue {
    /// Returns the family key nearest to a wrong one; `None` if none is near.
    pub fn nearest_family(&self, wrong: &str) -> Option<&str> {
        nearest(
            self.families.iter().map(|family| family.key.as_str()),
            wrong,
        )
    }

    /// Returns the fitting key nearest to a wrong one; `None` if none is near.
    pub fn nearest_fitting(&self, wrong: &str) -> Option<&str> {
        nearest(
            self.fittings.iter().map(|fitting| fitting.key.as_str()),
            wrong,
        )
    }

    /// Returns the valve key nearest to a wrong one; `None` if none is near.
    pub fn nearest_valve(&self, wrong: &str) -> Option<&str> {
        nearest(self.valves.iter().map(|valve| valve.key.as_str()), wrong)
    }

    /// Returns the size of `family` nearest to a wrong one.
    ///
    /// A size in the units of the family is compared by nominal size, one in the other units by bore, since nothing
    /// else is measured in both. `None` if the text is not a length or the family is unknown.
    pub fn nearest_size(&self, family: &str, wrong: &str) -> Option<&str> {
        self.family(family)?.nearest_size(wrong)
    }
}

impl Family {
    fn nearest_size(&self, wrong: &str) -> Option<&str> {
        let wanted = SizeName::read(wrong, self.units)?;
        let distance_m = |size: &super::Size| {
            let name = SizeName::read(&size.size, self.units)?;
            let same_units = matches!(
                (name, wanted),
                (SizeName::Inch(_), SizeName::Inch(_))
                    | (SizeName::Millimetre(_), SizeName::Millimetre(_))
            );
            let compared_m = if same_units {
                name.nominal_m()
            } else {
                size.bore_m
            };
            Some((compared_m - wanted.nominal_m()).abs())
        };
        let measured = self
            .sizes
            .iter()
            .filter_map(|size| Some((distance_m(size)?, size)));
        let best = measured.min_by(|a, b| a.0.total_cmp(&b.0));
        best.map(|(_, size)| size.size.as_str())
    }
}

/// Returns the key with the fewest changed letters; keys that contain the word, or that it contains, come first. A key
/// with more than half of the word changed is not near.
fn nearest<'a>(keys: impl Iterator<Item = &'a str>, wrong: &str) -> Option<&'a str> {
    let wrong = wrong.trim().to_lowercase().replace([' ', '_'], "-");
    if wrong.is_empty() {
        return None;
    }
    let letters = wrong.chars().count();
    let ranked = keys.filter_map(|key| {
        let changes = changes(key, &wrong);
        let holds = key.contains(&wrong) || wrong.contains(key);
        (holds || changes <= letters / 2).then_some((!holds, changes, key))
    });
    ranked.min().map(|(_, _, key)| key)
}

/// Returns the number of letters to insert, delete or replace (Levenshtein distance).
fn changes(a: &str, b: &str) -> usize {
    let b: Vec<char> = b.chars().collect();
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for (i, letter_a) in a.chars().enumerate() {
        let mut left = i + 1;
        let mut next = vec![left];
        for ((letter_b, diagonal), above) in b.iter().zip(&row).zip(row.iter().skip(1)) {
            let kept = diagonal + usize::from(letter_a != *letter_b);
            left = kept.min(above + 1).min(left + 1);
            next.push(left);
        }
        row = next;
    }
    row.last().copied().unwrap_or(0)
}
