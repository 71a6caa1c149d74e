//! How high a crest may be set.

use fallwright::advise::{Band, band};
use fallwright::catalogue::Catalogue;
use fallwright::edit;
use fallwright::evaluate::evaluate;
use fallwright::file::{Format, parse};
use fallwright::finding::{Code, Severity};
use fallwright::layout::{Layout, RunEnd};
use fallwright::state::State;
use fallwright::units::UnitSystem;

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
    let above = found.above.unwrap().found;
    assert_eq!(above.code, Code::Spills);
    assert_eq!(above.about.first().unwrap().as_str(), "cress-2");
    // The crest as it was cut stands over it, the one that was meant stands in it.
    assert!(1.245 > found.high_m && 1.155 < found.high_m && 1.155 > found.low_m);
    if found.below.is_some() {
        assert!(problems(&layout, "step-3", found.low_m - 0.001) > 0);
    }
}

/// What `check` says with the crest of a run at a height, as it is read.
fn checked(layout: &Layout, run: &str, height_m: f64) -> Vec<String> {
    let there = edit::crest(layout, &run.into(), RunEnd::From, height_m).unwrap();
    let changed = there.apply(layout).unwrap();
    let solved = evaluate(&changed, Catalogue::builtin(), &State::ALL);
    let read = |one: &fallwright::finding::Finding| {
        let name = |id: &fallwright::layout::Id| changed.name_of(id).to_owned();
        one.text.read(&name, changed.units)
    };
    solved.findings.iter().map(read).collect()
}

#[test]
fn what_goes_wrong_beyond_a_band_is_what_the_check_says_at_the_height_that_is_shown() {
    for system in [UnitSystem::Metric, UnitSystem::Us] {
        let mut layout = too_high();
        layout.units = system;
        let lowered = edit::crest(&layout, &"step-3".into(), RunEnd::From, 1.155).unwrap();
        let layout = lowered.apply(&layout).unwrap();
        let found = of(&layout, "step-3").unwrap();
        let above = found.above.clone().unwrap();
        let steps = match system {
            UnitSystem::Metric => above.height_m / 0.001,
            UnitSystem::Us => above.height_m / (0.0254 / 16.0),
        };
        assert!((steps - steps.round()).abs() < 1e-3, "{steps}");
        // At once past the band as it is shown: one mark of the tape, or two where the search ended on one.
        let past_m = above.height_m - found.on_tape(system).1;
        assert!(past_m > 0.0 && past_m < 0.0033, "{past_m}");
        let name = |id: &fallwright::layout::Id| layout.name_of(id).to_owned();
        let told = above.found.text.read(&name, system);
        assert!(told.contains("lost over it"), "{told}");
        let check = checked(&layout, "step-3", above.height_m);
        assert!(check.contains(&told), "{told}\n{check:#?}");
    }
}

#[test]
fn beyond_a_band_a_crest_that_stands_there_is_told_of_as_it_stands() {
    let layout = too_high();
    let found = of(&layout, "step-3").unwrap();
    let above = found.above.unwrap();
    assert_eq!(above.height_m, 1.245);
    let name = |id: &fallwright::layout::Id| layout.name_of(id).to_owned();
    let told = above.found.text.read(&name, layout.units);
    assert!(checked(&layout, "step-3", 1.245).contains(&told), "{told}");
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
