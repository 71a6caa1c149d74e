//! True to scale: what is a metre in the layout is as many points everywhere, in both directions.

use super::case::{Way, dry, page, place, reach, round, view, ways};
use crate::support::layouts::tank;
use fallwright::draw::page::shape::{Point, Shape, Text, pt};
use fallwright::draw::plan::{Floorplan, Pick, SheetOptions, TouchArea, sheet};
use fallwright::layout::{Layout, Place, Shape as Form, Vessel};
use fallwright::units::UnitSystem;

fn near(a: Point, b: Point) -> bool {
    a.distance(b) < 1e-6
}

fn beds() -> Layout {
    let bed = Vessel {
        shape: Form::Rectangular {
            length_m: 2.0,
            width_m: 0.8,
        },
        place: Place {
            turned_deg: 30.0,
            ..place(3.0, 1.0)
        },
        ..tank("bed", 0.0, 0.5)
    };
    Layout {
        vessels: vec![round("tub", (0.5, 0.5), 0.0), bed],
        ..Layout::default()
    }
}

#[test]
fn a_metre_is_as_long_along_as_up() {
    let view = view(&Floorplan::of(&beds()));
    let scale = view.points_per_metre_along;
    assert_eq!(scale, view.points_per_metre_up);
    let layout = beds();
    let (a, b) = (page(&layout, 0.0, 0.0), page(&layout, 3.0, 4.0));
    assert!((a.distance(b) - 5.0 * scale).abs() < 1e-9);
    assert!(b.x > a.x && b.y < a.y, "x goes right, y up the page");
}

#[test]
fn scales_stay_equal_when_the_page_is_moved_and_enlarged() {
    let mut view = view(&Floorplan::of(&beds()));
    for by in [1.7, 0.3, 11.0, 0.01, 900.0] {
        view = view.zoomed(by, pt(123.0, 77.0)).moved(-40.0, 13.0);
        let off = view.points_per_metre_along / view.points_per_metre_up - 1.0;
        assert!(off.abs() < 1e-12, "{off}");
    }
}

#[test]
fn a_round_vessel_is_a_circle_of_its_size() {
    let layout = beds();
    let scale = view(&Floorplan::of(&layout)).points_per_metre_up;
    let drawn = dry(&layout);
    match reach(&drawn, &Pick::Part("tub".into())) {
        Some(TouchArea::Disc { centre, radius }) => {
            assert!((radius - 0.25 * scale).abs() < 1e-9);
            assert!(near(*centre, page(&layout, 0.5, 0.5)));
        }
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_turned_vessel_is_turned_counter_clockwise_about_its_middle() {
    let layout = beds();
    let drawn = dry(&layout);
    let Some(TouchArea::Polygon(corners)) = reach(&drawn, &Pick::Part("bed".into())) else {
        panic!("no polygon");
    };
    // By hand: (1, 0.4) turned by 30° is (0.8660 − 0.2, 0.5 + 0.3464).
    let (cos, sin) = (30f64.to_radians().cos(), 0.5);
    for (along, across) in [(1.0, 0.4), (1.0, -0.4), (-1.0, 0.4), (-1.0, -0.4)] {
        let wanted = page(
            &layout,
            3.0 + along * cos - across * sin,
            1.0 + along * sin + across * cos,
        );
        assert!(
            corners.iter().any(|corner| near(*corner, wanted)),
            "{wanted:?} {corners:?}"
        );
    }
    assert_eq!(corners.len(), 4);
}

#[test]
fn every_shape_covers_what_it_covers() {
    let of = |shape: Form| {
        let mut layout = beds();
        layout.vessels[1].shape = shape;
        layout.vessels[1].place.turned_deg = 0.0;
        let scale = view(&Floorplan::of(&layout)).points_per_metre_up;
        let drawn = dry(&layout);
        let rect = reach(&drawn, &Pick::Part("bed".into())).unwrap().bounds();
        (rect.width() / scale, rect.height() / scale)
    };
    let row = |depth_m: f64, area_m2: f64| fallwright::layout::TableRow { depth_m, area_m2 };
    for (shape, (wide, deep)) in [
        (Form::Prism { area_m2: 2.25 }, (1.5, 1.5)),
        (
            Form::ConeBottom {
                diameter_m: 1.2,
                cone_height_m: 0.4,
            },
            (1.2, 1.2),
        ),
        (
            Form::LyingDrum {
                diameter_m: 0.6,
                length_m: 1.4,
            },
            (1.4, 0.6),
        ),
        (
            Form::Table {
                rows: vec![row(0.0, 1.0), row(0.2, 4.0), row(0.4, 2.0)],
            },
            (2.0, 2.0),
        ),
    ] {
        let found = of(shape.clone());
        assert!(
            (found.0 - wide).abs() < 1e-9 && (found.1 - deep).abs() < 1e-9,
            "{shape:?} {found:?}"
        );
    }
}

#[test]
fn a_pipe_is_as_wide_as_it_is_and_one_line_where_that_is_thin() {
    let layout = ways(&[Way {
        id: "way",
        through: &[(0.0, 0.0), (2.0, 0.0)],
        z_m: 1.0,
    }]);
    let scale = view(&Floorplan::of(&layout)).points_per_metre_up;
    let widths = |drawn: &fallwright::draw::plan::Drawn| -> Vec<f64> {
        let marks = super::case::marks(drawn, "way");
        marks
            .iter()
            .filter_map(|mark| match &mark.shape {
                Shape::Line { points, stroke } if points[0].distance(points[1]) > 30.0 => {
                    Some(stroke.width)
                }
                _ => None,
            })
            .collect()
    };
    // A bore of 0.1 m; its wall is taken for a twentieth of it on each side.
    let wide = widths(&dry(&layout));
    assert!(wide.len() >= 2, "{wide:?}");
    assert!((wide[0] - 0.11 * scale).abs() < 1e-9, "{wide:?}");
    assert!(wide[1] < wide[0], "{wide:?}");
    let mut thin = layout.clone();
    thin.runs[0].pipe = fallwright::layout::Pipe::Own {
        bore_m: 2.0 / scale,
        roughness_m: None,
        hazen_williams_c: None,
    };
    assert_eq!(widths(&dry(&thin)).len(), 1);
}

#[test]
fn a_sheet_has_a_round_scale_and_says_it() {
    let layout = ways(&[Way {
        id: "way",
        through: &[(0.0, 0.0), (8.0, 0.0)],
        z_m: 1.0,
    }]);
    for (units, page) in [
        (UnitSystem::Metric, (1190.55, 841.89)),
        (UnitSystem::Metric, (500.0, 400.0)),
        (UnitSystem::Us, (1190.55, 841.89)),
    ] {
        let drawing = sheet(&SheetOptions {
            layout: &layout,
            running: None,
            findings: &[],
            units,
            page,
        });
        let texts = drawing.marks.iter().filter_map(|mark| match &mark.shape {
            Shape::Text(Text { words, .. }) => Some(words),
            _ => None,
        });
        let note = texts
            .into_iter()
            .find(|words| words.contains("1 : "))
            .unwrap();
        let times = note
            .split("1 : ")
            .nth(1)
            .unwrap()
            .split(' ')
            .next()
            .unwrap();
        let times: f64 = times.parse().unwrap();
        let centres: Vec<Point> = drawing
            .marks
            .iter()
            .filter(|mark| {
                mark.part
                    .as_ref()
                    .is_some_and(|id| id.as_str().starts_with("way-"))
            })
            .filter_map(|mark| match mark.shape {
                Shape::Circle {
                    centre,
                    fill: Some(_),
                    ..
                } => Some(centre),
                _ => None,
            })
            .collect();
        // 8 m on paper, in inches of 72 points.
        let on_paper_m = centres[0].distance(centres[1]) / 72.0 * 0.0254;
        assert!(
            (on_paper_m * times - 8.0).abs() < 1e-6,
            "{note} {on_paper_m}"
        );
    }
}
