//! Vessels that stand in one place: in the plan and in height.

use crate::support::layouts::{at, findings_with_cures, run, tank, upstand};
use fallwright::finding::{Code, Finding, Severity};
use fallwright::layout::{Layout, Pipe, Place, Shape, TOUCH_M, Vessel};

/// A square of a metre, its middle here, from floor to rim.
fn square(id: &str, x_m: f64, (floor_m, rim_m): (f64, f64)) -> Vessel {
    Vessel {
        shape: Shape::Rectangular {
            length_m: 1.0,
            width_m: 1.0,
        },
        place: Place {
            x_m,
            y_m: 2.0,
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

fn found(layout: &Layout) -> Vec<Finding> {
    let all = findings_with_cures(layout);
    let all = all.into_iter();
    all.filter(|one| one.code == Code::VesselsOverlap).collect()
}

fn both(x_m: f64, heights_m: (f64, f64)) -> Vec<Finding> {
    let first = square("first", 1.0, (0.0, 0.5));
    found(&of(vec![first, square("second", x_m, heights_m)]))
}

#[test]
fn vessels_in_one_place_are_told_with_how_far_they_reach_into_each_other() {
    let told = both(1.8, (0.1, 0.6));
    let [one] = &told[..] else { panic!("{told:?}") };
    assert_eq!(one.severity, Severity::Warning);
    let about: Vec<&str> = one.about.iter().map(|id| id.as_str()).collect();
    assert_eq!(about, ["first", "second"]);
    assert!((one.measured.unwrap() - 0.2).abs() < 1e-9);
    assert_eq!(one.limit, Some(TOUCH_M));
    // In height they reach into each other by less.
    let told = both(1.1, (0.45, 1.0));
    assert!((told[0].measured.unwrap() - 0.05).abs() < 1e-9);
}

#[test]
fn vessels_that_touch_and_such_as_stand_over_each_other_are_not_told() {
    assert!(both(2.0, (0.0, 0.5)).is_empty());
    assert!(both(3.0, (0.0, 0.5)).is_empty());
    assert!(both(1.0, (0.5, 1.0)).is_empty());
}

#[test]
fn what_stands_on_the_limit_is_allowed() {
    assert!(both(2.0 - TOUCH_M, (0.0, 0.5)).is_empty());
    assert!(both(1.0, (0.5 - TOUCH_M, 1.0)).is_empty());
    assert_eq!(both(2.0 - 1.1 * TOUCH_M, (0.0, 0.5)).len(), 1);
    assert_eq!(both(1.0, (0.5 - 1.1 * TOUCH_M, 1.0)).len(), 1);
}

#[test]
fn vessels_without_a_place_in_the_plan_stand_nowhere() {
    let mut layout = of(vec![
        square("first", 1.0, (0.0, 0.5)),
        square("second", 1.2, (0.0, 0.5)),
    ]);
    for vessel in &mut layout.vessels {
        vessel.place = Place::default();
    }
    assert!(found(&layout).is_empty());
    layout.vessels[0].place.x_m = 0.2;
    assert!(found(&layout).is_empty());
    layout.vessels[1].place.x_m = 0.2;
    assert_eq!(found(&layout).len(), 1);
}

#[test]
fn vessels_that_are_meant_to_stand_in_each_other_are_not_told() {
    let mut layout = of(vec![
        square("pit", 1.0, (0.0, 1.0)),
        square("basket", 1.0, (0.2, 0.8)),
    ]);
    assert_eq!(found(&layout).len(), 1);
    layout.vessels[1].spills_to = Some("pit".into());
    assert!(found(&layout).is_empty());
    layout.vessels[1].spills_to = None;
    layout.runs = vec![run(
        "wall",
        at("basket", upstand(0.7)),
        at("pit", upstand(0.9)),
    )];
    assert_eq!(found(&layout).len(), 1);
    layout.runs[0].pipe = Pipe::Open;
    assert!(found(&layout).is_empty());
}

#[test]
fn nothing_in_an_example_stands_in_anything() {
    let files = std::fs::read_dir("examples").unwrap();
    let files = files.map(|file| file.unwrap().path());
    let files = files.filter(|file| file.extension().is_some_and(|end| end == "ron"));
    let mut count = 0;
    for file in files {
        let layout = fallwright::file::read(&file).unwrap();
        assert!(found(&layout).is_empty(), "{}", file.display());
        count += 1;
    }
    assert!(count >= 4);
}
