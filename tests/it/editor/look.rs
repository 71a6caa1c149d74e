//! The view.

use approx::assert_abs_diff_eq;
use fallwright::draw::page::shape::{Rect, pt};
use fallwright::draw::page::view::{Bounds, View, at};
use fallwright::editor::ViewState;
use proptest::prelude::*;

const PAGE: Rect = Rect {
    left: 62.0,
    top: 8.0,
    right: 1062.0,
    bottom: 608.0,
};

const BOUNDS: Bounds = Bounds {
    left_m: 0.0,
    right_m: 20.0,
    low_m: -1.3,
    high_m: 2.5,
};

#[test]
fn everything_is_seen_until_somebody_moves_the_page() {
    let mut look = ViewState::default();
    for page in [
        PAGE,
        Rect {
            right: 700.0,
            ..PAGE
        },
    ] {
        let shown = look.on(page, BOUNDS).shown();
        assert!(shown.left_m <= 0.0 && shown.right_m >= 20.0);
        assert!(shown.low_m <= -1.3 && shown.high_m >= 2.5);
    }
    look.on(PAGE, BOUNDS);
    look.zoom(3.0, pt(500.0, 300.0));
    let close = look.on(PAGE, BOUNDS).shown();
    let all = View::fitting(BOUNDS, PAGE).shown();
    let share = (close.right_m - close.left_m) / (all.right_m - all.left_m);
    assert_abs_diff_eq!(share, 1.0 / 3.0, epsilon = 1e-9);
    look.fit();
    assert!(look.on(PAGE, BOUNDS).shown().right_m >= 20.0);
}

#[test]
fn on_a_page_of_another_size_the_middle_stays() {
    let mut look = ViewState::default();
    look.on(PAGE, BOUNDS);
    look.pan(37.0, -12.0);
    let before = look.on(PAGE, BOUNDS);
    let middle = before.section_from_page(PAGE.centre());
    let smaller = Rect {
        right: 800.0,
        bottom: 400.0,
        ..PAGE
    };
    let after = look.on(smaller, BOUNDS);
    let now = after.section_from_page(smaller.centre());
    assert_abs_diff_eq!(middle.along_m, now.along_m, epsilon = 1e-9);
    assert_abs_diff_eq!(middle.z_m, now.z_m, epsilon = 1e-9);
    // All that was seen is.
    let (wide, shown) = (before.shown(), after.shown());
    assert!(shown.left_m <= wide.left_m && shown.right_m >= wide.right_m);
    assert!(shown.low_m <= wide.low_m + 1e-9 && shown.high_m >= wide.high_m - 1e-9);
    let stretch = |view: View| view.points_per_metre_up / view.points_per_metre_along;
    assert_abs_diff_eq!(stretch(before), stretch(after), epsilon = 1e-9);
    // On the first page it lies as it did.
    assert_eq!(look.on(PAGE, BOUNDS), before);
}

#[test]
fn what_is_hidden_is_brought_into_view_and_what_is_seen_stays() {
    let mut look = ViewState::default();
    look.on(PAGE, BOUNDS);
    look.zoom(8.0, pt(100.0, 300.0));
    let view = look.on(PAGE, BOUNDS);
    let far = view.page_from_section(at(18.0, 1.0));
    assert!(!PAGE.holds(far));
    look.bring(Rect::between(far, far));
    let view = look.on(PAGE, BOUNDS);
    assert!(PAGE.holds(view.page_from_section(at(18.0, 1.0))));
    let seen = view.page_from_section(at(18.1, 1.0));
    look.bring(Rect::between(seen, seen));
    assert_eq!(look.on(PAGE, BOUNDS), view);
}

proptest! {
    #[test]
    fn prop_the_page_and_the_section_are_each_others_inverse(
        along in -1e3..1e3f64, z in -1e3..1e3f64, by in 0.01..100.0f64, x in 62.0..1062.0f64, y in 8.0..608.0f64,
    ) {
        let view = View::fitting(BOUNDS, PAGE).zoomed(by, pt(x, y));
        let back = view.section_from_page(view.page_from_section(at(along, z)));
        prop_assert!((back.along_m - along).abs() < 1e-6 && (back.z_m - z).abs() < 1e-6);
        // What was under the pointer still is.
        let fitted = View::fitting(BOUNDS, PAGE);
        let held = fitted.section_from_page(pt(x, y));
        let now = view.page_from_section(held);
        prop_assert!((now.x - x).abs() < 1e-6 && (now.y - y).abs() < 1e-6);
    }

    #[test]
    fn prop_nothing_makes_a_view_that_is_not_finite(
        by in proptest::num::f64::ANY, dx in proptest::num::f64::ANY, x in proptest::num::f64::ANY,
    ) {
        let view = View::fitting(BOUNDS, PAGE).zoomed(by, pt(x, 0.0)).moved(dx, by).zoomed(by, pt(0.0, 0.0));
        prop_assert!(view.corner.along_m.is_finite() && view.corner.z_m.is_finite());
        prop_assert!(view.points_per_metre_up.is_finite() && view.points_per_metre_up > 0.0);
        prop_assert!(view.points_per_metre_along.is_finite() && view.points_per_metre_along > 0.0);
    }
}
