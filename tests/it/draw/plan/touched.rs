//! What can be touched on the plan, where it is and what it is called.

use super::case::{drawn, dry, name, page, place, reach, scene};
use crate::support::layouts::{fixed, joint};
use fallwright::draw::page::shape::Point;
use fallwright::draw::plan::{Drawn, Floorplan, Pick, TouchArea, plan};
use fallwright::editor::hit_at;
use fallwright::file::{Format, parse};
use fallwright::geometry::Corner;
use fallwright::layout::{Layout, RunEnd};
use std::collections::HashSet;

fn glasshouse() -> Layout {
    let text = include_str!("../../../../examples/glasshouse.ron");
    parse(text, Format::Ron).unwrap()
}

fn spot(drawn: &Drawn, pick: &Pick) -> Point {
    match reach(drawn, pick) {
        Some(TouchArea::Spot { centre, .. }) => *centre,
        other => panic!("{pick:?}: {other:?}"),
    }
}

#[test]
fn every_part_of_the_demo_can_be_touched_once() {
    let layout = glasshouse();
    let drawn = drawn(&layout);
    let picks: HashSet<&Pick> = drawn.targets.iter().map(|target| &target.pick).collect();
    assert_eq!(picks.len(), drawn.targets.len(), "no two are one pick");
    let vessels = layout.vessels.iter().map(|part| &part.id);
    let joints = layout.joints.iter().map(|part| &part.id);
    let runs = layout.runs.iter().map(|part| &part.id);
    for id in vessels.chain(joints).chain(runs) {
        assert!(picks.contains(&Pick::Part(id.clone())), "{id}");
    }
    assert!(picks.contains(&Pick::Part("pump".into())));
}

#[test]
fn ends_are_touched_at_their_places() {
    let layout = glasshouse();
    let drawn = drawn(&layout);
    for run in &layout.runs {
        for end in RunEnd::BOTH {
            let given = run.end(end);
            let pick = Pick::Crest {
                run: run.id.clone(),
                end,
            };
            if given.opening.is_none() {
                assert!(reach(&drawn, &pick).is_none(), "{}", run.id);
                continue;
            }
            if let Some(place) = given.place {
                let wanted = page(&layout, place.x_m, place.y_m);
                assert!(spot(&drawn, &pick).distance(wanted) < 1e-6, "{}", run.id);
            }
        }
    }
}

#[test]
fn corners_can_be_touched_where_their_run_is_looked_at() {
    let layout = glasshouse();
    let ground = Floorplan::of(&layout);
    let is_corner = |pick: &Pick| matches!(pick, Pick::Corner { .. });
    let corners = |drawn: &Drawn| {
        let targets = drawn.targets.iter();
        targets.filter(|target| is_corner(&target.pick)).count()
    };
    let lift = Pick::Part("lift".into());
    assert_eq!(corners(&dry(&layout)), 0);
    let hovered = plan(&fallwright::draw::plan::PlanScene {
        hovered: Some(&lift),
        ..scene(&layout, &ground, None)
    });
    let selected = [lift.clone()];
    let selected = plan(&fallwright::draw::plan::PlanScene {
        selected: &selected,
        ..scene(&layout, &ground, None)
    });
    let route = &layout.run(&"lift".into()).unwrap().route;
    for drawn in [&hovered, &selected] {
        assert_eq!(corners(drawn), route.len());
        for (index, Corner { x_m, y_m, .. }) in route.iter().enumerate() {
            let pick = Pick::Corner {
                run: "lift".into(),
                index,
            };
            assert!(spot(drawn, &pick).distance(page(&layout, *x_m, *y_m)) < 1e-6);
        }
    }
}

#[test]
fn names_say_what_it_is_with_its_numbers() {
    let layout = glasshouse();
    let drawn = drawn(&layout);
    let part = |id: &str| name(&drawn, &Pick::Part(id.into())).unwrap().to_owned();
    assert!(part("perch-1").starts_with("Perch tank 1, tank, 1.50 m across, level "));
    assert!(part("cress-2").starts_with("Cress bed 2, bed, 1.20 m by 2.00 m, level "));
    assert!(part("pump").starts_with("Circulation pump, ") && part("pump").contains(" at "));
    assert!(part("manifold-1").starts_with("Manifold 1, joint at 1648 mm"));
    let crest = Pick::Crest {
        run: "step-3".into(),
        end: RunEnd::From,
    };
    assert_eq!(
        name(&drawn, &crest),
        Some("Crest of Cress upstand 3, 1155 mm")
    );
}

#[test]
fn the_length_that_is_told_is_the_one_that_is_computed_with() {
    use fallwright::units::{Quantity, write};
    for text in [
        include_str!("../../../../examples/glasshouse.ron"),
        include_str!("../../../../examples/rain-cistern.ron"),
        include_str!("../../../../examples/two-beds.ron"),
    ] {
        let layout = parse(text, Format::Ron).unwrap();
        let water = super::case::water(&layout).unwrap();
        let ground = Floorplan::of(&layout);
        let drawn = plan(&scene(&layout, &ground, Some(&water)));
        for report in &water.runs {
            let told = name(&drawn, &Pick::Part(report.id.clone())).unwrap();
            let length = write(Quantity::Length, report.length_m, layout.units);
            assert!(
                told.contains(&format!(", {length} long")),
                "{told}: {length}"
            );
        }
    }
}

#[test]
fn a_turned_bed_is_hit_inside_and_not_in_the_corners_around_it() {
    let mut layout = glasshouse();
    layout.runs.clear();
    layout.vessels.retain(|part| part.id.as_str() == "cress-1");
    layout.vessels[0].place.turned_deg = 45.0;
    let drawn = dry(&layout);
    let hit = |dx: f64, dy: f64| {
        let at = page(&layout, 0.9 + dx, 2.4 + dy);
        hit_at(&drawn.targets, at, 0.0).is_some()
    };
    assert!(hit(0.0, 0.0));
    // Half its width of 2 m along the line at 135°.
    assert!(hit(-0.69, 0.69));
    assert!(!hit(-0.72, 0.72));
    assert!(hit(0.41, 0.41));
    assert!(!hit(0.44, 0.44));
}

#[test]
fn the_higher_of_two_vessels_that_stand_over_one_another_is_hit() {
    let mut layout = Layout {
        vessels: vec![
            super::case::round("tower", (1.0, 1.0), 1.0),
            super::case::round("sump", (1.1, 1.0), 0.0),
        ],
        joints: vec![joint("tee", 0.5)],
        fixed: vec![fixed("ditch", -0.5)],
        ..Layout::default()
    };
    layout.joints[0].place = place(3.0, 1.0);
    layout.fixed[0].place = place(4.0, 1.0);
    let drawn = dry(&layout);
    let hit = |x_m: f64| {
        let at = page(&layout, x_m, 1.0);
        hit_at(&drawn.targets, at, 0.0).map(|target| target.pick.part().to_string())
    };
    assert_eq!(hit(1.05).as_deref(), Some("tower"));
    assert_eq!(hit(1.3).as_deref(), Some("sump"));
    assert_eq!(hit(3.0).as_deref(), Some("tee"));
    assert_eq!(hit(4.0).as_deref(), Some("ditch"));
}

#[test]
fn the_sign_of_an_end_stays_to_be_seen_when_it_is_selected() {
    use fallwright::draw::page::shape::Shape;
    let layout = glasshouse();
    let ground = Floorplan::of(&layout);
    let crest = [Pick::Crest {
        run: "step-3".into(),
        end: RunEnd::From,
    }];
    let drawn = plan(&fallwright::draw::plan::PlanScene {
        selected: &crest,
        ..scene(&layout, &ground, None)
    });
    let at = spot(&drawn, &crest[0]);
    let marks = super::case::marks(&drawn, "step-3");
    let filled = marks.iter().filter_map(|mark| match mark.shape {
        Shape::Circle {
            centre,
            radius,
            fill: Some(_),
            ..
        } if centre.distance(at) < 1e-9 => Some(radius),
        _ => None,
    });
    // Smaller and smaller: the dot of a standing pipe is on top.
    let radii: Vec<f64> = filled.collect();
    assert!(
        radii.len() >= 2 && radii.is_sorted_by(|a, b| a >= b),
        "{radii:?}"
    );
}
