//! Tests of the set-height band of the selected crest.

use super::{raised, session};
use fallwright::layout::RunEnd;

#[test]
fn a_band_is_found_behind_and_holds_while_its_crest_is_dragged() {
    let mut session = session();
    assert!(session.band().is_none());
    let run = "step-3".into();
    session.look_at(Some((&run, RunEnd::From)));
    session.settle();
    let found = session.band().unwrap().clone();
    assert!(found.low_m < 1.155 && found.high_m > 1.155);
    let edit = raised(session.layout(), 1.3);
    session.preview(&edit).unwrap();
    session.look_at(Some((&run, RunEnd::From)));
    assert_eq!(session.band(), Some(&found));
    // Another crest is another band; none is none.
    session.drop_preview();
    let other = "step-4".into();
    session.look_at(Some((&other, RunEnd::From)));
    assert!(session.band().is_none());
    session.settle();
    assert!(session.band().unwrap().high_m < 1.06);
    session.look_at(None);
    assert!(session.band().is_none());
}
