//! What the pointer is on.

use fallwright::draw::page::shape::{Rect, pt};
use fallwright::draw::section::{Pick, TouchArea, TouchTarget};
use fallwright::editor::hit_at;
use fallwright::layout::RunEnd;

fn part(id: &str, reach: TouchArea) -> TouchTarget {
    TouchTarget {
        pick: Pick::Part(id.into()),
        reach,
        name: id.to_owned(),
    }
}

/// A vessel with a run through it, a crest on the run, and another vessel before it.
fn targets() -> Vec<TouchTarget> {
    let area = |left: f64| {
        TouchArea::Area(Rect {
            left,
            top: 0.0,
            right: left + 100.0,
            bottom: 100.0,
        })
    };
    let line = TouchArea::Line {
        points: vec![pt(50.0, 20.0), pt(50.0, 90.0), pt(200.0, 90.0)],
        half_width: 4.0,
    };
    let crest = TouchTarget {
        pick: Pick::Crest {
            run: "run".into(),
            end: RunEnd::From,
        },
        reach: TouchArea::Spot {
            centre: pt(50.0, 20.0),
            radius: 6.0,
        },
        name: "crest".to_owned(),
    };
    vec![
        part("behind", area(60.0)),
        part("vessel", area(0.0)),
        part("run", line),
        crest,
    ]
}

fn name(x: f64, y: f64) -> Option<String> {
    let targets = targets();
    hit_at(&targets, pt(x, y), 5.0).map(|target| target.name.clone())
}

#[test]
fn small_things_win_over_large_ones() {
    assert_eq!(name(50.0, 20.0).as_deref(), Some("crest"));
    assert_eq!(name(58.0, 26.0).as_deref(), Some("crest"));
    assert_eq!(name(52.0, 60.0).as_deref(), Some("run"));
    assert_eq!(name(20.0, 50.0).as_deref(), Some("vessel"));
}

#[test]
fn of_two_that_cover_each_other_the_front_one_is_hit() {
    assert_eq!(name(80.0, 50.0).as_deref(), Some("vessel"));
    assert_eq!(name(120.0, 50.0).as_deref(), Some("behind"));
}

#[test]
fn help_reaches_a_little_over_the_edge_and_no_further() {
    assert_eq!(name(180.0, 98.9).as_deref(), Some("run"));
    assert_eq!(name(180.0, 99.1), None);
    assert_eq!(name(300.0, 300.0), None);
    assert_eq!(name(f64::NAN, 0.0), None);
}

#[test]
fn round_and_turned_vessels_are_hit_where_they_are_and_not_in_the_corners_around_them() {
    let disc = TouchArea::Disc {
        centre: pt(50.0, 50.0),
        radius: 40.0,
    };
    let diamond = TouchArea::Polygon(vec![
        pt(200.0, 10.0),
        pt(240.0, 50.0),
        pt(200.0, 90.0),
        pt(160.0, 50.0),
    ]);
    let targets = vec![part("disc", disc), part("diamond", diamond)];
    let name = |x: f64, y: f64| hit_at(&targets, pt(x, y), 5.0).map(|target| target.name.clone());
    assert_eq!(name(50.0, 50.0).as_deref(), Some("disc"));
    assert_eq!(name(90.0, 50.0).as_deref(), Some("disc"), "on its edge");
    // 28.3 points off along both axes is on the circle; 29 is outside of it, and inside the square around it.
    assert_eq!(name(78.2, 78.2).as_deref(), Some("disc"));
    assert_eq!(name(79.0, 79.0), None);
    assert_eq!(name(200.0, 50.0).as_deref(), Some("diamond"));
    assert_eq!(name(219.0, 30.0).as_deref(), Some("diamond"));
    assert_eq!(name(221.0, 29.0), None);
    assert_eq!(name(240.0, 50.0).as_deref(), Some("diamond"), "on a corner");
}

#[test]
fn what_has_no_area_cannot_be_hit() {
    let line = TouchArea::Polygon(vec![pt(0.0, 0.0), pt(10.0, 0.0)]);
    let targets = vec![
        part("line", line),
        part("none", TouchArea::Polygon(Vec::new())),
    ];
    assert!(hit_at(&targets, pt(5.0, 0.0), 5.0).is_none());
}
