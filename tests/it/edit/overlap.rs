//! Vessels that stand in each other, and where there is room for more.

use crate::support::layouts::tank;
use fallwright::edit::{Shift, clear_of, excerpt};
use fallwright::geometry::{PlanPoint, overlap};
use fallwright::layout::{Layout, Place, Shape, Vessel};
use proptest::prelude::*;

fn square(x_m: f64, y_m: f64, half_m: f64) -> Vec<PlanPoint> {
    let corners = [(1.0, 1.0), (-1.0, 1.0), (-1.0, -1.0), (1.0, -1.0)];
    let spot = |(x, y): (f64, f64)| PlanPoint {
        x_m: x_m + x * half_m,
        y_m: y_m + y * half_m,
    };
    corners.map(spot).to_vec()
}

fn round(id: &str, x_m: f64, (floor_m, rim_m): (f64, f64)) -> Vessel {
    Vessel {
        shape: Shape::Round { diameter_m: 1.0 },
        place: Place {
            x_m,
            ..Place::default()
        },
        ..tank(id, floor_m, rim_m)
    }
}

fn of(vessels: Vec<Vessel>) -> Layout {
    Layout {
        vessels,
        ..Layout::default()
    }
}

#[test]
fn squares_that_touch_are_apart_and_such_as_reach_into_each_other_are_not() {
    let one = square(0.0, 0.0, 0.5);
    assert!(!overlap(&one, &square(1.0, 0.0, 0.5), 0.01));
    assert!(overlap(&one, &square(0.98, 0.0, 0.5), 0.01));
    // One inside the other.
    assert!(overlap(&one, &square(0.1, 0.1, 0.1), 0.01));
    // Corner to corner, but past it.
    assert!(!overlap(&one, &square(1.2, 1.2, 0.6), 0.11));
    assert!(!overlap(&one, &[], 0.01));
}

#[test]
fn a_copy_goes_past_what_stands_beside_it() {
    let all = vec![
        round("first", 0.0, (0.0, 0.5)),
        round("next", 1.3, (0.0, 0.5)),
    ];
    let layout = of(all);
    let step = Shift {
        x_m: 1.3,
        ..Shift::default()
    };
    let picked = excerpt(&layout, &["first".into()]);
    let by = clear_of(&layout, &picked, step, 1);
    assert!((by.x_m - 2.6).abs() < 1e-12, "{by:?}");
    // Where its place is free, as in another layout, it stays there.
    let empty = Layout::default();
    assert_eq!(clear_of(&empty, &picked, step, 0), Shift::default());
}

proptest! {
    #[test]
    fn prop_which_is_named_first_makes_no_difference(
        x in -3.0..3.0f64, y in -3.0..3.0f64, one in 0.1..2.0f64, other in 0.1..2.0f64,
    ) {
        let (a, b) = (square(0.0, 0.0, one), square(x, y, other));
        prop_assert_eq!(overlap(&a, &b, 0.0), overlap(&b, &a, 0.0));
        // Of squares in one line it can be said by their ends alone.
        let apart = x.abs().max(y.abs()) >= one + other;
        prop_assert_eq!(overlap(&a, &b, 0.0), !apart);
    }
}
