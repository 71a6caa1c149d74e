//! How high a crest may be set.

use fallwright::advise::{Band, band};
use fallwright::catalogue::Catalogue;
use fallwright::edit;
use fallwright::evaluate::evaluate;
use fallwright::file::{Format, parse};
use fallwright::finding::{Code, Severity, State};
use fallwright::layout::{Layout, RunEnd};

fn too_high() -> Layout {
    parse(
        include_str!("../../../examples/drain-too-high.ron"),
        Format::Ron,
    )
    .unwrap()
}

fn of(layout: &Layout, run: &str) -> Option<Band> {
    let crest = (&run.into(), RunEnd::From);
    band(layout, Catalogue::builtin(), crest, &|| true)
}

/// How many problems there are with the crest at a height.
fn problems(layout: &Layout, run: &str, height_m: f64) -> usize {
    let there = edit::crest(layout, &run.into(), RunEnd::From, height_m).unwrap();
    let changed = there.apply(layout).unwrap();
    let solved = evaluate(
        &changed,
        Catalogue::builtin(),
        &[State::Rest, State::Running],
    );
    let findings = solved.findings.iter();
    findings
        .filter(|one| one.severity == Severity::Problem)
        .count()
}

#[test]
fn the_edges_of_a_band_are_where_problems_begin() {
    let layout = too_high();
    let found = of(&layout, "step-3").unwrap();
    assert!(found.low_m < found.high_m);
    assert_eq!(problems(&layout, "step-3", found.low_m), 0);
    assert_eq!(problems(&layout, "step-3", found.high_m), 0);
    assert!(problems(&layout, "step-3", found.high_m + 0.001) > 0);
    let above = found.above.unwrap();
    assert_eq!(above.code, Code::Spills);
    assert_eq!(above.about.first().unwrap().as_str(), "cress-2");
    // The crest as it was cut stands over it, the one that was meant stands in it.
    assert!(1.245 > found.high_m && 1.155 < found.high_m && 1.155 > found.low_m);
    if found.below.is_some() {
        assert!(problems(&layout, "step-3", found.low_m - 0.001) > 0);
    }
}

#[test]
fn a_band_does_not_depend_on_where_the_crest_is() {
    let layout = too_high();
    let found = of(&layout, "step-3").unwrap();
    let there = edit::crest(&layout, &"step-3".into(), RunEnd::From, 1.155).unwrap();
    let other = of(&there.apply(&layout).unwrap(), "step-3").unwrap();
    assert!((found.low_m - other.low_m).abs() < 0.001);
    assert!((found.high_m - other.high_m).abs() < 0.001);
}

#[test]
fn a_problem_elsewhere_does_not_take_the_band_away() {
    let layout = too_high();
    // Cress bed 2 spills, whatever the crest of bed 4.
    let found = of(&layout, "step-4").unwrap();
    assert!(found.low_m < 0.9 && found.high_m > 0.9, "{found:?}");
}

#[test]
fn where_there_is_no_height_to_set_there_is_no_band() {
    let layout = too_high();
    assert!(of(&layout, "manifold-run").is_none());
    assert!(of(&layout, "nobody").is_none());
    let crest = (&"step-3".into(), RunEnd::From);
    assert!(band(&layout, Catalogue::builtin(), crest, &|| false).is_none());
}
