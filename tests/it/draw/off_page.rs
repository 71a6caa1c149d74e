//! What is off the page is not told of: no label, no line to one, no word of a band at its edge.

use fallwright::draw::page::shape::{Drawing, Point, Rect, Shape};
use fallwright::draw::plan::{Floorplan, plan};
use fallwright::draw::section::{Pick, STAFF_WIDTH, SectionLayout, section};
use fallwright::layout::{Layout, RunEnd};

/// How far over the edge a part may begin and still be told of, points.
const SLACK: f64 = 2.0;

/// The parts of which words are on a drawing.
fn told(drawing: &Drawing) -> Vec<String> {
    let marks = drawing.marks.iter();
    let words = marks.filter(|mark| matches!(mark.shape, Shape::Text(_)));
    words
        .filter_map(|mark| Some(mark.part.as_ref()?.as_str().to_owned()))
        .collect()
}

fn on_page(rect: Rect) -> bool {
    let page = Rect {
        left: STAFF_WIDTH,
        ..super::section::case::PAGE
    };
    page.overlaps(rect.grown(SLACK))
}

/// Twelve views from all of it to close up, moved about.
fn moves() -> impl Iterator<Item = (f64, f64, f64)> {
    let places = [
        (150.0, 90.0),
        (540.0, 300.0),
        (1000.0, 520.0),
        (300.0, 560.0),
    ];
    [1.0, 2.2, 5.0]
        .into_iter()
        .flat_map(move |by| places.map(|(x, y)| (by, x, y)))
}

fn demo() -> Layout {
    fallwright::session::demo().unwrap()
}

#[test]
fn no_vessel_that_is_off_the_section_is_told_of() {
    let layout = demo();
    let (stands, water) = (
        SectionLayout::of(&layout),
        super::section::case::water(&layout),
    );
    let mut left_out = 0;
    for (by, x, y) in moves() {
        let mut scene = super::section::case::scene(&layout, &stands, water.as_ref());
        scene.view = scene.view.zoomed(by, Point { x, y });
        let told = told(&section(&scene).drawing);
        for (part, one) in layout.vessels.iter().zip(&stands.stand.vessels) {
            let rect = Rect {
                left: scene.view.x(one.left_m()),
                right: scene.view.x(one.right_m()),
                top: scene.view.y(one.rim_m),
                bottom: scene.view.y(one.floor_m),
            };
            let is_told = told.iter().any(|id| id == part.id.as_str());
            assert!(!is_told || on_page(rect), "{} at {by} {x} {y}", part.id);
            left_out += usize::from(!on_page(rect));
        }
    }
    assert!(left_out > 5, "{left_out}");
}

#[test]
fn no_vessel_that_is_off_the_plan_is_told_of() {
    let layout = demo();
    let (ground, water) = (Floorplan::of(&layout), super::plan::case::water(&layout));
    let mut left_out = 0;
    for (by, x, y) in moves() {
        let mut scene = super::plan::case::scene(&layout, &ground, water.as_ref());
        scene.view = scene.view.zoomed(by, Point { x, y });
        let drawn = plan(&scene);
        let told = told(&drawn.drawing);
        for part in &layout.vessels {
            let pick = Pick::Part(part.id.clone());
            let target = drawn.targets.iter().find(|target| target.pick == pick);
            let is_on = target.is_some_and(|target| {
                let page = super::plan::case::PAGE;
                page.overlaps(target.reach.bounds().grown(SLACK))
            });
            let is_told = told.iter().any(|id| id == part.id.as_str());
            assert!(!is_told || is_on, "{} at {by} {x} {y}", part.id);
            left_out += usize::from(!is_on);
        }
    }
    assert!(left_out > 5, "{left_out}");
}

#[test]
fn the_words_of_a_band_go_with_its_ends() {
    let layout = super::section::case::ring();
    let plan = SectionLayout::of(&layout);
    let pick = [Pick::Crest {
        run: "down".into(),
        end: RunEnd::From,
    }];
    let words = |up: f64| {
        let mut scene = super::section::case::scene(&layout, &plan, None);
        scene.band = Some((2.3, 2.45));
        scene.selected = &pick;
        scene.view = scene.view.moved(0.0, -up);
        let drawing = section(&scene).drawing;
        let ends = [2.3, 2.45].map(|z_m| scene.view.y(z_m));
        let words = super::section::case::words_of(&drawing, "down");
        let said = words
            .iter()
            .filter(|words| *words == "2300 mm" || *words == "2450 mm");
        let seen = ends
            .iter()
            .filter(|y| (0.0..super::section::case::PAGE.bottom).contains(*y));
        (said.count(), seen.count())
    };
    assert_eq!(words(0.0), (2, 2));
    let top = {
        let scene = super::section::case::scene(&layout, &plan, None);
        scene.view.y(2.375)
    };
    assert_eq!(words(top), (1, 1));
    assert_eq!(words(top + 400.0), (0, 0));
}

#[test]
fn on_a_small_page_there_are_fewer_labels_and_no_tangle_of_lines_to_them() {
    let layout = demo();
    let (stands, water) = (
        SectionLayout::of(&layout),
        super::section::case::water(&layout),
    );
    // As one half of a comparison in a small window, and as a page of its own.
    let lines = |right: f64, bottom: f64| {
        let page = Rect {
            left: 0.0,
            top: 0.0,
            right,
            bottom,
        };
        let mut scene = super::section::case::scene(&layout, &stands, water.as_ref());
        let room = fallwright::draw::section::room(page);
        scene.view = fallwright::draw::page::view::View::fitting(stands.bounds(), room);
        let drawing = section(&scene).drawing;
        let leads = drawing.marks.iter().filter(|mark| {
            matches!(&mark.shape, Shape::Line { points, stroke } if points.len() == 2 && stroke.width == 0.9)
                && (mark.strength - 0.6).abs() < 1e-9
        });
        (leads.count(), told(&drawing).len())
    };
    let (small, large) = (lines(380.0, 505.0), lines(1080.0, 600.0));
    assert!(small.1 < large.1, "{small:?} {large:?}");
    assert!(small.1 >= layout.vessels.len(), "{small:?}");
    assert!(small.0 < 8, "{small:?}");
}
