//! The table of rules, the order of findings, and what holds for all of them.

use super::case::Case;
use crate::support::layouts::{drain, two_tanks};
use fallwright::check::{RULES, worst_first};
use fallwright::finding::{Code, Severity};
use std::collections::BTreeSet;

/// What a drawing alone already says: found when it is lowered.
const BY_DRAWING: [Code; 12] = [
    Code::CrestAboveRim,
    Code::OpeningBelowFloor,
    Code::CurveRises,
    Code::CurveGuessed,
    Code::MaySiphon,
    Code::NotInCatalogue,
    Code::NotConnected,
    Code::HazenWilliamsRange,
    Code::NotchRange,
    Code::SpillsInARing,
    Code::SpillsUphill,
    Code::VesselsOverlap,
];

/// Found by the fill marks.
const BY_MARKS: [Code; 1] = [Code::NoRoomToFill];

#[test]
fn every_code_has_a_rule() {
    let by_rule = RULES.iter().flat_map(|rule| rule.codes);
    let made: BTreeSet<Code> = by_rule
        .chain(&BY_DRAWING)
        .chain(&BY_MARKS)
        .copied()
        .collect();
    let missing: Vec<&Code> = Code::ALL
        .iter()
        .filter(|code| !made.contains(code))
        .collect();
    assert!(missing.is_empty(), "{missing:?}");
}

#[test]
fn a_sound_layout_has_nothing_to_say() {
    let found = Case::new(two_tanks(vec![drain()])).all();
    assert!(found.is_empty(), "{found:?}");
}

#[test]
fn findings_come_by_severity_then_kind_then_amount() {
    let mut case = Case::new(two_tanks(vec![drain()]));
    case.layout.vessels[1].wanted_turnover_per_h = Some(10.0);
    case.vessel("upper").level_m = Some(1.51);
    case.vessel("lower").level_m = Some(0.43);
    let mut found = case.all();
    let order = |found: &[fallwright::finding::Finding]| -> Vec<(Severity, String)> {
        let one = |one: &fallwright::finding::Finding| {
            (
                one.severity,
                format!("{}:{}", one.code.word(), one.about[0]),
            )
        };
        found.iter().map(one).collect()
    };
    let sorted = order(&found);
    let words: Vec<&str> = sorted.iter().map(|one| one.1.as_str()).collect();
    assert_eq!(
        words,
        ["spills:lower", "spills:upper", "little-turnover:lower"]
    );
    found.reverse();
    worst_first(&mut found);
    assert_eq!(order(&found), sorted);
}

#[test]
fn nothing_that_is_no_number_reaches_a_finding() {
    let mut case = Case::new(two_tanks(vec![drain()]));
    for run in &mut case.report.runs {
        run.flow_m3_s = f64::NAN;
        run.velocity_m_s = f64::NAN;
        run.loss_m = f64::NAN;
    }
    for vessel in &mut case.report.vessels {
        vessel.level_m = Some(f64::NAN);
        vessel.inflow_m3_s = f64::INFINITY;
    }
    for one in case.all() {
        assert!(one.measured.is_none_or(f64::is_finite), "{one:?}");
        assert!(one.limit.is_none_or(f64::is_finite), "{one:?}");
    }
}
