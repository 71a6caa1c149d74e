//! Tests of simulation results: which layout they belong to, and how long they are kept.

use super::{commit, raised, session};
use fallwright::evaluate::Observed;
use fallwright::session::{Freshness, Options, Services, Session};
use fallwright::state::State;
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};

/// A session that counts how often something is filmed.
fn counted() -> (Session, Arc<AtomicUsize>) {
    let count = Arc::new(AtomicUsize::new(0));
    let own = Services::default();
    let (film, seen) = (own.series.clone(), count.clone());
    let engine = Services {
        series: Arc::new(move |layout, watched, go_on| {
            seen.fetch_add(1, Ordering::SeqCst);
            film(layout, watched, go_on)
        }),
        ..super::engines::patient()
    };
    (Session::with_services(Options::default(), engine), count)
}

fn watch(session: &mut Session, watched: &Observed) {
    session.watch(Some(watched.clone()));
    session.settle();
}

#[test]
fn nothing_is_filmed_that_is_not_watched() {
    let (mut session, count) = counted();
    session.settle();
    assert!(session.series().is_none());
    assert_eq!(count.load(Ordering::SeqCst), 0);
}

#[test]
fn what_is_watched_is_filmed_once() {
    let (mut session, count) = counted();
    for _ in 0..5 {
        watch(&mut session, &Observed::Stopped);
        let (film, fresh) = session.series().unwrap();
        assert_eq!(fresh, Freshness::Solved);
        assert_eq!(film.state(), State::Stopped);
    }
    assert_eq!(count.load(Ordering::SeqCst), 1);
    // Another one, and back: what is known is not made again.
    watch(&mut session, &Observed::Starting);
    assert_eq!(session.series().unwrap().0.state(), State::Starting);
    watch(&mut session, &Observed::Stopped);
    assert_eq!(session.series().unwrap().0.state(), State::Stopped);
    assert_eq!(count.load(Ordering::SeqCst), 2);
    session.watch(None);
    assert!(session.series().is_none());
}

#[test]
fn the_old_film_is_there_and_old_until_the_new_one_is_made() {
    let mut session = session();
    watch(&mut session, &Observed::Stopped);
    let before = session.series().unwrap().0.clone();
    let edit = raised(session.layout(), 1.10);
    session.preview(&edit).unwrap();
    session.watch(Some(Observed::Stopped));
    let (film, fresh) = session.series().unwrap();
    assert!(Arc::ptr_eq(film, &before) && fresh == Freshness::Stale);
    session.drop_preview();
    assert_eq!(session.series().unwrap().1, Freshness::Solved);
    commit(&mut session, 1.10);
    let (film, fresh) = session.series().unwrap();
    assert!(Arc::ptr_eq(film, &before) && fresh == Freshness::Stale);
    watch(&mut session, &Observed::Stopped);
    let (film, fresh) = session.series().unwrap();
    assert!(!Arc::ptr_eq(film, &before) && fresh == Freshness::Solved);
    let bed = "cress-3".into();
    let level_m = |film: &fallwright::states::InterpolatedSeries| {
        film.level_at_m(&bed, film.end_s()).unwrap()
    };
    assert!(level_m(film) < level_m(&before) - 0.03);
    // Taken back, the old one is the right one again.
    session.undo();
    watch(&mut session, &Observed::Stopped);
    assert!(Arc::ptr_eq(session.series().unwrap().0, &before));
}

#[test]
fn another_file_has_no_film_of_the_one_before() {
    let mut session = session();
    watch(&mut session, &Observed::Stopped);
    session.open_demo();
    session.watch(Some(Observed::Stopped));
    let own = session.series();
    assert!(own.is_none_or(|(_, fresh)| fresh == Freshness::Solved));
    session.settle();
    assert_eq!(session.series().unwrap().1, Freshness::Solved);
}

#[test]
fn a_panic_while_filming_is_no_film() {
    let engine = Services {
        series: Arc::new(|_, _, _| panic!("on purpose")),
        ..super::engines::patient()
    };
    let mut session = Session::with_services(Options::default(), engine);
    watch(&mut session, &Observed::Stopped);
    assert!(session.series().is_none());
    assert!(!session.is_simulating());
    assert!(session.shown().running.is_some());
    assert!(session.solving_failed(), "the window tells of it");
    assert!(!session.solving_failed(), "once");
}
