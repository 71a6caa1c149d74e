//! The picture under the plan is brought to scale by two points.

use fallwright::editor::underlay::{Scaling, Turning, laid, scaled};
use fallwright::geometry::PlanPoint;
use fallwright::layout::Underlay;
use proptest::prelude::*;

fn spot(x_m: f64, y_m: f64) -> PlanPoint {
    PlanPoint { x_m, y_m }
}

/// 10 mm a dot, its lower left corner at (1, 2), upright.
fn picture() -> Underlay {
    Underlay {
        file: "site.png".to_owned(),
        at: spot(1.0, 2.0),
        metres_per_pixel: 0.01,
        turned_deg: 0.0,
        strength: 0.4,
    }
}

fn near(a: PlanPoint, b: PlanPoint) -> bool {
    (a.x_m - b.x_m).abs() < 1e-9 && (a.y_m - b.y_m).abs() < 1e-9
}

/// By hand: points 3 m apart are 6 m apart in truth, so all is twice as large about the first of them. The
/// corner lay 1 m left of it and 1 m below; now 2 m each.
#[test]
fn two_points_and_their_distance_give_the_scale_and_the_first_stays() {
    let points = [spot(2.0, 3.0), spot(5.0, 3.0)];
    let after = scaled(&picture(), points, 6.0, Turning::AsItIs).unwrap();
    assert!((after.metres_per_pixel - 0.02).abs() < 1e-12);
    assert!(near(after.at, spot(0.0, 1.0)), "{after:?}");
    assert!(after.turned_deg.abs() < 1e-12);
    assert_eq!((after.file.as_str(), after.strength), ("site.png", 0.4));
}

/// By hand: a wall that runs from (2, 3) to (5, 6), at 45 degrees, is 8.485 m long in truth, which is twice
/// what it is now. Laid level, the picture is turned by −45 degrees about (2, 3): its corner, (−1, −1) from
/// there, comes to lie 2·√2 to the left of it, at its height.
#[test]
fn a_wall_is_laid_level_by_the_smaller_turn() {
    let points = [spot(2.0, 3.0), spot(5.0, 6.0)];
    let between_m = 72.0_f64.sqrt();
    let after = scaled(&picture(), points, between_m, Turning::Level).unwrap();
    assert!((after.metres_per_pixel - 0.02).abs() < 1e-12);
    assert!((after.turned_deg + 45.0).abs() < 1e-9);
    let wanted = spot(2.0 - 8.0_f64.sqrt(), 3.0);
    assert!(near(after.at, wanted), "{after:?}");
    // Clicked from right to left it is turned as little.
    let [first, second] = points;
    let back = scaled(&picture(), [second, first], between_m, Turning::Level).unwrap();
    assert!((back.turned_deg + 45.0).abs() < 1e-9);
}

#[test]
fn points_in_one_place_and_distances_that_are_none_are_refused() {
    let apart = [spot(2.0, 3.0), spot(5.0, 3.0)];
    for between_m in [0.0, -4.2, f64::NAN, f64::INFINITY] {
        let refused = scaled(&picture(), apart, between_m, Turning::AsItIs).unwrap_err();
        assert!(refused.what.contains("positive number"), "{refused}");
    }
    let one = [spot(2.0, 3.0), spot(2.0, 3.0)];
    let refused = scaled(&picture(), one, 4.2, Turning::Level).unwrap_err();
    assert!(refused.what.contains("one place"), "{refused}");
}

#[test]
fn the_two_clicks_are_asked_for_one_after_the_other() {
    let start = Scaling::default();
    assert!(start.asks().contains("one end"));
    assert!(start.done(&picture(), 4.2, Turning::AsItIs).is_err());
    let one = start.clicked(spot(2.0, 3.0));
    assert!(one.asks().contains("other end"));
    assert_eq!(one.points(), [spot(2.0, 3.0)]);
    // A second click in the same place is no second point.
    assert_eq!(one.clicked(spot(2.0, 3.0)), one);
    let both = one.clicked(spot(4.0, 3.0)).clicked(spot(5.0, 3.0));
    assert_eq!(both.points(), [spot(2.0, 3.0), spot(5.0, 3.0)]);
    assert!(both.asks().contains("the distance"));
    let after = both.done(&picture(), 6.0, Turning::AsItIs).unwrap();
    let points = [spot(2.0, 3.0), spot(5.0, 3.0)];
    assert_eq!(
        after,
        scaled(&picture(), points, 6.0, Turning::AsItIs).unwrap()
    );
}

#[test]
fn the_corners_of_a_turned_picture_go_round_its_lower_left_one() {
    let mut turned = picture();
    turned.turned_deg = 90.0;
    let found = turned.corners(300.0, 200.0);
    let wanted = [
        spot(1.0, 2.0),
        spot(1.0, 5.0),
        spot(-1.0, 5.0),
        spot(-1.0, 2.0),
    ];
    for (found, wanted) in found.into_iter().zip(wanted) {
        assert!(near(found, wanted), "{found:?} {wanted:?}");
    }
}

#[test]
fn a_picture_newly_laid_is_as_wide_as_its_room() {
    let new = laid("site.png".to_owned(), 2000.0, spot(-1.0, 0.5), 8.0);
    let found = new.corners(2000.0, 1000.0);
    assert!(near(found[0], spot(-1.0, 0.5)));
    assert!(near(found[2], spot(7.0, 4.5)));
    assert!(laid("no dots".to_owned(), 0.0, spot(0.0, 0.0), 8.0).metres_per_pixel > 0.0);
}

proptest! {
    /// Whatever the picture, the dot under the first point stays, and the two dots are as far apart as said.
    #[test]
    fn prop_the_first_point_stays_and_the_distance_is_as_said(
        at in (-50.0..50.0_f64, -50.0..50.0_f64),
        a in (-20.0..20.0_f64, -20.0..20.0_f64),
        b in (-20.0..20.0_f64, -20.0..20.0_f64),
        turned_deg in -360.0..360.0_f64,
        between_m in 0.1..100.0_f64,
        level in any::<bool>(),
    ) {
        let [a, b, at] = [a, b, at].map(|(x_m, y_m)| spot(x_m, y_m));
        prop_assume!((a.x_m - b.x_m).hypot(a.y_m - b.y_m) > 0.01);
        let before = Underlay { at, turned_deg, ..picture() };
        let lie = if level { Turning::Level } else { Turning::AsItIs };
        let after = scaled(&before, [a, b], between_m, lie).unwrap();
        // The dots under the two points, from the lower left corner, and where they are afterwards.
        let dot = |of: &Underlay, place: PlanPoint| {
            let (sin, cos) = of.turned_deg.to_radians().sin_cos();
            let (x_m, y_m) = (place.x_m - of.at.x_m, place.y_m - of.at.y_m);
            let scale = of.metres_per_pixel;
            ((x_m * cos + y_m * sin) / scale, (y_m * cos - x_m * sin) / scale)
        };
        let place = |of: &Underlay, (right, up): (f64, f64)| of.corners(right, up)[2];
        let [first, second] = [a, b].map(|point| place(&after, dot(&before, point)));
        prop_assert!((first.x_m - a.x_m).hypot(first.y_m - a.y_m) < 1e-6);
        let apart_m = (first.x_m - second.x_m).hypot(first.y_m - second.y_m);
        prop_assert!((apart_m - between_m).abs() < 1e-6);
        prop_assert!((-360.0..=360.0).contains(&after.turned_deg));
        if level {
            prop_assert!((first.y_m - second.y_m).abs() < 1e-6);
            let turn = (after.turned_deg - before.turned_deg).rem_euclid(360.0);
            prop_assert!(turn <= 90.0 + 1e-6 || turn >= 270.0 - 1e-6);
        }
    }
}
