//! One number of a layout, set by its path.

use crate::advise::layouts::{beds, run_of};
use crate::support::fields::{clear, number};
use crate::support::layouts::{at, fitting, valve};
use fallwright::edit::EditError;
use fallwright::layout::{CrestKind, Id, Layout, Opening, Rise, Turned, Vent};
use fallwright::units::UnitSystem;

fn set(layout: &Layout, part: &str, field: &str, to: f64) -> Result<Layout, EditError> {
    number(layout, &part.into(), field, to)?.apply(layout)
}

#[test]
fn heights_of_vessels() {
    let layout = beds(0.8);
    let raised = set(&layout, "second", "rim_m", 0.912).unwrap();
    assert_eq!(raised.vessels[1].rim_m, 0.912);
    let filled = set(&layout, "sump", "fill_m", 0.1).unwrap();
    assert_eq!(filled.vessels[3].fill_m, 0.1);
    let mut wanted = layout.clone();
    wanted.vessels[1].rim_m = 0.912;
    assert_eq!(raised, wanted, "and nothing else");
}

#[test]
fn the_height_of_every_kind_of_opening() {
    let raised = Opening::RaisedIntake {
        intake_m: 0.65,
        crest_m: 0.8,
        crest: CrestKind::Tee,
        rise: Rise::default(),
        vent: Vent::Open,
    };
    let mouth = Opening::Mouth {
        lip_m: 0.8,
        turned: Turned::Up,
        bore_m: None,
        air_gap: false,
    };
    let kinds = [
        (crate::support::layouts::upstand(0.8), "upstand.crest_m"),
        (
            Opening::SideHole {
                invert_m: 0.8,
                bore_m: None,
            },
            "side_hole.invert_m",
        ),
        (
            Opening::Floor {
                lip_m: Some(0.8),
                bore_m: None,
            },
            "floor.lip_m",
        ),
        (
            Opening::Floor {
                lip_m: None,
                bore_m: None,
            },
            "floor.lip_m",
        ),
        (
            Opening::Submerged {
                lip_m: None,
                bore_m: None,
            },
            "submerged.lip_m",
        ),
        (mouth, "mouth.lip_m"),
        (raised, "raised_intake.crest_m"),
    ];
    for (opening, field) in kinds {
        let mut layout = beds(0.8);
        run_of(&mut layout, "overflow").from = at("third", opening);
        let field = format!("from.opening.{field}");
        let changed = set(&layout, "overflow", &field, 0.7123).unwrap();
        let opening = changed.runs[3].from.opening.as_ref().unwrap();
        assert_eq!(opening.crest_m(), Some(0.7123), "{field}");
    }
}

#[test]
fn valves_and_bores() {
    let mut layout = beds(0.8);
    run_of(&mut layout, "rise").valves = vec![valve("gate", 1.0), valve("gate", 0.0)];
    let opened = set(&layout, "rise", "valves.1.opening", 0.5).unwrap();
    assert_eq!(opened.runs[0].valves[1].opening, 0.5);
    let wider = set(&layout, "rise", "pipe.own.bore_m", 0.11).unwrap();
    let bore = format!("{:?}", wider.runs[0].pipe);
    assert!(bore.contains("bore_m: 0.11"), "{bore}");
    assert!(set(&layout, "rise", "valves.2.opening", 0.5).is_err());
}

#[test]
fn counts_stay_whole() {
    let mut layout = beds(0.8);
    run_of(&mut layout, "rise").fittings = vec![fitting("elbow-90")];
    let more = set(&layout, "rise", "fittings.0.count", 3.0).unwrap();
    assert_eq!(more.runs[0].fittings[0].count, 3);
    for wrong in [2.5, -1.0, 1e12] {
        let refused = set(&layout, "rise", "fittings.0.count", wrong).unwrap_err();
        assert_eq!(refused.cure, "type a whole number, 0 or more", "{wrong}");
    }
    let none = set(&layout, "rise", "fittings.0.count", 0.0).unwrap_err();
    assert!(none.cure.contains("from 1 to 10000"), "{none}");
}

#[test]
fn a_pump_is_reached_by_its_own_id() {
    let layout = beds(0.8);
    let slower = set(&layout, "lift", "speed", 0.9).unwrap();
    assert_eq!(slower.runs[0].pump.as_ref().unwrap().speed, 0.9);
    assert_eq!(slower, set(&layout, "rise", "pump.speed", 0.9).unwrap());
}

#[test]
fn what_is_not_there_is_not_set() {
    let layout = beds(0.8);
    let refused = |part: &str, field: &str, to| set(&layout, part, field, to).unwrap_err().what;
    assert_eq!(
        refused("nowhere", "rim_m", 1.0),
        "the layout has no such part"
    );
    for (part, field) in [
        ("second", "brim_m"),
        ("second", ""),
        ("second", "."),
        ("second", "name"),
        ("second", "medium"),
        ("second", "spills_to"),
        ("second", "medium.porosity"),
        ("overflow", "from.opening.side_hole.invert_m"),
        ("overflow", "from.opening.upstand"),
        ("overflow", "from.opening.upstand.crest_m.x"),
        ("overflow", "valves.0.opening"),
        ("overflow", "route.-1.x_m"),
    ] {
        let wanted = format!("this part has no number `{field}`");
        assert_eq!(refused(part, field, 1.0), wanted);
        assert_eq!(
            clear(&layout, &part.into(), field).unwrap_err().what,
            wanted
        );
    }
    for wrong in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
        assert_eq!(
            refused("second", "rim_m", wrong),
            "this is not a finite number"
        );
    }
}

#[test]
fn a_number_out_of_range_is_refused_with_the_range() {
    let layout = beds(0.8);
    let refused = set(&layout, "second", "rim_m", 30_000.0).unwrap_err();
    assert_eq!(
        refused.to_string(),
        "the rim is 30000 m (second): give it a number from -20000 to 20000 m"
    );
    assert_eq!(refused.part, Some("second".into()));
    let name = |_: &Id| "Second bed".to_owned();
    assert_eq!(
        refused.read(&name, UnitSystem::Us),
        "The rim is 98400 ft (Second bed): give it a number from -65600 ft to 65600 ft"
    );
    let refused = set(&layout, "second", "rim_m", 0.5).unwrap_err();
    let cure = "raise the rim or lower the floor; both are elevations above the datum";
    for (units, what) in [
        (
            UnitSystem::Metric,
            "The rim is 500 mm, not above the floor at 600 mm",
        ),
        (
            UnitSystem::Us,
            "The rim is 1 ft 7 11/16 in, not above the floor at 1 ft 11 5/8 in",
        ),
    ] {
        assert_eq!(
            refused.read(&name, units),
            format!("{what} (Second bed): {cure}")
        );
    }
    // As in a file.
    assert_eq!(
        refused.what,
        "the rim is 0.5 m, not above the floor at 0.6 m"
    );
}

#[test]
fn a_range_that_begins_too_small_to_be_measured_is_read_as_over_nothing() {
    let mut layout = beds(0.8);
    layout.vessels[1].shape = fallwright::layout::Shape::Prism { area_m2: 1.0 };
    let refused = set(&layout, "second", "shape.prism.area_m2", 0.0).unwrap_err();
    assert_eq!(refused.cure, "give it a number from 0.000001 to 1e10 m²");
    assert_eq!(
        refused.cure.read(UnitSystem::Metric),
        "give it a number over 0, up to 1.00e10 m²"
    );
}

#[test]
fn numbers_that_may_be_left_out_are_cleared() {
    let mut layout = beds(0.8);
    let plain = layout.clone();
    run_of(&mut layout, "overflow").from = at(
        "third",
        Opening::Floor {
            lip_m: Some(0.7),
            bore_m: Some(0.09),
        },
    );
    run_of(&mut layout, "overflow").total_k = Some(3.0);
    let cleared = |field: &str| {
        let edit = clear(&layout, &"overflow".into(), field).unwrap();
        assert!(!edit.changes_nothing());
        edit.apply(&layout).unwrap().runs[3].clone()
    };
    let opening = cleared("from.opening.floor.lip_m").from.opening;
    let wanted = Opening::Floor {
        lip_m: None,
        bore_m: Some(0.09),
    };
    assert_eq!(opening, Some(wanted));
    assert_eq!(cleared("total_k").total_k, None);
    let already = clear(&plain, &"overflow".into(), "total_k").unwrap();
    assert!(already.changes_nothing());
    for field in ["rim_m", "make_up_m3_s", "place.x_m"] {
        let refused = clear(&layout, &"second".into(), field).unwrap_err();
        assert_eq!(refused.what, format!("`{field}` cannot be empty"));
    }
}
