//! Readings from a staff become floors and rims.

use super::{glasshouse, made, read};
use crate::file::everything::everything;
use fallwright::catalogue::Catalogue;
use fallwright::edit::{
    Closing, EditError, ReadPoint, Reading, SetUp, Sight, Survey, SurveyedHeights, survey, surveyed,
};
use fallwright::evaluate::preview;
use fallwright::layout::{Id, Layout, Opening, Vessel};
use fallwright::units::UnitSystem;
use proptest::prelude::*;
use serde_json::Value;

fn sight(part: &str, point: ReadPoint, reading_m: f64) -> Sight {
    let part = part.into();
    Sight {
        part,
        point,
        reading_m,
    }
}

/// From one place, with a staff that reads 1.500 m on the door sill, which is at 0.200 m.
fn from_the_sill(sights: Vec<Sight>) -> Survey {
    Survey {
        mark: "the door sill".to_owned(),
        mark_m: 0.2,
        reads: Reading::Staff,
        set_ups: vec![SetUp {
            on_known_m: 1.5,
            sights,
            on_next_m: None,
        }],
        closing: None,
    }
}

fn bed(layout: &Layout, id: &str) -> Vessel {
    layout.vessel(&id.into()).unwrap().clone()
}

fn upstand_m(layout: &Layout, run: &str) -> f64 {
    let run = layout.run(&run.into()).unwrap();
    match &run.from.opening {
        Some(Opening::Upstand { crest_m, .. }) => *crest_m,
        other => panic!("{other:?}"),
    }
}

fn close(a: f64, b: f64) -> bool {
    (a - b).abs() < 2e-8
}

/// A page of a level book with six set-ups between two bench marks: R. Rode, “Collimation method to
/// reduce a leveling field book page”. Heights to the millimetre, closing error and all.
#[test]
fn val_a_page_of_a_level_book_with_six_set_ups() {
    // Reading on the known point, readings on others with the height that the page gives, on the next.
    type Row = (f64, &'static [(f64, f64)], Option<f64>);
    let page: [Row; 6] = [
        (1.216, &[(0.025, 107.557), (1.555, 106.027)], Some(2.508)),
        (1.386, &[(3.625, 102.835)], Some(1.196)),
        (1.235, &[], Some(3.566)),
        (3.655, &[], Some(0.506)),
        (2.126, &[(2.605, 105.603), (1.094, 107.114)], Some(3.628)),
        (1.125, &[(1.394, 104.311)], None),
    ];
    let set_ups = page.iter().map(|(on_known_m, rows, on_next_m)| SetUp {
        on_known_m: *on_known_m,
        sights: rows
            .iter()
            .map(|(reading_m, _)| sight("any", ReadPoint::Rim, *reading_m))
            .collect(),
        on_next_m: *on_next_m,
    });
    let book = Survey {
        mark_m: 106.366,
        set_ups: set_ups.collect(),
        closing: Some(Closing {
            reading_m: 0.484,
            known_m: 105.263,
            walked_m: None,
        }),
        ..Survey::default()
    };
    let levels = book.levels().unwrap();
    let wanted: Vec<f64> = page.iter().flat_map(|row| row.1).map(|row| row.1).collect();
    assert_eq!(levels.points.len(), wanted.len());
    for ((_, _, found_m), wanted_m) in levels.points.iter().zip(&wanted) {
        assert!(close(*found_m, *wanted_m), "{found_m} {wanted_m}");
    }
    // 105.221 was found on the second mark: 42 mm too low.
    assert!(close(levels.closed.unwrap().error_m, -0.042));
}

/// C. D. Ghilani and P. R. Wolf, Elementary Surveying, the figure of differential levelling: 8.42 ft on a
/// mark at 820.00 ft and 1.20 ft on X, which is at 827.22 ft (section number from memory: 4.5.4).
#[test]
fn val_one_set_up_in_feet() {
    let foot_m = 0.3048;
    let mut book = from_the_sill(vec![sight("x", ReadPoint::Floor, 1.20 * foot_m)]);
    (book.mark_m, book.set_ups[0].on_known_m) = (820.0 * foot_m, 8.42 * foot_m);
    let levels = book.levels().unwrap();
    assert!(close(levels.points[0].2 / foot_m, 827.22));
}

/// Third-order levelling: 12 mm round one kilometre, half of that round a quarter of it.
#[test]
fn what_a_loop_may_be_out_by_grows_with_the_root_of_its_length() {
    for (walked_m, allowed_m) in [
        (Some(1000.0), Some(0.012)),
        (Some(250.0), Some(0.006)),
        (Some(0.0), None),
        (None, None),
    ] {
        let mut book = from_the_sill(Vec::new());
        book.closing = Some(Closing {
            reading_m: 1.497,
            known_m: 0.2,
            walked_m,
        });
        let closed = book.levels().unwrap().closed.unwrap();
        // Read 3 mm less than before, the sill seems 3 mm higher.
        assert!(close(closed.error_m, 0.003));
        assert_eq!(closed.allowed_m, allowed_m);
    }
}

/// By hand. Line of sight 1.700; floor of bed 3 at 1.700 − 0.690 = 1.010, which is 10 mm higher than
/// drawn; its rim at 1.700 − 0.420, − 0.424 and − 0.419, of which 1.276 is the lowest.
#[test]
fn a_floor_and_a_rim_out_of_level_are_set_and_all_in_the_vessel_follows_its_floor() {
    let layout = glasshouse();
    let before = bed(&layout, "cress-3");
    let reading_m = 1.7 - (before.floor_m + 0.01);
    let book = from_the_sill(vec![
        sight("cress-3", ReadPoint::Rim, 0.420),
        sight("cress-3", ReadPoint::Floor, reading_m),
        sight("cress-3", ReadPoint::Rim, 0.424),
        sight("cress-3", ReadPoint::Rim, 0.419),
    ]);
    let found = surveyed(&layout, &book).unwrap();
    assert_eq!(found.len(), 1);
    assert!(close(found[0].moved_m, 0.010));
    match found[0].stands {
        SurveyedHeights::Vessel {
            floor_m,
            rim_m,
            out_of_level_m,
        } => {
            assert!(close(floor_m, before.floor_m + 0.010));
            assert!(close(rim_m, 1.276));
            assert!(close(out_of_level_m.unwrap(), 0.005));
        }
        other => panic!("{other:?}"),
    }
    let edit = survey(&layout, &book).unwrap();
    let after = made(&layout, &edit);
    assert_eq!(
        read(&edit, &layout, UnitSystem::Metric),
        "Set floors and rims from the survey with mark the door sill"
    );
    let stands = bed(&after, "cress-3");
    assert!(close(stands.rim_m, 1.276));
    assert!(close(stands.fill_m, before.fill_m + 0.010));
    let crest_m = upstand_m(&layout, "step-3");
    assert!(close(upstand_m(&after, "step-3"), crest_m + 0.010));
    // Nothing else moves.
    for id in ["cress-2", "cress-4", "pit", "header"] {
        assert_eq!(bed(&after, id), bed(&layout, id));
    }
    assert_eq!(upstand_m(&after, "step-4"), upstand_m(&layout, "step-4"));
    assert_eq!(after.joints, layout.joints);
}

#[test]
fn a_vessel_keeps_its_depth_where_only_its_rim_or_only_its_floor_was_read() {
    let layout = glasshouse();
    let before = bed(&layout, "cress-3");
    let depth_m = before.rim_m - before.floor_m;
    for (point, reading_m) in [(ReadPoint::Rim, 0.4), (ReadPoint::Floor, 0.66)] {
        let book = from_the_sill(vec![sight("cress-3", point, reading_m)]);
        let after = made(&layout, &survey(&layout, &book).unwrap());
        let after = bed(&after, "cress-3");
        assert!(close(after.rim_m - after.floor_m, depth_m));
        let read_m = match point {
            ReadPoint::Rim => after.rim_m,
            _ => after.floor_m,
        };
        assert!(close(read_m, 1.7 - reading_m));
        let up_m = after.floor_m - before.floor_m;
        assert!(close(after.fill_m - before.fill_m, up_m));
        let found = surveyed(&layout, &book).unwrap();
        assert!(close(found[0].moved_m, up_m));
    }
}

#[test]
fn joints_and_fixed_levels_take_one_reading() {
    let layout = everything();
    let book = from_the_sill(vec![
        sight("ditch", ReadPoint::Height, 2.3),
        sight("tee", ReadPoint::Height, -0.7),
    ]);
    let found = surveyed(&layout, &book).unwrap();
    let moved: Vec<(&str, f64)> = found
        .iter()
        .map(|one| (one.part.as_str(), (one.moved_m * 1e6).round() / 1e6))
        .collect();
    // In the order of the layout: the joint from 2.5 to 2.4 m, the ditch from −0.5 to −0.6 m.
    assert_eq!(moved, [("tee", -0.1), ("ditch", -0.1)]);
    let edit = survey(&layout, &book).unwrap();
    let after = made(&layout, &edit);
    assert!(close(after.joints[0].elevation_m, 2.4));
    assert!(close(after.fixed[0].level_m, -0.6));
    assert_eq!(after.vessels, layout.vessels);
    let words = "Set heights from the survey with mark the door sill";
    assert_eq!(read(&edit, &layout, UnitSystem::Us), words);
}

/// By hand: 1.700 over the first place; the turning point at 1.700 − 0.3 = 1.400; 1.400 + 1.1 = 2.500
/// over the second, and 2.500 − 0.1 = 2.400 on the rim of the header.
#[test]
fn a_turning_point_carries_the_height_over() {
    let layout = glasshouse();
    let mut book = from_the_sill(vec![sight("pit", ReadPoint::Rim, 1.64)]);
    book.set_ups[0].on_next_m = Some(0.3);
    book.set_ups.push(SetUp {
        on_known_m: 1.1,
        sights: vec![sight("header", ReadPoint::Rim, 0.1)],
        on_next_m: None,
    });
    book.closing = Some(Closing {
        reading_m: 2.302,
        known_m: 0.2,
        walked_m: Some(40.0),
    });
    let after = made(&layout, &survey(&layout, &book).unwrap());
    assert!(close(bed(&after, "pit").rim_m, 0.06));
    assert!(close(bed(&after, "header").rim_m, 2.4));
    let closed = book.levels().unwrap().closed.unwrap();
    assert!(close(closed.error_m, -0.002));
    assert!(closed.allowed_m.unwrap() > 0.002);
}

/// Each elevation of a part, and all else, by the field that holds it.
fn raised(value: &mut Value, key: &str, by_m: f64) {
    const HEIGHTS: &[&str] = &[
        "floor_m",
        "rim_m",
        "fill_m",
        "top_m",
        "shut_m",
        "outlet_m",
        "make_up_outlet_m",
        "open_m",
        "elevation_m",
        "level_m",
        "crest_m",
        "invert_m",
        "lip_m",
        "foot_m",
        "intake_m",
        "height_m",
        "z_m",
        "vent_top_m",
        "on_m",
        "off_m",
    ];
    match value {
        Value::Number(number) if HEIGHTS.contains(&key) => {
            *value = (number.as_f64().unwrap() + by_m).into();
        }
        Value::Object(fields) => {
            // The height of a cage is over its foot.
            let cage = fields.contains_key("foot_m");
            for (key, inner) in fields
                .iter_mut()
                .filter(|(key, _)| !cage || *key != "height_m")
            {
                raised(inner, key, by_m);
            }
        }
        Value::Array(rows) => rows.iter_mut().for_each(|row| raised(row, key, by_m)),
        _ => {}
    }
}

fn same(a: &Value, b: &Value) -> bool {
    match (a, b) {
        (Value::Number(a), Value::Number(b)) => close(a.as_f64().unwrap(), b.as_f64().unwrap()),
        (Value::Object(a), Value::Object(b)) => {
            a.len() == b.len() && a.iter().all(|(key, one)| same(one, &b[key]))
        }
        (Value::Array(a), Value::Array(b)) => {
            a.len() == b.len() && a.iter().zip(b).all(|(a, b)| same(a, b))
        }
        _ => a == b,
    }
}

/// Every floor, centre and level read `by_m` higher than drawn.
fn all_raised(layout: &Layout, by_m: f64) -> Survey {
    let mut sights = Vec::new();
    let mut add = |id: &Id, point, height_m: f64| {
        sights.push(sight(id.as_str(), point, 1.7 - (height_m + by_m)));
    };
    for part in &layout.vessels {
        add(&part.id, ReadPoint::Floor, part.floor_m);
    }
    for part in &layout.joints {
        add(&part.id, ReadPoint::Height, part.elevation_m);
    }
    for part in &layout.fixed {
        add(&part.id, ReadPoint::Height, part.level_m);
    }
    from_the_sill(sights)
}

#[test]
fn everything_that_has_a_height_moves_with_what_it_is_fixed_to() {
    let mut layout = everything();
    // A pipe at a ditch is fixed to its bank, which was not read.
    let ditch: Id = "ditch".into();
    layout
        .runs
        .retain(|run| run.from.at != ditch && run.to.at != ditch);
    layout.ways.clear();
    let by_m = 0.125;
    let after = made(
        &layout,
        &survey(&layout, &all_raised(&layout, by_m)).unwrap(),
    );
    let mut wanted = serde_json::to_value(&layout).unwrap();
    raised(&mut wanted, "", by_m);
    let after = serde_json::to_value(&after).unwrap();
    for list in ["vessels", "joints", "fixed", "runs"] {
        for (after, wanted) in after[list]
            .as_array()
            .unwrap()
            .iter()
            .zip(wanted[list].as_array().unwrap())
        {
            assert!(same(after, wanted), "{after}\n\n{wanted}");
        }
    }
    assert!(same(&after, &wanted));
    assert!(layout.runs.len() > 4, "something was left to move");
}

/// What both ends have in common the whole run moves; for the rest a level leg stays level up to the first
/// leg that stands.
#[test]
fn a_run_moves_by_what_its_ends_have_in_common() {
    let layout = glasshouse();
    let run = layout.runs.iter().find(|run| {
        let ends = [&run.from.at, &run.to.at];
        run.route.len() == 2 && ends.iter().all(|id| layout.vessel(id).is_some())
    });
    let run = run.expect("a run with two corners between vessels");
    let floor = |id: &Id, up_m: f64| {
        let part = layout.vessel(id).unwrap();
        sight(id.as_str(), ReadPoint::Floor, 1.7 - (part.floor_m + up_m))
    };
    for (up_m, corners_m) in [([0.03, 0.03], Some([0.03, 0.03])), ([-2.0, -2.01], None)] {
        let book = from_the_sill(vec![
            floor(&run.from.at, up_m[0]),
            floor(&run.to.at, up_m[1]),
        ]);
        let after = made(&layout, &survey(&layout, &book).unwrap());
        let after = &after.run(&run.id).unwrap().route;
        for (index, corner) in after.iter().enumerate() {
            let moved_m = corner.z_m - run.route[index].z_m;
            match corners_m {
                Some(wanted_m) => assert!(close(moved_m, wanted_m[index]), "{moved_m}"),
                None => assert!((-2.01 - 1e-8..=-2.0 + 1e-8).contains(&moved_m), "{moved_m}"),
            }
        }
    }
}

fn refused(layout: &Layout, book: &Survey) -> EditError {
    survey(layout, book).unwrap_err()
}

#[test]
fn a_rim_that_comes_out_under_its_floor_names_the_vessel() {
    let mut layout = glasshouse();
    let book = from_the_sill(vec![
        sight("cress-3", ReadPoint::Floor, 0.5),
        sight("cress-3", ReadPoint::Rim, 0.7),
    ]);
    let refusal = refused(&layout, &book);
    assert_eq!(refusal.part, Some("cress-3".into()));
    let words = "its rim at 1000 mm is not above its floor at 1200 mm";
    assert_eq!(refusal.what, words);
    layout.units = UnitSystem::Us;
    let refusal = refused(&layout, &book);
    assert!(refusal.what.contains("3 ft 3 3/8 in"), "{refusal}");
    // What the readings come to is still told, to find the wrong one by.
    assert!(surveyed(&layout, &book).is_ok());
}

#[test]
fn readings_that_say_nothing_are_refused() {
    let layout = everything();
    let one = |part: &str, point, reading_m| from_the_sill(vec![sight(part, point, reading_m)]);
    let say = |book: &Survey| refused(&layout, book).to_string();
    let floor = layout.vessels[0].id.as_str().to_owned();
    assert!(say(&from_the_sill(Vec::new())).contains("there are no readings"));
    assert!(say(&one("nowhere", ReadPoint::Floor, 1.0)).contains("no such part"));
    assert!(say(&one(&floor, ReadPoint::Height, 1.0)).contains("a floor and a rim"));
    assert!(say(&one("tee", ReadPoint::Rim, 1.0)).contains("one height"));
    assert!(say(&one("ditch", ReadPoint::Floor, 1.0)).contains("one height"));
    assert!(say(&one("tee", ReadPoint::Height, f64::NAN)).contains("finite"));
    assert!(say(&one("tee", ReadPoint::Height, 1e6)).contains("20000"));
    let mut twice = one(&floor, ReadPoint::Floor, 1.0);
    let again = twice.set_ups[0].sights[0].clone();
    twice.set_ups[0].sights.push(again);
    assert!(say(&twice).contains("its floor was read twice"));
    let mut adrift = one("tee", ReadPoint::Height, 1.0);
    adrift.set_ups.push(SetUp::default());
    let words = "set-up 2 has no point of known height";
    assert!(say(&adrift).contains(words));
    adrift.set_ups.clear();
    assert!(say(&adrift).contains("no readings"));
    let mut endless = one("tee", ReadPoint::Height, 1.0);
    endless.mark_m = f64::INFINITY;
    assert!(say(&endless).contains("finite"));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(32))]

    /// A height above the mark is what a staff reads less on the point than on the mark.
    #[test]
    fn prop_a_staff_and_a_tape_give_the_same_heights(
        mark_m in -5.0..5.0_f64,
        on_mark_m in 0.0..3.0_f64,
        readings in prop::collection::vec(-1.0..4.0_f64, 1..8),
    ) {
        let layout = glasshouse();
        let parts = layout.vessels.iter().map(|part| part.id.as_str());
        let sights: Vec<Sight> = parts
            .zip(&readings)
            .map(|(part, reading_m)| sight(part, ReadPoint::Rim, *reading_m))
            .collect();
        let mut staff = from_the_sill(sights);
        (staff.mark_m, staff.set_ups[0].on_known_m) = (mark_m, on_mark_m);
        let mut tape = staff.clone();
        tape.reads = Reading::AboveMark;
        tape.set_ups[0].on_known_m = 0.0;
        for sight in &mut tape.set_ups[0].sights {
            sight.reading_m = on_mark_m - sight.reading_m;
        }
        let (staff, tape) = (staff.levels().unwrap(), tape.levels().unwrap());
        for (a, b) in staff.points.iter().zip(&tape.points) {
            prop_assert!(close(a.2, b.2));
        }
    }
}

/// Water does not know where the datum is.
#[test]
fn prop_all_read_higher_by_one_height_every_level_is_higher_by_it() {
    let layout = glasshouse();
    let by_m = 12.5;
    let after = made(
        &layout,
        &survey(&layout, &all_raised(&layout, by_m)).unwrap(),
    );
    let levels = |layout: &Layout| -> Vec<f64> {
        let report = preview(layout, Catalogue::builtin()).unwrap();
        report
            .vessels
            .iter()
            .map(|one| one.level_m.unwrap())
            .collect()
    };
    for (before_m, after_m) in levels(&layout).iter().zip(levels(&after)) {
        assert!(
            (after_m - before_m - by_m).abs() < 1e-5,
            "{before_m} {after_m}"
        );
    }
}
