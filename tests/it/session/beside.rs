//! Tests of the baseline that the open layout is compared with.

use super::{commit, raised, session};
use fallwright::finding::Code;
use fallwright::session::FileError;
use fallwright::state::State;
use std::path::Path;
use std::sync::Arc;

const SPILLS_M: f64 = 1.245;

#[test]
fn what_was_kept_stays_while_the_layout_goes_on() {
    let mut session = session();
    session.settle();
    assert!(session.baseline().is_none() && session.compared_with(State::Running).is_none());
    let before = session.layout().clone();
    session.keep_baseline();
    session.settle();
    commit(&mut session, SPILLS_M);
    session.settle();
    let beside = session.baseline().unwrap();
    assert!(Arc::ptr_eq(beside.layout, &before));
    assert_eq!(beside.name, "As opened");
    let kept = beside.evaluation.unwrap();
    assert!(kept.is_whole());
    assert!(kept.findings.iter().all(|one| one.code != Code::Spills));
    let spills = |code: Code| code == Code::Spills;
    assert!(session.shown().findings.iter().any(|one| spills(one.code)));
    for state in State::ALL {
        assert_eq!(session.compared_with(state), kept.state(state));
    }
    session.keep_baseline();
    let name = session.baseline().unwrap().name.to_owned();
    assert!(
        name.starts_with("After: ") && name.contains("Cress upstand 3"),
        "{name}"
    );
    session.drop_baseline();
    assert!(session.baseline().is_none() && !session.busy());
}

#[test]
fn a_preview_is_held_against_what_is_committed() {
    let mut session = session();
    session.settle();
    let committed = session.shown().running.cloned();
    assert!(session.compared_with(State::Running).is_none());
    let edit = raised(session.layout(), 1.2);
    session.preview(&edit).unwrap();
    assert_eq!(session.compared_with(State::Running), committed.as_ref());
    session.drop_preview();
    assert!(session.compared_with(State::Running).is_none());
}

#[test]
fn a_file_is_read_to_compare_with_and_the_open_layout_stays() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut session = session();
    let before = session.layout().clone();
    session
        .open_baseline(&root.join("examples/drain-too-high.ron"))
        .unwrap();
    session.settle();
    assert!(Arc::ptr_eq(session.layout(), &before) && session.path().is_none());
    let beside = session.baseline().unwrap();
    assert_eq!(beside.name, "drain-too-high.ron");
    let known = beside.evaluation.unwrap();
    assert!(known.findings.iter().any(|one| one.code == Code::Spills));
    // What cannot be read changes nothing.
    let refused: Result<(), FileError> = session.open_baseline(&root.join("tests/bad/empty.ron"));
    assert!(refused.is_err());
    assert_eq!(session.baseline().unwrap().name, "drain-too-high.ron");
}
