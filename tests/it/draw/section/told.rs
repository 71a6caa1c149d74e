//! What the section tells: names, levels, heights on the staff, spills, and how far to trust it.

use super::case::{PAGE, drawn, named, ring, scene, texts, view, water, words_of};
use fallwright::draw::page::shape::{Dash, Drawing, Ink, Point, Rect, Shape, Text};
use fallwright::draw::page::text;
use fallwright::draw::page::view::View;
use fallwright::draw::section::{
    Pick, Section, SectionLayout, SectionScene, TouchArea, Trust, room, section,
};
use fallwright::file::{Format, parse};
use fallwright::layout::Layout;
use fallwright::states::report::WithSpill;
use fallwright::units::UnitSystem;

/// The ring with a bed whose drain is far too small, and water enough to fill it.
fn spilling() -> Layout {
    let mut layout = ring();
    layout.vessels[0].shape = fallwright::layout::Shape::Prism { area_m2: 30.0 };
    let drain = layout.runs.iter_mut().find(|run| run.id.as_str() == "back");
    let drain = drain.expect("the drain of the bed");
    drain.pipe = fallwright::layout::Pipe::Own {
        bore_m: 0.01,
        roughness_m: None,
        hazen_williams_c: None,
    };
    layout
}

#[test]
fn every_name_and_level_is_told_on_a_page_of_twenty_five() {
    let mut layout = ring();
    layout.runs.clear();
    layout.vessels = (0..25)
        .map(|index| {
            let floor_m = 3.0 - f64::from(index) * 0.12;
            named(&format!("v{index}"), &format!("Step pool {index}"), floor_m)
        })
        .collect();
    let drawn = drawn(&layout);
    for vessel in &layout.vessels {
        let words = words_of(&drawn.drawing, vessel.id.as_str());
        let level = |words: &String| words.trim_end_matches(" mm").parse::<f64>().is_ok();
        assert!(words.iter().any(level), "{words:?}");
        assert!(words.join(" ").contains(&vessel.name), "{words:?}");
    }
}

#[test]
fn a_name_of_eighty_letters_is_told() {
    let mut layout = ring();
    layout.vessels[0].name = "abcdefgh".repeat(10);
    layout.vessels[1].name = "Верхний аквариум".to_owned();
    layout.vessels[2].name = "  ".to_owned();
    let drawn = drawn(&layout);
    let told = |id: &str| words_of(&drawn.drawing, id);
    assert!(
        told("sump")
            .iter()
            .any(|words| words.starts_with("abcdefgh"))
    );
    assert!(told("header").join(" ").contains("Верхний аквариум"));
    assert!(told("bed").contains(&"bed".to_owned()), "no name: its id");
}

/// What is drawn of the bed after so much ran over its rim, m³, of 30 m³.
fn after_losing(lost_m3: f64) -> Vec<Shape> {
    let layout = spilling();
    let (plan, mut water) = (
        SectionLayout::of(&layout),
        water(&layout).expect("it solves"),
    );
    for one in &mut water.vessels {
        one.volume_m3 = Some(10.0);
        one.with_spill = Some(WithSpill {
            level_m: one.rim_m,
            spill_m3_s: 0.0,
            lost_m3: if one.id.as_str() == "bed" {
                lost_m3
            } else {
                0.0
            },
            first_spill_s: None,
        });
    }
    let drawn = section(&scene(&layout, &plan, Some(&water)));
    let marks = drawn.drawing.marks.into_iter();
    let of_bed = marks.filter(|mark| mark.part.as_ref().is_some_and(|id| id.as_str() == "bed"));
    of_bed.map(|mark| mark.shape).collect()
}

#[test]
fn a_splash_is_told_without_the_sign_and_the_colour_of_a_problem() {
    let is_loud = |shape: &Shape| match shape {
        Shape::Area { fill, .. } => *fill == Some(Ink::Problem),
        Shape::Line { stroke, .. } => stroke.ink == Ink::Problem,
        Shape::Text(text) => text.ink == Ink::Problem,
        _ => false,
    };
    let (splash, flood) = (after_losing(0.0009), after_losing(0.004));
    assert!(flood.iter().any(is_loud));
    assert!(!splash.iter().any(is_loud), "{splash:?}");
    let told = splash
        .iter()
        .any(|shape| matches!(shape, Shape::Text(text) if text.words.starts_with("has spilled")));
    assert!(told, "{splash:?}");
}

/// Numbers of the staff with the height of their middle on the page.
fn staff(drawing: &Drawing) -> Vec<(String, f64)> {
    let all = texts(drawing).into_iter();
    all.filter(|text| text.at.x < 40.0)
        .map(|one| {
            (
                one.words.clone(),
                one.at.y - text::cap_height(one.size) / 2.0,
            )
        })
        .collect()
}

#[test]
fn numbers_on_the_staff_stand_at_their_height() {
    let (layout, plan) = (ring(), SectionLayout::of(&ring()));
    for (units, unit, metres) in [
        (UnitSystem::Metric, " m", 1.0),
        (UnitSystem::Us, " ft", 0.3048),
    ] {
        let drawn = section(&fallwright::draw::section::SectionScene {
            units,
            ..scene(&layout, &plan, None)
        });
        let numbers = staff(&drawn.drawing);
        assert!(numbers.len() > 3, "{numbers:?}");
        for (words, y) in numbers {
            let number = words.strip_suffix(unit).expect("a unit");
            let height_m = number.parse::<f64>().expect("a number") * metres;
            assert!((view(&plan).y(height_m) - y).abs() < 0.6, "{words} at {y}");
        }
    }
}

#[test]
fn a_vessel_that_spills_is_marked_by_shape_place_and_words() {
    let layout = spilling();
    let (plan, water) = (
        SectionLayout::of(&layout),
        water(&layout).expect("it solves"),
    );
    let bed = water.vessels.iter().find(|one| one.id.as_str() == "bed");
    assert!(
        bed.expect("the bed")
            .freeboard_m()
            .is_none_or(|free| free < 0.0)
    );
    let drawn = section(&scene(&layout, &plan, Some(&water)));
    let rim = view(&plan).y(1.6);
    let of_bed = drawn.drawing.marks.iter();
    let of_bed = of_bed.filter(|mark| mark.part.as_ref().is_some_and(|id| id.as_str() == "bed"));
    let shapes: Vec<&Shape> = of_bed.map(|mark| &mark.shape).collect();
    let sign = shapes.iter().any(|shape| {
        matches!(shape, Shape::Area { corners, fill: Some(Ink::Problem), .. }
            if corners.len() == 3 && (corners[0].y - rim).abs() < 60.0)
    });
    let fall = shapes.iter().filter(|shape| {
        matches!(shape, Shape::Line { points, stroke }
            if stroke.dash == Dash::Dotted && points[0].y >= rim && points[1].y > points[0].y)
    });
    assert!(sign, "a triangle over the rim");
    assert_eq!(fall.count(), 2, "drops on both sides");
    let words = words_of(&drawn.drawing, "bed");
    assert!(
        words.iter().any(|words| words.starts_with("spills")),
        "{words:?}"
    );
}

#[test]
fn what_stands_there_is_told_first_and_then_what_the_flow_would_need() {
    let layout = spilling();
    let (plan, mut water) = (
        SectionLayout::of(&layout),
        water(&layout).expect("it solves"),
    );
    let beds = water.vessels.iter_mut();
    let bed = beds
        .into_iter()
        .find(|one| one.id.as_str() == "bed")
        .expect("the bed");
    bed.level_m = Some(1.65);
    bed.with_spill = Some(WithSpill {
        level_m: 1.602,
        spill_m3_s: 0.001,
        lost_m3: 0.5,
        first_spill_s: Some(10.0),
    });
    assert_eq!(
        (bed.stands_m(), bed.required_level_m()),
        (Some(1.602), Some(1.65))
    );
    let drawn = section(&scene(&layout, &plan, Some(&water)));
    let words = words_of(&drawn.drawing, "bed");
    assert!(
        words.iter().any(|words| words.starts_with("1602 mm")),
        "{words:?}"
    );
    assert!(
        words
            .iter()
            .any(|words| words == "spills, would need 50 mm over the rim"),
        "{words:?}"
    );
    // The same with nothing spilt: one level, and no other.
    let bed = water
        .vessels
        .iter_mut()
        .find(|one| one.id.as_str() == "bed")
        .expect("the bed");
    (bed.level_m, bed.with_spill) = (Some(1.5), None);
    assert_eq!((bed.stands_m(), bed.required_level_m()), (Some(1.5), None));
    let drawn = section(&scene(&layout, &plan, Some(&water)));
    let words = words_of(&drawn.drawing, "bed");
    assert!(words.iter().any(|words| words == "1500 mm"), "{words:?}");
}

#[test]
fn a_vessel_that_does_not_spill_has_none_of_it() {
    let drawn = drawn(&ring());
    let words = texts(&drawn.drawing);
    assert!(!words.iter().any(|text| text.words.starts_with("spills")));
    let dotted = drawn.drawing.marks.iter().any(|mark| {
        matches!(&mark.shape, Shape::Line { stroke, .. }
            if stroke.dash == Dash::Dotted && stroke.ink == Ink::Problem)
    });
    assert!(!dotted);
}

#[test]
fn numbers_out_of_date_are_fainter() {
    let layout = ring();
    let (plan, water) = (SectionLayout::of(&layout), water(&layout));
    let strength = |trust: Trust| {
        let drawn = section(&fallwright::draw::section::SectionScene {
            trust,
            ..scene(&layout, &plan, water.as_ref())
        });
        let marks = drawn.drawing.marks.into_iter();
        let levels = marks.filter(|mark| {
            matches!(&mark.shape, Shape::Text(text) if mark.part.is_some()
                && text.words.ends_with(" mm"))
        });
        levels.map(|mark| mark.strength).fold(0.0, f64::max)
    };
    assert_eq!(strength(Trust::Sure), 1.0);
    let faint = strength(Trust::OutOfDate);
    assert!(faint > 0.0 && faint < 0.7, "{faint}");
}

#[test]
fn an_empty_layout_has_staff_and_ground() {
    let drawn = drawn(&Layout::default());
    assert!(drawn.targets.is_empty());
    assert!(staff(&drawn.drawing).len() > 3);
    assert_eq!(
        (drawn.drawing.width, drawn.drawing.height),
        (PAGE.right, PAGE.bottom)
    );
}

/// What a line of words covers, without the room over and under its letters.
fn letters(line: &Text) -> Rect {
    Rect {
        top: line.at.y - text::cap_height(line.size),
        bottom: line.at.y,
        ..text::bounds(line)
    }
}

/// The thin lines from labels, each with the part it belongs to.
fn leaders(drawing: &Drawing) -> Vec<(&str, [Point; 2])> {
    let thin = drawing.marks.iter().filter_map(|mark| match &mark.shape {
        Shape::Line { points, stroke } if stroke.width == 0.9 => {
            Some((mark.part.as_ref()?.as_str(), [points[0], points[1]]))
        }
        _ => None,
    });
    thin.collect()
}

/// Whether a line goes through a rectangle, by three thousand points of it.
fn crosses([from, to]: [Point; 2], rect: Rect) -> bool {
    (0..=3000).any(|step| {
        let share = f64::from(step) / 3000.0;
        rect.holds(Point {
            x: from.x + share * (to.x - from.x),
            y: from.y + share * (to.y - from.y),
        })
    })
}

fn reach_of(drawn: &Section, vessel: &str) -> Rect {
    let of = drawn
        .targets
        .iter()
        .find_map(|target| match (&target.pick, &target.reach) {
            (Pick::Part(id), TouchArea::Area(rect)) if id.as_str() == vessel => Some(*rect),
            _ => None,
        });
    of.expect("a vessel can be touched")
}

/// A name or a height that stands by itself says nothing, and one by another vessel says what is wrong.
#[test]
fn regress_no_name_or_height_of_the_demo_stands_far_off_without_a_line() {
    let text = include_str!("../../../../examples/glasshouse.ron");
    let layout = parse(text, Format::Ron).unwrap();
    let (plan, water) = (SectionLayout::of(&layout), water(&layout));
    let (mut far_off, mut wrong) = (0, Vec::new());
    for (right, bottom) in [
        (380.0, 470.0),
        (620.0, 470.0),
        (780.0, 533.0),
        (940.0, 570.0),
        (1400.0, 700.0),
    ] {
        let page = Rect {
            left: 0.0,
            top: 0.0,
            right,
            bottom,
        };
        let drawn = section(&SectionScene {
            view: View::fitting(plan.bounds(), room(page)),
            ..scene(&layout, &plan, water.as_ref())
        });
        let leaders = leaders(&drawn.drawing);
        for vessel in &layout.vessels {
            let id = vessel.id.as_str();
            let rect = reach_of(&drawn, id);
            for mark in &drawn.drawing.marks {
                let Shape::Text(text) = &mark.shape else {
                    continue;
                };
                if mark.part.as_ref() != Some(&vessel.id) {
                    continue;
                }
                let letters = letters(text);
                let inner = letters.grown(-1.0);
                if let Some(line) = leaders.iter().find(|(_, line)| crosses(*line, inner)) {
                    wrong.push(format!("{right}: {} struck by {line:?}", text.words));
                }
                if letters.grown(40.0).overlaps(rect) {
                    continue;
                }
                far_off += 1;
                let led = leaders.iter().any(|(part, line)| {
                    // Of two lines of words the thin one may begin at the other.
                    *part == id && crosses(*line, letters.grown(26.0)) && crosses(*line, rect)
                });
                if !led {
                    wrong.push(format!("{right}: {} of {} alone", text.words, vessel.name));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
    assert!(far_off > 3, "{far_off}");
}
