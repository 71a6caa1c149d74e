//! Faults of numbers beside each other, of ids and of references: one failing, one on the limit.
//! The ranges of single numbers are in `ranges`.

use super::good;
use fallwright::layout::{
    CurveForm, CurvePoint, Edge, Equipment, EquipmentLoss, EquipmentOut, FloatSwitch, FloatValve,
    Joint, Layout, LossPoint, MOST_PARTS, NotchShape, NpshPoint, Opening, Pipe, Pump, Run, RunEnd,
    Screen, Shape, SiphonBreak, TableRow, ValveSet, ValveUse, Vessel, Way,
};

fn vessel<'a>(layout: &'a mut Layout, id: &str) -> &'a mut Vessel {
    let found = layout.vessels.iter_mut().find(|v| v.id.as_str() == id);
    found.unwrap()
}

fn run<'a>(layout: &'a mut Layout, id: &str) -> &'a mut Run {
    let found = layout.runs.iter_mut().find(|r| r.id.as_str() == id);
    found.unwrap()
}

fn pump(layout: &mut Layout) -> &mut Pump {
    run(layout, "lift").pump.as_mut().unwrap()
}

/// Changes the good layout twice: `broken` has exactly this fault, `limit` has none.
struct Case {
    part: Option<&'static str>,
    field: &'static str,
    says: &'static str,
    broken: fn(&mut Layout),
    limit: fn(&mut Layout),
}

fn check(case: Case) {
    let mut layout = good();
    (case.broken)(&mut layout);
    let faults = layout.faults();
    let [fault] = faults.as_slice() else {
        panic!("one fault is wanted: {faults:?}");
    };
    assert_eq!(fault.part.as_ref().map(|id| id.as_str()), case.part);
    assert_eq!(fault.field, case.field);
    assert!(fault.what.contains(case.says), "{}", fault.what);
    assert!(!fault.cure.is_empty());
    let mut layout = good();
    (case.limit)(&mut layout);
    assert_eq!(layout.faults(), vec![]);
}

macro_rules! cases {
    ($($name:ident: $part:expr, $field:expr, $says:expr, $broken:expr, $limit:expr;)*) => {
        $(#[test] fn $name() {
            let (part, field, says) = ($part, $field, $says);
            check(Case { part, field, says, broken: $broken, limit: $limit });
        })*
    };
}

fn rows(depths_m: &[f64]) -> Shape {
    let row = |depth_m: &f64| TableRow {
        depth_m: *depth_m,
        area_m2: 1.0,
    };
    Shape::Table {
        rows: depths_m.iter().map(row).collect(),
    }
}

fn curve(flows_m3_s: &[f64]) -> CurveForm {
    let point = |flow_m3_s: &f64| CurvePoint {
        flow_m3_s: *flow_m3_s,
        head_m: 1.0,
    };
    CurveForm::Points(flows_m3_s.iter().map(point).collect())
}

fn filter(flows_m3_s: &[f64]) -> Vec<Equipment> {
    let point = |flow_m3_s: &f64| LossPoint {
        flow_m3_s: *flow_m3_s,
        head_m: 0.1,
    };
    let clean = EquipmentLoss::Points(flows_m3_s.iter().map(point).collect());
    vec![Equipment {
        name: "Filter".into(),
        clean,
        dirty: None,
        at_wash: None,
        wash_head_m: None,
        out: false,
        at_m: None,
        near: None,
    }]
}

fn drum() -> Shape {
    Shape::LyingDrum {
        diameter_m: 0.7,
        length_m: 1.0,
    }
}

fn vee() -> Opening {
    Opening::Notch {
        crest_m: 0.9,
        shape: NotchShape::Vee { angle_deg: 90.0 },
        weir: None,
    }
}

fn notch(width_m: f64, channel_m: f64) -> Opening {
    Opening::Notch {
        crest_m: 0.9,
        shape: NotchShape::Rectangular {
            width_m,
            channel_m: Some(channel_m),
        },
        weir: None,
    }
}

fn hole(bore_m: Option<f64>) -> Opening {
    Opening::SideHole {
        invert_m: 0.9,
        bore_m,
    }
}

/// Takes the pipe of a run away, and gives both ends openings without a bore of the pipe's.
fn no_pipe(run: &mut Run, opening: Option<Opening>) {
    run.pipe = Pipe::Open;
    run.from.opening = opening;
    run.to.opening = Some(vee());
}

fn screen(open_share: f64) -> Screen {
    Screen {
        name: String::new(),
        area_m2: 0.1,
        open_share,
        blinded: 0.0,
        k: None,
        on_the_lip: false,
        foot_m: None,
        height_m: None,
    }
}

fn hole_near(near: RunEnd) -> SiphonBreak {
    SiphonBreak {
        height_m: 0.4,
        bore_m: 0.003,
        near,
    }
}

fn npsh(flows_m3_s: &[f64]) -> Vec<NpshPoint> {
    let point = |flow_m3_s: &f64| NpshPoint {
        flow_m3_s: *flow_m3_s,
        npsh_m: 2.0,
    };
    flows_m3_s.iter().map(point).collect()
}

fn way(id: &str) -> Way {
    Way {
        id: id.into(),
        name: String::new(),
        valves: Vec::new(),
        out: Vec::new(),
        pumps_off: Vec::new(),
        washing_s: None,
    }
}

fn set(run: &str, valve: u32) -> ValveSet {
    ValveSet {
        run: run.into(),
        valve,
        opening: 0.0,
    }
}

fn out(equipment: &str) -> EquipmentOut {
    EquipmentOut {
        run: "lift".into(),
        equipment: equipment.to_owned(),
    }
}

/// A valve in a run, at a distance or at an end.
fn put(run: &mut Run, at_m: Option<f64>, near: Option<RunEnd>) {
    let valve = crate::support::layouts::valve("ball", 1.0);
    run.valves = vec![ValveUse {
        at_m,
        near,
        ..valve
    }];
}

fn with_valve(layout: &mut Layout) {
    run(layout, "lift").valves = vec![crate::support::layouts::valve("ball", 1.0)];
}

cases! {
    // Vessels
    rim_at_its_floor: Some("sump"), "rim_m", "not above the floor",
        |l| { let v = vessel(l, "sump"); v.fill_m = 0.0; v.rim_m = 0.0; },
        |l| { let v = vessel(l, "sump"); v.fill_m = 0.0; v.rim_m = 0.001; };
    filled_below_its_floor: Some("bed-1"), "fill_m", "below the floor",
        |l| vessel(l, "bed-1").fill_m = 0.799,
        |l| vessel(l, "bed-1").fill_m = 0.8;
    filled_above_its_rim_is_sound: Some("bed-1"), "fill_m", "below the floor",
        |l| vessel(l, "bed-1").fill_m = -1.0,
        |l| vessel(l, "bed-1").fill_m = 3.0;
    table_without_rows: Some("bed-2"), "shape.table.rows", "no rows",
        |l| vessel(l, "bed-2").shape = rows(&[]),
        |l| vessel(l, "bed-2").shape = rows(&[0.0]);
    table_not_from_the_floor: Some("bed-2"), "shape.table.rows.0.depth_m", "first row",
        |l| vessel(l, "bed-2").shape = rows(&[0.1, 0.2]),
        |l| vessel(l, "bed-2").shape = rows(&[0.0, 0.2]);
    table_with_a_depth_twice: Some("bed-2"), "shape.table.rows.2.depth_m", "row before it",
        |l| vessel(l, "bed-2").shape = rows(&[0.0, 0.1, 0.1]),
        |l| vessel(l, "bed-2").shape = rows(&[0.0, 0.1, 0.11]);
    table_that_ends_without_area: Some("bed-2"), "shape.table.rows.1.area_m2", "is 0 m²",
        |l| vessel(l, "bed-2").shape = Shape::Table { rows: vec![
            TableRow { depth_m: 0.0, area_m2: 1.0 }, TableRow { depth_m: 1.0, area_m2: 0.0 } ] },
        |l| vessel(l, "bed-2").shape = Shape::Table { rows: vec![
            TableRow { depth_m: 0.0, area_m2: 0.0 }, TableRow { depth_m: 1.0, area_m2: 1e-6 } ] };
    cone_taller_than_its_vessel_is_sound: Some("sump"), "shape.cone_bottom.cone_height_m", "is 0 m",
        |l| vessel(l, "sump").shape = Shape::ConeBottom { diameter_m: 1.0, cone_height_m: 0.0 },
        |l| vessel(l, "sump").shape = Shape::ConeBottom { diameter_m: 1.0, cone_height_m: 50.0 };
    spills_to_nowhere: Some("bed-1"), "spills_to", "`drain`",
        |l| vessel(l, "bed-1").spills_to = Some("drain".into()),
        |l| vessel(l, "bed-1").spills_to = Some("mains".into());
    spills_to_a_joint: Some("bed-1"), "spills_to", "neither a vessel nor a fixed level",
        |l| vessel(l, "bed-1").spills_to = Some("tee".into()),
        |l| vessel(l, "bed-1").spills_to = Some("bed-2".into());
    drum_with_a_rim_over_its_crown: Some("sump"), "rim_m", "over the crown",
        |l| { let v = vessel(l, "sump"); v.shape = drum(); v.floor_m = 0.1; v.fill_m = 0.2; v.rim_m = 0.81; },
        |l| { let v = vessel(l, "sump"); v.shape = drum(); v.floor_m = 0.1; v.fill_m = 0.2; v.rim_m = 0.1 + 0.7; };
    drum_without_a_diameter: Some("bed-2"), "shape.lying_drum.diameter_m", "is 0 m",
        |l| vessel(l, "bed-2").shape = Shape::LyingDrum { diameter_m: 0.0, length_m: 1.0 },
        |l| vessel(l, "bed-2").shape = Shape::LyingDrum { diameter_m: 30.0, length_m: 1.0 };
    float_valve_upside_down: Some("bed-1"), "float_valve.shut_m", "not above the level at which it is fully open",
        |l| vessel(l, "bed-1").float_valve = Some(FloatValve { shut_m: 0.5, open_m: 0.5, flow_m3_s: 1e-4, outlet_m: None, drinking_water: false }),
        |l| vessel(l, "bed-1").float_valve = Some(FloatValve { shut_m: 0.51, open_m: 0.5, flow_m3_s: 1e-4, outlet_m: None, drinking_water: false });
    spills_to_itself: Some("bed-1"), "spills_to", "the vessel itself",
        |l| vessel(l, "bed-1").spills_to = Some("bed-1".into()),
        |l| vessel(l, "bed-1").spills_to = None;

    // Ids, names, parts
    id_empty: None, "joints.1.id", "empty",
        |l| l.joints.push(Joint::default()),
        |l| l.joints.push(Joint { id: "x".into(), ..Joint::default() });
    id_with_a_space: Some("a b"), "id", "space",
        |l| l.joints.push(Joint { id: "a b".into(), ..Joint::default() }),
        |l| l.joints.push(Joint { id: "a–b°".into(), ..Joint::default() });
    id_with_a_control_character: Some("a\u{7}"), "id", "control character",
        |l| l.joints.push(Joint { id: "a\u{7}".into(), ..Joint::default() }),
        |l| l.joints.push(Joint { id: "a".into(), ..Joint::default() });
    id_of_a_vessel_again_on_a_run: Some("sump"), "id", "used twice",
        |l| run(l, "drain-1").id = "sump".into(),
        |l| run(l, "drain-1").id = "Sump".into();
    id_of_a_run_again_on_its_pump: Some("lift"), "id", "used twice",
        |l| pump(l).id = "lift".into(),
        |l| pump(l).id = "lift-pump".into();
    name_too_long: Some("sump"), "name", "1001 characters",
        |l| vessel(l, "sump").name = "ü".repeat(1001),
        |l| vessel(l, "sump").name = "ü".repeat(1000);
    title_too_long: None, "title", "1001 characters",
        |l| l.title = "x".repeat(1001),
        |l| l.title = "x".repeat(1000);

    // Ends
    end_nowhere: Some("drain-1"), "to.at", "\"smup\"",
        |l| run(l, "drain-1").to.at = "smup".into(),
        |l| run(l, "drain-1").to.at = "bed-1".into();
    end_at_a_pump: Some("drain-1"), "from.at", "no vessel, joint or fixed level",
        |l| run(l, "drain-1").from.at = "pump".into(),
        |l| run(l, "drain-1").from.at = "bed-2".into();
    vessel_without_an_opening: Some("drain-1"), "from.opening", "without an opening",
        |l| run(l, "drain-1").from.opening = None,
        |l| run(l, "top-up").from.opening = None;
    joint_with_an_opening: Some("feed-1"), "from.opening", "has an opening at the joint",
        |l| run(l, "feed-1").from.opening = Some(Opening::Floor { lip_m: None, bore_m: None }),
        |l| run(l, "top-up").from.opening = Some(Opening::Floor { lip_m: None, bore_m: None });

    no_pipe_and_one_opening_is_sound: Some("drain-1"), "to.opening", "without an opening",
        |l| run(l, "drain-1").to.opening = None,
        |l| { let r = run(l, "drain-1"); no_pipe(r, Some(vee())); r.to.opening = None; };
    no_pipe_and_no_opening: Some("drain-1"), "to.opening", "without an opening",
        |l| { let r = run(l, "drain-1"); no_pipe(r, Some(vee())); r.from.at = "tee".into(); r.from.opening = None; r.to.opening = None; },
        |l| no_pipe(run(l, "drain-1"), Some(vee()));
    no_pipe_and_no_bore: Some("drain-1"), "from.opening", "no bore",
        |l| no_pipe(run(l, "drain-1"), Some(hole(None))),
        |l| no_pipe(run(l, "drain-1"), Some(hole(Some(0.05))));
    notch_wider_than_its_channel: Some("drain-1"), "from.opening.notch.shape.rectangular.channel_m", "less than the notch",
        |l| run(l, "drain-1").from.opening = Some(notch(0.3, 0.2)),
        |l| run(l, "drain-1").from.opening = Some(notch(0.3, 0.3));
    screen_at_a_joint: Some("feed-1"), "from.screen", "at the joint",
        |l| run(l, "feed-1").from.screen = Some(screen(0.5)),
        |l| run(l, "drain-1").from.screen = Some(screen(0.5));
    cage_without_a_height: Some("drain-1"), "from.screen.foot_m", "without `height_m`",
        |l| run(l, "drain-1").from.screen = Some(Screen { foot_m: Some(0.1), ..screen(0.5) }),
        |l| run(l, "drain-1").from.screen = Some(Screen { foot_m: Some(0.1), height_m: Some(0.2), ..screen(0.5) });
    cage_without_a_foot: Some("drain-1"), "from.screen.height_m", "without `foot_m`",
        |l| run(l, "drain-1").from.screen = Some(Screen { height_m: Some(0.2), ..screen(0.5) }),
        |l| run(l, "drain-1").from.screen = Some(screen(0.5));
    cage_on_the_lip: Some("drain-1"), "from.screen.on_the_lip", "has a foot of its own",
        |l| run(l, "drain-1").from.screen = Some(Screen { on_the_lip: true, foot_m: Some(0.1), height_m: Some(0.2), ..screen(0.5) }),
        |l| run(l, "drain-1").from.screen = Some(Screen { on_the_lip: true, ..screen(0.5) });
    screen_without_holes: Some("drain-1"), "from.screen.open_share", "is 0",
        |l| run(l, "drain-1").from.screen = Some(screen(0.0)),
        |l| run(l, "drain-1").from.screen = Some(screen(1.0));
    edge_of_a_notch: Some("drain-1"), "from.edge", "no mouth limits",
        |l| { let r = run(l, "drain-1"); r.from.opening = Some(notch(0.3, 0.3)); r.from.edge = Edge::Flush; },
        |l| run(l, "drain-1").from.edge = Edge::Flush;
    orifice_at_a_joint: Some("feed-1"), "from.orifice", "no mouth limits",
        |l| run(l, "feed-1").from.orifice = Some(0.6),
        |l| run(l, "drain-1").from.orifice = Some(0.6);
    edge_and_an_entrance: Some("drain-1"), "from.edge", "both say what the entrance loses",
        |l| { with_entrance(l); run(l, "drain-1").from.edge = Edge::Rounded; },
        |l| { with_entrance(l); run(l, "drain-1").from.entrance_k = Some(0.1); };
    siphon_break_near_a_joint: Some("feed-1"), "siphon_break.near", "a joint without a level",
        |l| run(l, "feed-1").siphon_break = Some(hole_near(RunEnd::From)),
        |l| run(l, "feed-1").siphon_break = Some(hole_near(RunEnd::To));
    float_switch_at_one_level: Some("pump"), "float.off_m", "at one level",
        |l| pump(l).float = Some(FloatSwitch { on_m: 0.4, off_m: 0.4, at: Some("sump".into()) }),
        |l| pump(l).float = Some(FloatSwitch { on_m: 0.4, off_m: 0.41, at: Some("bed-1".into()) });
    float_switch_in_no_vessel: Some("pump"), "float.at", "no vessel",
        |l| pump(l).float = Some(FloatSwitch { on_m: 0.4, off_m: 0.2, at: Some("tee".into()) }),
        |l| pump(l).float = Some(FloatSwitch { on_m: 0.4, off_m: 0.2, at: None });
    npsh_with_a_flow_twice: Some("pump"), "npsh_required.1.flow_m3_s", "not above the point before",
        |l| pump(l).npsh_required = npsh(&[0.001, 0.001]),
        |l| pump(l).npsh_required = npsh(&[0.001, 0.002]);

    // Places along a run, and vents
    valve_beyond_a_length_that_is_given: Some("top-up"), "valves.0.at_m", "is 6.1 m, outside the run, which is 6 m long",
        |l| run(l, "top-up").valves[0].at_m = Some(6.1),
        |l| run(l, "top-up").valves[0].at_m = Some(6.0);
    valve_beyond_the_route: Some("lift"), "valves.0.at_m", "outside the run",
        |l| run(l, "lift").valves[0].at_m = Some(1.200_002),
        |l| run(l, "lift").valves[0].at_m = Some(1.200_000_9);
    valve_before_the_start: Some("lift"), "valves.0.at_m", "is -0.1 m",
        |l| run(l, "lift").valves[0].at_m = Some(-0.1),
        |l| run(l, "lift").valves[0].at_m = Some(0.0);
    equipment_at_no_number: Some("lift"), "equipment.0.at_m", "not a finite number",
        |l| run(l, "lift").equipment[0].at_m = Some(f64::NAN),
        |l| run(l, "lift").equipment[0].near = Some(RunEnd::To);
    fitting_by_distance_and_by_end: Some("feed-2"), "fittings.0.at_m", "both given",
        |l| { let f = &mut run(l, "feed-2").fittings[0]; f.at_m = Some(1.0); f.near = Some(RunEnd::From); },
        |l| run(l, "feed-2").fittings[0].at_m = Some(1.0);
    entrance_along_the_run: Some("feed-2"), "fittings.0.at_m", "sits at an end of the run",
        |l| { let f = &mut run(l, "feed-2").fittings[0]; f.kind = "entrance-r02".into(); f.at_m = Some(0.0); },
        |l| { let f = &mut run(l, "feed-2").fittings[0]; f.kind = "entrance-r02".into(); f.near = Some(RunEnd::From); };
    exit_along_the_run: Some("feed-2"), "fittings.0.at_m", "sits at an end of the run",
        |l| { let f = &mut run(l, "feed-2").fittings[0]; f.kind = "exit".into(); f.at_m = Some(2.5); },
        |l| { let f = &mut run(l, "feed-2").fittings[0]; f.kind = "exit".into(); f.near = Some(RunEnd::To); };
    distance_without_a_pipe: Some("drain-1"), "valves.0.at_m", "no pipe",
        |l| { let r = run(l, "drain-1"); no_pipe(r, Some(vee())); put(r, Some(0.5), None); },
        |l| { let r = run(l, "drain-1"); no_pipe(r, Some(vee())); put(r, None, None); };
    end_without_a_pipe: Some("drain-1"), "valves.0.near", "no pipe",
        |l| { let r = run(l, "drain-1"); no_pipe(r, Some(vee())); put(r, None, Some(RunEnd::To)); },
        |l| put(run(l, "drain-1"), None, Some(RunEnd::To));
    vent_top_without_a_vent: Some("lift"), "route.1.vent_top_m", "no vent",
        |l| run(l, "lift").route[1].vent_top_m = Some(1.5),
        |l| run(l, "lift").route[1].vented = true;
    vent_top_under_its_corner: Some("lift"), "route.1.vent_top_m", "is 1.2 m, under the corner at 1.3 m",
        |l| { let c = &mut run(l, "lift").route[1]; c.vented = true; c.vent_top_m = Some(1.2); },
        |l| { let c = &mut run(l, "lift").route[1]; c.vented = true; c.vent_top_m = Some(1.3); };
    vent_top_out_of_range: Some("lift"), "route.1.vent_top_m", "is 20001 m",
        |l| { let c = &mut run(l, "lift").route[1]; c.vented = true; c.vent_top_m = Some(20_001.0); },
        |l| { let c = &mut run(l, "lift").route[1]; c.vented = true; c.vent_top_m = Some(20_000.0); };
    joint_with_a_vent_top_and_no_vent: Some("tee"), "vent_top_m", "no vent",
        |l| l.joints[0].vent_top_m = Some(1.5),
        |l| l.joints[0].vented = true;
    joint_with_its_vent_top_under_it: Some("tee"), "vent_top_m", "under the centre of the joint at 1.3 m",
        |l| { let j = &mut l.joints[0]; j.vented = true; j.vent_top_m = Some(1.29); },
        |l| { let j = &mut l.joints[0]; j.vented = true; j.vent_top_m = Some(1.3); };

    // Operating modes
    way_with_the_id_of_a_part: Some("sump"), "id", "used twice",
        |l| l.ways.push(way("sump")),
        |l| l.ways.push(way("wash"));
    way_of_a_run_that_is_not_there: Some("wash"), "valves.0.run", "no run",
        |l| l.ways.push(Way { valves: vec![set("lfit", 0)], ..way("wash") }),
        |l| { with_valve(l); l.ways.push(Way { valves: vec![set("lift", 0)], ..way("wash") }) };
    way_of_a_valve_that_is_not_there: Some("wash"), "valves.0.valve", "has 1 valve",
        |l| { with_valve(l); l.ways.push(Way { valves: vec![set("lift", 1)], ..way("wash") }) },
        |l| { with_valve(l); l.ways.push(Way { valves: vec![set("lift", 0)], ..way("wash") }) };
    way_without_equipment_that_is_there: Some("wash"), "out.0.equipment", "no equipment called \"Filtre\"",
        |l| { run(l, "lift").equipment = filter(&[0.001]); l.ways.push(Way { out: vec![out("Filtre")], ..way("wash") }) },
        |l| { run(l, "lift").equipment = filter(&[0.001]); l.ways.push(Way { out: vec![out("Filter")], ..way("wash") }) };
    way_that_stops_a_pump_that_is_not_there: Some("wash"), "pumps_off.0", "no run with a pump",
        |l| l.ways.push(Way { pumps_off: vec!["drain-1".into()], ..way("wash") }),
        |l| l.ways.push(Way { pumps_off: vec!["lift".into()], ..way("wash") });

    // Curves
    curve_of_one_point: Some("pump"), "curve.points", "too few points: 1",
        |l| pump(l).curve = curve(&[0.0]),
        |l| pump(l).curve = curve(&[0.0, 0.001]);
    curve_of_no_points: Some("pump"), "curve.points", "too few points: 0",
        |l| pump(l).curve = curve(&[]),
        |l| pump(l).curve = curve(&[0.001, 0.002]);
    curve_with_a_flow_twice: Some("pump"), "curve.points.2.flow_m3_s", "not above the point before",
        |l| pump(l).curve = curve(&[0.0, 0.001, 0.001]),
        |l| pump(l).curve = curve(&[0.0, 0.001, 0.001_000_01]);
    curve_that_turns_back: Some("pump"), "curve.points.1.flow_m3_s", "not above the point before",
        |l| pump(l).curve = curve(&[0.001, 0.0]),
        |l| pump(l).curve = curve(&[0.0, 1e-9]);
    sheet_without_points: Some("lift"), "equipment.0.clean.points", "has 0 points",
        |l| run(l, "lift").equipment = filter(&[]),
        |l| run(l, "lift").equipment = filter(&[0.001]);
    sheet_of_three_points: Some("lift"), "equipment.0.clean.points", "has 3 points",
        |l| run(l, "lift").equipment = filter(&[0.001, 0.002, 0.003]),
        |l| run(l, "lift").equipment = filter(&[0.003, 0.001]);
    sheet_with_a_flow_twice: Some("lift"), "equipment.0.clean.points.1.flow_m3_s", "at one flow",
        |l| run(l, "lift").equipment = filter(&[0.001, 0.001]),
        |l| run(l, "lift").equipment = filter(&[0.001, 0.001_000_01]);

    // The whole
    hot_water: None, "water.temperature_c", "is 60 °C",
        |l| l.water.temperature_c = 60.0,
        |l| l.water.temperature_c = 40.0;
    hot_water_by_half_its_properties: None, "water.temperature_c", "is 100 °C",
        |l| { l.water.temperature_c = 100.0; l.water.density_kg_m3 = Some(958.0); },
        |l| {
            l.water.temperature_c = 100.0;
            l.water.density_kg_m3 = Some(958.0);
            l.water.kinematic_viscosity_m2_s = Some(2.9e-7);
        };
    coldest_over_warmest: None, "water.cold_c", "over the warmest",
        |l| { l.water.cold_c = Some(20.0); l.water.warm_c = Some(19.0); },
        |l| { l.water.cold_c = Some(19.0); l.water.warm_c = Some(19.0); };
    shares_of_the_curve_crossed: None, "limits.least_share_of_curve", "over the most",
        |l| { l.limits.least_share_of_curve = 0.8; l.limits.most_share_of_curve = 0.7; },
        |l| { l.limits.least_share_of_curve = 0.7; l.limits.most_share_of_curve = 0.7; };
}

#[test]
fn entrances_and_exits_are_those_of_the_catalogue() {
    use fallwright::catalogue::{Catalogue, FittingPosition};
    let mut ends = 0;
    for kind in &Catalogue::builtin().fittings {
        let one = crate::support::layouts::fitting(&kind.key);
        let is_end = kind.place != FittingPosition::Along;
        assert_eq!(one.is_entrance_or_exit(), is_end, "{}", kind.key);
        ends += usize::from(is_end);
    }
    assert!(ends > 5, "{ends}");
}

#[test]
fn plumbing_that_makes_no_sense_is_sound_as_data() {
    let mut layout = good();
    let drain = run(&mut layout, "drain-1");
    drain.from.opening = Some(Opening::Upstand {
        crest_m: 5.0,
        bore_m: None,
    });
    drain.to.opening = Some(Opening::SideHole {
        invert_m: -3.0,
        bore_m: Some(1.0),
    });
    assert_eq!(layout.faults(), vec![]);
}

#[test]
fn words_that_no_catalogue_has_are_sound_as_data() {
    let mut layout = good();
    run(&mut layout, "feed-2").fittings[0].kind = "thingummy".into();
    assert_eq!(layout.faults(), vec![]);
}

#[test]
fn one_part_too_many() {
    let joint = |index: usize| Joint {
        id: format!("j{index}").as_str().into(),
        ..Joint::default()
    };
    let mut layout = Layout {
        joints: (0..MOST_PARTS).map(joint).collect(),
        ..Layout::default()
    };
    assert_eq!(layout.faults(), vec![]);
    layout.joints.push(joint(MOST_PARTS));
    let faults = layout.faults();
    assert_eq!(faults.len(), 1);
    assert!(faults[0].what.contains("400001 parts"), "{:?}", faults[0]);
}

/// A rounded entrance among the fittings of the first drain.
fn with_entrance(layout: &mut Layout) {
    let mut entrance = run(layout, "feed-2").fittings[0].clone();
    entrance.kind = "entrance-r15".into();
    run(layout, "drain-1").fittings.push(entrance);
}
