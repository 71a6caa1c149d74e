//! Layouts that nobody would build: whatever is data can be drawn.

use super::case::{PAGE, Way, dry, scene, view, water, ways};
use crate::support::random::{Flavour, layout as random};
use fallwright::draw::page::shape::{Mark, Point, Rect, Shape, pt};
use fallwright::draw::page::text;
use fallwright::draw::plan::{Drawn, Floorplan, PlanScene, plan};
use fallwright::layout::{Layout, Shape as Form};
use proptest::prelude::*;

fn places(mark: &Mark) -> Vec<Point> {
    match &mark.shape {
        Shape::Line { points, .. } => points.clone(),
        Shape::Area { corners, .. } => corners.clone(),
        Shape::Box { rect, .. } => rect.corners(),
        Shape::Circle { centre, radius, .. } => vec![*centre, centre.moved(*radius, 0.0)],
        Shape::Text(text) => text::bounds(text).corners(),
    }
}

fn bounds(mark: &Mark) -> Rect {
    match &mark.shape {
        Shape::Circle { centre, radius, .. } => Rect::between(*centre, *centre).grown(*radius),
        _ => Rect::around(&places(mark)),
    }
}

fn is_sound(drawn: &Drawn) -> Result<(), String> {
    for mark in &drawn.drawing.marks {
        if !places(mark)
            .iter()
            .all(|at| at.x.is_finite() && at.y.is_finite())
        {
            return Err(format!("no number: {mark:?}"));
        }
        // Wide lines and marks reach in from a little outside.
        if !PAGE.grown(80.0).overlaps(bounds(mark).grown(1.0)) {
            return Err(format!("off the page: {mark:?}"));
        }
    }
    Ok(())
}

#[test]
fn an_empty_layout_is_squared_paper() {
    let drawn = dry(&Layout::default());
    assert!(drawn.targets.is_empty());
    assert!(drawn.drawing.marks.len() > 20);
    assert!(drawn.drawing.marks.iter().all(|mark| mark.part.is_none()));
    is_sound(&drawn).unwrap();
}

#[test]
fn huge_and_tiny_layouts_are_drawn() {
    for scale in [1e-3, 1e-2, 1.0, 100.0, 2000.0] {
        let through = [(0.0, 0.0), (3.0, 0.0), (3.0, 2.0)].map(|(x, y)| (x * scale, y * scale));
        let mut layout = ways(&[Way {
            id: "way",
            through: &through,
            z_m: 1.0,
        }]);
        for vessel in &mut layout.vessels {
            vessel.shape = Form::Rectangular {
                length_m: 0.8 * scale,
                width_m: 0.5 * scale,
            };
        }
        let drawn = dry(&layout);
        is_sound(&drawn).unwrap();
        let first = drawn.targets.first().unwrap().reach.bounds();
        assert!(PAGE.grown(1.0).holds_all(first), "{scale}: {first:?}");
    }
}

#[test]
fn nothing_is_drawn_that_the_page_does_not_show_however_close_it_is_looked_at() {
    let layout = ways(&[
        Way {
            id: "one",
            through: &[(0.0, 0.0), (4.0, 1.0)],
            z_m: 1.0,
        },
        Way {
            id: "two",
            through: &[(0.0, 1.0), (4.0, 0.0)],
            z_m: 0.5,
        },
    ]);
    let ground = Floorplan::of(&layout);
    for zoom in [1.0, 10.0, 200.0, 1e6] {
        for about in [pt(540.0, 300.0), pt(80.0, 300.0), pt(1000.0, 40.0)] {
            let drawn = plan(&PlanScene {
                view: view(&ground).zoomed(zoom, about),
                ..scene(&layout, &ground, None)
            });
            is_sound(&drawn).unwrap();
            let far = drawn.drawing.marks.iter().flat_map(places);
            let farthest = far.map(|at| at.x.abs().max(at.y.abs())).fold(0.0, f64::max);
            assert!(farthest < 1e5, "{zoom}: {farthest}");
        }
    }
}

#[test]
fn random_layouts_are_drawn() {
    for seed in 0..12 {
        for flavour in [Flavour::Plain, Flavour::Wild] {
            let layout = random(seed, flavour);
            let drawn = dry(&layout);
            if let Err(what) = is_sound(&drawn) {
                panic!("{flavour:?} {seed}: {what}");
            }
        }
    }
}

#[test]
fn a_wild_layout_is_drawn_with_its_water() {
    let layout = random(3, Flavour::Wild);
    let (ground, water) = (Floorplan::of(&layout), water(&layout));
    let drawn = plan(&scene(&layout, &ground, water.as_ref()));
    is_sound(&drawn).unwrap();
}

/// Numbers, sensible and absurd, and what is no number at all.
fn metres() -> impl Strategy<Value = f64> {
    prop_oneof![
        8 => -5.0..5.0f64,
        1 => -2e4..2e4f64,
        1 => Just(0.0),
        1 => Just(f64::NAN),
        1 => Just(f64::INFINITY),
        1 => Just(1e300),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn prop_no_number_stops_the_drawing(numbers in prop::collection::vec(metres(), 12)) {
        let mut layout = ways(&[
            Way { id: "one", through: &[(0.0, 0.0), (1.0, 1.0), (4.0, 1.0)], z_m: 1.0 },
            Way { id: "two", through: &[(0.0, 1.0), (4.0, 0.0)], z_m: 0.5 },
        ]);
        layout.vessels[0].place.x_m = numbers[0];
        layout.vessels[0].place.turned_deg = numbers[1];
        layout.vessels[1].place.y_m = numbers[2];
        layout.vessels[1].floor_m = numbers[3];
        layout.vessels[2].shape = Form::Rectangular { length_m: numbers[4], width_m: numbers[5] };
        layout.vessels[3].shape = Form::Round { diameter_m: numbers[6] };
        layout.runs[0].route[0].x_m = numbers[7];
        layout.runs[0].route[0].z_m = numbers[8];
        layout.runs[1].pipe = fallwright::layout::Pipe::Own {
            bore_m: numbers[9],
            roughness_m: None,
            hazen_williams_c: None,
        };
        // The drawing itself leaves out what is no number: a file does, mark by mark.
        let text = fallwright::draw::output::svg::svg(&dry(&layout).drawing, fallwright::draw::page::theme::Theme::Light);
        prop_assert!(!text.contains("NaN") && !text.contains("inf"));
    }
}
