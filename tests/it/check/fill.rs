//! Whether the lowest vessel can be filled right.

use fallwright::check::no_room;
use fallwright::finding::{Code, Severity};
use fallwright::states::{FillMarks, Mark};

fn mark(water_m3: f64) -> Option<Mark> {
    Some(Mark {
        off_m: 0.5,
        on_m: 0.3,
        water_m3,
    })
}

fn marks(most: Option<Mark>, least: Option<Mark>) -> FillMarks {
    FillMarks {
        vessel: "sump".into(),
        pump: "pump".into(),
        most,
        least,
        cover_m: 0.1,
        evaporation_m3_s: 0.0,
        topped_up: false,
        first_fill_m3_s: None,
    }
}

#[test]
fn room_between_the_marks_is_no_news_and_none_at_all_is_allowed() {
    assert_eq!(no_room(&marks(mark(2.0), mark(1.5))), None);
    assert_eq!(no_room(&marks(mark(1.5), mark(1.5))), None);
}

#[test]
fn marks_that_cross_say_how_much_room_is_missing() {
    let found = no_room(&marks(mark(1.2), mark(1.5))).unwrap();
    assert_eq!(
        (found.code, found.severity),
        (Code::NoRoomToFill, Severity::Warning)
    );
    assert!((found.measured.unwrap() + 0.3).abs() < 1e-12);
    assert_eq!(found.limit, Some(0.0));
    assert_eq!(found.about[0].as_str(), "sump");
}

#[test]
fn a_mark_that_is_nowhere_is_told_without_a_number() {
    for marks in [marks(None, mark(1.0)), marks(mark(1.0), None)] {
        assert_eq!(no_room(&marks).unwrap().measured, None);
    }
}

#[test]
fn where_water_comes_by_itself_nobody_fills() {
    let mut marks = marks(None, None);
    marks.topped_up = true;
    assert_eq!(no_room(&marks), None);
}
