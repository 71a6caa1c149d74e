//! Pictures and paper: the right size, and something on it.

use super::case::{block, one_of_each, page, words};
use fallwright::draw::output::pdf::{LONGEST, pdf};
use fallwright::draw::output::picture::PictureError;
use fallwright::draw::output::png::{MOST_PX, png};
use fallwright::draw::output::svg::svg;
use fallwright::draw::page::shape::{Drawing, Ink, Shape, Text, Weight};
use fallwright::draw::page::site_photo::SitePhoto;
use fallwright::draw::page::theme::{Colour, Theme, colour};
use resvg::tiny_skia::Pixmap;
use std::sync::Arc;

/// How many pixels of a PNG have the colour of an ink.
fn pixels_of(png: &[u8], theme: Theme, ink: Ink) -> usize {
    let picture = Pixmap::decode_png(png).expect("a PNG");
    let Colour(red, green, blue) = colour(theme, ink);
    let wanted = (red, green, blue, 255);
    let found = picture.pixels().iter();
    let found = found.filter(|p| (p.red(), p.green(), p.blue(), p.alpha()) == wanted);
    found.count()
}

#[test]
fn a_picture_shows_what_is_drawn_in_its_colours() {
    for theme in [Theme::Light, Theme::Dark, Theme::Paper] {
        let made = png(&page(vec![block(Ink::Water)]), theme, 1.0).unwrap();
        assert_eq!(pixels_of(&made, theme, Ink::Water), 100 * 50);
        assert_eq!(pixels_of(&made, theme, Ink::Page), 200 * 100 - 100 * 50);
    }
}

#[test]
fn a_picture_has_as_many_pixels_as_its_scale_asks() {
    for (scale, width, height) in [(1.0, 200, 100), (2.5, 500, 250), (0.001, 1, 1)] {
        let made = png(&page(Vec::new()), Theme::Paper, scale).unwrap();
        let picture = Pixmap::decode_png(&made).unwrap();
        assert_eq!((picture.width(), picture.height()), (width, height));
    }
}

#[test]
fn words_are_set_in_both_weights_of_our_letters() {
    let dark = |weight| {
        let text = Shape::Text(Text {
            weight,
            ..words("IIIIIII")
        });
        let made = png(&page(vec![text]), Theme::Paper, 4.0).unwrap();
        pixels_of(&made, Theme::Paper, Ink::Text)
    };
    let (regular, strong) = (dark(Weight::Regular), dark(Weight::Strong));
    assert!(
        regular > 100 && strong > regular * 5 / 4,
        "{regular} {strong}"
    );
}

#[test]
fn a_picture_that_is_too_large_is_refused() {
    let drawing = page(Vec::new());
    for scale in [MOST_PX / 200.0 + 0.01, 78.0, 1e300] {
        let error = png(&drawing, Theme::Paper, scale).unwrap_err();
        assert!(
            matches!(error, PictureError::TooLarge { .. }),
            "{scale}: {error}"
        );
    }
}

#[test]
fn a_page_without_a_size_makes_no_picture_and_no_paper() {
    for bad in [0.0, -1.0, f64::NAN, f64::INFINITY] {
        let drawing = Drawing {
            height: bad,
            ..page(Vec::new())
        };
        assert_eq!(png(&drawing, Theme::Paper, 1.0), Err(PictureError::NoSize));
        assert_eq!(pdf(&drawing, Theme::Paper), Err(PictureError::NoSize));
        let whole = page(Vec::new());
        assert_eq!(png(&whole, Theme::Paper, bad), Err(PictureError::NoSize));
    }
}

fn holds(bytes: &[u8], text: &str) -> bool {
    bytes
        .windows(text.len())
        .any(|part| part == text.as_bytes())
}

#[test]
fn paper_has_its_size_its_title_and_its_letters() {
    let mut number = 0.0;
    let made = pdf(
        &page(one_of_each(|| {
            number += 3.0;
            number
        })),
        Theme::Paper,
    )
    .unwrap();
    assert!(made.starts_with(b"%PDF-"));
    assert!(made.trim_ascii_end().ends_with(b"%%EOF"));
    for wanted in ["/MediaBox [0 0 200 100]", "(A page)", "FallwrightSans"] {
        assert!(holds(&made, wanted), "{wanted}");
    }
    let bare = pdf(&page(Vec::new()), Theme::Paper).unwrap();
    assert!(!holds(&bare, "FallwrightSans"));
}

#[test]
fn paper_that_is_too_long_is_refused() {
    let drawing = |width| Drawing {
        width,
        ..page(Vec::new())
    };
    assert!(pdf(&drawing(LONGEST), Theme::Paper).is_ok());
    let error = pdf(&drawing(LONGEST + 1.0), Theme::Paper).unwrap_err();
    assert!(matches!(error, PictureError::TooLong { .. }), "{error}");
}

#[test]
fn one_drawing_gives_the_same_bytes_each_time() {
    let drawing = page(vec![
        block(Ink::Water),
        Shape::Text(words("sump")),
        Shape::Text(Text {
            weight: Weight::Strong,
            ..words("header")
        }),
    ]);
    for theme in [Theme::Dark, Theme::Paper] {
        assert!(png(&drawing, theme, 1.0) == png(&drawing, theme, 1.0));
        assert!(svg(&drawing, theme) == svg(&drawing, theme));
    }
}

/// Red dots under the right half of the page, half as strong as they are.
fn over_a_picture(marks: Vec<Shape>) -> Drawing {
    let at = fallwright::draw::page::shape::pt;
    let photo = SitePhoto {
        width: 4,
        height: 2,
        rgba: Arc::new([255, 0, 0, 255].repeat(8)),
        corners: [at(100.0, 0.0), at(200.0, 0.0), at(100.0, 100.0)],
        strength: 0.5,
    };
    Drawing {
        under: Some(Arc::new(photo)),
        ..page(marks)
    }
}

#[test]
fn a_picture_of_the_site_lies_under_the_drawing_in_every_file() {
    let drawing = over_a_picture(vec![block(Ink::Water)]);
    let made = png(&drawing, Theme::Light, 1.0).unwrap();
    let picture = Pixmap::decode_png(&made).unwrap();
    let Colour(red, green, blue) = colour(Theme::Light, Ink::Page);
    let half = |page: u8, own: u8| i32::midpoint(i32::from(page), i32::from(own));
    let wanted = [half(red, 255), half(green, 0), half(blue, 0)];
    let dot = picture.pixel(190, 95).unwrap();
    let found = [dot.red(), dot.green(), dot.blue()].map(i32::from);
    let apart = wanted.iter().zip(found).map(|(a, b)| (a - b).abs());
    assert!(apart.max().unwrap() <= 1, "{wanted:?} {found:?}");
    // The page beside it, and what is drawn over it.
    let page_at = picture.pixel(10, 95).unwrap();
    assert_eq!((page_at.red(), page_at.green()), (red, green));
    assert_eq!(pixels_of(&made, Theme::Light, Ink::Water), 100 * 50);

    let text = svg(&drawing, Theme::Light);
    assert!(text.contains("xlink:href=\"data:image/png;base64,"));
    assert!(text.contains(
        "transform=\"matrix(25.000000 0.000000 0.000000 50.000000 100.000000 0.000000)\""
    ));
    let picture_at = text.find("<image").unwrap();
    assert!(text.find("<rect").unwrap() < picture_at && picture_at < text.find("<g ").unwrap());
    assert!(!svg(&page(Vec::new()), Theme::Light).contains("<image"));

    let paper = pdf(&drawing, Theme::Paper).unwrap();
    assert!(holds(&paper, "/Site") && holds(&paper, "/Width 4"));
    // The picture is a square of one point: at the foot of the page, over its right half.
    assert!(
        holds(&paper, "100 0 0 100 100 0 cm"),
        "{}",
        String::from_utf8_lossy(&paper)
    );
    assert!(!holds(
        &pdf(&page(Vec::new()), Theme::Paper).unwrap(),
        "/Site"
    ));
}
