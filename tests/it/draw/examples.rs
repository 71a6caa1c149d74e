//! The examples as files: all that has a name is named.

use super::case::texts;
use fallwright::catalogue::Catalogue;
use fallwright::draw::output::png::png;
use fallwright::draw::output::svg::svg;
use fallwright::draw::page::shape::{Drawing, Ink};
use fallwright::draw::page::theme::{Colour, Theme, colour};
use fallwright::draw::section::{SheetOptions, sheet};
use fallwright::evaluate::evaluate;
use fallwright::file::{Format, parse};
use fallwright::layout::Layout;
use fallwright::state::State;
use resvg::tiny_skia::Pixmap;

fn glasshouse() -> Layout {
    parse(
        include_str!("../../../examples/glasshouse.ron"),
        Format::Ron,
    )
    .unwrap()
}

fn drawn(layout: &Layout) -> Drawing {
    let wanted = [State::Rest, State::Running];
    let found = evaluate(layout, Catalogue::builtin(), &wanted);
    sheet(&SheetOptions {
        layout,
        running: found.state(State::Running),
        findings: &found.findings,
        units: layout.units,
        page: (1600.0, 900.0),
    })
}

#[test]
fn every_vessel_of_the_demo_is_named() {
    let layout = glasshouse();
    let texts = texts(&svg(&drawn(&layout), Theme::Paper));
    // A name may be set in two lines, which follow one another.
    let told = texts.join(" ");
    assert!(layout.vessels.len() > 8);
    for vessel in &layout.vessels {
        assert!(told.contains(&vessel.name), "{}: {texts:?}", vessel.name);
    }
}

#[test]
fn a_vessel_may_have_any_name() {
    let mut layout = glasshouse();
    for name in ["<&\">", "a\u{1}b\u{8}c", "בריכה", "🐟🌱"] {
        name.clone_into(&mut layout.vessels[0].name);
        let texts = texts(&svg(&drawn(&layout), Theme::Paper));
        let wanted: String = name.chars().filter(|c| !c.is_control()).collect();
        assert!(texts.contains(&wanted), "{wanted}: {texts:?}");
    }
}

#[test]
fn the_picture_of_the_demo_shows_water() {
    let made = png(&drawn(&glasshouse()), Theme::Paper, 1.0).unwrap();
    let picture = Pixmap::decode_png(&made).unwrap();
    assert_eq!((picture.width(), picture.height()), (1600, 900));
    let Colour(red, green, blue) = colour(Theme::Paper, Ink::Water);
    let pixels = picture.pixels().iter();
    let water = pixels.filter(|p| (p.red(), p.green(), p.blue()) == (red, green, blue));
    let share = water.count() as f64 / (1600.0 * 900.0);
    assert!((0.02..0.6).contains(&share), "{share}");
}
