//! Vents on the section, and what sits along a run where somebody said so.

use super::case::{drawn, mouth, ring, view};
use crate::support::layouts::{bare, fitting, joint, run, valve};
use fallwright::draw::page::shape::{Ink, Point, Shape};
use fallwright::draw::section::{Pick, Section, SectionLayout, TouchArea};
use fallwright::geometry::Corner;
use fallwright::layout::{
    Direction, Equipment, EquipmentLoss, FittingUse, Layout, Pipe, RunEnd, Turned, ValveUse,
};

/// A ring whose way down has two corners; the second is vented.
fn vented(top_m: Option<f64>) -> Layout {
    let mut layout = ring();
    let down = &mut layout.runs[0];
    down.length_m = None;
    down.route = vec![
        Corner::at(0.0, 0.0, 1.8),
        Corner {
            vented: true,
            vent_top_m: top_m,
            ..Corner::at(1.0, 0.0, 1.9)
        },
    ];
    layout
}

fn shapes<'d>(drawn: &'d Section, part: &str) -> Vec<&'d Shape> {
    let marks = drawn.drawing.marks.iter();
    let of = marks.filter(|mark| mark.part.as_ref().is_some_and(|id| id.as_str() == part));
    of.map(|mark| &mark.shape).collect()
}

/// Foot and top of the walls of stubs.
fn stubs(drawn: &Section, part: &str) -> Vec<(Point, Point)> {
    let walls = shapes(drawn, part)
        .into_iter()
        .filter_map(|shape| match shape {
            Shape::Line { points, stroke } if stroke.width == 1.2 && stroke.ink == Ink::Line => {
                match points[..] {
                    [foot, top] if foot.x == top.x => Some((foot, top)),
                    _ => None,
                }
            }
            _ => None,
        });
    walls.collect()
}

fn corner(index: usize) -> Pick {
    Pick::Corner {
        run: "down".into(),
        index,
    }
}

fn line(drawn: &Section, part: &str) -> Vec<Point> {
    let pick = Pick::Part(part.into());
    let target = drawn.targets.iter().find(|one| one.pick == pick).unwrap();
    match &target.reach {
        TouchArea::Line { points, .. } => points.clone(),
        other => panic!("{other:?}"),
    }
}

/// How far along a line a point lies, as a share of its length on the page; it must lie on it.
fn along(line: &[Point], at: Point) -> f64 {
    let whole: f64 = line.windows(2).map(|leg| leg[0].distance(leg[1])).sum();
    let mut gone = 0.0;
    for leg in line.windows(2) {
        let (to, on, length) = (
            leg[0].distance(at),
            leg[1].distance(at),
            leg[0].distance(leg[1]),
        );
        if (to + on - length).abs() < 1e-6 {
            return (gone + to) / whole;
        }
        gone += length;
    }
    panic!("{at:?} is not on {line:?}")
}

/// The middles of the valves of a run.
fn valves(drawn: &Section, part: &str) -> Vec<Point> {
    let areas = shapes(drawn, part)
        .into_iter()
        .filter_map(|shape| match shape {
            Shape::Area {
                corners,
                edge: Some(edge),
                ..
            } if corners.len() == 3 && edge.width == 1.3 => Some(corners[0]),
            _ => None,
        });
    // Two triangles to a valve, tip to tip.
    let mut tips: Vec<Point> = areas.collect();
    tips.dedup();
    tips
}

#[test]
fn a_vent_stands_open_up_to_its_top() {
    let layout = vented(Some(2.35));
    let drawn = drawn(&layout);
    let view = view(&SectionLayout::of(&layout));
    let stubs = stubs(&drawn, "down");
    assert_eq!(
        stubs.len(),
        2,
        "a wall at each side and none across the top"
    );
    for (foot, top) in &stubs {
        assert!((top.y - view.y(2.35)).abs() < 1e-6);
        assert!((foot.y - view.y(1.9)).abs() < 6.0);
    }
    assert!(stubs[0].0.x < stubs[1].0.x);
    // It stands on the pipe.
    let foot = Point {
        x: (stubs[0].0.x + stubs[1].0.x) / 2.0,
        y: stubs[0].0.y,
    };
    along(&line(&drawn, "down"), foot);
}

#[test]
fn a_vent_without_a_top_is_short_and_without_a_vent_there_is_none() {
    let layout = vented(None);
    let short = stubs(&drawn(&layout), "down");
    assert_eq!(short.len(), 2);
    assert_eq!(short[0].0.y - short[0].1.y, 16.0);
    let mut layout = vented(None);
    layout.runs[0].route[1].vented = false;
    let drawn = drawn(&layout);
    assert!(stubs(&drawn, "down").is_empty());
    assert!(drawn.targets.iter().all(|target| target.pick != corner(1)));
}

#[test]
fn a_vent_over_everything_is_on_the_page() {
    let plain = SectionLayout::of(&vented(None)).bounds();
    let tall = SectionLayout::of(&vented(Some(9.0))).bounds();
    assert!(plain.high_m < 4.0 && tall.high_m > 9.0);
    let mut layout = ring();
    layout.joints = vec![joint("tee", 0.8)];
    layout.joints[0].vented = true;
    layout.joints[0].vent_top_m = Some(7.0);
    assert!(SectionLayout::of(&layout).bounds().high_m > 7.0);
}

#[test]
fn a_vent_is_touched_by_the_name_of_its_corner() {
    let drawn = drawn(&vented(Some(2.35)));
    let target = drawn.targets.iter().find(|one| one.pick == corner(1));
    let name = "Corner 2 of down at 1900 mm, vented up to 2350 mm";
    assert_eq!(target.map(|one| one.name.as_str()), Some(name));
    assert!(drawn.targets.iter().all(|one| one.pick != corner(0)));
}

#[test]
fn a_vented_joint_has_its_stub_and_says_so() {
    let mut layout = ring();
    layout.joints = vec![joint("tee", 0.8)];
    layout.joints[0].vented = true;
    let branch = run("branch", bare("tee"), under_water("sump"));
    layout.runs.push(branch);
    let with = drawn(&layout);
    assert_eq!(stubs(&with, "tee").len(), 2);
    let tee = Pick::Part("tee".into());
    let named: Vec<&str> = with
        .targets
        .iter()
        .filter(|one| one.pick == tee)
        .map(|one| one.name.as_str())
        .collect();
    assert_eq!(named, ["tee, vented"], "one thing to touch, not two");
}

fn under_water(part: &str) -> fallwright::layout::End {
    crate::support::layouts::at(part, mouth(0.4, Turned::Horizontal))
}

fn placed(at_m: Option<f64>, near: Option<RunEnd>) -> ValveUse {
    ValveUse {
        at_m,
        near,
        ..valve("ball", 1.0)
    }
}

fn with_valve(mut layout: Layout, at_m: Option<f64>, near: Option<RunEnd>) -> Section {
    layout.runs[0].valves = vec![placed(at_m, near)];
    drawn(&layout)
}

#[test]
fn a_valve_sits_as_far_along_its_run_as_was_said() {
    // By the route: at the vent, whose corner lies that far along.
    let layout = vented(None);
    let corners = layout.corners_of(&layout.runs[0]);
    let to_vent_m = fallwright::geometry::route_length_m(&corners[..3]);
    let shown = with_valve(layout.clone(), Some(to_vent_m), None);
    let walls = stubs(&shown, "down");
    let [centre] = valves(&shown, "down")[..] else {
        panic!("one valve is wanted");
    };
    assert!((centre.x - (walls[0].0.x + walls[1].0.x) / 2.0).abs() < 1e-6);
    assert!((centre.y - walls[0].0.y).abs() < 1e-6);
    // By its own length, whatever the drawing comes to: half of the way.
    let mut stretched = layout;
    stretched.runs[0].length_m = Some(100.0);
    let length_m = fallwright::geometry::route_length_m(&corners);
    let shown = with_valve(stretched, Some(100.0 * to_vent_m / length_m), None);
    let [same] = valves(&shown, "down")[..] else {
        panic!("one valve is wanted");
    };
    assert!(same.distance(centre) < 1e-6);
}

#[test]
fn a_valve_goes_along_a_run_that_nobody_drew() {
    let mut last = -1.0;
    for at_m in [0.0, 1.0, 2.0, 3.0, 4.0] {
        let shown = with_valve(ring(), Some(at_m), None);
        let [centre] = valves(&shown, "down")[..] else {
            panic!("one valve is wanted");
        };
        let share = along(&line(&shown, "down"), centre);
        assert!(share > last, "{at_m}: {share} {last}");
        last = share;
        match at_m {
            0.0 => assert_eq!(share, 0.0),
            4.0 => assert!((share - 1.0).abs() < 1e-9),
            _ => assert!(share > 0.05 && share < 0.95),
        }
    }
}

#[test]
fn a_valve_near_an_end_stands_just_outside_its_vessel() {
    let layout = ring();
    let shown = |near| {
        let drawn = with_valve(layout.clone(), None, Some(near));
        let [centre] = valves(&drawn, "down")[..] else {
            panic!("one valve is wanted");
        };
        (along(&line(&drawn, "down"), centre), centre)
    };
    let (from, to) = (shown(RunEnd::From), shown(RunEnd::To));
    assert!(
        0.0 < from.0 && from.0 < to.0 && to.0 < 1.0,
        "{from:?} {to:?}"
    );
    let plan = SectionLayout::of(&layout);
    let view = view(&plan);
    for (which, (_, centre)) in [(1, from), (2, to)] {
        let one = &plan.stand.vessels[which];
        let x = view.x(one.left_m())..view.x(one.right_m());
        let y = view.y(one.rim_m)..view.y(one.floor_m);
        assert!(!(x.contains(&centre.x) && y.contains(&centre.y)), "{which}");
    }
}

#[test]
fn two_valves_near_one_end_stand_side_by_side() {
    let mut layout = ring();
    layout.runs[0].valves = vec![placed(None, Some(RunEnd::From)); 2];
    let drawn = drawn(&layout);
    let [one, other] = valves(&drawn, "down")[..] else {
        panic!("two valves are wanted");
    };
    assert!(one.distance(other) > 5.0);
}

#[test]
fn a_filter_and_a_fitting_are_drawn_where_they_were_put() {
    let mut layout = ring();
    layout.runs[0].equipment = vec![Equipment {
        name: "Filter".to_owned(),
        clean: EquipmentLoss::Terms { a: 0.0, b: 1e5 },
        dirty: None,
        at_wash: None,
        wash_head_m: None,
        out: false,
        at_m: Some(2.0),
        near: None,
    }];
    let bars = |drawn: &Section| -> Vec<Point> {
        let lines = shapes(drawn, "down").into_iter();
        let middles = lines.filter_map(|shape| match shape {
            Shape::Line { points, stroke } if stroke.width == 2.2 => Some(Point {
                x: (points[0].x + points[1].x) / 2.0,
                y: (points[0].y + points[1].y) / 2.0,
            }),
            _ => None,
        });
        middles.collect()
    };
    let at = |at_m, near| FittingUse {
        at_m,
        near,
        ..fitting("union")
    };
    layout.runs[0].fittings = vec![at(None, None)];
    let before = drawn(&layout);
    assert!(
        bars(&before).is_empty(),
        "a fitting of no place is not drawn"
    );
    let boxed = shapes(&before, "down")
        .into_iter()
        .find_map(|shape| match shape {
            Shape::Box { rect, .. } => Some(*rect),
            _ => None,
        });
    let pipe = line(&before, "down");
    let middle = with_valve(layout.clone(), Some(2.0), None);
    let [centre] = valves(&middle, "down")[..] else {
        panic!("one valve is wanted");
    };
    assert!(
        boxed.unwrap().grown(1.0).holds(centre),
        "{boxed:?} {centre:?}"
    );
    layout.runs[0].fittings = vec![
        at(Some(1.0), None),
        FittingUse {
            kind: "entrance-sharp".to_owned(),
            ..at(None, Some(RunEnd::From))
        },
    ];
    let found = bars(&drawn(&layout));
    assert_eq!(found.len(), 1, "an entrance is its opening");
    along(&pipe, found[0]);
}

#[test]
fn a_check_valve_of_the_run_has_its_sign_once() {
    let mut layout = ring();
    layout.runs[0].check_valve = Some(Direction::Forward);
    let bars = |layout: &Layout| {
        let drawn = drawn(layout);
        let lines = shapes(&drawn, "down").into_iter();
        lines
            .filter(|shape| matches!(shape, Shape::Line { stroke, .. } if stroke.width == 1.8))
            .count()
    };
    let alone = bars(&layout);
    layout.runs[0].valves = vec![ValveUse {
        at_m: Some(3.0),
        ..valve("swing-check-straight", 1.0)
    }];
    assert_eq!(bars(&layout), alone);
}

#[test]
fn an_odd_run_with_a_place_is_drawn_without_a_fault() {
    // Ends in one place, no length, places anywhere, a route without length: nothing panics and all is finite.
    for at_m in [0.0, 4.0, f64::NAN, -3.0, 1e9] {
        let mut layout = vented(Some(f64::NAN));
        layout.runs[0].route = vec![
            Corner {
                vented: true,
                ..Corner::at(0.0, 0.0, 2.4)
            };
            3
        ];
        layout.runs[1].pipe = Pipe::Open;
        for run in &mut layout.runs {
            run.length_m = Some(0.0);
            run.valves = vec![placed(Some(at_m), None), placed(None, Some(RunEnd::To))];
        }
        let plan = SectionLayout::of(&layout);
        let drawn = fallwright::draw::section::section(&super::case::scene(&layout, &plan, None));
        assert!(!drawn.drawing.marks.is_empty());
    }
}
