//! A course on one strip: its axis, its curves, its signs.

use fallwright::catalogue::Catalogue;
use fallwright::draw::page::shape::{Ink, Shape};
use fallwright::draw::results::event_sentence::event_sentence;
use fallwright::draw::time_plot::{TimePlot, TimeScale, lanes, levels, moment, time_plot};
use fallwright::evaluate::{Observed, evaluate, series};
use fallwright::file::{Format, parse};
use fallwright::layout::Layout;
use fallwright::state::State;
use fallwright::states::{Event, EventKind, InterpolatedSeries};
use fallwright::units::UnitSystem;

fn two_beds() -> Layout {
    parse(include_str!("../../../examples/two-beds.ron"), Format::Ron).unwrap()
}

fn filmed(watched: &Observed) -> InterpolatedSeries {
    let film = series(&two_beds(), Catalogue::builtin(), watched, &|| true);
    film.unwrap().unwrap()
}

const PAGE: (f64, f64) = (900.0, 112.0);

fn strip<'a>(
    film: &'a InterpolatedSeries,
    lanes: &'a [fallwright::draw::time_plot::Lane],
) -> TimePlot<'a> {
    TimePlot {
        scale: TimeScale::of(film),
        lanes,
        told: film.events(),
        units: UnitSystem::Metric,
        page: PAGE,
        strength: 1.0,
    }
}

#[test]
fn a_place_on_the_axis_and_its_time_are_each_others_answer() {
    for end_s in [2.0, 455.0, 12_420.0, 86_400.0, 3.0e7] {
        for scale in [TimeScale::bent(end_s), TimeScale::even(end_s)] {
            let mut before = -1.0;
            for step in 0..=50 {
                let share = f64::from(step) / 50.0;
                let time_s = scale.time_at(share);
                assert!(time_s > before, "{time_s} after {before}");
                assert!((scale.share(time_s) - share).abs() < 1e-9);
                before = time_s;
            }
            assert_eq!(scale.time_at(0.0), 0.0);
            assert!((scale.time_at(1.0) - end_s).abs() < 1e-6 * end_s);
        }
    }
}

#[test]
fn the_first_minute_of_an_evening_is_seen() {
    let scale = TimeScale::bent(12_420.0);
    assert!(scale.share(60.0) > 0.1);
    assert!(scale.share(600.0) > 0.4);
}

#[test]
fn ticks_are_round_rise_and_keep_apart() {
    for end_s in [2.0, 455.0, 12_420.0, 86_400.0, 3.0e7] {
        for scale in [TimeScale::bent(end_s), TimeScale::even(end_s)] {
            let ticks = scale.ticks(0.09);
            assert!((4..=12).contains(&ticks.len()), "{ticks:?}");
            for pair in ticks.windows(2) {
                assert!(scale.share(pair[1].0) - scale.share(pair[0].0) >= 0.09 - 1e-9);
                assert_ne!(pair[0].1, pair[1].1);
            }
        }
    }
    let words: Vec<String> = TimeScale::even(60.0)
        .ticks(0.2)
        .into_iter()
        .map(|one| one.1)
        .collect();
    assert_eq!(words, ["0", "20 s", "40 s", "1 min"]);
}

#[test]
fn the_curves_are_of_the_vessel_that_spills_and_of_the_one_that_is_pumped_from() {
    let film = filmed(&Observed::Blocked("hole-2".into()));
    let lanes_of = |looked_at: Option<&str>| -> Vec<String> {
        let id = looked_at.map(fallwright::layout::Id::from);
        let lanes = lanes(&film, id.as_ref());
        lanes.iter().map(|lane| lane.vessel.to_string()).collect()
    };
    assert_eq!(lanes_of(None), ["bed-2", "tub"]);
    assert_eq!(lanes_of(Some("bed-1")), ["bed-2", "bed-1"]);
    // What is the first of them stays, and what is no vessel changes nothing.
    assert_eq!(lanes_of(Some("bed-2")), ["bed-2", "tub"]);
    assert_eq!(lanes_of(Some("lift")), ["bed-2", "tub"]);
}

#[test]
fn a_curve_over_its_rim_is_told_from_one_under_it() {
    let film = filmed(&Observed::Blocked("hole-2".into()));
    let lanes = lanes(&film, None);
    let strip = strip(&film, &lanes);
    let drawing = time_plot(&strip);
    let (rim_m, track) = (lanes[0].rim_m, strip.track());
    let lines = |ink: Ink| {
        let marks = drawing
            .marks
            .iter()
            .filter_map(move |mark| match &mark.shape {
                Shape::Line { points, stroke } if stroke.ink == ink => Some(points.clone()),
                _ => None,
            });
        marks.collect::<Vec<_>>()
    };
    let over = lines(Ink::Problem);
    assert!(!over.is_empty());
    let (_, first_s) = film.first_spill().unwrap();
    let began = over.iter().flatten().map(|point| point.x);
    let began = began.fold(f64::INFINITY, f64::min);
    // It begins with the last moment under the rim.
    assert!((began - strip.x(first_s)).abs() < 6.0);
    assert!(
        lanes[0]
            .levels_m
            .iter()
            .any(|(_, level_m)| *level_m > rim_m)
    );
    for points in over.iter().chain(&lines(Ink::WaterLine)) {
        for point in points {
            assert!((track.left..=track.right).contains(&point.x));
            assert!((0.0..=PAGE.1).contains(&point.y));
        }
    }
}

#[test]
fn signs_do_not_cover_each_other_and_the_worst_have_room() {
    let told = |time_s: f64, what: EventKind| Event {
        time_s,
        what,
        about: vec!["a".into()],
    };
    let mut all: Vec<Event> = (0..40)
        .map(|step| told(100.0 + f64::from(step), EventKind::FloatOn))
        .collect();
    all.push(told(120.5, EventKind::SpillBegins));
    all.push(told(121.0, EventKind::PumpRunsDry));
    let strip = TimePlot {
        scale: TimeScale::even(10_000.0),
        lanes: &[],
        told: &all,
        units: UnitSystem::Metric,
        page: PAGE,
        strength: 1.0,
    };
    let placed = strip.placed();
    let kept = |index: usize| placed.iter().any(|one| one.told == index);
    assert!(kept(40) && kept(41));
    for (index, one) in placed.iter().enumerate() {
        for other in &placed[index + 1..] {
            assert!(one.at.distance(other.at) > 10.0, "{one:?} {other:?}");
        }
    }
}

#[test]
fn the_moment_says_how_much_is_free() {
    let film = filmed(&Observed::Stopped);
    let lanes = lanes(&film, None);
    let strip = strip(&film, &lanes);
    let marks = moment(
        &strip,
        60.0,
        &[Some(lanes[0].rim_m - 0.1), Some(lanes[1].rim_m + 0.002)],
    );
    let words: Vec<&str> = marks
        .iter()
        .filter_map(|mark| match &mark.shape {
            Shape::Text(text) => Some(text.words.as_str()),
            _ => None,
        })
        .collect();
    assert!(words.contains(&"100 mm free"), "{words:?}");
    assert!(words.contains(&"2 mm over its rim"), "{words:?}");
}

#[test]
fn everything_that_can_happen_has_words_of_its_own() {
    let name = |id: &fallwright::layout::Id| id.to_string();
    let mut words: Vec<String> = EventKind::ALL
        .iter()
        .map(|what| {
            let told = Event {
                time_s: 1.0,
                what: *what,
                about: vec!["one".into(), "two".into()],
            };
            event_sentence(&told, &name)
        })
        .collect();
    words.sort();
    words.dedup();
    assert_eq!(words.len(), EventKind::ALL.len());
}

/// All words of the section at one moment of a film.
fn words_at(film: &InterpolatedSeries, time_s: f64) -> Vec<String> {
    let layout = two_beds();
    let report = film.at(time_s);
    let drawing = fallwright::draw::section::sheet(&fallwright::draw::section::SheetOptions {
        layout: &layout,
        running: Some(&report),
        findings: &[],
        units: UnitSystem::Metric,
        page: (1200.0, 800.0),
    });
    let marks = drawing.marks.into_iter();
    let words = marks.filter_map(|mark| match mark.shape {
        Shape::Text(text) => Some(text.words),
        _ => None,
    });
    words.collect()
}

#[test]
fn a_vessel_spills_on_the_drawing_while_it_does_and_has_spilled_after() {
    let film = filmed(&Observed::Blocked("hole-2".into()));
    let (_, first_s) = film.first_spill().unwrap();
    let says = |words: &[String], what: &str| words.iter().any(|one| one.starts_with(what));
    let before = words_at(&film, 0.9 * first_s);
    assert!(!says(&before, "spills") && !says(&before, "has spilled"));
    let during = words_at(&film, first_s + 60.0);
    assert!(says(&during, "spills") && !says(&during, "has spilled"));
    // The water stands where it is drawn: nothing is said of what would be needed.
    assert!(!says(&during, "needs"), "{during:?}");
    assert!(
        during.iter().any(|one| one.ends_with("runs over")),
        "{during:?}"
    );
    let after = words_at(&film, film.end_s());
    assert!(
        !says(&after, "spills") && says(&after, "has spilled 165 L"),
        "{after:?}"
    );
}

#[test]
fn the_levels_at_the_end_are_those_of_the_state() {
    let text = include_str!("../../../examples/glasshouse.ron");
    let layout = parse(text, Format::Ron).unwrap();
    let film = series(&layout, Catalogue::builtin(), &Observed::Stopped, &|| true);
    let film = film.unwrap().unwrap();
    let found = evaluate(&layout, Catalogue::builtin(), &[State::Stopped]);
    let stopped = found.state(State::Stopped).unwrap();
    let of = |id: &fallwright::layout::Id| stopped.vessels.iter().find(|one| one.id == *id);
    let mut apart_m = 0.0_f64;
    for vessel in &layout.vessels {
        let lanes = lanes(&film, Some(&vessel.id));
        let at_the_end = levels(&film, &lanes, None);
        let told: Vec<Option<f64>> = lanes.iter().map(|lane| of(&lane.vessel)?.level_m).collect();
        assert_eq!(at_the_end, told);
        let axis_ends = levels(&film, &lanes, Some(TimeScale::of(&film).end_s));
        for (one, other) in at_the_end.iter().zip(axis_ends) {
            apart_m = apart_m.max((one.unwrap() - other.unwrap()).abs());
        }
    }
    // Where the axis ends some level is still on its way: it is not what the state tells.
    assert!(apart_m > 1e-5, "{apart_m}");
}
