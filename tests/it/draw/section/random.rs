//! Layouts that nobody would build: whatever is data can be drawn.

use super::case::{PAGE, scene, water};
use crate::support::layouts::{at, bare, fixed, joint, pump, run, tank};
use fallwright::draw::page::shape::{Mark, Point, Rect, Shape};
use fallwright::draw::page::text;
use fallwright::draw::section::{Section, SectionLayout, section};
use fallwright::layout::{
    CrestKind, Direction, End, Layout, NotchShape, Opening, Place, Rise, Run, Shape as Form,
    TableRow, Turned, Vent, Vessel,
};
use proptest::prelude::*;

/// Lengths and heights, sensible and absurd, metres.
fn metres() -> impl Strategy<Value = f64> {
    prop_oneof![
        6 => -3.0..6.0f64,
        1 => -1e6..1e6f64,
        1 => -1e-6..1e-6f64,
        1 => Just(0.0),
    ]
}

fn form() -> impl Strategy<Value = Form> {
    let size = prop_oneof![4 => 0.1..4.0f64, 1 => 1e-3..1e3f64];
    prop_oneof![
        size.clone()
            .prop_map(|diameter_m| Form::Round { diameter_m }),
        size.clone().prop_map(|area_m2| Form::Prism { area_m2 }),
        (size.clone(), size.clone())
            .prop_map(|(length_m, width_m)| Form::Rectangular { length_m, width_m }),
        (size.clone(), size.clone()).prop_map(|(diameter_m, length_m)| Form::LyingDrum {
            diameter_m,
            length_m
        }),
        (size.clone(), 0.01..3.0f64).prop_map(|(diameter_m, cone_height_m)| Form::ConeBottom {
            diameter_m,
            cone_height_m
        }),
        (size.clone(), size, 0.1..2.0f64).prop_map(|(low, high, depth_m)| Form::Table {
            rows: vec![
                TableRow {
                    depth_m: 0.0,
                    area_m2: low
                },
                TableRow {
                    depth_m,
                    area_m2: high
                }
            ]
        }),
    ]
}

fn vessel(index: usize) -> impl Strategy<Value = Vessel> {
    let height = prop_oneof![5 => 0.05..2.0f64, 1 => 1e-3..1e3f64];
    let name = prop_oneof![
        Just(String::new()),
        "[A-Za-zА-я ]{1,80}",
        Just(format!("Bed {index}"))
    ];
    (name, form(), metres(), height, 0.0..1.0f64, metres()).prop_map(
        move |(name, shape, floor_m, height, fill, along_m)| Vessel {
            name,
            shape,
            fill_m: floor_m + fill * height,
            place: Place {
                along_m,
                ..Place::default()
            },
            ..tank(&format!("v{index}"), floor_m, floor_m + height)
        },
    )
}

fn opening() -> impl Strategy<Value = Opening> {
    let bore_m = None;
    let turned = prop_oneof![
        Just(Turned::Horizontal),
        Just(Turned::Up),
        Just(Turned::Down)
    ];
    prop_oneof![
        metres().prop_map(move |crest_m| Opening::Upstand { crest_m, bore_m }),
        metres().prop_map(|crest_m| Opening::Notch {
            crest_m,
            shape: NotchShape::Vee { angle_deg: 90.0 },
            weir: None,
        }),
        metres().prop_map(move |invert_m| Opening::SideHole { invert_m, bore_m }),
        proptest::option::of(metres()).prop_map(move |lip_m| Opening::Floor { lip_m, bore_m }),
        proptest::option::of(metres()).prop_map(move |lip_m| Opening::Submerged { lip_m, bore_m }),
        (metres(), turned).prop_map(move |(lip_m, turned)| Opening::Mouth {
            lip_m,
            turned,
            bore_m,
            air_gap: false
        }),
        (metres(), metres()).prop_map(|(intake_m, crest_m)| Opening::RaisedIntake {
            intake_m,
            crest_m,
            crest: CrestKind::default(),
            rise: Rise::default(),
            vent: Vent::default()
        }),
    ]
}

fn end(count: usize) -> impl Strategy<Value = End> {
    let part = 0..count + 2;
    (part, proptest::option::of(opening())).prop_map(move |(part, opening)| match part {
        part if part < count => match opening {
            Some(opening) => at(&format!("v{part}"), opening),
            None => bare(&format!("v{part}")),
        },
        part if part == count => bare("tee"),
        _ => bare("ditch"),
    })
}

fn any_run(index: usize, count: usize) -> impl Strategy<Value = Run> {
    (end(count), end(count), 0..4u8).prop_map(move |(from, to, lift)| {
        let mut run = run(&format!("r{index}"), from, to);
        if lift == 0 && index == 0 {
            run.pump = Some(pump(Direction::Backward));
        }
        run
    })
}

fn layout() -> impl Strategy<Value = Layout> {
    (0..10usize, 0..12usize)
        .prop_flat_map(|(vessels, runs)| {
            let all: Vec<_> = (0..vessels).map(vessel).collect();
            let ways: Vec<_> = (0..runs).map(|index| any_run(index, vessels)).collect();
            (all, ways, metres(), metres())
        })
        .prop_map(|(vessels, runs, tee_m, ditch_m)| Layout {
            title: "Whatever".to_owned(),
            vessels,
            runs,
            joints: vec![joint("tee", tee_m)],
            fixed: vec![fixed("ditch", ditch_m)],
            ..Layout::default()
        })
}

fn drawn(layout: &Layout) -> Section {
    let (plan, water) = (SectionLayout::of(layout), water(layout));
    section(&scene(layout, &plan, water.as_ref()))
}

fn corners(rect: Rect) -> Vec<Point> {
    rect.corners()
}

fn places(mark: &Mark) -> Vec<Point> {
    match &mark.shape {
        Shape::Line { points, .. } => points.clone(),
        Shape::Area { corners, .. } => corners.clone(),
        Shape::Box { rect, .. } => corners(*rect),
        Shape::Circle { centre, radius, .. } => vec![*centre, centre.moved(*radius, 0.0)],
        Shape::Text(text) => corners(text::bounds(text)),
    }
}

/// Labels and not the numbers of the staff.
fn labels(drawn: &Section) -> Vec<(String, Rect)> {
    let marks = drawn.drawing.marks.iter();
    marks
        .filter_map(|mark| match &mark.shape {
            Shape::Text(text) => Some((text.words.clone(), text::bounds(text))),
            _ => None,
        })
        .filter(|(_, rect)| rect.left > 45.0)
        .collect()
}

/// The first letters of a name, or of its id where it has none.
fn first_letters(vessel: &Vessel) -> String {
    let name = vessel.name.trim();
    let name = if name.is_empty() {
        vessel.id.as_str()
    } else {
        name
    };
    name.chars().take(2).collect::<String>().trim().to_owned()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn prop_every_shape_is_made_of_numbers(layout in layout()) {
        for mark in &drawn(&layout).drawing.marks {
            for place in places(mark) {
                prop_assert!(place.x.is_finite() && place.y.is_finite(), "{mark:?}");
            }
        }
    }

    #[test]
    fn prop_words_are_on_the_page_and_overlap_no_others(layout in layout()) {
        let drawn = drawn(&layout);
        let labels = labels(&drawn);
        for (words, rect) in &labels {
            prop_assert!(PAGE.grown(0.5).holds_all(*rect), "{words}: {rect:?}");
        }
        for (index, (words, rect)) in labels.iter().enumerate() {
            for (others, other) in labels.iter().skip(index + 1) {
                prop_assert!(!rect.grown(-0.5).overlaps(*other), "{words} and {others}");
            }
        }
    }

    #[test]
    fn prop_every_vessel_on_the_page_is_named(layout in layout()) {
        let drawn = drawn(&layout);
        for vessel in &layout.vessels {
            let target = drawn.targets.iter().find(|target| target.pick.part() == &vessel.id);
            let on_page = target.is_some_and(|target| PAGE.overlaps(target.reach.bounds().grown(0.5)));
            let words = super::case::words_of(&drawn.drawing, vessel.id.as_str());
            let named = words.iter().any(|words| words.trim().starts_with(&first_letters(vessel)));
            prop_assert!(named || !on_page, "{}: {words:?}", vessel.name);
        }
    }
}
