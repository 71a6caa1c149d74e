//! SVG that any reader takes, with everything in it that can be placed.

use super::case::{block, mark, one_of_each, page, shapes, texts, words};
use fallwright::draw::output::svg::svg;
use fallwright::draw::page::shape::{
    Anchor, Dash, Drawing, Ink, Mark, Shape, Stroke, Text, Weight, pt,
};
use fallwright::draw::page::text;
use fallwright::draw::page::theme::{Colour, Theme, colour};
use fallwright::layout::Id;
use proptest::prelude::*;
use resvg::usvg::roxmltree::Document;
use resvg::usvg::{Node, Options, Tree};
use std::sync::Arc;

/// Read as a strict reader does, with our fonts alone.
fn tree(svg: &str) -> Tree {
    let mut options = Options::default();
    let fonts = Arc::make_mut(&mut options.fontdb);
    for weight in [Weight::Regular, Weight::Strong] {
        fonts.load_font_data(text::font(weight).to_vec());
    }
    Tree::from_str(svg, &options).expect("an SVG that reads")
}

#[test]
fn the_page_has_its_size_its_title_and_its_colour() {
    for theme in [Theme::Light, Theme::Dark, Theme::Paper] {
        let svg = svg(&page(Vec::new()), theme);
        let size = tree(&svg).size();
        assert_eq!((size.width(), size.height()), (200.0, 100.0));
        assert_eq!(texts(&svg), ["A page"]);
        let Colour(red, green, blue) = colour(theme, Ink::Page);
        let fill = format!(
            "<rect width=\"200\" height=\"100\" fill=\"#{red:02x}{green:02x}{blue:02x}\"/>"
        );
        assert!(svg.contains(&fill), "{svg}");
    }
}

#[test]
fn a_page_without_a_size_still_reads() {
    for side in [0.0, -5.0, f64::NAN, f64::INFINITY] {
        let drawing = Drawing {
            width: side,
            ..page(Vec::new())
        };
        assert_eq!(tree(&svg(&drawing, Theme::Paper)).size().width(), 1.0);
    }
}

#[test]
fn every_kind_of_shape_is_written() {
    let mut next = 0.0;
    let drawing = page(one_of_each(|| {
        next += 7.125;
        next
    }));
    let svg = svg(&drawing, Theme::Light);
    assert_eq!(shapes(&svg), 5, "{svg}");
    // Two decimals, and no more zeros than are needed.
    assert!(
        svg.contains("points=\"7.12,14.25 21.38,28.5 35.62,42.75\""),
        "{svg}"
    );
}

#[test]
fn a_shape_with_a_number_that_is_none_is_left_out_alone() {
    for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 1e300] {
        // One number after another goes bad; the count of numbers is found on the way.
        let mut asked = usize::MAX;
        let mut spoilt = 0;
        while spoilt < asked {
            let mut count = 0;
            let drawing = page(one_of_each(|| {
                count += 1;
                if count == spoilt + 1 {
                    bad
                } else {
                    3.0 + count as f64
                }
            }));
            asked = count;
            let svg = svg(&drawing, Theme::Light);
            let drawn = shapes(&svg);
            // The points are shared by the line and the area, so two may go.
            assert!(
                (3..=5).contains(&drawn),
                "{bad} as number {spoilt}: {drawn}"
            );
            assert!(!svg.contains("NaN") && !svg.contains("inf"), "{svg}");
            spoilt += 1;
        }
        assert!(asked > 15);
    }
}

#[test]
fn what_cannot_be_seen_is_left_out() {
    let faint = |strength| Mark {
        strength,
        ..mark(block(Ink::Water))
    };
    let line = |points: usize| Shape::Line {
        points: vec![pt(1.0, 1.0); points],
        stroke: Stroke::new(Ink::Line, 1.0),
    };
    let mut drawing = page(vec![line(0), line(1), Shape::Text(words(" "))]);
    drawing
        .marks
        .extend([faint(0.0), faint(f64::NAN), faint(-1.0)]);
    assert_eq!(shapes(&svg(&drawing, Theme::Light)), 0);
    drawing.marks.push(faint(0.4));
    let half = svg(&drawing, Theme::Light);
    assert!(
        shapes(&half) == 1 && half.contains(" opacity=\"0.4\""),
        "{half}"
    );
}

#[test]
fn broken_lines_are_broken_as_their_stroke_says() {
    let stroke = Stroke::new(Ink::Line, 2.0);
    for dash in [Dash::Solid, Dash::Dashed, Dash::Dotted] {
        let drawn = Shape::Line {
            points: vec![pt(1.0, 1.0), pt(90.0, 9.0)],
            stroke: stroke.with(dash),
        };
        let svg = svg(&page(vec![drawn]), Theme::Light);
        let document = Document::parse(&svg).unwrap();
        let mut nodes = document.descendants();
        let line = nodes.find(|node| node.has_tag_name(("http://www.w3.org/2000/svg", "polyline")));
        let found = line.unwrap().attribute("stroke-dasharray");
        let wanted = stroke
            .with(dash)
            .pattern()
            .map(|(on, off)| format!("{on} {off}"));
        assert_eq!(found.map(str::to_owned), wanted);
    }
}

#[test]
fn parts_can_be_found_again() {
    let of = |id: &str| Mark {
        part: Some(Id::from(id)),
        ..mark(block(Ink::Water))
    };
    let odd = "a<b>&\"c\"";
    let drawing = Drawing {
        marks: vec![
            of("sump"),
            of("sump"),
            mark(block(Ink::Ground)),
            of("sump"),
            of(odd),
        ],
        ..page(Vec::new())
    };
    let svg = svg(&drawing, Theme::Light);
    let document = Document::parse(&svg).unwrap();
    let classes = document
        .descendants()
        .filter_map(|node| node.attribute("class"));
    let classes: Vec<&str> = classes.collect();
    assert_eq!(classes, ["part-sump", "part-sump", &format!("part-{odd}")]);
    assert_eq!(shapes(&svg), 5);
}

#[test]
fn odd_names_survive() {
    for (given, wanted) in [
        ("<&\"> 'tank'", "<&\"> 'tank'"),
        ("]]> &amp; <!-- <script>", "]]> &amp; <!-- <script>"),
        ("two\nlines\tand\r\nmore", "two lines and  more"),
        (
            "zero\0bell\u{7}\u{1b}[31m\u{9f}\u{fffe}\u{ffff}",
            "zerobell[31m",
        ),
        ("חממה וגרגיר", "חממה וגרגיר"),
        ("\u{202e}back\u{202c}", "\u{202e}back\u{202c}"),
        ("🐟 pond 👩\u{200d}🌾", "🐟 pond 👩\u{200d}🌾"),
        ("  two  spaces ", "  two  spaces "),
    ] {
        let mut drawing = page(vec![Shape::Text(words(given))]);
        drawing.title = given.to_owned();
        let svg = svg(&drawing, Theme::Light);
        tree(&svg);
        assert_eq!(texts(&svg), [wanted, wanted]);
    }
}

#[test]
fn only_the_letters_that_are_used_come_along() {
    let fonts = |weights: &[Weight]| {
        let texts = weights.iter().map(|weight| {
            Shape::Text(Text {
                weight: *weight,
                ..words("name")
            })
        });
        let svg = svg(&page(texts.collect()), Theme::Light);
        svg.matches("@font-face").count()
    };
    assert_eq!(fonts(&[]), 0);
    assert_eq!(fonts(&[Weight::Strong, Weight::Strong]), 1);
    assert_eq!(fonts(&[Weight::Strong, Weight::Regular]), 2);
}

/// What our widths promise holds in the file: no reader moves letters closer or apart.
#[test]
fn a_text_is_as_wide_as_its_bounds() {
    for weight in [Weight::Regular, Weight::Strong] {
        for anchor in [Anchor::Start, Anchor::Middle, Anchor::End] {
            let text = Text {
                at: pt(100.0, 50.0),
                anchor,
                weight,
                ..words("To AVATAR, 11.74 m³/h, Tÿ")
            };
            let svg = svg(&page(vec![Shape::Text(text.clone())]), Theme::Light);
            let tree = tree(&svg);
            let drawn = found(tree.root()).expect("a text");
            let wanted = text::bounds(&text);
            for (got, want) in [
                (drawn.left(), wanted.left),
                (drawn.right(), wanted.right),
                (drawn.top(), wanted.top),
                (drawn.bottom(), wanted.bottom),
            ] {
                assert!((f64::from(got) - want).abs() < 0.02, "{drawn:?} {wanted:?}");
            }
        }
    }
}

fn found(group: &resvg::usvg::Group) -> Option<resvg::usvg::Rect> {
    group.children().iter().find_map(|node| match node {
        Node::Group(group) => found(group),
        Node::Text(text) => Some(text.bounding_box()),
        _ => None,
    })
}

fn any_number() -> impl Strategy<Value = f64> {
    prop_oneof![4 => -500.0..500.0, 1 => any::<f64>(), 1 => -1e-3..1e-3]
}

proptest! {
    #[test]
    fn prop_any_drawing_is_an_svg_that_reads(
        numbers in prop::collection::vec(any_number(), 19),
        title in any::<String>(),
        strength in any_number(),
        id in any::<String>(),
    ) {
        let mut numbers = numbers.into_iter().cycle();
        let mut drawing = page(one_of_each(|| numbers.next().unwrap()));
        drawing.title = title;
        for mark in &mut drawing.marks {
            mark.strength = strength;
            mark.part = Some(Id(id.clone()));
        }
        let svg = svg(&drawing, Theme::Dark);
        tree(&svg);
        for node in Document::parse(&svg).unwrap().descendants() {
            for attribute in node.attributes().filter(|one| one.name() != "class") {
                prop_assert!(!attribute.value().contains("NaN"));
                prop_assert!(!attribute.value().contains("inf"));
            }
        }
    }
}
