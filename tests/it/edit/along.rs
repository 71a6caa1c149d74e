//! Places along a run, vents, and runs filled by hand: set, kept where they belong, refused.

use super::{made, read};
use crate::support::drawn::{Drawn, place};
use crate::support::fields;
use crate::support::layouts::{at, drain, fitting, run, submerged, two_tanks, valve};
use fallwright::edit::propose::{self, elbows};
use fallwright::edit::{
    self, Along, Item, Lock, Preset, Priming, RemovedItem, Screening, Shift, VentAt, Venting,
    place_along, priming, vent,
};
use fallwright::geometry::Corner;
use fallwright::layout::{
    Equipment, EquipmentLoss, EquipmentOut, FittingUse, Id, Layout, Opening, Run, RunEnd, Turned,
    ValveSet, ValveUse, Way,
};
use fallwright::units::UnitSystem;

fn filter(name: &str) -> Equipment {
    Equipment {
        name: name.to_owned(),
        clean: EquipmentLoss::Terms { a: 0.0, b: 1e5 },
        dirty: None,
        at_wash: None,
        wash_head_m: None,
        out: false,
        at_m: None,
        near: None,
    }
}

/// A drain of 4 m with a fitting, two valves and a filter.
fn filled() -> Layout {
    let mut drain = drain();
    drain.fittings = vec![fitting("union")];
    drain.valves = vec![valve("ball", 1.0), valve("gate", 0.5)];
    drain.equipment = vec![filter("Filter")];
    two_tanks(vec![drain])
}

fn only(layout: &Layout) -> &Run {
    &layout.runs[0]
}

fn drain_id() -> Id {
    "drain".into()
}

#[test]
fn things_are_placed_along_their_run_and_nothing_else_changes() {
    let layout = filled();
    let items = [
        RemovedItem::Fitting(0),
        RemovedItem::Valve(1),
        RemovedItem::Equipment(0),
        RemovedItem::Valve(0),
    ];
    for item in items {
        let mut now = layout.clone();
        for to in [
            Along::At(1.25),
            Along::Near(RunEnd::To),
            Along::At(4.0),
            Along::Near(RunEnd::From),
            Along::At(0.0),
        ] {
            now = made(&now, &place_along(&now, &drain_id(), item, to).unwrap());
            let run = only(&now);
            let (at_m, near) = match item {
                RemovedItem::Fitting(index) => (run.fittings[index].at_m, run.fittings[index].near),
                RemovedItem::Valve(index) => (run.valves[index].at_m, run.valves[index].near),
                RemovedItem::Equipment(index) => {
                    (run.equipment[index].at_m, run.equipment[index].near)
                }
                _ => unreachable!(),
            };
            assert_eq!(Along::of(at_m, near), to, "{item:?}");
            assert_eq!(run.places().filter(|one| *one != (None, None)).count(), 1);
        }
        now = made(
            &now,
            &place_along(&now, &drain_id(), item, Along::NotGiven).unwrap(),
        );
        assert_eq!(now, layout);
    }
}

#[test]
fn what_a_placing_does_reads_in_both_systems() {
    let layout = filled();
    let name = |item, to, system| {
        let edit = place_along(&layout, &drain_id(), item, to).unwrap();
        read(&edit, &layout, system)
    };
    let (metric, us) = (UnitSystem::Metric, UnitSystem::Us);
    assert_eq!(
        name(RemovedItem::Valve(0), Along::At(1.5), metric),
        "Place the valve in drain 1.50 m from upper"
    );
    assert!(name(RemovedItem::Valve(0), Along::At(1.5), us).contains("ft"));
    assert_eq!(
        name(RemovedItem::Equipment(0), Along::Near(RunEnd::To), metric),
        "Place the piece of equipment in drain near lower"
    );
    assert_eq!(
        name(RemovedItem::Fitting(0), Along::NotGiven, metric),
        "Clear the place of the fitting in drain"
    );
}

#[test]
fn a_place_that_cannot_be_is_refused() {
    let layout = filled();
    let refused = |item, to| {
        let said = place_along(&layout, &drain_id(), item, to).unwrap_err();
        said.to_string()
    };
    let beyond = refused(RemovedItem::Valve(1), Along::At(4.01));
    let wanted = "the place along the run of valve 2 is 4.01 m, outside the run, which is 4 m long";
    assert!(beyond.contains(wanted), "{beyond}");
    assert!(refused(RemovedItem::Valve(0), Along::At(-0.1)).contains("from 0 to 4 m"));
    assert!(refused(RemovedItem::Valve(0), Along::At(f64::NAN)).contains("finite"));
    for nothing in [
        RemovedItem::Valve(2),
        RemovedItem::Fitting(1),
        RemovedItem::Equipment(1),
        RemovedItem::Pump,
        RemovedItem::Screen(RunEnd::To),
    ] {
        assert!(refused(nothing, Along::Near(RunEnd::To)).contains("no such item"));
    }
    let nowhere = place_along(
        &layout,
        &"nowhere".into(),
        RemovedItem::Valve(0),
        Along::NotGiven,
    );
    assert!(nowhere.is_err());
    let mut layout = filled();
    layout.runs[0].fittings[0].kind = "entrance-sharp".into();
    let along = place_along(
        &layout,
        &drain_id(),
        RemovedItem::Fitting(0),
        Along::At(0.0),
    );
    assert!(along.unwrap_err().to_string().contains("sits at an end"));
}

#[test]
fn a_run_that_gets_shorter_keeps_what_sits_on_it() {
    let mut layout = filled();
    layout.runs[0].valves[0].at_m = Some(3.5);
    layout.runs[0].valves[1].at_m = Some(1.0);
    layout.runs[0].equipment[0].near = Some(RunEnd::To);
    let shorter = fields::number(&layout, &drain_id(), "length_m", 3.0).unwrap();
    let after = made(&layout, &shorter);
    let run = only(&after);
    assert_eq!(run.length_m, Some(3.0));
    assert_eq!(run.valves[0].at_m, Some(3.0), "at the new end");
    assert_eq!(run.valves[1].at_m, Some(1.0), "where it was");
    assert_eq!(run.equipment[0].near, Some(RunEnd::To));
    assert_eq!(shorter.about(), [drain_id()]);
    // A longer one leaves everything where it is.
    let longer = fields::number(&layout, &drain_id(), "length_m", 9.0).unwrap();
    assert_eq!(only(&made(&layout, &longer)).valves[0].at_m, Some(3.5));
    // A place that the edit itself gives is refused beside a shorter length, and not moved.
    let mut both = only(&layout).clone();
    both.length_m = Some(2.0);
    both.valves[1].at_m = Some(2.5);
    let name = fallwright::finding::Sentence(vec!["Change it".into()]);
    let said = edit::replace(&layout, both, name).unwrap_err();
    assert!(said.to_string().contains("valve 2 is 2.5 m"), "{said}");
}

/// A run without a length of its own, from (0, 0) to (4, 0) at the floor of one tank and the wall of the next.
fn routed() -> Layout {
    let mut layout = filled();
    layout.vessels[1].place = place(4.0, 0.0, 4.0);
    let run = &mut layout.runs[0];
    run.length_m = None;
    run.to = at(
        "lower",
        Opening::Mouth {
            lip_m: 0.2,
            turned: Turned::Horizontal,
            bore_m: None,
            air_gap: false,
        },
    );
    run.route = vec![
        Corner::at(0.0, 0.0, 0.2),
        Corner {
            vented: true,
            vent_top_m: Some(0.9),
            ..Corner::at(2.0, 0.0, 0.4)
        },
    ];
    layout
}

#[test]
fn a_vessel_moved_nearer_takes_what_sits_at_the_end_along() {
    let mut layout = routed();
    let length_m = layout.length_of(only(&layout));
    layout.runs[0].valves[0].at_m = Some(length_m);
    layout.runs[0].valves[1].at_m = Some(0.5);
    let nearer = Shift {
        x_m: -1.0,
        ..Shift::default()
    };
    let after = made(
        &layout,
        &edit::shift(&layout, &["lower".into()], nearer).unwrap(),
    );
    let now_m = after.length_of(only(&after));
    assert!(now_m < length_m - 0.5, "{now_m} {length_m}");
    assert_eq!(only(&after).valves[0].at_m, Some(now_m));
    assert_eq!(only(&after).valves[1].at_m, Some(0.5));
    assert_eq!(after.faults(), vec![]);
}

#[test]
fn a_corner_keeps_its_vent_wherever_it_goes() {
    let layout = routed();
    let id = drain_id();
    let corner = only(&layout).route[1];
    let vented = |layout: &Layout| {
        let corner = only(layout).route[1];
        (corner.z_m, corner.vented, corner.vent_top_m.unwrap())
    };
    let to = Corner {
        x_m: 2.5,
        z_m: 1.0,
        ..corner
    };
    let moved = made(&layout, &propose::corner(&layout, &id, 1, to).unwrap());
    assert_eq!(
        vented(&moved),
        (1.0, true, 1.5),
        "as high over it as it was"
    );
    // A top that is given with the move is taken as it is.
    let with_top = Corner {
        vent_top_m: Some(1.1),
        ..to
    };
    let moved = made(
        &layout,
        &propose::corner(&layout, &id, 1, with_top).unwrap(),
    );
    assert_eq!(vented(&moved), (1.0, true, 1.1));
    let all = ["upper".into(), "lower".into(), "tee".into()];
    let raised = edit::shift(&layout, &all, Shift::up(0.25)).unwrap();
    assert_eq!(vented(&made(&layout, &raised)), (0.65, true, 1.15));
    let aside = Shift {
        x_m: 10.0,
        ..Shift::default()
    };
    let (copied, _) = edit::duplicate(&layout, &all, aside).unwrap();
    let copied = made(&layout, &copied);
    let copy = &copied.runs[1].route[1];
    assert_eq!(
        (copy.x_m, copy.vented, copy.vent_top_m),
        (12.0, true, Some(0.9))
    );
}

#[test]
fn a_joint_keeps_its_vent_wherever_it_goes() {
    let mut layout = filled();
    layout.joints[0].vented = true;
    layout.joints[0].vent_top_m = Some(0.8);
    let raised = edit::shift(&layout, &["tee".into()], Shift::up(0.3)).unwrap();
    let after = made(&layout, &raised);
    assert_eq!(after.joints[0].elevation_m, 0.6);
    assert_eq!(after.joints[0].vent_top_m, Some(1.1));
    let (copied, ids) = edit::duplicate(&layout, &["tee".into()], Shift::up(0.1)).unwrap();
    let copied = made(&layout, &copied);
    let copy = copied.joints.iter().find(|one| one.id == ids[0]).unwrap();
    assert_eq!((copy.vented, copy.vent_top_m), (true, Some(0.9)));
}

#[test]
fn vents_are_put_in_and_taken_away() {
    let layout = routed();
    let at_corner = VentAt::Corner(drain_id(), 0);
    let edit = vent(&layout, &at_corner, Venting::Vented).unwrap();
    let name = read(&edit, &layout, UnitSystem::Metric);
    assert_eq!(name, "Add a vent at corner 1 of drain");
    let after = made(&layout, &edit);
    let corners = &only(&after).route;
    assert_eq!((corners[0].vented, corners[0].vent_top_m), (true, None));
    assert_eq!(corners[1], only(&layout).route[1]);
    // With a vent goes its top.
    let closed = vent(&layout, &VentAt::Corner(drain_id(), 1), Venting::Closed).unwrap();
    let corner = only(&made(&layout, &closed)).route[1];
    assert_eq!(corner, Corner::at(2.0, 0.0, 0.4));
    let tee = VentAt::Joint("tee".into());
    let vented = made(&layout, &vent(&layout, &tee, Venting::Vented).unwrap());
    assert!(vented.joints[0].vented);
    let top = fields::number(&vented, &"tee".into(), "vent_top_m", 0.7).unwrap();
    let vented = made(&vented, &top);
    let closed = made(&vented, &vent(&vented, &tee, Venting::Closed).unwrap());
    assert_eq!(closed, layout);
    for nowhere in [
        VentAt::Corner(drain_id(), 2),
        VentAt::Corner("tee".into(), 0),
        VentAt::Joint(drain_id()),
        VentAt::Joint("nowhere".into()),
    ] {
        let said = vent(&layout, &nowhere, Venting::Vented).unwrap_err();
        assert!(said.to_string().contains("no such"), "{said}");
    }
}

#[test]
fn a_vent_top_under_its_pipe_is_refused() {
    let layout = routed();
    let set = |top_m| {
        let field = "route.1.vent_top_m";
        fields::number(&layout, &drain_id(), field, top_m)
    };
    assert!(set(0.4).is_ok());
    let said = set(0.39).unwrap_err().to_string();
    let wanted = "the top of the vent of corner 2 is 0.39 m, under the corner at 0.4 m";
    assert!(said.contains(wanted), "{said}");
}

#[test]
fn a_run_is_filled_by_hand_or_not() {
    let layout = filled();
    let by_hand = priming(&layout, &drain_id(), Priming::ByHand).unwrap();
    let name = read(&by_hand, &layout, UnitSystem::Metric);
    assert_eq!(name, "Fill drain by hand before use");
    let primed = made(&layout, &by_hand);
    assert!(only(&primed).starts_primed);
    let back = priming(&primed, &drain_id(), Priming::Itself).unwrap();
    assert_eq!(made(&primed, &back), layout);
    assert!(priming(&layout, &"tee".into(), Priming::ByHand).is_err());
}

#[test]
fn what_is_built_is_filled_by_hand_but_nothing_in_it_is_moved() {
    let layout = filled();
    let locked = edit::lock(&layout, &[drain_id()], Lock::Built).unwrap();
    let locked = locked.apply(&layout).unwrap();
    let spared = |edit: &edit::Edit| edit.spares_what_is_built().is_ok();
    assert!(spared(
        &priming(&locked, &drain_id(), Priming::ByHand).unwrap()
    ));
    let moved = place_along(&locked, &drain_id(), RemovedItem::Valve(0), Along::At(1.0));
    assert!(!spared(&moved.unwrap()));
}

#[test]
fn elbows_and_unions_that_were_placed_are_not_counted_with_others() {
    let mut layout = routed();
    let placed = FittingUse {
        at_m: Some(0.5),
        ..fitting("elbow-90")
    };
    layout.runs[0].fittings = vec![placed.clone(), fitting("elbow-90")];
    let to = Corner::at(2.0, 1.0, 0.4);
    let after = made(
        &layout,
        &propose::corner(&layout, &drain_id(), 1, to).unwrap(),
    );
    let (old, new) = (
        elbows(&layout.corners_of(only(&layout))),
        elbows(&after.corners_of(only(&after))),
    );
    assert_ne!(old, new);
    assert_eq!(only(&after).fittings[0], placed);
    let more = Item::Fitting("elbow-90".to_owned());
    let more = edit::insert(&layout, &drain_id(), &more).unwrap();
    let counts: Vec<u32> = only(&made(&layout, &more))
        .fittings
        .iter()
        .map(|one| one.count)
        .collect();
    assert_eq!(counts, [1, 2]);
}

fn set(run: &str, valve: u32, opening: f64) -> ValveSet {
    ValveSet {
        run: run.into(),
        valve,
        opening,
    }
}

fn out(run: &str, equipment: &str) -> EquipmentOut {
    EquipmentOut {
        run: run.into(),
        equipment: equipment.to_owned(),
    }
}

/// A level pipe of 4 m along x between two tanks, half of it before a tee at x = 1; its own length is twice that.
fn level() -> Layout {
    let mut pipe = run("drain", at("upper", submerged()), at("lower", submerged()));
    pipe.length_m = Some(8.0);
    let placed = |at_m: Option<f64>, near: Option<RunEnd>| ValveUse {
        at_m,
        near,
        ..valve("ball", 1.0)
    };
    pipe.valves = vec![
        placed(Some(7.0), None),
        placed(None, None),
        placed(Some(1.5), None),
        placed(None, Some(RunEnd::To)),
        placed(None, Some(RunEnd::From)),
    ];
    pipe.equipment = vec![
        Equipment {
            at_m: Some(6.0),
            ..filter("Filter")
        },
        filter("Lamp"),
        Equipment {
            near: Some(RunEnd::To),
            ..filter("Lamp")
        },
    ];
    pipe.fittings = vec![FittingUse {
        at_m: Some(5.0),
        count: 3,
        ..fitting("union")
    }];
    pipe.starts_primed = true;
    let mut layout = two_tanks(vec![pipe]);
    layout.vessels[0].floor_m = 0.0;
    layout.vessels[1].place = place(4.0, 0.0, 4.0);
    layout.ways = vec![Way {
        id: "wash".into(),
        name: "Washing".into(),
        valves: (0..5)
            .map(|valve| set("drain", valve, 0.1 * f64::from(valve)))
            .collect(),
        out: vec![out("drain", "Filter"), out("drain", "Lamp")],
        pumps_off: Vec::new(),
        washing_s: None,
    }];
    layout
}

#[test]
fn a_tee_leaves_everything_where_it_sits() {
    let layout = level();
    let (edit, joint) = propose::split(&layout, &drain_id(), (1.0, 0.0)).unwrap();
    let after = made(&layout, &edit);
    let [first, second] = &after.runs[..] else {
        panic!("{:?}", after.runs.len());
    };
    assert_eq!((&first.to.at, &second.from.at), (&joint, &joint));
    // A quarter of the way along the drawing is a quarter of the length that was given.
    let lengths = [first, second].map(|run| run.length_m.unwrap());
    assert!((lengths[0] - 2.0).abs() < 1e-9 && (lengths[1] - 6.0).abs() < 1e-9);
    let places = |run: &Run| -> Vec<Along> {
        let all = run.places().map(|(at_m, near)| Along::of(at_m, near));
        all.collect()
    };
    let at = Along::At;
    assert_eq!(
        places(first),
        [
            Along::NotGiven,
            at(1.5),
            Along::Near(RunEnd::From),
            Along::NotGiven
        ]
    );
    assert_eq!(
        places(second),
        [
            at(3.0),
            at(5.0),
            Along::Near(RunEnd::To),
            at(4.0),
            Along::Near(RunEnd::To)
        ]
    );
    assert_eq!(second.fittings[0].count, 3);
    assert!(first.starts_primed && second.starts_primed);
    // Operating modes find each valve where it is now; of two lamps of one name each half has one.
    let rest = second.id.as_str();
    assert_eq!(
        after.ways[0].valves,
        [
            set(rest, 0, 0.0),
            set("drain", 0, 0.1),
            set("drain", 1, 0.2),
            set(rest, 1, 0.3),
            set("drain", 2, 0.4)
        ]
        .map(|mut set: ValveSet| {
            // The same sums as in the layout.
            set.opening = 0.1 * (set.opening * 10.0).round();
            set
        })
    );
    assert_eq!(
        after.ways[0].out,
        [out("drain", "Lamp"), out(rest, "Filter"), out(rest, "Lamp")]
    );
}

#[test]
fn a_tee_near_an_end_leaves_what_sits_there_on_its_run() {
    let mut drawn = Drawn::empty();
    let tank = drawn.add(Preset::RoundTank, place(0.0, 0.0, 0.0));
    let bed = drawn.add(Preset::Bed, place(2.5, 0.0, 2.5));
    let run = drawn.run(&tank, &bed);
    let length_m = drawn.layout.length_of(drawn.layout.run(&run).unwrap());
    for share in [0.0, 0.37, 0.5, 1.0] {
        for x_m in [0.7, 1.2, 1.6] {
            let mut layout = drawn.layout.clone();
            let whole = layout.runs.iter_mut().find(|one| one.id == run).unwrap();
            whole.valves = vec![ValveUse {
                at_m: Some(length_m * share),
                ..valve("ball", 1.0)
            }];
            let (edit, _) = propose::split(&layout, &run, (x_m, 0.0)).unwrap();
            let after = made(&layout, &edit);
            let mut far_m = 0.0;
            let mut found = Vec::new();
            for one in after.runs.iter() {
                found.extend(one.places().filter_map(|(at_m, _)| Some(far_m + at_m?)));
                far_m += after.length_of(one);
            }
            // The tee stands on a whole millimetre.
            assert_eq!(found.len(), 1);
            assert!((found[0] - length_m * share).abs() < 3e-3, "{share} {x_m}");
        }
    }
}

#[test]
fn a_screen_is_put_in_made_a_cage_and_taken_away() {
    let layout = filled();
    let made_so = |layout: &Layout, to| {
        made(
            layout,
            &edit::screen(layout, &drain_id(), RunEnd::From, to).unwrap(),
        )
    };
    let screen = |layout: &Layout| only(layout).from.screen.clone();
    let before = made_so(&layout, Screening::Before);
    assert_eq!(Screening::of(screen(&before).as_ref()), Screening::Before);
    let cage = made_so(&before, Screening::Cage);
    let stands = screen(&cage).unwrap();
    let floor_m = layout.vessel(&only(&layout).from.at).unwrap().floor_m;
    assert_eq!((stands.foot_m, stands.height_m), (Some(floor_m), Some(0.3)));
    let lip = made_so(&cage, Screening::OnTheLip);
    let stands = screen(&lip).unwrap();
    assert_eq!(
        (stands.on_the_lip, stands.foot_m, stands.height_m),
        (true, None, None)
    );
    assert_eq!(made_so(&lip, Screening::None), layout);
    let name = |to| {
        let edit = edit::screen(&layout, &drain_id(), RunEnd::From, to).unwrap();
        read(&edit, &layout, UnitSystem::Metric)
    };
    assert_eq!(name(Screening::Cage), "Add a cage around drain in upper");
    let gone = edit::screen(&layout, &"none".into(), RunEnd::From, Screening::Before);
    assert!(gone.is_err());
}

#[test]
fn a_cage_rises_with_its_vessel() {
    let mut layout = filled();
    let cage = edit::screen(&layout, &drain_id(), RunEnd::From, Screening::Cage).unwrap();
    layout = made(&layout, &cage);
    let up = Shift {
        up_m: 0.25,
        ..Shift::default()
    };
    let at = only(&layout).from.at.clone();
    let risen = made(&layout, &edit::shift(&layout, &[at], up).unwrap());
    let [was, is] = [&layout, &risen].map(|layout| only(layout).from.screen.clone().unwrap());
    assert_eq!(is.foot_m.unwrap(), was.foot_m.unwrap() + 0.25);
    assert_eq!(is.height_m, was.height_m);
}
