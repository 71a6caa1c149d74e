//! Notches, screens, siphon breaks, float valves and switches, weather.

use crate::support::layouts::{
    RUNNING, at, bare, drain, first_facts, first_law, law_of, pump, run, running, said, submerged,
    two_tanks,
};
use approx::assert_relative_eq;
use fallwright::catalogue::Catalogue;
use fallwright::finding::Code;
use fallwright::hydraulics::losses::friction::Wall;
use fallwright::hydraulics::openings::coefficients::Coefficients;
use fallwright::hydraulics::openings::inlet::Inlet;
use fallwright::hydraulics::openings::notch::{Notch, Rectangle};
use fallwright::layout::{
    CrestKind, Direction, End, FloatSwitch, FloatValve, NotchShape, Opening, Pipe, Rise, Run,
    RunEnd, Screen, SiphonBreak, Vent,
};
use fallwright::lower::{evaporation_m3_s, item_heads, lower};
use fallwright::network::{Check, FloatInflow, Node, Outlet, RunLaw, Sense, Source};
use petgraph::graph::NodeIndex;

const G: f64 = 9.80665;

fn notch(crest_m: f64) -> Opening {
    Opening::Notch {
        crest_m,
        shape: NotchShape::Rectangular {
            width_m: 0.2,
            channel_m: None,
        },
        weir: None,
    }
}

fn through_the_wall(opening: Opening) -> Run {
    Run {
        pipe: Pipe::Open,
        ..run("spill", at("upper", opening), bare("lower"))
    }
}

fn screen(k: Option<f64>) -> Screen {
    Screen {
        name: "Guard".to_owned(),
        area_m2: 0.02,
        open_share: 0.4,
        blinded: 0.5,
        k,
        on_the_lip: false,
        foot_m: None,
        height_m: None,
    }
}

#[test]
fn a_notch_counts_its_height_from_the_floor() {
    let law = law_of(run(
        "over",
        at("upper", notch(1.2)),
        at("lower", submerged()),
    ));
    let shape = Rectangle {
        width_m: 0.2,
        channel_m: None,
        height_m: Some(1.2 - 0.5),
    };
    assert_eq!(law.ends[0].lip_m, 1.2);
    assert_eq!(
        law.ends[0].inlet,
        Inlet::Notch(Notch::rectangular(shape, G))
    );
    let vee = |weir| Opening::Notch {
        crest_m: 1.2,
        shape: NotchShape::Vee { angle_deg: 60.0 },
        weir,
    };
    let inlet =
        |opening| law_of(run("over", at("upper", opening), at("lower", submerged()))).ends[0].inlet;
    assert_eq!(inlet(vee(None)), Inlet::Notch(Notch::vee(60.0, G)));
    assert_eq!(
        inlet(vee(Some(0.55))),
        Inlet::Notch(Notch::plain_vee(60.0, 0.55, G))
    );
}

#[test]
fn without_a_pipe_both_sides_have_the_one_opening_and_no_wall_rubs() {
    let lowered = running(&two_tanks(vec![through_the_wall(notch(1.2))]));
    let law = first_law(&lowered);
    assert_eq!(law.ends[1].lip_m, 1.2);
    assert!(matches!(law.ends[1].inlet, Inlet::Notch(_)));
    // Either side is the sill for what comes over the other.
    for end in law.ends {
        assert!(matches!(end.outlet, Outlet::Sill(sill) if sill.crest_m == 1.2));
    }
    assert_eq!(law.loss.wall, Wall::FixedFactor(0.0));
    let facts = first_facts(&lowered);
    assert_eq!(facts.length_m, 0.0);
    // 200 mm wide and 300 mm up to the rim: the bore with 0.06 m².
    assert_relative_eq!(facts.bore_m, (0.24 / std::f64::consts::PI).sqrt());
    assert!(said(&lowered).is_empty());
    // 50 mm over the crest, falling free: the notch alone holds it.
    let flow = law.flow(1.25, 0.3, 0.0);
    assert_relative_eq!(flow, law.ends[0].capacity(1.25).value, max_relative = 1e-12);
}

#[test]
fn without_a_pipe_a_notch_under_water_is_a_weir_under_water() {
    let law = law_of(through_the_wall(notch(1.2)));
    let flow = law.flow(1.301, 1.3, 0.0);
    let free = law.ends[0].capacity(1.301).value;
    let left = 1.0 - (0.1_f64 / 0.101).powf(1.5);
    assert_relative_eq!(flow, free * left.powf(0.385), max_relative = 1e-9);
    // And the other way as much, but for the floors: the lower one lies deeper under the crest.
    assert_relative_eq!(law.flow(1.3, 1.301, 0.0), -flow, max_relative = 1e-3);
}

#[test]
fn a_hole_without_a_pipe_is_that_hole_from_both_sides() {
    let hole = Opening::Floor {
        lip_m: None,
        bore_m: Some(0.08),
    };
    let law = law_of(through_the_wall(hole));
    assert_eq!([law.ends[0].lip_m, law.ends[1].lip_m], [0.5, 0.5]);
    assert_eq!(law.loss.bore_m, 0.08);
}

/// 20 % clear: 1.1/0.04 on 0.02 m² at 2 L/s.
const LOST_M: f64 = 27.5 * 0.1 * 0.1 / (2.0 * G);

#[test]
fn a_screen_is_lost_on_its_whole_area_both_ways_and_leaves_the_inlet_as_it_is() {
    let mut run = drain();
    run.from.screen = Some(screen(Some(1.1)));
    let plain = law_of(drain());
    let lowered = running(&two_tanks(vec![run]));
    let law = first_law(&lowered);
    assert_eq!(law.loss, plain.loss);
    for sense in [Sense::Forward, Sense::Backward] {
        // Drowned at both ends.
        let head_m = |law: &RunLaw| law.required_head(sense, 2e-3, 1.3).head_m;
        assert_relative_eq!(head_m(law) - head_m(&plain), LOST_M, max_relative = 1e-9);
        let flow = 2e-3 * sense.sign();
        let items = item_heads(first_facts(&lowered), law, flow, [1.3, 1.3]);
        let own = items.iter().find(|(what, _)| what == "Guard, 50 % blinded");
        assert_relative_eq!(own.unwrap().1, LOST_M.copysign(flow), max_relative = 1e-9);
    }
    // What the opening takes at a level, it takes with the loss more over it.
    let taken = plain.ends[0].capacity(1.21).value;
    let lost_m = LOST_M * (taken / 2e-3).powi(2);
    let screened = law.ends[0].capacity(1.21 + lost_m).value;
    assert_relative_eq!(screened, taken, max_relative = 1e-9);
    let facts = first_facts(&lowered);
    let [from, to] = &facts.screens;
    assert_eq!(from.as_ref().unwrap().name, "Guard");
    assert!(to.is_none());
}

#[test]
fn a_guard_on_the_lip_takes_its_share_of_the_inlet_and_loses_nothing() {
    let mut run = drain();
    run.from.screen = Some(Screen {
        on_the_lip: true,
        ..screen(Some(1.1))
    });
    let (plain, law) = (law_of(drain()), law_of(run));
    assert_eq!(law.ends[0].screen, None);
    let share = law.ends[0].capacity(1.21).value / plain.ends[0].capacity(1.21).value;
    assert_relative_eq!(share, 0.2, max_relative = 1e-12);
    assert_eq!(
        law.required_head(Sense::Forward, 2e-3, 1.3),
        plain.required_head(Sense::Forward, 2e-3, 1.3)
    );
}

#[test]
fn a_screen_that_is_blinded_all_over_shuts_its_run() {
    for on_the_lip in [false, true] {
        let mut run = drain();
        run.from.screen = Some(Screen {
            blinded: 1.0,
            on_the_lip,
            ..screen(None)
        });
        assert_eq!(law_of(run).check, Check::Shut);
    }
}

#[test]
fn a_cage_passes_nothing_under_its_foot() {
    let mut run = drain();
    run.from.screen = Some(Screen {
        foot_m: Some(1.25),
        height_m: Some(0.1),
        ..screen(None)
    });
    let law = law_of(run);
    assert_eq!(law.flow(1.25, 0.0, 0.0), 0.0);
    assert!(law.flow(1.26, 0.0, 0.0) > 0.0);
    assert_eq!(law.threshold(Sense::Forward, 0.0).head_m, 1.25);
    // Backward the water stands over the foot before it gets out.
    assert_eq!(law.flow(1.0, 1.25, 0.0), 0.0);
    assert!(law.flow(1.0, 1.3, 0.0) < 0.0);
}

#[test]
fn a_screen_of_bars_has_the_k_of_a_rack() {
    let mut run = drain();
    run.from.screen = Some(screen(None));
    let lowered = running(&two_tanks(vec![run]));
    let facts = first_facts(&lowered).screens[0].clone().unwrap();
    assert_relative_eq!(facts.gross_k, (1.45 - 0.45 * 0.2 - 0.04) / 0.04);
}

#[test]
fn a_screen_before_a_raised_intake_is_lost_before_the_crest() {
    let overflow = Opening::RaisedIntake {
        intake_m: 0.6,
        crest_m: 1.3,
        crest: CrestKind::Tee,
        rise: Rise::default(),
        vent: Vent::Open,
    };
    let plain = run("over", at("upper", overflow), at("lower", submerged()));
    let mut with = plain.clone();
    with.from.screen = Some(screen(Some(1.1)));
    let (plain, with) = (law_of(plain), law_of(with));
    assert_eq!(plain.loss, with.loss);
    assert_eq!(plain.raised, with.raised);
    let head_m = |law: &RunLaw| law.required_head(Sense::Forward, 2e-3, 0.2).head_m;
    assert_relative_eq!(head_m(&with) - head_m(&plain), LOST_M, max_relative = 1e-9);
}

#[test]
fn a_siphon_break_draws_only_over_its_hole_and_lets_out_as_before() {
    let mut run = drain();
    run.to.opening = Some(Opening::Mouth {
        lip_m: 0.1,
        turned: fallwright::layout::Turned::Down,
        bore_m: None,
        air_gap: false,
    });
    let plain = law_of(run.clone());
    run.siphon_break = Some(SiphonBreak {
        height_m: 0.33,
        bore_m: 0.004,
        near: RunEnd::To,
    });
    let law = law_of(run.clone());
    // The upper tank stands empty under the crest, the lower over the lip: only what the hole lets.
    assert_eq!(law.flow(1.25, 0.2, 0.0), plain.flow(1.25, 0.2, 0.0));
    let mut siphon = law.clone();
    siphon.ends[0].lip_m = -1.0;
    assert_eq!(siphon.flow(0.0, 0.33, 0.0), 0.0);
    assert!(siphon.flow(0.0, 0.34, 0.0) < 0.0);
    let facts = first_facts(&running(&two_tanks(vec![run])))
        .siphon_break
        .unwrap();
    assert_eq!((facts.end, facts.height_m, facts.bore_m), (1, 0.33, 0.004));
}

#[test]
fn an_end_that_nothing_limits_has_a_lip_behind_a_siphon_break() {
    let mut run = drain();
    run.siphon_break = Some(SiphonBreak {
        height_m: 0.3,
        bore_m: 0.004,
        near: RunEnd::To,
    });
    let law = law_of(run);
    assert_eq!(law.ends[1].inlet, Inlet::lip(0.1, &Coefficients::default()));
    assert_eq!(law.ends[1].capacity(0.3).value, 0.0);
    assert!(law.ends[1].capacity(0.31).value > 0.0);
}

#[test]
fn a_check_valve_that_failed_open_holds_nothing_and_still_loses() {
    let mut run = drain();
    run.check_valve = Some(Direction::Forward);
    run.valves = vec![crate::support::layouts::valve("swing-check", 1.0)];
    let holds = law_of(run.clone());
    run.check_valve_failed = true;
    let failed = law_of(run.clone());
    assert_eq!(
        (holds.check, failed.check),
        (Check::ForwardOnly, Check::None)
    );
    assert_eq!(holds.loss, failed.loss);
    run.valves[0].opening = 0.0;
    assert_eq!(law_of(run).check, Check::Shut);
}

fn lift(switch: FloatSwitch, from: End) -> Run {
    let mut run = run("lift", from, at("upper", submerged()));
    let mut pump = pump(Direction::Forward);
    pump.float = Some(switch);
    run.pump = Some(pump);
    run
}

#[test]
fn a_float_switch_hangs_in_the_vessel_drawn_from_or_in_the_one_named() {
    let hangs = |at: Option<&str>| {
        let switch = FloatSwitch {
            on_m: 0.3,
            off_m: 0.1,
            at: at.map(Into::into),
        };
        let lowered = running(&two_tanks(vec![lift(
            switch,
            crate::support::layouts::at("lower", submerged()),
        )]));
        first_facts(&lowered).float.map(|facts| facts.vessel)
    };
    assert_eq!(hangs(None), Some(1));
    assert_eq!(hangs(Some("upper")), Some(0));
    assert_eq!(hangs(Some("nowhere")), None);
}

fn source_of(layout: &fallwright::layout::Layout, vessel: usize) -> Source {
    let lowered = running(layout);
    match &lowered.network[NodeIndex::new(lowered.origin.vessels[vessel])] {
        Node::Vessel { source, .. } => *source,
        other => panic!("{other:?} is no vessel"),
    }
}

#[test]
fn a_float_valve_falls_from_its_flow_to_nothing_as_the_level_rises() {
    let mut layout = two_tanks(Vec::new());
    layout.vessels[1].make_up_m3_s = 1e-5;
    layout.vessels[1].float_valve = Some(FloatValve {
        shut_m: 0.3,
        open_m: 0.2,
        flow_m3_s: 4e-4,
        outlet_m: None,
        drinking_water: false,
    });
    let source = source_of(&layout, 1);
    let expected = FloatInflow {
        shut_m: 0.3,
        open_m: 0.2,
        flow_m3_s: 4e-4,
    };
    assert_eq!(source.float, Some(expected));
    for (level_m, flow, slope) in [
        (0.1, 4.1e-4, 0.0),
        (0.2, 4.1e-4, 0.0),
        (0.275, 1.1e-4, -4e-3),
        (0.3, 1e-5, 0.0),
        (0.9, 1e-5, 0.0),
    ] {
        let at = source.at(level_m, 0.0);
        assert_relative_eq!(at.value, flow, max_relative = 1e-9);
        assert_relative_eq!(at.derivative, slope, max_relative = 1e-9);
    }
    assert!(!source.is_none() && Source::default().is_none());
}

#[test]
fn prop_no_source_grows_with_the_level() {
    let float = Some(FloatInflow {
        shut_m: 0.3,
        open_m: 0.2,
        flow_m3_s: 4e-4,
    });
    for constant_m3_s in [-1e-3, 0.0, 1e-3] {
        let source = Source {
            constant_m3_s,
            float,
        };
        let levels = (0..1000).map(|step| -0.1 + f64::from(step) * 5e-4);
        let flows: Vec<f64> = levels
            .map(|level_m| source.at(level_m, 0.0).value)
            .collect();
        let falls = |pair: &[f64]| pair[1] <= pair[0] + 1e-18;
        // A draw-off fades in over the floor: it takes more as the level rises, so the inflow falls.
        assert!(flows.windows(2).all(falls), "{constant_m3_s}");
    }
}

#[test]
fn rain_falls_on_what_is_open_or_on_what_catches_it() {
    let mut layout = two_tanks(Vec::new());
    layout.weather.rain_m_s = 1e-5;
    assert_relative_eq!(source_of(&layout, 0).constant_m3_s, 2e-5);
    layout.vessels[0].under_cover = true;
    assert_eq!(source_of(&layout, 0).constant_m3_s, 0.0);
    layout.vessels[0].catch_area_m2 = Some(30.0);
    assert_relative_eq!(source_of(&layout, 0).constant_m3_s, 3e-4);
}

#[test]
fn evaporation_goes_by_the_water_surface_and_is_in_no_state() {
    let mut layout = two_tanks(Vec::new());
    layout.weather.evaporation_m_s = 1e-7;
    assert_eq!(source_of(&layout, 0), Source::default());
    let vessel = &layout.vessels[0];
    assert_relative_eq!(evaporation_m3_s(&layout, vessel, 1.0), 2e-7);
    assert_eq!(evaporation_m3_s(&layout, vessel, 0.5), 0.0);
    let roofed = fallwright::layout::Vessel {
        under_cover: true,
        ..vessel.clone()
    };
    assert_eq!(evaporation_m3_s(&layout, &roofed, 1.0), 0.0);
}

#[test]
fn without_a_pipe_an_opening_below_the_floor_behind_it_is_told() {
    let mut layout = two_tanks(vec![through_the_wall(notch(1.2))]);
    layout.vessels[1].floor_m = 1.25;
    layout.vessels[1].fill_m = 1.25;
    layout.vessels[1].rim_m = 1.5;
    let codes: Vec<Code> = said(&running(&layout))
        .iter()
        .map(|found| found.code)
        .collect();
    assert_eq!(codes, [Code::OpeningBelowFloor]);
}

#[test]
fn water_over_a_notch_into_a_lower_vessel_is_no_crest_over_its_rim() {
    let mut layout = two_tanks(vec![through_the_wall(notch(1.2))]);
    layout.runs[0].to = at("lower", notch(1.2));
    let lowered = lower(&layout, Catalogue::builtin(), RUNNING);
    assert!(said(&lowered).is_empty(), "{:?}", lowered.problems);
}
