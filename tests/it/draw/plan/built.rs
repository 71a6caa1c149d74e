//! What stands already is drawn so, in shapes that black and white keeps.

use super::case::{Way, dry, marks, ways};
use fallwright::draw::page::shape::{Ink, Mark, Shape};
use fallwright::draw::section::{self, SectionLayout};
use fallwright::layout::{Layout, Pipe};

fn layout() -> Layout {
    let mut layout = ways(&[Way {
        id: "way",
        through: &[(0.0, 0.0), (1.5, 0.0), (1.5, 1.0)],
        z_m: 1.0,
    }]);
    layout.vessels[0].place.along_m = 0.5;
    layout.vessels[1].place.along_m = 2.5;
    layout
}

/// Shapes in the ink of lines, which paper keeps.
fn lines(marks: &[&Mark]) -> usize {
    let inked = marks.iter().filter(|mark| match &mark.shape {
        Shape::Line { stroke, .. } => stroke.ink == Ink::Line,
        Shape::Area { edge, .. } | Shape::Circle { edge, .. } => {
            edge.is_some_and(|edge| edge.ink == Ink::Line)
        }
        _ => false,
    });
    inked.count()
}

#[test]
fn a_vessel_has_a_second_line_inside_its_wall() {
    let (plain, mut built) = (layout(), layout());
    built.vessels[0].already_built = true;
    let count = |layout: &Layout| lines(&marks(&dry(layout), "way-a"));
    assert_eq!(count(&built), count(&plain) + 1);
    let circles: Vec<f64> = marks(&dry(&built), "way-a")
        .iter()
        .filter_map(|mark| match mark.shape {
            Shape::Circle {
                radius,
                edge: Some(_),
                ..
            } => Some(radius),
            _ => None,
        })
        .collect();
    let (wall, second) = (circles[0], circles[1]);
    assert!((wall - second - 4.0).abs() < 1e-9, "{circles:?}");
}

#[test]
fn a_wide_pipe_has_a_line_along_its_middle_and_a_thin_one_strokes_across() {
    for thin in [false, true] {
        let mut plain = layout();
        if thin {
            plain.runs[0].pipe = Pipe::Own {
                bore_m: 0.002,
                roughness_m: None,
                hazen_williams_c: None,
            };
        }
        let mut built = plain.clone();
        built.runs[0].already_built = true;
        let count = |layout: &Layout| lines(&marks(&dry(layout), "way"));
        let more = count(&built) - count(&plain);
        if thin {
            assert!(more > 5, "{more}");
        } else {
            assert_eq!(more, 1);
        }
    }
}

#[test]
fn the_section_shows_it_too() {
    let count = |layout: &Layout, part: &str| {
        let plan = SectionLayout::of(layout);
        let drawn = section::section(&crate::draw::section::case::scene(layout, &plan, None));
        lines(&marks(&drawn, part))
    };
    let (plain, mut built) = (layout(), layout());
    built.vessels[0].already_built = true;
    built.runs[0].already_built = true;
    assert_eq!(count(&built, "way-a"), count(&plain, "way-a") + 1);
    assert!(count(&built, "way") > count(&plain, "way"));
}
