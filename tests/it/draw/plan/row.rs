//! Layouts without places: set out in a row in the order of fall, nothing on top of anything.

use super::case::{drawn, dry, place, reach, round, scene};
use crate::support::layouts::{at, joint, run, tank, upstand};
use fallwright::draw::page::shape::{Rect, Shape};
use fallwright::draw::plan::{Drawn, Floorplan, Pick, SheetOptions, plan, sheet};
use fallwright::layout::{Layout, Place};

/// Header, bed and sump that nobody gave a place, drawn in another order.
fn ring() -> Layout {
    let mouth = |lip_m: f64| super::case::level_mouth(lip_m);
    Layout {
        title: "Ring".to_owned(),
        vessels: vec![
            tank("sump", 0.0, 0.6),
            tank("header", 2.0, 2.6),
            tank("bed", 1.0, 1.6),
        ],
        runs: vec![
            run("down", at("header", upstand(2.4)), at("bed", mouth(1.5))),
            run("back", at("bed", upstand(1.4)), at("sump", mouth(0.5))),
            run("past", at("header", upstand(2.5)), at("sump", mouth(0.55))),
        ],
        ..Layout::default()
    }
}

fn rect(drawn: &Drawn, id: &str) -> Rect {
    reach(drawn, &Pick::Part(id.into())).unwrap().bounds()
}

#[test]
fn they_stand_in_the_order_in_which_water_falls() {
    let drawn = drawn(&ring());
    let [header, bed, sump] = ["header", "bed", "sump"].map(|id| rect(&drawn, id));
    assert!(header.right < bed.left && bed.right < sump.left);
    assert_eq!(header.centre().y, sump.centre().y);
}

#[test]
fn how_many_were_set_out_is_known_and_said_on_a_sheet() {
    let layout = ring();
    assert_eq!(Floorplan::of(&layout).without_place(), 3);
    let said = |layout: &Layout| {
        let drawing = sheet(&SheetOptions {
            layout,
            running: None,
            findings: &[],
            units: layout.units,
            page: (1600.0, 900.0),
        });
        drawing.marks.iter().any(|mark| {
            matches!(&mark.shape, Shape::Text(text) if text.words.contains("Places are not given"))
        })
    };
    assert!(said(&layout));
    let mut placed = layout;
    for (index, vessel) in placed.vessels.iter_mut().enumerate() {
        vessel.place = place(1.0 + 3.0 * index as f64, 1.0);
    }
    assert_eq!(Floorplan::of(&placed).without_place(), 0);
    assert!(!said(&placed));
}

#[test]
fn one_part_alone_at_the_origin_stands_there() {
    let mut layout = ring();
    layout.vessels[1].place = place(3.0, 0.0);
    layout.vessels[2].place = place(6.0, 0.0);
    assert_eq!(Floorplan::of(&layout).without_place(), 0);
}

#[test]
fn what_has_a_place_keeps_it_and_the_row_stands_clear_of_it() {
    let mut layout = ring();
    layout.vessels.push(round("pond", (5.0, 3.0), 0.0));
    layout.joints.push(joint("tee", 0.5));
    layout.joints[0].place = Place {
        y_m: -2.0,
        ..place(5.0, 0.0)
    };
    let drawn = dry(&layout);
    let given = [rect(&drawn, "pond"), rect(&drawn, "tee")];
    for id in ["header", "bed", "sump"] {
        let own = rect(&drawn, id);
        assert!(given.iter().all(|other| !other.overlaps(own)), "{id}");
        assert!(own.top > given[1].bottom, "{id} stands under it");
    }
}

#[test]
fn vessels_of_any_size_do_not_stand_on_one_another() {
    let mut layout = ring();
    for (index, width_m) in [0.2, 30.0, 0.01, 4.0, 1.0].into_iter().enumerate() {
        let mut vessel = tank(&format!("more-{index}"), 0.3 * index as f64, 3.0);
        vessel.shape = fallwright::layout::Shape::Rectangular {
            length_m: width_m,
            width_m: 2.0 / width_m.max(0.5),
        };
        vessel.place.turned_deg = 25.0 * index as f64;
        layout.vessels.push(vessel);
    }
    let drawn = dry(&layout);
    let rects: Vec<Rect> = layout
        .vessels
        .iter()
        .map(|one| rect(&drawn, one.id.as_str()))
        .collect();
    for (index, one) in rects.iter().enumerate() {
        assert!(
            rects
                .iter()
                .skip(index + 1)
                .all(|other| !one.overlaps(*other))
        );
    }
}

#[test]
fn a_run_past_a_vessel_of_the_row_goes_round_it() {
    let layout = ring();
    let ground = Floorplan::of(&layout);
    let drawn = plan(&scene(&layout, &ground, None));
    let bed = rect(&drawn, "bed");
    let past = reach(&drawn, &Pick::Part("past".into())).unwrap();
    let fallwright::draw::plan::TouchArea::Line { points, .. } = past else {
        panic!("{past:?}");
    };
    let level = points
        .windows(2)
        .find(|pair| pair[0].y == pair[1].y)
        .unwrap();
    assert!(level[0].y > bed.bottom && level[0].x < bed.left && level[1].x > bed.right);
    assert_eq!(
        ground.crossings(),
        Vec::new(),
        "and crosses nothing on its way"
    );
}
