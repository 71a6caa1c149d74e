//! What is told on the plan: words that overlap nothing, problems by shape and words.

use super::case::{PAGE, dry, labels, marks, scene};
use fallwright::catalogue::Catalogue;
use fallwright::draw::output::svg::svg;
use fallwright::draw::page::shape::{Ink, Mark, Shape};
use fallwright::draw::page::text;
use fallwright::draw::page::theme::Theme;
use fallwright::draw::plan::{Drawn, Floorplan, Pick, PlanScene, SheetOptions, plan, sheet};
use fallwright::evaluate::evaluate;
use fallwright::file::{Format, parse};
use fallwright::layout::Layout;
use fallwright::state::State;
use resvg::usvg::roxmltree::Document;

fn examples() -> [Layout; 4] {
    [
        include_str!("../../../../examples/glasshouse.ron"),
        include_str!("../../../../examples/drain-too-high.ron"),
        include_str!("../../../../examples/rain-cistern.ron"),
        include_str!("../../../../examples/two-beds.ron"),
    ]
    .map(|text| parse(text, Format::Ron).unwrap())
}

/// The plan with everything that is wrong, and one run that is looked at.
fn drawn(layout: &Layout, zoom: f64, selected: &[Pick]) -> Drawn {
    let found = evaluate(layout, Catalogue::builtin(), &[State::Running]);
    let ground = Floorplan::of(layout);
    let plain = scene(layout, &ground, found.state(State::Running));
    plan(&PlanScene {
        findings: &found.findings,
        view: plain.view.zoomed(zoom, PAGE.centre()),
        selected,
        ..plain
    })
}

#[test]
fn words_overlap_no_others_and_stay_on_the_page_at_any_zoom() {
    for layout in examples() {
        let run = Pick::Part(layout.runs[0].id.clone());
        for zoom in [0.2, 0.6, 1.0, 2.5, 9.0] {
            for selected in [&[][..], std::slice::from_ref(&run)] {
                let drawn = drawn(&layout, zoom, selected);
                let labels = labels(&drawn);
                let rects: Vec<_> = labels.iter().map(|text| text::bounds(text)).collect();
                for (index, rect) in rects.iter().enumerate() {
                    let words = &labels[index].words;
                    assert!(PAGE.grown(0.5).holds_all(*rect), "{words}: {rect:?}");
                    for (other, text) in rects.iter().zip(&labels).skip(index + 1) {
                        let overlap = rect.grown(-0.5).overlaps(*other);
                        assert!(
                            !overlap,
                            "{} {zoom}: {words} and {}",
                            layout.title, text.words
                        );
                    }
                }
            }
        }
    }
}

#[test]
fn every_vessel_of_every_example_is_named_with_its_level() {
    for layout in examples() {
        let drawn = drawn(&layout, 1.0, &[]);
        for vessel in &layout.vessels {
            let marks = marks(&drawn, vessel.id.as_str());
            let words: Vec<&str> = marks
                .iter()
                .filter_map(|mark| match &mark.shape {
                    Shape::Text(text) => Some(text.words.as_str()),
                    _ => None,
                })
                .collect();
            let told = words.join(" ");
            assert!(told.contains(&vessel.name), "{}: {told}", vessel.name);
            assert!(words.len() > 1, "{}: no level: {told}", vessel.name);
        }
    }
}

#[test]
fn what_spills_is_told_by_shape_and_words_and_not_by_colour_alone() {
    let [_, spilling, ..] = examples();
    let drawn = drawn(&spilling, 1.0, &[]);
    let marks = marks(&drawn, "cress-2");
    let has = |is: &dyn Fn(&Mark) -> bool| marks.iter().any(|mark| is(mark));
    assert!(has(
        &|mark| matches!(&mark.shape, Shape::Text(text) if text.words.starts_with("spills, "))
    ));
    let is_sign = |mark: &Mark| matches!(&mark.shape, Shape::Area { corners, fill: Some(Ink::Problem), .. } if corners.len() == 3);
    assert!(has(&is_sign));
    let edge = |mark: &Mark| match &mark.shape {
        Shape::Area {
            edge: Some(edge),
            fill: None,
            ..
        } => edge.width > 3.0,
        _ => false,
    };
    assert!(has(&edge), "its wall is thicker than others");
}

#[test]
fn grains_do_not_lie_under_words() {
    let [demo, ..] = examples();
    let drawn = drawn(&demo, 1.0, &[]);
    let grains: Vec<_> = drawn
        .drawing
        .marks
        .iter()
        .filter_map(|mark| match mark.shape {
            Shape::Circle {
                centre,
                fill: Some(Ink::Medium),
                ..
            } => Some(centre),
            _ => None,
        })
        .collect();
    assert!(grains.len() > 100);
    for label in labels(&drawn) {
        let rect = text::bounds(label);
        assert!(
            !grains.iter().any(|grain| rect.holds(*grain)),
            "{}",
            label.words
        );
    }
}

#[test]
fn without_water_nothing_is_wet() {
    for layout in examples() {
        let drawn = dry(&layout);
        let fixed = |mark: &Mark| {
            let id = mark.part.as_ref();
            layout.fixed.iter().any(|part| Some(&part.id) == id)
        };
        let wet = drawn
            .drawing
            .marks
            .iter()
            .filter(|mark| !fixed(mark))
            .any(|mark| {
                matches!(
                    &mark.shape,
                    Shape::Area {
                        fill: Some(Ink::Water),
                        ..
                    } | Shape::Circle {
                        fill: Some(Ink::Water),
                        ..
                    }
                )
            });
        assert!(!wet, "{}", layout.title);
    }
}

#[test]
fn a_sheet_is_well_formed_svg_with_a_bar_scale() {
    for layout in examples() {
        let drawing = sheet(&SheetOptions {
            layout: &layout,
            running: None,
            findings: &[],
            units: layout.units,
            page: (1600.0, 900.0),
        });
        let text = svg(&drawing, Theme::Paper);
        let document = Document::parse(&text).expect("XML");
        let texts = document
            .descendants()
            .filter(|node| node.has_tag_name("text"));
        let texts: Vec<&str> = texts.filter_map(|node| node.text()).collect();
        let of_bar = |words: &&&str| {
            words.ends_with(" m") || words.ends_with(" ft") || words.ends_with(" in")
        };
        assert!(
            texts.iter().rev().take(3).any(|words| of_bar(&words)),
            "{texts:?}"
        );
        assert!(drawing.title.starts_with("Plan of "));
    }
}

#[test]
fn a_pump_stands_beside_what_it_draws_from_in_the_plan_and_at_its_height_in_the_section() {
    let text = include_str!("../../../../examples/glasshouse.ron");
    let layout = fallwright::file::parse(text, fallwright::file::Format::Ron).unwrap();
    let drawn = dry(&layout);
    let reach = |id: &str| {
        let pick = Pick::Part(id.into());
        let found = drawn.targets.iter().find(|target| target.pick == pick);
        found.unwrap().reach.bounds()
    };
    let (pump, lift) = (reach("pump").centre(), layout.run(&"lift".into()).unwrap());
    let off = |id: &str| {
        let rect = reach(id);
        let (x, y) = (
            pump.x.clamp(rect.left, rect.right),
            pump.y.clamp(rect.top, rect.bottom),
        );
        (pump.x - x).hypot(pump.y - y)
    };
    let own = off(lift.from.at.as_str());
    assert!((1.0..40.0).contains(&own), "{own}");
    for vessel in layout.vessels.iter().filter(|one| one.id != lift.from.at) {
        assert!(off(vessel.id.as_str()) > own, "{}", vessel.name);
    }
    let plan = fallwright::draw::section::SectionLayout::of(&layout);
    let suction = lift.pump.as_ref().unwrap().suction.unwrap();
    let section = crate::draw::section::case::drawn(&layout);
    let pick = Pick::Part("pump".into());
    let target = section.targets.iter().find(|target| target.pick == pick);
    let y = target.unwrap().reach.bounds().centre().y;
    let wanted = crate::draw::section::case::view(&plan).y(suction.elevation_m);
    assert!((y - wanted).abs() < 0.5, "{y} {wanted}");
}
