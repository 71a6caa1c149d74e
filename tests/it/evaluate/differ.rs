//! Two answers held against each other.

use super::demo;
use fallwright::catalogue::Catalogue;
use fallwright::evaluate::{Evaluation, evaluate, findings_apart, flows_apart, levels_apart};
use fallwright::finding::Code;
use fallwright::layout::{Layout, Opening};
use fallwright::state::State;

fn solved(layout: &Layout) -> Evaluation {
    evaluate(layout, Catalogue::builtin(), &[State::Rest, State::Running])
}

/// The demo with its third cress upstand at another height.
fn raised(to_m: f64) -> Layout {
    let mut layout = demo();
    let run = layout
        .runs
        .iter_mut()
        .find(|run| run.id.as_str() == "step-3");
    match run.and_then(|run| run.from.opening.as_mut()) {
        Some(Opening::Upstand { crest_m, .. }) => *crest_m = to_m,
        other => panic!("{other:?}"),
    }
    layout
}

#[test]
fn an_answer_does_not_differ_from_itself() {
    let known = solved(&demo());
    for report in &known.states {
        assert!(levels_apart(report, report).is_empty());
        assert!(flows_apart(report, report).is_empty());
    }
    let (gone, new) = findings_apart(&known.findings, &known.findings);
    assert!(gone.is_empty() && new.is_empty());
}

#[test]
fn a_raised_crest_lifts_its_bed_by_as_much_and_what_is_said_of_it_is_new() {
    let (was, is) = (solved(&demo()), solved(&raised(1.245)));
    let running = |known: &Evaluation| known.state(State::Running).cloned().unwrap();
    let levels = levels_apart(&running(&was), &running(&is));
    let bed = levels
        .iter()
        .find(|one| one.id.as_str() == "cress-3")
        .unwrap();
    let crest_m = |layout: &Layout| {
        let run = layout.run(&"step-3".into()).unwrap();
        run.from
            .opening
            .as_ref()
            .and_then(Opening::crest_m)
            .unwrap()
    };
    let raised_m = 1.245 - crest_m(&demo());
    // The head over the crest hardly changes, so the level follows the crest.
    assert!((bed.by().unwrap() - raised_m).abs() < 5e-3, "{bed:?}");
    // What stands above it and is not drowned by it does not move.
    assert!(levels.iter().all(|one| one.id.as_str() != "trench"));
    let (gone, new) = findings_apart(&was.findings, &is.findings);
    assert!(new.iter().any(|one| one.code == Code::Spills));
    assert!(gone.iter().all(|one| one.code != Code::Spills));
    // The other way round what is new is gone.
    let (back_gone, back_new) = findings_apart(&is.findings, &was.findings);
    assert_eq!((back_gone, back_new), (new, gone));
}

#[test]
fn a_part_that_only_one_has_is_told_with_nothing_on_the_other_side() {
    let whole = demo();
    let mut less = demo();
    less.runs.retain(|run| run.id.as_str() != "header-overflow");
    let running = |layout: &Layout| solved(layout).state(State::Running).cloned().unwrap();
    let (whole, less) = (running(&whole), running(&less));
    let flows = flows_apart(&whole, &less);
    let gone = flows
        .iter()
        .find(|one| one.id.as_str() == "header-overflow")
        .unwrap();
    assert_eq!((gone.was.is_some(), gone.is, gone.by()), (true, None, None));
    let flows = flows_apart(&less, &whole);
    let new = flows
        .iter()
        .find(|one| one.id.as_str() == "header-overflow")
        .unwrap();
    assert_eq!((new.was, new.is.is_some()), (None, true));
}
