//! Tests of what a session must survive: refused edits, panics, being dropped.

use super::engines::{Gate, gated, patient};
use super::{commit, raised, session};
use fallwright::edit::{Edit, title, units};
use fallwright::finding::Sentence;
use fallwright::session::{Freshness, Options, Services, Session};
use fallwright::state::State;
use std::sync::Arc;

#[test]
fn a_refused_edit_changes_nothing_but_ends_the_preview() {
    let mut session = session();
    let demo = session.layout().clone();
    let stale = raised(&demo, 1.2);
    commit(&mut session, 1.21);
    let layout = session.layout().clone();
    assert!(session.preview(&stale).is_err());
    assert!(!session.previewing());
    session.preview(&raised(&layout, 1.22)).unwrap();
    let shown = session.shown().layout.clone();
    assert!(session.preview(&stale).is_err());
    assert!(
        Arc::ptr_eq(session.shown().layout, &shown),
        "the earlier preview stays"
    );
    assert!(session.commit(stale).is_err());
    assert!(!session.previewing());
    assert!(Arc::ptr_eq(session.layout(), &layout));
    session.undo();
    assert!(Arc::ptr_eq(session.layout(), &demo));
}

#[test]
fn an_edit_that_changes_nothing_makes_no_step() {
    let mut session = session();
    let same = units(session.layout(), session.layout().units).unwrap();
    session.commit(same).unwrap();
    session.commit(Edit::default()).unwrap();
    assert_eq!(session.undo_name(), None);
    assert!(!session.unsaved());
    let layout = session.layout().clone();
    session.preview(&raised(&layout, 1.2)).unwrap();
    session.commit(Edit::default()).unwrap();
    assert!(!session.previewing());
    assert_eq!(session.undo_name(), None);
}

/// Goes wrong on every layout of this title.
fn fragile(upset: &'static str) -> Services {
    let (own, other) = (patient(), patient());
    Services {
        preview: Arc::new(move |layout, _| {
            assert_ne!(layout.title, upset);
            (own.preview)(layout, None)
        }),
        evaluate: Arc::new(move |layout, states| {
            assert_ne!(layout.title, upset);
            (other.evaluate)(layout, states)
        }),
        ..patient()
    }
}

#[test]
fn a_panic_while_solving_is_said_and_lived_through() {
    let mut session = Session::with_services(Options::default(), fragile("Upset"));
    session.settle();
    let edit = title(session.layout(), "Upset").unwrap();
    session.commit(edit).unwrap();
    assert_eq!(session.shown().levels, Freshness::Stale);
    session.settle();
    let shown = session.shown();
    let all = State::ALL.map(|state| (state, Vec::new()));
    assert_eq!(shown.unsolved, all);
    assert_eq!(
        (shown.levels, shown.reported),
        (Freshness::Solved, Freshness::Solved)
    );
    assert!(shown.running.is_none() && shown.rest.is_none());
    commit(&mut session, 1.2);
    let edit = title(session.layout(), "Calm").unwrap();
    session.commit(edit).unwrap();
    session.settle();
    assert!(session.shown().running.is_some() && session.shown().unsolved.is_empty());
}

#[test]
fn a_panic_in_the_search_leaves_the_answer_without_cures() {
    let engine = Services {
        cure: Arc::new(|layout, _, _| {
            assert_eq!(layout.title, "another");
            None
        }),
        ..patient()
    };
    let mut session = Session::with_services(Options::default(), engine);
    session.settle();
    assert_eq!(session.shown().reported, Freshness::Solved);
    assert!(session.shown().running.is_some());
}

#[test]
fn a_panic_of_who_is_woken_is_lived_through() {
    let options = Options {
        wake: Arc::new(|| assert!(std::thread::current().name().is_none(), "not now")),
        ..Options::default()
    };
    let mut session = Session::with_services(options, patient());
    session.settle();
    commit(&mut session, 1.2);
    session.settle();
    assert_eq!(session.shown().levels, Freshness::Solved);
}

#[test]
fn dropping_it_waits_for_nothing() {
    let gate = Arc::new(Gate::default());
    let session = Session::with_services(Options::default(), gated(&gate));
    gate.wait_for(1);
    drop(session);
    // Only now may the evaluation end: had the drop waited for it, this would never be reached.
    gate.open();
}

#[test]
fn what_another_file_left_behind_is_not_shown() {
    let gate = Arc::new(Gate::default());
    let mut session = Session::with_services(Options::default(), gated(&gate));
    gate.wait_for(1);
    session.open_new();
    assert!(session.shown().layout.vessels.is_empty());
    gate.open();
    session.settle();
    let shown = session.shown();
    assert_eq!(shown.reported, Freshness::Solved);
    assert!(
        shown
            .running
            .is_some_and(|report| report.vessels.is_empty())
    );
    assert!(shown.findings.is_empty());
    session.undo();
    assert!(session.layout().vessels.is_empty(), "a history of its own");
    let sentence = Sentence(vec!["Fill it".into()]);
    let demo = fallwright::session::demo().unwrap();
    let edit = Edit::between(sentence.clone(), session.layout(), &demo);
    session.commit(edit).unwrap();
    assert_eq!(session.undo_name(), Some(&sentence));
}
