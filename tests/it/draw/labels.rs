//! Labels keep off one another, off what is blocked and inside the page.

use fallwright::draw::canvas::labels::{
    Label, LabelLine, LabelPosition, LabelRequest, LabelSide, Placer,
};
use fallwright::draw::page::shape::{Anchor, Ink, Point, Rect, pt};
use fallwright::draw::page::text;
use proptest::prelude::*;

const PAGE: Rect = Rect {
    left: 0.0,
    top: 0.0,
    right: 400.0,
    bottom: 300.0,
};

fn line(words: &str) -> LabelLine {
    LabelLine::new(words, 10.0, Ink::Text)
}

fn spot(x: f64, y: f64) -> LabelPosition {
    LabelPosition {
        at: pt(x, y),
        across: Anchor::Start,
        side: LabelSide::Beside,
    }
}

fn wish(words: &str, spots: &[LabelPosition]) -> LabelRequest {
    LabelRequest {
        forms: vec![vec![line(words)]],
        spots: spots.to_vec(),
        ..LabelRequest::default()
    }
}

fn around(x: f64, y: f64) -> Rect {
    Rect::between(pt(x, y), pt(x, y)).grown(8.0)
}

#[test]
fn the_first_place_that_is_free_is_taken() {
    let mut placer = Placer::new(PAGE);
    let spots = [spot(100.0, 100.0), spot(100.0, 150.0)];
    assert_eq!(placer.place(&wish("header", &spots)).unwrap().spot, 0);
    assert_eq!(placer.place(&wish("header", &spots)).unwrap().spot, 1);
    assert_eq!(placer.place(&wish("header", &spots)), None);
}

#[test]
fn a_label_keeps_off_what_is_blocked_and_keeps_its_distance() {
    let mut placer = Placer::new(PAGE);
    placer.block(around(110.0, 100.0));
    let mut shy = wish("header", &[spot(100.0, 100.0), spot(119.0, 100.0)]);
    shy.clear = 2.0;
    assert_eq!(placer.place(&shy), None);
    shy.clear = 0.5;
    assert_eq!(placer.place(&shy).unwrap().spot, 1);
}

#[test]
fn a_label_stays_on_the_page() {
    let mut placer = Placer::new(PAGE);
    for (x, y) in [(-1.0, 100.0), (390.0, 100.0), (100.0, 2.0), (100.0, 299.0)] {
        assert_eq!(placer.place(&wish("header", &[spot(x, y)])), None);
    }
    let flush = spot(0.0, text::line_height(10.0) / 2.0);
    assert!(placer.place(&wish("header", &[flush])).is_some());
}

#[test]
fn a_label_leaves_a_pipe_to_be_seen_where_it_can() {
    let mut placer = Placer::new(PAGE);
    placer.avoid(&[pt(0.0, 100.0), pt(400.0, 100.0), pt(400.0, 300.0)]);
    let both = wish("header", &[spot(100.0, 100.0), spot(100.0, 130.0)]);
    assert_eq!(placer.place(&both).unwrap().spot, 1);
    // Where it has no other place, it covers the pipe.
    let one = wish("header", &[spot(200.0, 100.0)]);
    assert!(placer.place(&one).is_some());
}

#[test]
fn a_sloping_pipe_is_seen_wherever_it_passes() {
    let (from, to) = (pt(10.0, 20.0), pt(390.0, 280.0));
    for step in 1..20 {
        let mut placer = Placer::new(PAGE);
        placer.avoid(&[from, to]);
        let t = f64::from(step) / 20.0;
        let (x, y) = (from.x + t * 380.0, from.y + t * 260.0);
        let (on, off) = (spot(x - 4.0, y), spot(x - 4.0, 300.0 - y));
        // On the pipe costs more than one step down the list; at its mirror image the pipe is not.
        let chosen = placer.place(&wish("m", &[on, off])).unwrap();
        let clear = (y - 150.0).abs() > 20.0;
        assert!(chosen.spot == 1 || !clear, "at {x} {y}");
    }
}

#[test]
fn a_shorter_form_is_taken_where_the_long_one_does_not_fit() {
    let mut placer = Placer::new(PAGE);
    let mut wish = wish("header tank over the beds", &[spot(340.0, 100.0)]);
    wish.forms.push(vec![line("header")]);
    let label = placer.place(&wish).unwrap();
    assert_eq!((label.form, label.lines[0].words.as_str()), (1, "header"));
}

#[test]
fn the_higher_rank_gets_the_place_and_answers_keep_their_order() {
    let mut placer = Placer::new(PAGE);
    let mut wishes = vec![wish("a", &[spot(100.0, 100.0)]); 3];
    wishes[1].rank = 5;
    let placed = placer.place_all(&wishes);
    let placed: Vec<bool> = placed.iter().map(Option::is_some).collect();
    assert_eq!(placed, [false, true, false]);
}

#[test]
fn lines_stand_under_one_another_inside_the_label() {
    let two = LabelRequest {
        forms: vec![vec![line("Cress bed 3").strong(), line("1177 mm")]],
        spots: LabelPosition::around(around(200.0, 150.0), 3.0),
        ..LabelRequest::default()
    };
    for at in 0..two.spots.len() {
        let only = LabelRequest {
            spots: vec![two.spots[at]],
            ..two.clone()
        };
        let label = Placer::new(PAGE).place(&only).unwrap();
        let [first, second] = label.lines.as_slice() else {
            panic!("two lines")
        };
        let (first, second) = (text::bounds(first), text::bounds(second));
        let page = label.rect.grown(1e-9);
        assert!(page.holds_all(first) && page.holds_all(second));
        assert!((first.bottom - second.top).abs() < 1e-9);
        assert!(!label.rect.overlaps(around(200.0, 150.0)));
    }
}

#[test]
fn places_and_pages_that_are_no_numbers_do_no_harm() {
    let mut placer = Placer::new(PAGE);
    placer.block(around(f64::NAN, 3.0));
    placer.avoid(&[pt(f64::INFINITY, 0.0), pt(3.0, 3.0)]);
    assert_eq!(placer.place(&wish("a", &[spot(f64::NAN, 9.0)])), None);
    assert_eq!(placer.place(&wish("", &[spot(90.0, 90.0)])), None);
    let nowhere = Rect {
        right: f64::NAN,
        ..PAGE
    };
    let mut placer = Placer::new(nowhere);
    assert_eq!(placer.place(&wish("a", &[spot(9.0, 9.0)])), None);
}

fn any_point() -> impl Strategy<Value = Point> {
    (-40.0..440.0, -40.0..340.0).prop_map(|(x, y)| pt(x, y))
}

fn any_rect() -> impl Strategy<Value = Rect> {
    (any_point(), 1.0..120.0, 1.0..60.0).prop_map(|(at, w, h)| Rect::between(at, at.moved(w, h)))
}

fn any_wish() -> impl Strategy<Value = LabelRequest> {
    let words = "[a-zA-Z0-9 ]{1,24}";
    let line = (words, 6.0..20.0).prop_map(|(words, size)| LabelLine::new(words, size, Ink::Text));
    let form = prop::collection::vec(line, 1..3);
    (
        prop::collection::vec(form, 1..4),
        any_rect(),
        -3..3i32,
        0.0..6.0,
    )
        .prop_map(|(forms, thing, rank, clear)| LabelRequest {
            forms,
            spots: LabelPosition::around(thing, 2.0),
            rank,
            clear,
        })
}

/// The rectangle that one form takes on one spot.
fn rect(lines: &[LabelLine], spot: LabelPosition) -> Rect {
    let width = |line: &LabelLine| text::width(&line.words, line.size, line.weight);
    let height = lines.iter().map(|line| text::line_height(line.size)).sum();
    spot.rect(lines.iter().map(width).fold(0.0, f64::max), height)
}

proptest! {
    #[test]
    fn prop_nothing_overlaps_and_nothing_is_left_out_without_need(
        wishes in prop::collection::vec(any_wish(), 1..40),
        blocked in prop::collection::vec(any_rect(), 0..20),
        pipes in prop::collection::vec(prop::collection::vec(any_point(), 2..5), 0..10),
    ) {
        let mut placer = Placer::new(PAGE);
        blocked.iter().for_each(|rect| placer.block(*rect));
        pipes.iter().for_each(|pipe| placer.avoid(pipe));
        let placed = placer.place_all(&wishes);
        prop_assert_eq!(placed.len(), wishes.len());

        let mut taken: Vec<Rect> = blocked.clone();
        for label in placed.iter().flatten() {
            prop_assert!(PAGE.holds_all(label.rect));
            prop_assert!(!taken.iter().any(|other| other.overlaps(label.rect)));
            taken.push(label.rect);
        }
        for (wish, label) in wishes.iter().zip(&placed) {
            let Some(Label { form, spot, rect: got, .. }) = label else {
                for (lines, spot) in wish.forms.iter().flat_map(|f| wish.spots.iter().map(move |s| (f, *s))) {
                    let rect = rect(lines, spot);
                    let near = rect.grown(wish.clear);
                    let free = PAGE.holds_all(rect) && !taken.iter().any(|other| other.overlaps(near));
                    prop_assert!(!free, "{:?} had a place", lines);
                }
                continue;
            };
            prop_assert_eq!(*got, rect(&wish.forms[*form], wish.spots[*spot]));
        }
    }
}
