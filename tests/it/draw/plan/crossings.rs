//! Where runs cross: found exactly, and the lower one interrupted.

use super::case::{Way, dry, marks, page, ways};
use fallwright::draw::page::shape::{Point, Shape};
use fallwright::draw::plan::{Crossing, Floorplan};
use fallwright::layout::Layout;

fn found(layout: &Layout) -> Vec<Crossing> {
    Floorplan::of(layout).crossings()
}

fn way<'a>(id: &'a str, through: &'a [(f64, f64)], z_m: f64) -> Way<'a> {
    Way { id, through, z_m }
}

#[test]
fn two_runs_that_cross_do_so_at_one_place_the_lower_under_the_higher() {
    let layout = ways(&[
        way("high", &[(0.0, 0.0), (4.0, 2.0)], 1.0),
        way("low", &[(0.0, 2.0), (4.0, 0.0)], 0.4),
    ]);
    let crossings = found(&layout);
    assert_eq!(crossings.len(), 1);
    let Crossing { under, over, at } = crossings[0];
    assert_eq!((under, over), (1, 0));
    assert!(
        (at.x_m - 2.0).abs() < 1e-12 && (at.y_m - 1.0).abs() < 1e-12,
        "{at:?}"
    );
    assert!((at.z_m - 0.4).abs() < 1e-12);
}

#[test]
fn of_two_at_one_height_the_later_gives_way() {
    let layout = ways(&[
        way("one", &[(0.0, 1.0), (4.0, 1.0)], 1.0),
        way("two", &[(1.0, 0.0), (1.0, 3.0)], 1.0),
    ]);
    let crossings = found(&layout);
    assert_eq!(crossings.len(), 1);
    assert_eq!((crossings[0].under, crossings[0].over), (1, 0));
}

#[test]
fn parallels_ends_that_touch_and_tees_are_no_crossings() {
    let straight = [(0.0, 0.0), (4.0, 0.0)];
    let cases: [(&str, &[(f64, f64)]); 6] = [
        ("parallel", &[(0.0, 1.0), (4.0, 1.0)]),
        ("along it", &[(1.0, 0.0), (3.0, 0.0)]),
        ("the same", &[(0.0, 0.0), (4.0, 0.0)]),
        ("end to end", &[(4.0, 0.0), (6.0, 3.0)]),
        ("a tee", &[(2.0, 0.0), (2.0, 3.0)]),
        (
            "a corner that touches",
            &[(1.0, 2.0), (2.0, 0.0), (3.0, 2.0)],
        ),
    ];
    for (case, other) in cases {
        let layout = ways(&[way("straight", &straight, 1.0), way("other", other, 0.5)]);
        assert_eq!(found(&layout), Vec::new(), "{case}");
    }
}

#[test]
fn a_corner_on_another_run_is_a_crossing_where_the_run_goes_on_to_its_other_side() {
    let layout = ways(&[
        way("straight", &[(0.0, 0.0), (4.0, 0.0)], 1.0),
        way("other", &[(1.0, 2.0), (2.0, 0.0), (2.5, -2.0)], 0.5),
    ]);
    let crossings = found(&layout);
    assert_eq!(crossings.len(), 1, "{crossings:?}");
    let at = crossings[0].at;
    assert!((at.x_m - 2.0).abs() < 1e-9 && at.y_m.abs() < 1e-9, "{at:?}");
    // The same the other way about.
    let layout = ways(&[
        way("other", &[(1.0, 2.0), (2.0, 0.0), (2.5, -2.0)], 0.5),
        way("straight", &[(0.0, 0.0), (4.0, 0.0)], 1.0),
    ]);
    assert_eq!(found(&layout).len(), 1);
}

#[test]
fn a_miss_by_a_hair_is_a_miss_and_a_cut_by_a_hair_a_crossing() {
    for (end, count) in [(1e-6, 0), (-1e-6, 1)] {
        let layout = ways(&[
            way("straight", &[(0.0, 0.0), (4.0, 0.0)], 1.0),
            way("other", &[(2.0, 3.0), (2.0, end)], 0.5),
        ]);
        assert_eq!(found(&layout).len(), count, "{end}");
    }
}

#[test]
fn a_run_that_crosses_itself_passes_under_itself() {
    let loop_back = [(0.0, 0.0), (3.0, 0.0), (3.0, 2.0), (1.0, 2.0), (1.0, -2.0)];
    let layout = ways(&[way("loop", &loop_back, 1.0)]);
    let crossings = found(&layout);
    assert_eq!(crossings.len(), 1);
    assert_eq!((crossings[0].under, crossings[0].over), (0, 0));
}

#[test]
fn heights_count_where_they_cross_and_not_at_the_ends() {
    // One falls from 2 to 0 and is at 0.5 where it passes the other at 1.
    let mut layout = ways(&[
        way("level", &[(3.0, -1.0), (3.0, 1.0)], 1.0),
        way("falling", &[(0.0, 0.0), (4.0, 0.0)], 2.0),
    ]);
    layout.runs[1].to.opening = Some(super::case::level_mouth(0.0));
    let crossings = found(&layout);
    assert_eq!((crossings[0].under, crossings[0].over), (1, 0));
    assert!((crossings[0].at.z_m - 0.5).abs() < 1e-12);
}

/// Every straight piece that is drawn for a run.
fn pieces(layout: &Layout, run: &str) -> Vec<(Point, Point)> {
    let drawn = dry(layout);
    let lines = marks(&drawn, run)
        .into_iter()
        .filter_map(|mark| match &mark.shape {
            Shape::Line { points, .. } => Some(points.clone()),
            _ => None,
        });
    lines
        .flat_map(|points| {
            points
                .windows(2)
                .map(|pair| (pair[0], pair[1]))
                .collect::<Vec<_>>()
        })
        .collect()
}

fn is_drawn_at(layout: &Layout, run: &str, (x_m, y_m): (f64, f64)) -> bool {
    let at = page(layout, x_m, y_m);
    pieces(layout, run)
        .iter()
        .any(|(from, to)| (from.distance(at) + at.distance(*to) - from.distance(*to)).abs() < 1e-3)
}

#[test]
fn the_lower_run_is_interrupted_and_the_higher_is_not() {
    let layout = ways(&[
        way("high", &[(0.0, 1.0), (4.0, 1.0)], 1.0),
        way("low", &[(2.0, 0.0), (2.0, 3.0)], 0.4),
    ]);
    assert!(is_drawn_at(&layout, "high", (2.0, 1.0)));
    assert!(!is_drawn_at(&layout, "low", (2.0, 1.0)));
    assert!(is_drawn_at(&layout, "low", (2.0, 0.6)));
    assert!(is_drawn_at(&layout, "low", (2.0, 1.4)));
}

#[test]
fn a_run_under_a_vessel_is_dashed_there_and_nowhere_else() {
    use fallwright::draw::page::shape::Dash;
    let mut layout = ways(&[way("under", &[(0.0, 0.0), (6.0, 0.0)], 0.4)]);
    let mut above = super::case::round("above", (3.0, 0.0), 1.0);
    above.shape = fallwright::layout::Shape::Round { diameter_m: 2.0 };
    layout.vessels.push(above);
    let drawn = dry(&layout);
    let dashed: Vec<_> = marks(&drawn, "under")
        .into_iter()
        .filter_map(|mark| match &mark.shape {
            Shape::Line { points, stroke } if stroke.dash == Dash::Dashed => Some(points.clone()),
            _ => None,
        })
        .collect();
    assert_eq!(dashed.len(), 1);
    let (from, to) = (page(&layout, 2.0, 0.0), page(&layout, 4.0, 0.0));
    assert!(dashed[0][0].distance(from) < 1e-6 && dashed[0][1].distance(to) < 1e-6);
    // Over its floor nothing is hidden.
    layout.vessels.last_mut().unwrap().floor_m = 0.3;
    let drawn = dry(&layout);
    let hides = marks(&drawn, "under").into_iter().any(
        |mark| matches!(&mark.shape, Shape::Line { stroke, .. } if stroke.dash == Dash::Dashed),
    );
    assert!(!hides);
}
