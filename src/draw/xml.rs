//! Numbers and words as they may stand in XML.

/// Lengths beyond this are left out, points: readers hold them in single precision.
const FARTHEST: f64 = 1e6;

/// A number with at most two decimals; none where it cannot be placed.
pub(super) fn number(value: f64) -> Option<String> {
    if !value.is_finite() || value.abs() > FARTHEST {
        return None;
    }
    let text = format!("{value:.2}");
    let short = text.trim_end_matches('0').trim_end_matches('.');
    Some(if short == "-0" { "0" } else { short }.to_owned())
}

/// A length that is above 0 when it is written down.
pub(super) fn length(value: f64) -> Option<String> {
    number(value.max(0.0)).filter(|text| text != "0")
}

/// A side of the page.
pub(super) fn side(value: f64) -> String {
    length(value).unwrap_or_else(|| "1".to_owned())
}

/// Words as XML takes them, between tags and in quotes: one line, and no character that XML 1.0 forbids.
pub(super) fn escaped(words: &str) -> String {
    let mut out = String::with_capacity(words.len());
    for letter in words.chars() {
        match letter {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\t' | '\n' | '\r' => out.push(' '),
            '\u{fffe}' | '\u{ffff}' => {}
            letter if letter.is_control() => {}
            letter => out.push(letter),
        }
    }
    out
}
