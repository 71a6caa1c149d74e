//! Tests of solving: what is displayed, when, and how fresh it is.

use super::engines::{Gate, gated, gated_cures, hasty, patient};
use super::{commit, raised, session};
use fallwright::advise::with_cures;
use fallwright::catalogue::Catalogue;
use fallwright::edit::rename;
use fallwright::evaluate::{Evaluation, checked_preview, evaluate, preview};
use fallwright::finding::{Code, Finding};
use fallwright::layout::Layout;
use fallwright::session::{Freshness, Options, Services, Session};
use fallwright::state::State;
use fallwright::states::report::StateReport;
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};

const SPILLS_M: f64 = 1.245;

fn solved(layout: &Layout) -> Evaluation {
    evaluate(layout, Catalogue::builtin(), &State::ALL)
}

fn cures(findings: &[Finding]) -> usize {
    findings.iter().map(|found| found.cures.len()).sum()
}

fn freshness(session: &Session) -> (Freshness, Freshness) {
    let shown = session.shown();
    (shown.levels, shown.reported)
}

/// What is shown is what the evaluation of the layout shown came to.
fn is_solved(session: &Session) {
    let shown = session.shown();
    let wanted = solved(shown.layout);
    assert_eq!(freshness(session), (Freshness::Solved, Freshness::Solved));
    assert_eq!(shown.running, wanted.state(State::Running));
    assert_eq!(shown.rest, wanted.state(State::Rest));
    assert_eq!(shown.unsolved, wanted.unsolved);
    let said = |findings: &[Finding]| findings.iter().map(|one| one.code).collect::<Vec<_>>();
    assert_eq!(said(shown.findings), said(&wanted.findings));
}

#[test]
fn it_opens_on_the_demo_with_levels_at_once() {
    let session = session();
    let demo = fallwright::session::demo().unwrap();
    assert_eq!(**session.layout(), demo);
    let shown = session.shown();
    assert_eq!(shown.levels, Freshness::Preview);
    let quick = preview(&demo, Catalogue::builtin());
    assert!(quick.is_some());
    assert_eq!(shown.running, quick.as_ref());
    assert_eq!(shown.rest, None);
    let checked = checked_preview(&demo, Catalogue::builtin(), None).unwrap();
    assert_eq!(shown.findings, checked.findings);
}

#[test]
fn a_preview_tells_at_once_what_is_wrong_and_keeps_the_rest_as_stale() {
    let mut session = session();
    session.settle();
    let before = session.shown().findings.to_vec();
    assert!(before.iter().all(|one| one.code != Code::Spills));
    let edit = raised(session.layout(), SPILLS_M);
    session.preview(&edit).unwrap();
    let shown = session.shown();
    let spills = shown.findings.iter().find(|one| one.code == Code::Spills);
    assert_eq!(
        spills.map(|one| shown.freshness(one.state)),
        Some(Freshness::Preview)
    );
    let of = |findings: &[Finding], state: State| {
        let all = findings.iter().filter(|one| one.state == state);
        all.cloned().collect::<Vec<Finding>>()
    };
    for state in State::ALL {
        if state != State::Running {
            assert_eq!(shown.freshness(state), Freshness::Stale);
            assert_eq!(of(shown.findings, state), of(&before, state), "kept");
            assert!(shown.state(state).0.is_some(), "{state:?} is still there");
        }
    }
    assert!(!of(&before, State::Blocked).is_empty());
    assert!(shown.age.is_some());
    session.drop_preview();
    let shown = session.shown();
    assert_eq!((shown.findings, shown.age), (&before[..], None));
}

#[test]
fn rest_and_running_are_there_before_the_other_states() {
    let gate = Arc::new(Gate::default());
    let (mut session, others) = {
        let (gate, own) = (gate.clone(), patient());
        let engine = Services {
            evaluate: Arc::new(move |layout, states| {
                if states.len() == State::ALL.len() {
                    gate.pass(layout);
                }
                (own.evaluate)(layout, states)
            }),
            ..patient()
        };
        let session = Session::with_services(Options::default(), engine);
        let first = [State::Rest, State::Running];
        let others = State::ALL
            .into_iter()
            .filter(move |one| !first.contains(one));
        (session, others)
    };
    gate.wait_for(1);
    assert!(session.poll());
    assert_eq!(freshness(&session), (Freshness::Solved, Freshness::Solved));
    for state in others.clone() {
        let shown = session.shown();
        assert_eq!(shown.state(state), (None, Freshness::Stale));
        assert_eq!(shown.variants().1, Freshness::Stale);
    }
    gate.open();
    session.settle();
    for state in others {
        let (report, fresh) = session.shown().state(state);
        assert_eq!(report.map(|report| report.state), Some(state));
        assert_eq!(fresh, Freshness::Solved);
    }
    assert!(session.shown().age.is_none());
    is_solved(&session);
}

#[test]
fn settling_gives_everything_with_cures() {
    let mut session = Session::new(Options::default());
    session.settle();
    is_solved(&session);
    assert!(!session.busy());
    commit(&mut session, SPILLS_M);
    session.settle();
    is_solved(&session);
    let shown = session.shown();
    let wanted = with_cures(shown.layout, Catalogue::builtin(), solved(shown.layout));
    assert!(cures(shown.findings) > 0);
    assert_eq!(shown.findings, wanted.findings);
}

#[test]
fn a_previews_levels_follow_in_the_same_call() {
    let mut session = session();
    session.settle();
    let committed = session.layout().clone();
    for to_m in [1.17, 1.2, SPILLS_M] {
        let edit = raised(&committed, to_m);
        let before = session.shown().revision;
        session.preview(&edit).unwrap();
        let shown = session.shown();
        assert_ne!(shown.revision, before);
        assert_eq!(**shown.layout, edit.apply(&committed).unwrap());
        assert_eq!(shown.levels, Freshness::Preview);
        let wanted = preview(shown.layout, Catalogue::builtin()).unwrap();
        let levels = |report: &StateReport| -> Vec<f64> {
            let levels = report.vessels.iter().map(|vessel| vessel.level_m);
            levels.map(|level| level.unwrap()).collect()
        };
        let (shown, wanted) = (levels(shown.running.unwrap()), levels(&wanted));
        for (shown, wanted) in shown.iter().zip(wanted) {
            assert!((shown - wanted).abs() < 1e-6, "{shown} for {wanted}");
        }
        let shown = session.shown();
        assert_eq!(shown.reported, Freshness::Stale);
    }
    assert!(session.previewing() && !session.unsaved());
    assert!(Arc::ptr_eq(session.layout(), &committed));
    session.settle();
    is_solved(&session);
    assert_eq!(cures(session.shown().findings), 0, "not for a preview");
}

#[test]
fn levels_are_a_preview_until_the_whole_answer_is_there() {
    let gate = Arc::new(Gate::default());
    let mut session = Session::with_services(Options::default(), gated(&gate));
    assert_eq!(freshness(&session), (Freshness::Preview, Freshness::Stale));
    assert!(session.busy());
    gate.wait_for(1);
    assert!(!session.poll());
    gate.open();
    session.settle();
    is_solved(&session);
}

#[test]
fn what_is_told_stays_until_there_is_better() {
    let mut session = Session::with_services(Options::default(), hasty());
    session.settle();
    let old = session.shown().running.cloned();
    let before = session.shown().revision;
    commit(&mut session, SPILLS_M);
    assert_eq!(freshness(&session), (Freshness::Stale, Freshness::Stale));
    assert_eq!(session.shown().running.cloned(), old);
    session.settle();
    assert!(session.shown().revision > before + 1);
    is_solved(&session);
}

#[test]
fn a_slow_preview_comes_from_behind() {
    let gate = Arc::new(Gate::default());
    let engine = Services {
        patience: hasty().patience,
        ..gated(&gate)
    };
    let mut session = Session::with_services(Options::default(), engine);
    assert_eq!(freshness(&session), (Freshness::Stale, Freshness::Stale));
    assert!(session.shown().running.is_none());
    // The preview is done before the whole answer is begun.
    gate.wait_for(1);
    assert!(session.poll());
    assert_eq!(session.shown().levels, Freshness::Preview);
    assert!(session.shown().running.is_some());
    gate.open();
    session.settle();
    is_solved(&session);
}

#[test]
fn only_the_newest_is_solved() {
    let gate = Arc::new(Gate::default());
    let mut session = Session::with_services(Options::default(), gated(&gate));
    gate.wait_for(1);
    let committed = session.layout().clone();
    for step in 0..40 {
        let edit = raised(&committed, 1.16 + 0.002 * f64::from(step));
        session.preview(&edit).unwrap();
    }
    let last = session.shown().layout.clone();
    gate.open();
    session.settle();
    is_solved(&session);
    assert_eq!(gate.came(), [(*committed).clone(), (*last).clone()]);
}

#[test]
fn a_dropped_preview_leaves_what_was_known() {
    let mut session = session();
    commit(&mut session, SPILLS_M);
    session.settle();
    let told = session.shown().findings.to_vec();
    let layout = session.layout().clone();
    for to_m in [1.16, 1.17, 1.18] {
        session.preview(&raised(&layout, to_m)).unwrap();
        session.settle();
        assert_ne!(session.shown().findings, told);
    }
    session.drop_preview();
    assert!(!session.previewing());
    is_solved(&session);
    assert_eq!(session.shown().findings, told);
    assert!(!session.busy());
}

#[test]
fn undo_and_redo_show_what_was_known_at_once() {
    let mut session = session();
    session.settle();
    commit(&mut session, SPILLS_M);
    session.settle();
    let told = session.shown().findings.to_vec();
    session.undo();
    is_solved(&session);
    session.redo();
    is_solved(&session);
    assert_eq!(session.shown().findings, told);
    session.undo();
    commit(&mut session, SPILLS_M);
    is_solved(&session);
}

#[test]
fn undo_drops_a_preview_first() {
    let mut session = session();
    let demo = session.layout().clone();
    commit(&mut session, 1.2);
    let edit = raised(session.layout(), 1.21);
    session.preview(&edit).unwrap();
    session.undo();
    assert!(!session.previewing());
    assert!(Arc::ptr_eq(session.layout(), &demo));
    session.preview(&raised(&demo, 1.21)).unwrap();
    session.redo();
    assert_eq!(**session.layout(), raised(&demo, 1.2).apply(&demo).unwrap());
    session.redo();
    assert!(session.redo_name().is_none() && session.undo_name().is_some());
}

#[test]
fn a_preview_that_is_committed_is_not_solved_twice() {
    let gate = Arc::new(Gate::default());
    let mut session = Session::with_services(Options::default(), gated(&gate));
    gate.wait_for(1);
    gate.open();
    session.settle();
    let edit = raised(session.layout(), SPILLS_M);
    session.preview(&edit).unwrap();
    gate.wait_for(2);
    session.commit(edit).unwrap();
    assert!(!session.previewing());
    session.settle();
    is_solved(&session);
    assert!(cures(session.shown().findings) > 0);
    assert_eq!(gate.came().len(), 2);
}

#[test]
fn an_evaluation_that_comes_too_late_takes_nothing_away() {
    let gate = Arc::new(Gate::default());
    gate.open();
    let mut session = Session::with_services(Options::default(), gated(&gate));
    session.settle();
    let demo = session.layout().clone();
    gate.shut();
    session.preview(&raised(&demo, SPILLS_M)).unwrap();
    gate.wait_for(2);
    session.drop_preview();
    is_solved(&session);
    let revision = session.shown().revision;
    gate.open();
    session.settle();
    is_solved(&session);
    assert!(Arc::ptr_eq(session.shown().layout, &demo));
    assert_eq!(session.shown().revision, revision);
}

#[test]
fn a_search_for_cures_gives_way() {
    let gate = Arc::new(Gate::default());
    let mut session = Session::with_services(Options::default(), gated_cures(&gate));
    gate.wait_for(1);
    commit(&mut session, SPILLS_M);
    gate.wait_for(2);
    let layout = session.layout().clone();
    session.preview(&raised(&layout, 1.2)).unwrap();
    // Settles without the gate being opened: the search was given up, and none was begun.
    session.settle();
    is_solved(&session);
    session.drop_preview();
    is_solved(&session);
    assert_eq!(cures(session.shown().findings), 0);
    gate.wait_for(3);
    gate.open();
    session.settle();
    is_solved(&session);
    assert!(cures(session.shown().findings) > 0);
}

#[test]
fn every_result_wakes() {
    let count = Arc::new(AtomicUsize::new(0));
    let counts = count.clone();
    let options = Options {
        wake: Arc::new(move || {
            counts.fetch_add(1, Ordering::SeqCst);
        }),
        ..Options::default()
    };
    let mut session = Session::with_services(options, patient());
    session.settle();
    // The evaluation and the cures; once more when all is done, which may still be under way.
    assert!(count.load(Ordering::SeqCst) >= 2);
}

#[test]
fn every_change_has_a_revision_of_its_own() {
    let mut session = session();
    session.settle();
    let mut seen = vec![session.shown().revision];
    let layout = session.layout().clone();
    let edit = rename(&layout, &"pit".into(), "Hole").unwrap();
    let steps: [&dyn Fn(&mut Session); 6] = [
        &|session| session.preview(&edit).unwrap(),
        &|session| session.drop_preview(),
        &|session| session.commit(edit.clone()).unwrap(),
        &|session| session.undo(),
        &|session| session.redo(),
        &|session| session.open_demo(),
    ];
    for step in steps {
        step(&mut session);
        let revision = session.shown().revision;
        assert!(!seen.contains(&revision));
        seen.push(revision);
    }
    assert!(!session.previewing());
    session.settle();
    let revision = session.shown().revision;
    assert!(!seen.contains(&revision), "results change what is shown");
    assert!(!session.poll());
    session.drop_preview();
    session.redo();
    assert_eq!(session.shown().revision, revision);
}
