//! Edits of whole parts: moved, copied, set in a row and in line, turned, taken away, locked, put in and out.

use super::{glasshouse, made};
use crate::support::drawn::{Drawn, place};
use crate::support::fields;
use fallwright::edit::{
    self, Alignment, Item, Lock, Preset, RemovedItem, Shift, align, duplicate, excerpt, fresh_id,
    fresh_name, insert, lock, paste, pipe_of_many, remove, row, shift, stand_on, take_out, turn,
};
use fallwright::layout::{Direction, Id, Layout, Opening, Pipe, Shape, ValveSet, Way};
use fallwright::session;

/// Two tanks, a sump, and a drain from each tank.
fn yard() -> (Layout, Vec<Id>) {
    let mut drawn = Drawn::empty();
    let a = drawn.add(Preset::RoundTank, place(0.0, 0.0, 0.0));
    let b = drawn.add(Preset::RoundTank, place(2.0, 0.0, 0.0));
    let sump = drawn.add(Preset::Sump, place(5.0, 2.0, 0.0));
    let first = drawn.run(&a, &sump);
    let second = drawn.run(&b, &sump);
    (drawn.layout, vec![a, b, sump, first, second])
}

fn crest_m(layout: &Layout, run: &Id) -> f64 {
    let run = layout.run(run).unwrap();
    run.from
        .opening
        .as_ref()
        .and_then(Opening::crest_m)
        .unwrap()
}

#[test]
fn what_is_fixed_to_a_vessel_goes_up_with_it() {
    let (layout, ids) = yard();
    let edit = shift(&layout, &ids[..1], Shift::up(0.25)).unwrap();
    let after = made(&layout, &edit);
    let (old, new) = (
        layout.vessel(&ids[0]).unwrap(),
        after.vessel(&ids[0]).unwrap(),
    );
    for (old, new) in [
        (old.floor_m, new.floor_m),
        (old.rim_m, new.rim_m),
        (old.fill_m, new.fill_m),
    ] {
        assert!((new - old - 0.25).abs() < 1e-9);
    }
    assert!((crest_m(&after, &ids[3]) - crest_m(&layout, &ids[3]) - 0.25).abs() < 1e-9);
    // The other tank and its drain stay.
    assert_eq!(after.vessel(&ids[1]), layout.vessel(&ids[1]));
    assert_eq!(after.run(&ids[4]), layout.run(&ids[4]));
}

#[test]
fn every_height_of_the_demo_goes_up_with_everything() {
    let layout = glasshouse();
    let all: Vec<Id> = layout
        .vessels
        .iter()
        .map(|part| part.id.clone())
        .chain(layout.joints.iter().map(|part| part.id.clone()))
        .chain(layout.fixed.iter().map(|part| part.id.clone()))
        .collect();
    let edit = shift(&layout, &all, Shift::up(1.0)).unwrap();
    let after = made(&layout, &edit);
    for (old, new) in layout.runs.iter().zip(&after.runs) {
        // Raised as a whole, every run keeps its form: lengths are what they were.
        let (was, is) = (layout.length_of(old), after.length_of(new));
        assert!((was - is).abs() < 1e-6, "{}: {was} {is}", old.id);
        for (a, b) in layout.corners_of(old).iter().zip(after.corners_of(new)) {
            assert!((b.z_m - a.z_m - 1.0).abs() < 1e-6, "{}", old.id);
        }
    }
    // And back it is the layout that it was, to the hundredth of a micrometre.
    let back = shift(&after, &all, Shift::up(-1.0))
        .unwrap()
        .apply(&after)
        .unwrap();
    for (old, new) in layout.vessels.iter().zip(&back.vessels) {
        assert!((old.floor_m - new.floor_m).abs() < 2e-8);
    }
}

#[test]
fn legs_keep_their_direction_where_a_vessel_is_moved() {
    let (layout, ids) = yard();
    let by = Shift {
        x_m: -1.0,
        ..Shift::default()
    };
    let edit = shift(&layout, &ids[..1], by).unwrap();
    let after = made(&layout, &edit);
    let moved = after.vessel(&ids[0]).unwrap().place.x_m;
    assert!((moved + 1.0).abs() < 1e-9);
    // The standing pipe stays plumb: its foot went along.
    let corners = after.corners_of(after.run(&ids[3]).unwrap());
    assert!(
        (corners[0].x_m - corners[1].x_m).abs() < 1e-9,
        "{corners:?}"
    );
}

#[test]
fn copies_have_ids_and_names_of_their_own_and_the_runs_between() {
    let (layout, ids) = yard();
    let by = Shift {
        y_m: -3.0,
        ..Shift::default()
    };
    let (edit, copies) = duplicate(&layout, &[ids[0].clone(), ids[2].clone()], by).unwrap();
    let after = made(&layout, &edit);
    assert_eq!(copies.len(), 3, "{copies:?}");
    assert!(copies.iter().all(|id| !layout.has(id) && after.has(id)));
    let names: Vec<&str> = copies.iter().map(|id| after.name_of(id)).collect();
    assert_eq!(names, ["Tank 3", "Sump 2", "Drain 3"]);
    let run = after.run(&copies[2]).unwrap();
    assert!(run.from.at == copies[0] && run.to.at == copies[1]);
    let old = layout.run(&ids[3]).unwrap();
    assert!((after.length_of(run) - layout.length_of(old)).abs() < 1e-9);
    assert_eq!(after.faults(), Vec::new());
}

#[test]
fn a_row_brings_the_runs_that_lead_out_and_no_pump() {
    let (mut layout, ids) = yard();
    let lift = {
        let mut drawn = Drawn { layout };
        let lift = drawn.run(&ids[2], &ids[0]);
        layout = drawn.layout;
        lift
    };
    assert!(layout.run(&lift).unwrap().pump.is_some());
    let step = Shift {
        y_m: 1.5,
        ..Shift::default()
    };
    let (edit, copies) = row(&layout, &ids[..1], 4, step).unwrap();
    let after = made(&layout, &edit);
    assert_eq!(after.vessels.len(), layout.vessels.len() + 3);
    assert_eq!(after.runs.len(), layout.runs.len() + 3);
    assert_eq!(copies.len(), 6);
    let ys: Vec<f64> = after
        .vessels
        .iter()
        .skip(3)
        .map(|one| one.place.y_m)
        .collect();
    assert_eq!(ys, [1.5, 3.0, 4.5]);
    let pumps = after.runs.iter().filter(|run| run.pump.is_some()).count();
    assert_eq!(pumps, 1);
    for few in [0, 1, edit::MOST_COPIES + 1] {
        let said = row(&layout, &ids[..1], few, step).unwrap_err();
        assert!(said.to_string().contains("from 2 to 200"), "{said}");
    }
}

#[test]
fn what_is_copied_as_text_is_put_into_another_layout() {
    let layout = glasshouse();
    let all: Vec<Id> = layout.vessels.iter().map(|part| part.id.clone()).collect();
    let picked = excerpt(&layout, &all);
    assert_eq!(picked.faults(), Vec::new());
    // The spill of what is left behind is lost, and nothing hangs in the air.
    let text = session::text_of_parts(&layout, &all).unwrap();
    let back = session::parts_in_text(&text).unwrap();
    assert_eq!(back, picked);
    let (edit, ids) = paste(&layout, &back, Shift::default()).unwrap();
    let after = edit.apply(&layout).unwrap();
    assert_eq!(after.vessels.len(), 2 * layout.vessels.len());
    assert_eq!(ids.len(), picked.vessels.len() + picked.runs.len());
    assert_eq!(after.faults(), Vec::new());
    let said = paste(&layout, &Layout::default(), Shift::default()).unwrap_err();
    assert!(said.to_string().contains("no parts"), "{said}");
    assert!(session::parts_in_text("a letter to my aunt").is_err());
}

#[test]
fn with_a_vessel_go_its_runs_and_every_word_about_them() {
    let (mut layout, ids) = yard();
    layout.vessels[0].spills_to = Some(ids[2].clone());
    layout.runs[0].valves.push(edit_valve());
    layout.ways.push(Way {
        id: "off".into(),
        name: "Off".to_owned(),
        valves: vec![ValveSet {
            run: ids[3].clone(),
            valve: 0,
            opening: 0.0,
        }],
        out: Vec::new(),
        pumps_off: Vec::new(),
        washing_s: None,
    });
    assert_eq!(layout.faults(), Vec::new());
    let edit = remove(&layout, &ids[2..3]).unwrap();
    let after = made(&layout, &edit);
    assert!(after.runs.is_empty() && after.vessels.len() == 2);
    assert_eq!(after.vessels[0].spills_to, None);
    assert!(after.ways[0].valves.is_empty());
    assert_eq!(after.faults(), Vec::new());
    assert!(remove(&layout, &["nobody".into()]).is_err());
}

fn edit_valve() -> fallwright::layout::ValveUse {
    fallwright::layout::ValveUse {
        kind: "ball".to_owned(),
        opening: 1.0,
        k: None,
        at_m: None,
        near: None,
    }
}

#[test]
fn parts_are_set_in_line_with_the_first() {
    let (layout, ids) = yard();
    let pair = [ids[0].clone(), ids[2].clone()];
    let after = made(
        &layout,
        &align(&layout, &pair, Alignment::AcrossThePage).unwrap(),
    );
    assert_eq!(after.vessel(&ids[2]).unwrap().place.y_m, 0.0);
    let after = made(
        &layout,
        &align(&layout, &pair, Alignment::UpThePage).unwrap(),
    );
    assert_eq!(after.vessel(&ids[2]).unwrap().place.x_m, 0.0);
    let after = made(&layout, &align(&layout, &pair, Alignment::Floors).unwrap());
    assert_eq!(
        after.vessel(&ids[2]).unwrap().floor_m,
        layout.vessel(&ids[0]).unwrap().floor_m
    );
    let after = made(&layout, &align(&layout, &pair, Alignment::Rims).unwrap());
    assert_eq!(
        after.vessel(&ids[2]).unwrap().rim_m,
        layout.vessel(&ids[0]).unwrap().rim_m
    );
    assert!(align(&layout, &pair[..1], Alignment::Rims).is_err());
    assert!(align(&layout, &[], Alignment::Rims).is_err());
}

#[test]
fn four_quarter_turns_are_none() {
    let (layout, ids) = yard();
    let both = [ids[0].clone(), ids[2].clone()];
    let mut now = layout.clone();
    for turns in 1..=4 {
        now = turn(&now, &both, 90.0).unwrap().apply(&now).unwrap();
        let length = now.length_of(now.run(&ids[3]).unwrap());
        let was = layout.length_of(layout.run(&ids[3]).unwrap());
        assert!((length - was).abs() < 1e-6, "{turns}: {length} {was}");
    }
    for (old, new) in layout.vessels.iter().zip(&now.vessels) {
        assert!((old.place.x_m - new.place.x_m).abs() < 1e-6);
        assert!((old.place.turned_deg - new.place.turned_deg).abs() < 1e-9);
    }
    // A quarter to the left takes what is right of the middle to the top.
    let once = turn(&layout, &both, 90.0).unwrap().apply(&layout).unwrap();
    let sump = once.vessel(&ids[2]).unwrap().place;
    assert!(
        (sump.x_m - 1.5).abs() < 1e-9 && (sump.y_m - 3.5).abs() < 1e-9,
        "{sump:?}"
    );
}

#[test]
fn three_blocks_are_three_blocks_high() {
    let (layout, ids) = yard();
    let edit = stand_on(&layout, &ids[..2], 3, 0.19).unwrap();
    let after = made(&layout, &edit);
    for id in &ids[..2] {
        assert!((after.vessel(id).unwrap().floor_m - 0.57).abs() < 1e-9);
    }
    assert!(stand_on(&layout, &ids[..1], 2, 0.0).is_err());
    assert!(stand_on(&layout, &ids[..1], 2, f64::NAN).is_err());
    assert!(stand_on(&layout, &ids[3..4], 2, 0.19).is_err());
}

#[test]
fn what_is_built_is_spared_and_what_is_used_is_not() {
    let (layout, ids) = yard();
    let locked = lock(&layout, &ids, Lock::Built)
        .unwrap()
        .apply(&layout)
        .unwrap();
    let spared = |edit: &edit::Edit| edit.spares_what_is_built().is_ok();
    assert!(!spared(&shift(&locked, &ids[..1], Shift::up(0.1)).unwrap()));
    assert!(!spared(&remove(&locked, &ids[..1]).unwrap()));
    assert!(!spared(
        &insert(&locked, &ids[3], &Item::Valve("ball".to_owned())).unwrap()
    ));
    assert!(!spared(
        &pipe_of_many(&locked, &ids[3..], "pvc-sch40-average", "2").unwrap()
    ));
    assert!(!spared(
        &edit::crest(&locked, &ids[3], fallwright::layout::RunEnd::From, 1.5).unwrap()
    ));
    let fill = fields::number(&locked, &ids[0], "fill_m", 1.2);
    assert!(spared(&fill.unwrap()));
    assert!(spared(&lock(&locked, &ids, Lock::Open).unwrap()));
    // A new run to a built vessel needs a new hole, and is no change of what stands.
    let mut drawn = Drawn {
        layout: locked.clone(),
    };
    let lift = drawn.run(&ids[2], &ids[1]);
    assert!(drawn.layout.has(&lift));
    // The session refuses at its one door, and takes nothing.
    let said = shift(&locked, &ids[..1], Shift::up(0.1))
        .unwrap()
        .spares_what_is_built();
    assert!(said.unwrap_err().to_string().contains("unlock it"));
}

#[test]
fn things_are_put_into_a_run_and_taken_out_again() {
    let (layout, ids) = yard();
    let run = &ids[3];
    let mut now = layout.clone();
    for item in [
        Item::Valve("gate".to_owned()),
        Item::Valve("swing-check".to_owned()),
        Item::Fitting("union".to_owned()),
        Item::Fitting("union".to_owned()),
        Item::Equipment,
        Item::Pump,
    ] {
        let edit = insert(&now, run, &item).unwrap();
        now = made(&now, &edit);
    }
    let with = now.run(run).unwrap();
    assert_eq!(with.valves.len(), 2);
    assert_eq!(with.check_valve, Some(Direction::Forward));
    assert_eq!(
        with.fittings
            .iter()
            .find(|one| one.kind == "union")
            .unwrap()
            .count,
        2
    );
    assert!(with.pump.is_some() && with.equipment.len() == 1);
    assert!(insert(&now, run, &Item::Pump).is_err());
    assert!(insert(&now, run, &Item::Valve("sluice-of-dreams".to_owned())).is_err());
    for taken in [
        RemovedItem::Pump,
        RemovedItem::Equipment(0),
        RemovedItem::Valve(0),
    ] {
        let edit = take_out(&now, run, taken).unwrap();
        now = made(&now, &edit);
    }
    let index = now
        .run(run)
        .unwrap()
        .fittings
        .iter()
        .position(|one| one.kind == "union")
        .unwrap();
    for _ in 0..2 {
        now = take_out(&now, run, RemovedItem::Fitting(index))
            .unwrap()
            .apply(&now)
            .unwrap();
    }
    assert!(
        now.run(run)
            .unwrap()
            .fittings
            .iter()
            .all(|one| one.kind != "union")
    );
    assert!(take_out(&now, run, RemovedItem::Pump).is_err());
    assert!(take_out(&now, run, RemovedItem::Fitting(99)).is_err());
}

#[test]
fn a_valve_taken_out_is_forgotten_by_the_ways_of_running() {
    let (mut layout, ids) = yard();
    layout.runs[0].valves = vec![edit_valve(), edit_valve()];
    let set = |valve, opening| ValveSet {
        run: ids[3].clone(),
        valve,
        opening,
    };
    layout.ways = vec![Way {
        id: "off".into(),
        name: "Off".to_owned(),
        valves: vec![set(0, 0.0), set(1, 0.5)],
        out: Vec::new(),
        pumps_off: Vec::new(),
        washing_s: None,
    }];
    // The first goes: the second is the first from then on, and stays half open.
    let edit = take_out(&layout, &ids[3], RemovedItem::Valve(0)).unwrap();
    let after = made(&layout, &edit);
    assert_eq!(after.ways[0].valves, [set(0, 0.5)]);
    let edit = take_out(&after, &ids[3], RemovedItem::Valve(0)).unwrap();
    let none = made(&after, &edit);
    assert!(none.ways[0].valves.is_empty());
    assert_eq!(none.faults(), Vec::new());
}

#[test]
fn many_runs_are_made_of_one_pipe() {
    let (layout, ids) = yard();
    let edit = pipe_of_many(&layout, &ids[3..], "pvcu-waste-en1329", "75").unwrap();
    let after = made(&layout, &edit);
    for id in &ids[3..] {
        let Pipe::Bought { size, .. } = &after.run(id).unwrap().pipe else {
            panic!()
        };
        assert_eq!(size, "75");
    }
    assert!(pipe_of_many(&layout, &[], "pvcu-waste-en1329", "75").is_err());
}

#[test]
fn ids_and_names_are_never_taken_twice() {
    let (layout, _) = yard();
    assert_eq!(fresh_id(&layout, "tank-1").as_str(), "tank-3");
    assert_eq!(fresh_id(&layout, "new").as_str(), "new");
    assert!(!fresh_id(&layout, "").as_str().is_empty());
    assert_eq!(fresh_name(&layout, "Tank"), "Tank 3");
    assert_eq!(fresh_name(&layout, "Bed"), "Bed 1");
    let last = format!("Tank {}", u32::MAX);
    assert!(fresh_name(&layout, &last).starts_with("Tank"));
    assert!(
        !fresh_id(&layout, &format!("tank-{}", u32::MAX))
            .as_str()
            .is_empty()
    );
}

#[test]
fn everything_on_the_shelf_can_be_held_at_any_height() {
    for preset in Preset::ALL {
        for floor_m in [-3.0, 0.0, 0.123, 12.5] {
            let vessel = preset.vessel(floor_m, place(0.0, 0.0, 0.0));
            let (edit, id) = edit::add(&Layout::default(), vessel, preset.stem()).unwrap();
            let layout = edit.apply(&Layout::default()).unwrap();
            let made = layout.vessel(&id).unwrap();
            assert!((made.rim_m - floor_m - preset.depth_m()).abs() < 1e-6);
            assert!(made.fill_m > made.floor_m && made.fill_m < made.rim_m);
        }
        let sized = preset.sized((1.3, 0.7), 0.0, place(0.0, 0.0, 0.0));
        let (long, wide) = sized.shape.footprint_m();
        match sized.shape {
            Shape::Round { .. } | Shape::ConeBottom { .. } => assert_eq!((long, wide), (1.3, 1.3)),
            Shape::Table { .. } => assert!((long * wide - 1.3 * 0.7).abs() < 1e-9),
            _ => assert_eq!((long, wide), (1.3, 0.7)),
        }
    }
}
