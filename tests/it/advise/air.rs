//! Cures of air at a high point: each is tried, and what does not work is not offered.

use super::layouts::{changed, cured, finding, read};
use crate::support::air::{self, BRIDGE, HOSE, LIFT};
use fallwright::finding::{Code, Finding};
use fallwright::layout::Layout;

fn only(layout: &Layout, code: Code, about: &str) -> Finding {
    let evaluation = cured(layout);
    let found = finding(&evaluation, code, about);
    found
        .unwrap_or_else(|| panic!("{:?}", evaluation.findings))
        .clone()
}

#[test]
fn air_behind_a_pump_gets_a_vent_at_its_place_or_a_pipe_without_the_high_point() {
    let mut layout = air::read(LIFT);
    let found = only(&layout, Code::AirLock, "lift");
    let texts: Vec<String> = found.cures.iter().map(read).collect();
    assert_eq!(
        texts,
        [
            "Fit a vent to lift, 4.30 m from sump, at 2600 mm.",
            "Lay lift without the high point: nowhere over 800 mm.",
        ]
    );
    let lower = changed(&layout, &found.cures[1], 0.0);
    assert!(finding(&cured(&lower), Code::AirLock, "lift").is_none());
    let lift = layout.runs.iter_mut().find(|run| run.id.as_str() == "lift");
    lift.unwrap().route[1].vented = true;
    let vented = cured(&layout);
    assert!(finding(&vented, Code::AirLock, "lift").is_none());
    assert!(finding(&vented, Code::VentSpills, "lift").is_none());
}

#[test]
fn a_siphon_is_laid_lower_or_as_the_last_filled_by_hand_and_never_vented() {
    let layout = air::read(BRIDGE);
    let found = only(&layout, Code::MayNeverPrime, "bridge");
    let texts: Vec<String> = found.cures.iter().map(read).collect();
    assert_eq!(texts.len(), 2, "{texts:?}");
    assert!(
        texts[0].starts_with("Lay bridge without the high point"),
        "{texts:?}"
    );
    assert!(
        texts[1].starts_with("Fill bridge with water by hand"),
        "{texts:?}"
    );
    let lower = changed(&layout, &found.cures[0], 0.0);
    assert!(finding(&cured(&lower), Code::MayNeverPrime, "bridge").is_none());
    let filled = air::filled_bridge();
    assert!(finding(&cured(&filled), Code::MayNeverPrime, "bridge").is_none());
}

#[test]
fn filling_by_hand_is_not_offered_where_the_siphon_empties_its_tank_at_rest() {
    let found = only(&air::read(HOSE), Code::MayNeverPrime, "hose");
    let texts: Vec<String> = found.cures.iter().map(read).collect();
    assert!(
        !texts.is_empty() && texts.iter().all(|text| text.starts_with("Lay hose")),
        "{texts:?}"
    );
}
