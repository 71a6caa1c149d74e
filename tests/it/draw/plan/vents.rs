//! Vents from above, and what sits along a run where somebody said so.

use super::case::{Way, dry, name, page, reach, scene, ways};
use crate::support::layouts::{fitting, joint, valve};
use fallwright::draw::page::shape::{Ink, Point, Shape};
use fallwright::draw::plan::{Drawn, Floorplan, Pick, TouchArea, plan};
use fallwright::layout::{FittingUse, Layout, RunEnd, ValveUse};

/// A level run of 4 m round a corner, between two small tanks.
fn bent() -> Layout {
    let way = Way {
        id: "bent",
        through: &[(0.0, 0.0), (2.0, 0.0), (2.0, 2.0)],
        z_m: 1.0,
    };
    ways(&[way])
}

fn shapes<'d>(drawn: &'d Drawn, part: &str) -> Vec<&'d Shape> {
    super::case::marks(drawn, part)
        .into_iter()
        .map(|mark| &mark.shape)
        .collect()
}

fn stubs(drawn: &Drawn, part: &str, ink: Ink) -> Vec<(Point, Point)> {
    let walls = shapes(drawn, part)
        .into_iter()
        .filter_map(|shape| match shape {
            Shape::Line { points, stroke } if stroke.width == 1.2 && stroke.ink == ink => {
                match points[..] {
                    [foot, top] if foot.x == top.x => Some((foot, top)),
                    _ => None,
                }
            }
            _ => None,
        });
    walls.collect()
}

fn valves(drawn: &Drawn, part: &str) -> Vec<Point> {
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
    let mut tips: Vec<Point> = areas.collect();
    tips.dedup();
    tips
}

fn with_valve(at_m: Option<f64>, near: Option<RunEnd>) -> Vec<Point> {
    let mut layout = bent();
    layout.runs[0].valves = vec![ValveUse {
        at_m,
        near,
        ..valve("ball", 1.0)
    }];
    valves(&dry(&layout), "bent")
}

fn corner() -> Pick {
    Pick::Corner {
        run: "bent".into(),
        index: 0,
    }
}

#[test]
fn a_vent_is_a_stub_at_its_corner_that_can_be_touched() {
    let mut layout = bent();
    assert!(stubs(&dry(&layout), "bent", Ink::Line).is_empty());
    layout.runs[0].route[0].vented = true;
    layout.runs[0].route[0].vent_top_m = Some(1.4);
    let drawn = dry(&layout);
    let walls = stubs(&drawn, "bent", Ink::Line);
    assert_eq!(walls.len(), 2);
    let at = page(&layout, 2.0, 0.0);
    assert!((walls[0].0.y - at.y).abs() < 1e-6 && (walls[0].0.y - walls[0].1.y) > 10.0);
    assert!(((walls[0].0.x + walls[1].0.x) / 2.0 - at.x).abs() < 1e-6);
    let wanted = "Corner 1 of bent at 1000 mm, vented up to 1400 mm";
    assert_eq!(name(&drawn, &corner()), Some(wanted));
    assert!(matches!(
        reach(&drawn, &corner()),
        Some(TouchArea::Line { .. })
    ));
}

/// Whoever reads the names aloud finds each thing once, whatever is looked at.
#[test]
fn a_vent_is_one_thing_to_touch_where_its_run_is_looked_at() {
    let mut layout = bent();
    layout.runs[0].route[0].vented = true;
    layout.joints = vec![joint("tee", 0.5)];
    layout.joints[0].vented = true;
    let ground = Floorplan::of(&layout);
    let run = Pick::Part("bent".into());
    for selected in [vec![], vec![run], vec![corner()]] {
        let drawn = plan(&fallwright::draw::plan::PlanScene {
            selected: &selected,
            ..scene(&layout, &ground, None)
        });
        for pick in [corner(), Pick::Part("tee".into())] {
            let found = drawn.targets.iter().filter(|one| one.pick == pick);
            assert_eq!(found.count(), 1, "{pick:?} {selected:?}");
        }
        let told = name(&drawn, &corner());
        assert_eq!(told, Some("Corner 1 of bent at 1000 mm, vented"));
        let is_looked_at = selected.contains(&corner());
        let ink = if is_looked_at { Ink::Accent } else { Ink::Line };
        assert_eq!(stubs(&drawn, "bent", ink).len(), 2, "{selected:?}");
    }
    let tee = Pick::Part("tee".into());
    let drawn = dry(&layout);
    assert_eq!(name(&drawn, &tee), Some("tee, joint at 500 mm, vented"));
    assert_eq!(stubs(&drawn, "tee", Ink::Line).len(), 2);
}

#[test]
fn a_valve_sits_as_far_along_its_run_as_was_said() {
    let layout = bent();
    for (at_m, x_m, y_m) in [
        (0.0, 0.0, 0.0),
        (0.5, 0.5, 0.0),
        (2.0, 2.0, 0.0),
        (3.25, 2.0, 1.25),
        (4.0, 2.0, 2.0),
    ] {
        let found = with_valve(Some(at_m), None);
        assert_eq!(found.len(), 1);
        let wanted = page(&layout, x_m, y_m);
        assert!(found[0].distance(wanted) < 1e-6, "{at_m}");
    }
}

#[test]
fn a_valve_near_an_end_is_beside_that_vessel() {
    let layout = bent();
    let (from, to) = (
        with_valve(None, Some(RunEnd::From)),
        with_valve(None, Some(RunEnd::To)),
    );
    let (first, last) = (page(&layout, 0.0, 0.0), page(&layout, 2.0, 2.0));
    let radius = first.distance(page(&layout, 0.25, 0.0));
    for (found, end) in [(from, first), (to, last)] {
        let [centre] = found[..] else {
            panic!("one valve is wanted");
        };
        let off = centre.distance(end);
        assert!(off > radius && off < radius + 40.0, "{off} {radius}");
    }
}

#[test]
fn an_upright_leg_takes_its_share_of_the_length() {
    // 1 m level, 2 m down, 1 m level: what sits at 2 m is over what sits at 3 m.
    let way = Way {
        id: "bent",
        through: &[(0.0, 0.0), (1.0, 0.0), (1.0, 0.0), (2.0, 0.0)],
        z_m: 3.0,
    };
    let mut layout = ways(&[way]);
    let run = &mut layout.runs[0];
    run.route[1].z_m = 1.0;
    run.to.opening = Some(super::case::level_mouth(1.0));
    let mut at = |at_m: f64| {
        layout.runs[0].valves = vec![ValveUse {
            at_m: Some(at_m),
            ..valve("ball", 1.0)
        }];
        valves(&dry(&layout), "bent")[0]
    };
    let found = [0.5, 1.5, 2.5, 3.5].map(&mut at);
    let wanted = [0.5, 1.0, 1.0, 1.5].map(|x_m| page(&layout, x_m, 0.0));
    for (found, wanted) in found.iter().zip(wanted) {
        assert!(found.distance(wanted) < 1e-6, "{found:?} {wanted:?}");
    }
}

#[test]
fn a_fitting_is_drawn_where_it_was_put_and_nowhere_else() {
    let mut layout = bent();
    let bars = |layout: &Layout| {
        let drawn = dry(layout);
        let lines = shapes(&drawn, "bent").into_iter();
        lines
            .filter(|shape| matches!(shape, Shape::Line { stroke, .. } if stroke.width == 2.2))
            .count()
    };
    layout.runs[0].fittings = vec![fitting("union")];
    assert_eq!(bars(&layout), 0);
    layout.runs[0].fittings = vec![FittingUse {
        at_m: Some(1.0),
        ..fitting("union")
    }];
    assert_eq!(bars(&layout), 1);
}
