//! The edit between two layouts: any two, and no larger than it must be.

use super::{glasshouse, made};
use crate::file::any_layout::layout as any_layout;
use fallwright::edit::Edit;
use fallwright::finding::Sentence;
use fallwright::layout::Layout;
use proptest::prelude::*;

fn between(before: &Layout, after: &Layout) -> Edit {
    Edit::between(Sentence::default(), before, after)
}

#[test]
fn only_what_differs_is_in_it() {
    let before = glasshouse();
    assert!(between(&before, &before).steps.is_empty());
    let mut after = before.clone();
    after.vessels[3].name = "Third".to_owned();
    after.runs.remove(5);
    after.runs.remove(1);
    let mut drain = before.runs[1].clone();
    drain.id = "second-overflow".into();
    after.runs.insert(2, drain);
    after.joints[0].elevation_m = 1.7;
    after.title.push('!');
    let edit = between(&before, &after);
    assert_eq!(edit.steps.len(), 6, "{:?}", edit.about());
    assert_eq!(made(&before, &edit), after);
}

#[test]
fn parts_may_change_their_order() {
    let before = glasshouse();
    let mut after = before.clone();
    after.vessels.reverse();
    after.runs.swap(2, 7);
    assert_eq!(made(&before, &between(&before, &after)), after);
}

#[test]
fn from_nothing_and_to_nothing() {
    let (nothing, all) = (Layout::default(), glasshouse());
    assert_eq!(made(&nothing, &between(&nothing, &all)), all);
    assert_eq!(made(&all, &between(&all, &nothing)), nothing);
}

proptest! {
    #[test]
    fn prop_it_leads_from_any_layout_to_any_other(before in any_layout(), after in any_layout()) {
        prop_assert_eq!(made(&before, &between(&before, &after)), after);
    }
}
