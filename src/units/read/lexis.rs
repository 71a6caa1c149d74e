//! Splits a text into numbers and the words after them.

/// Thin space, which may stand between thousands; the tidied text has it for a no-break space too.
pub(super) const THIN: char = '\u{2009}';

/// A number as typed and the word after it, which may be empty.
#[derive(Clone, Copy, Debug)]
pub(super) struct Term<'a> {
    pub number: &'a str,
    pub unit: &'a str,
}

/// All terms of a text.
pub(super) struct Terms<'a> {
    /// Sign of the whole text, 1 or -1.
    pub sign: f64,
    pub list: Vec<Term<'a>>,
}

/// Splits a tidied text into numbers and words; `None` if it does not begin with a number.
pub(super) fn terms(text: &str) -> Option<Terms<'_>> {
    let (sign, mut rest) = match text.strip_prefix('-') {
        Some(rest) => (-1.0, rest),
        None => (1.0, text.strip_prefix('+').unwrap_or(text)),
    };
    let mut list = Vec::new();
    rest = trimmed(rest);
    while !rest.is_empty() {
        let (number, after) = rest.split_at(number_end(rest));
        if number.is_empty() {
            return None;
        }
        let (unit, after) = after.split_at(unit_end(after));
        list.push(Term {
            number: trimmed(number),
            unit: joint_taken_off(trimmed(unit)),
        });
        rest = trimmed(after);
    }
    Some(Terms { sign, list })
}

fn trimmed(text: &str) -> &str {
    text.trim_matches([' ', THIN])
}

/// Removes what joins one number with the next from the unit: `4'-3"`, `3 h, 5 min`, `3 h and 5 min`.
fn joint_taken_off(unit: &str) -> &str {
    let unit = unit.strip_suffix(" and").unwrap_or(unit);
    trimmed(unit.trim_end_matches([',', '-', '.']))
}

/// Returns the end of the number that starts a text: digits, points, commas, thin spaces before three digits, an
/// exponent, and a fraction: `1/2`, `3 1/2`, `3-1/2`.
fn number_end(text: &str) -> usize {
    let first = decimal_end(text);
    let behind = text.get(first..).unwrap_or_default();
    let slash = |text: &str| -> Option<usize> {
        let under = text.strip_prefix('/')?;
        let end = digits_end(under);
        (end > 0).then_some(end + 1)
    };
    if let Some(end) = slash(behind) {
        return first + end;
    }
    let gap = behind.len() - behind.trim_start_matches([' ', THIN, '-']).len();
    let next = behind.get(gap..).unwrap_or_default();
    let over = digits_end(next);
    let under = next.get(over..).and_then(slash);
    match under {
        Some(end) if first > 0 && over > 0 && gap > 0 => first + gap + over + end,
        _ => first,
    }
}

fn digits_end(text: &str) -> usize {
    text.find(|letter: char| !letter.is_ascii_digit())
        .unwrap_or(text.len())
}

fn decimal_end(text: &str) -> usize {
    let mut end = 0;
    loop {
        let rest = text.get(end..).unwrap_or_default();
        let digits = digits_end(rest);
        let next = rest.get(digits..).unwrap_or_default();
        end += digits;
        let mut letters = next.chars();
        let sign = letters.next();
        let more = digits_end(letters.as_str());
        match sign {
            Some('.' | ',') if more > 0 => end += 1,
            Some(THIN) if digits > 0 && more == 3 => end += THIN.len_utf8(),
            Some('e' | 'E') if end > 0 => return end + power_end(next),
            _ => return end,
        }
    }
}

/// Returns the length of an exponent, `e9` or `e-3`; 0 if no digit follows.
fn power_end(text: &str) -> usize {
    let rest = text.get(1..).unwrap_or_default();
    let sign = usize::from(rest.starts_with(['-', '+']));
    match digits_end(rest.get(sign..).unwrap_or_default()) {
        0 => 0,
        digits => 1 + sign + digits,
    }
}

/// Returns the end of a unit: the next digit, or a point or comma before one.
fn unit_end(text: &str) -> usize {
    let starts_number = |at: usize| number_end(text.get(at..).unwrap_or_default()) > 0;
    let mut places = text.char_indices().map(|(at, _)| at);
    places.find(|at| starts_number(*at)).unwrap_or(text.len())
}
