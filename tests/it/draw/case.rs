//! Small drawings, and what stands in the files that they become.

use fallwright::draw::page::shape::{
    Anchor, Drawing, Ink, Mark, Rect, Shape, Stroke, Text, Weight, pt,
};
use resvg::usvg::roxmltree::Document;

/// A page of 200 by 100 points with these shapes.
pub fn page(shapes: Vec<Shape>) -> Drawing {
    Drawing {
        width: 200.0,
        height: 100.0,
        title: "A page".to_owned(),
        marks: shapes.into_iter().map(mark).collect(),
        under: None,
    }
}

pub fn mark(shape: Shape) -> Mark {
    Mark {
        shape,
        part: None,
        strength: 1.0,
    }
}

pub fn words(words: &str) -> Text {
    Text {
        at: pt(20.0, 50.0),
        anchor: Anchor::Start,
        words: words.to_owned(),
        size: 12.0,
        weight: Weight::Regular,
        ink: Ink::Text,
    }
}

/// A filled rectangle of `ink` in the middle of the page.
pub fn block(ink: Ink) -> Shape {
    Shape::Box {
        rect: Rect::between(pt(50.0, 25.0), pt(150.0, 75.0)),
        radius: 0.0,
        fill: Some(ink),
        edge: None,
    }
}

/// One shape of each kind whose every number comes from `number`, called in turn.
pub fn one_of_each(mut number: impl FnMut() -> f64) -> Vec<Shape> {
    let edge = |number: &mut dyn FnMut() -> f64| Stroke::new(Ink::Line, number());
    let number = &mut number;
    let points = vec![
        pt(number(), number()),
        pt(number(), number()),
        pt(number(), number()),
    ];
    vec![
        Shape::Line {
            points: points.clone(),
            stroke: edge(number),
        },
        Shape::Area {
            corners: points,
            fill: Some(Ink::Water),
            edge: Some(edge(number)),
        },
        Shape::Box {
            rect: Rect::between(pt(number(), number()), pt(number(), number())),
            radius: number(),
            fill: Some(Ink::Inside),
            edge: Some(edge(number)),
        },
        Shape::Circle {
            centre: pt(number(), number()),
            radius: number(),
            fill: None,
            edge: Some(edge(number)),
        },
        Shape::Text(Text {
            at: pt(number(), number()),
            size: number(),
            ..words("words")
        }),
    ]
}

/// Every text of an SVG, the title first.
pub fn texts(svg: &str) -> Vec<String> {
    let document = Document::parse(svg).expect("XML");
    let wanted = ["title", "text"];
    let nodes = document.descendants();
    let nodes = nodes.filter(|node| wanted.contains(&node.tag_name().name()));
    nodes
        .map(|node| node.text().unwrap_or_default().to_owned())
        .collect()
}

/// How many shapes an SVG draws, the page itself not counted.
pub fn shapes(svg: &str) -> usize {
    let document = Document::parse(svg).expect("XML");
    let kinds = ["polyline", "polygon", "rect", "circle", "text"];
    let nodes = document.descendants();
    let drawn = nodes.filter(|node| kinds.contains(&node.tag_name().name()));
    drawn.count() - 1
}
