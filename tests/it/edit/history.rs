//! What was done, taken back and made again.

use super::{glasshouse, read};
use fallwright::edit::{Edit, History, crest, title, units};
use fallwright::finding::Sentence;
use fallwright::layout::Layout;
use fallwright::layout::RunEnd;
use fallwright::units::UnitSystem;

fn raised(layout: &Layout, to_m: f64) -> Edit {
    crest(layout, &"step-3".into(), RunEnd::From, to_m).unwrap()
}

fn name(sentence: Option<&Sentence>) -> Option<String> {
    sentence.map(|one| one.read(&|id| id.to_string(), UnitSystem::Metric))
}

#[test]
fn an_empty_history_has_nothing_to_take_back() {
    let layout = glasshouse();
    let mut history = History::default();
    assert_eq!(history.undo(&layout), Ok(None));
    assert_eq!(history.redo(&layout), Ok(None));
    assert_eq!((history.undo_name(), history.redo_name()), (None, None));
}

#[test]
fn steps_are_taken_back_and_made_again_in_order() {
    let start = glasshouse();
    let mut history = History::default();
    let first = history.commit(&start, raised(&start, 1.2)).unwrap();
    let second = history.commit(&first, raised(&first, 1.21)).unwrap();
    let to = |mm: u32| Some(format!("Set the crest of step-3 to {mm} mm"));
    assert_eq!(
        name(history.undo_name()),
        to(1210),
        "two, though of one number"
    );
    assert_eq!(history.undo(&second), Ok(Some(first.clone())));
    assert_eq!(
        (name(history.undo_name()), name(history.redo_name())),
        (to(1200), to(1210))
    );
    assert_eq!(history.undo(&first), Ok(Some(start.clone())));
    assert_eq!(history.redo(&start), Ok(Some(first.clone())));
    assert_eq!(history.redo(&first), Ok(Some(second.clone())));
    assert_eq!(history.redo(&second), Ok(None));
}

#[test]
fn a_new_step_forgets_what_was_taken_back() {
    let start = glasshouse();
    let mut history = History::default();
    let first = history.commit(&start, raised(&start, 1.2)).unwrap();
    history.undo(&first).unwrap();
    let other = history
        .commit(&start, title(&start, "Other").unwrap())
        .unwrap();
    assert_eq!(history.redo(&other), Ok(None));
    assert_eq!(history.undo(&other), Ok(Some(start)));
}

#[test]
fn what_changes_nothing_is_no_step() {
    let start = glasshouse();
    let mut history = History::default();
    let first = history.commit(&start, raised(&start, 1.2)).unwrap();
    history.undo(&first).unwrap();
    let same = history.commit(&start, units(&start, start.units).unwrap());
    assert_eq!(same, Ok(start.clone()));
    // There and back again within one edit.
    let mut round = raised(&start, 1.2);
    round.steps.extend(round.inverse().steps);
    assert_eq!(history.commit(&start, round), Ok(start.clone()));
    assert_eq!(history.undo_name(), None);
    assert_eq!(history.redo(&start), Ok(Some(first)));
}

#[test]
fn the_oldest_steps_are_forgotten() {
    let start = glasshouse();
    let mut history = History::with_limit(3);
    let mut layout = start.clone();
    for step in 0..5 {
        let edit = raised(&layout, 1.2 + 0.001 * f64::from(step));
        layout = history.commit(&layout, edit).unwrap();
    }
    for step in [3, 2, 1] {
        layout = history.undo(&layout).unwrap().unwrap();
        let wanted = raised(&start, 1.2 + 0.001 * f64::from(step)).apply(&start);
        assert_eq!(Ok(&layout), wanted.as_ref());
    }
    assert_eq!(history.undo(&layout), Ok(None));
}

#[test]
fn a_layout_that_is_another_is_refused_and_nothing_is_forgotten() {
    let start = glasshouse();
    let mut history = History::default();
    let first = history.commit(&start, raised(&start, 1.2)).unwrap();
    assert!(history.undo(&start).is_err());
    assert!(history.commit(&start, raised(&first, 1.3)).is_err());
    assert_eq!(history.undo(&first), Ok(Some(start.clone())));
    assert!(history.redo(&first).is_err());
    assert_eq!(history.redo(&start), Ok(Some(first.clone())));
    assert_eq!(
        read(&raised(&first, 1.3), &first, UnitSystem::Metric),
        "Set the crest of Cress upstand 3 to 1300 mm"
    );
}
