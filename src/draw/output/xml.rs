//! Formatting of numbers and text for XML.

/// Largest coordinate written, points: readers use single precision.
const FARTHEST: f64 = 1e6;

/// Formats a number with at most two decimals; `None` if it is not finite or too large.
pub(in crate::draw) fn number(value: f64) -> Option<String> {
    if !value.is_finite() || value.abs() > FARTHEST {
        return None;
    }
    let text = format!("{value:.2}");
    let short = text.trim_end_matches('0').trim_end_matches('.');
    Some(if short == "-0" { "0" } else { short }.to_owned())
}

/// Formats a length; `None` if it is written as 0.
pub(in crate::draw) fn length(value: f64) -> Option<String> {
    number(value.max(0.0)).filter(|text| text != "0")
}

/// Formats a side of the page; 1 if it is not a valid length.
pub(in crate::draw) fn side(value: f64) -> String {
    length(value).unwrap_or_else(|| "1".to_owned())
}

/// Escapes a text for XML, between tags and in quotes: one line, without the characters that XML 1.0 forbids.
pub(in crate::draw) fn escaped(words: &str) -> String {
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
