//! Suggests the word that was probably meant.

/// Words longer than this are not compared.
const MOST_CHARACTERS: usize = 60;

/// Returns the word of `known` nearest to `word`, if it is near enough for a typing error.
pub fn nearest<'k>(word: &str, known: &'k [String]) -> Option<&'k str> {
    if word.len() > MOST_CHARACTERS {
        return None;
    }
    let near = known.iter().map(|other| (distance(word, other), other));
    let (steps, other) = near.min_by_key(|(steps, _)| *steps)?;
    let allowed = (word.len().max(other.len()) / 3).max(2);
    (steps <= allowed).then_some(other)
}

/// Number of characters to add, drop or change between two words (Levenshtein distance).
fn distance(left: &str, right: &str) -> usize {
    let right: Vec<char> = right.chars().collect();
    let mut row: Vec<usize> = (0..=right.len()).collect();
    for (index, a) in left.chars().enumerate() {
        let mut next = vec![index + 1];
        let pairs = row.iter().zip(row.iter().skip(1)).zip(&right);
        for ((diagonal, above), b) in pairs {
            let before = next.last().copied().unwrap_or_default();
            let changed = diagonal + usize::from(a != *b);
            next.push(changed.min(above + 1).min(before + 1));
        }
        row = next;
    }
    row.last().copied().unwrap_or_default()
}
