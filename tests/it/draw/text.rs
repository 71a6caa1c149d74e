//! Widths of words are those of the fonts that are compiled in.

use fallwright::draw::page::shape::{Anchor, Ink, Text, Weight, pt};
use fallwright::draw::page::text::{
    FAMILY, ascent, bounds, cap_height, descent, fit, font, line_height, width, wrap,
};
use proptest::prelude::*;
use ttf_parser::Face;

const WEIGHTS: [Weight; 2] = [Weight::Regular, Weight::Strong];

fn face(weight: Weight) -> Face<'static> {
    Face::parse(font(weight), 0).unwrap()
}

#[test]
fn heights_are_those_of_the_fonts() {
    for weight in WEIGHTS {
        let face = face(weight);
        let ems = |units: i16| f64::from(units) / f64::from(face.units_per_em());
        for (ours, units) in [
            (ascent(1.0), face.ascender()),
            (descent(1.0), -face.descender()),
            (cap_height(1.0), face.capital_height().unwrap()),
        ] {
            assert!((ours - ems(units)).abs() < 1e-6, "{weight:?}: {ours}");
        }
    }
    assert_eq!(line_height(10.0), ascent(10.0) + descent(10.0));
}

#[test]
fn the_fonts_carry_the_name_that_drawings_ask_for() {
    for weight in WEIGHTS {
        let names = face(weight).names().into_iter();
        let mut families = names.filter(|name| name.name_id == ttf_parser::name_id::FAMILY);
        assert!(families.any(|name| name.to_string().is_some_and(|name| name == FAMILY)));
    }
}

#[test]
fn a_width_is_the_sum_of_the_advances() {
    // From the `hmtx` table of the regular font, units of 2816 to the em.
    let face = face(Weight::Regular);
    let words = "Cress bed 3: 1177 mm, é → ≥ Ω я";
    let advance = |letter| face.glyph_hor_advance(face.glyph_index(letter).unwrap());
    let units: f64 = words.chars().map(|c| f64::from(advance(c).unwrap())).sum();
    let ems = units / 2816.0;
    assert!((width(words, 12.0, Weight::Regular) - 12.0 * ems).abs() < 1e-9);
    assert!(width(words, 12.0, Weight::Strong) > 12.0 * ems);
}

#[test]
fn figures_are_all_equally_wide_to_the_eye() {
    for weight in WEIGHTS {
        let zero = width("0", 10.0, weight);
        for figure in "123456789".chars() {
            let wide = width(&figure.to_string(), 10.0, weight);
            assert!((wide / zero - 1.0).abs() < 0.003, "{figure}: {wide}");
        }
    }
}

#[test]
fn a_letter_that_the_fonts_lack_counts_six_tenths() {
    for letter in ["水", "🐟", "\u{5d0}"] {
        assert!((width(letter, 10.0, Weight::Regular) - 6.0).abs() < 1e-9);
    }
}

#[test]
fn bounds_follow_the_anchor() {
    let text = |anchor| Text {
        at: pt(100.0, 50.0),
        anchor,
        words: "sump".to_owned(),
        size: 10.0,
        weight: Weight::Regular,
        ink: Ink::Text,
    };
    let wide = width("sump", 10.0, Weight::Regular);
    for (anchor, left) in [
        (Anchor::Start, 100.0),
        (Anchor::Middle, 100.0 - wide / 2.0),
        (Anchor::End, 100.0 - wide),
    ] {
        let rect = bounds(&text(anchor));
        assert!((rect.left - left).abs() < 1e-9);
        assert!((rect.width() - wide).abs() < 1e-9);
        assert!((rect.top - (50.0 - ascent(10.0))).abs() < 1e-9);
        assert!((rect.bottom - (50.0 + descent(10.0))).abs() < 1e-9);
    }
}

#[test]
fn words_are_cut_at_a_letter_and_say_so() {
    let name = "Überlauf im Gewächshaus";
    let whole = width(name, 10.0, Weight::Regular);
    assert_eq!(fit(name, 10.0, Weight::Regular, whole), name);
    let short = fit(name, 10.0, Weight::Regular, whole - 0.1);
    assert_eq!(short, "Überlauf im Gewächsha…");
    // No space is left standing before the mark.
    let to_space = width("Überlauf …", 10.0, Weight::Regular);
    assert_eq!(fit(name, 10.0, Weight::Regular, to_space), "Überlauf…");
    for none in [0.0, -5.0, f64::NAN, f64::NEG_INFINITY] {
        assert_eq!(fit(name, 10.0, Weight::Regular, none), "");
    }
}

#[test]
fn words_are_wrapped_at_spaces_and_long_ones_at_letters() {
    let most = width("glasshouse", 10.0, Weight::Regular);
    let lines = wrap(
        "perch and  watercress\nglasshouse",
        10.0,
        Weight::Regular,
        most,
    );
    assert_eq!(lines, ["perch and", "watercress", "glasshouse"]);
    let lines = wrap("watercressbed", 10.0, Weight::Regular, most);
    assert_eq!(lines, ["watercress", "bed"]);
    assert_eq!(
        wrap("abc", 10.0, Weight::Regular, f64::NAN),
        ["a", "b", "c"]
    );
    assert!(wrap(" \n ", 10.0, Weight::Regular, most).is_empty());
}

fn any_words() -> impl Strategy<Value = String> {
    prop_oneof!["[a-z ]{0,40}", "\\PC{0,30}", "(wide |ülö|水|🐟){0,12}"]
}

proptest! {
    #[test]
    fn prop_what_is_fitted_fits_and_is_the_beginning(
        words in any_words(), size in 1.0..40.0, most in 0.0..400.0,
    ) {
        let short = fit(&words, size, Weight::Strong, most);
        prop_assert!(width(&short, size, Weight::Strong) <= most);
        let kept = short.strip_suffix('…').unwrap_or(&short);
        prop_assert!(words.starts_with(kept));
        // Nothing is cut without need.
        prop_assert!(short == words || width(&words, size, Weight::Strong) > most);
    }

    #[test]
    fn prop_wrapping_loses_no_letter(words in any_words(), size in 1.0..40.0, most in 0.0..400.0) {
        let lines = wrap(&words, size, Weight::Regular, most);
        let letters = |text: &str| text.split_whitespace().collect::<String>();
        prop_assert_eq!(letters(&lines.concat()), letters(&words));
        for line in &lines {
            let fits = width(line, size, Weight::Regular) <= most;
            prop_assert!(fits || line.chars().count() == 1, "{}", line);
        }
    }
}
