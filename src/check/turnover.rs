//! Compares the turnover of a vessel with the turnover that the layout asks for.

use super::state_view::{StateView, under};
use super::wording::{finding, with_limit};
use crate::finding::{Code, Finding, Piece, Severity};
use crate::units::Quantity;

const HOUR_S: f64 = 3600.0;

pub(super) fn find(seen: &StateView<'_>) -> Vec<Finding> {
    let mut found = Vec::new();
    for held in &seen.vessels {
        let wanted = held.drawn.wanted_turnover_per_h.map(|per_h| per_h / HOUR_S);
        let Some((changes, wanted)) = held.here.turnover_per_s().zip(wanted) else {
            continue;
        };
        if !under(changes, wanted) {
            continue;
        }
        let id = &held.drawn.id;
        let number = |value| Piece::Number(Quantity::Turnover, value);
        let text = vec![
            "The water of ".into(),
            id.into(),
            " turns over ".into(),
            number(changes),
            "; the layout asks for ".into(),
            number(wanted),
            ".".into(),
        ];
        let one = finding(seen, (Code::LittleTurnover, Severity::Warning), &[id], text);
        found.push(with_limit(one, Quantity::Turnover, (changes, wanted)));
    }
    found
}
