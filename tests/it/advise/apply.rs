//! One number of a layout, set by its path.

use super::layouts::{beds, run_of};
use crate::support::layouts::{at, valve};
use fallwright::advise::apply;
use fallwright::finding::Change;
use fallwright::layout::{CrestKind, Layout, Opening, Rise, Turned, Vent};
use fallwright::units::Quantity;

fn set(layout: &Layout, part: &str, field: &str, to: f64) -> Option<Layout> {
    let change = Change {
        part: part.into(),
        field: field.to_owned(),
        from: 0.0,
        to,
        quantity: Quantity::Height,
    };
    apply(layout, &change)
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
    assert!(set(&layout, "rise", "valves.2.opening", 0.5).is_none());
}

#[test]
fn what_is_not_there_is_not_set() {
    let layout = beds(0.8);
    assert!(set(&layout, "nowhere", "rim_m", 1.0).is_none());
    assert!(set(&layout, "second", "brim_m", 1.0).is_none());
    assert!(set(&layout, "second", "", 1.0).is_none());
    assert!(set(&layout, "second", "name", 1.0).is_none());
    assert!(set(&layout, "second", "rim_m", f64::NAN).is_none());
    assert!(set(&layout, "second", "rim_m", f64::INFINITY).is_none());
    assert!(set(&layout, "overflow", "from.opening.side_hole.invert_m", 0.7).is_none());
    assert!(set(&layout, "overflow", "from.opening.upstand", 0.7).is_none());
    assert!(set(&layout, "overflow", "from.opening.upstand.crest_m.x", 0.7).is_none());
}
