//! Tests of the system curve of the selected pump.

use super::{raised, session};
use fallwright::session::Freshness;

#[test]
fn a_system_curve_is_found_behind_and_is_old_while_something_is_dragged() {
    let mut session = session();
    assert!(session.system().is_none());
    let pump = "pump".into();
    session.look_at_system(Some(&pump));
    session.settle();
    let (found, fresh) = session.system().unwrap();
    let found = found.clone();
    assert!(found.clean.len() > 6 && fresh == Freshness::Preview);
    let edit = raised(session.layout(), 1.2);
    session.preview(&edit).unwrap();
    session.look_at_system(Some(&pump));
    assert_eq!(session.system(), Some((&found, Freshness::Stale)));
    session.settle();
    let (new, fresh) = session.system().unwrap();
    assert_eq!(fresh, Freshness::Preview);
    assert_ne!(
        *new, found,
        "the crest moves the levels that it lifts between"
    );
    session.look_at_system(None);
    assert!(session.system().is_none());
}
