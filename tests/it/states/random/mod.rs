//! Whole layouts at random: none may be left unsolved.
//!
//! `FALLWRIGHT_RANDOM` says how many, `FALLWRIGHT_SEED` from which seed on.

mod write;

use crate::support::random::{Flavour, layout};
use fallwright::catalogue::Catalogue;
use fallwright::evaluate::evaluate;
use fallwright::finding::State;
use std::ops::Range;

fn number(name: &str, otherwise: u64) -> u64 {
    let text = std::env::var(name).ok();
    text.and_then(|text| text.parse().ok()).unwrap_or(otherwise)
}

/// The seeds that are asked for, `few` where nothing is said.
fn asked(few: u64) -> Range<u64> {
    let first = number("FALLWRIGHT_SEED", 0);
    first..first + number("FALLWRIGHT_RANDOM", few)
}

#[test]
fn plain_layouts_run_steadily() {
    let mut unsteady = Vec::new();
    for seed in asked(40) {
        let drawn = layout(seed, Flavour::Plain);
        let found = evaluate(&drawn, Catalogue::builtin(), &[State::Rest, State::Running]);
        let steady = found.states.iter().all(|report| {
            let levels = report.vessels.iter().all(|vessel| vessel.level_m.is_some());
            report.converged && report.cycle.is_none() && levels
        });
        if !steady || !found.unsolved.is_empty() {
            unsteady.push(seed);
        }
    }
    assert!(unsteady.is_empty(), "{unsteady:?}");
}
