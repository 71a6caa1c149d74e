//! Raised-intake overflows, at either end.

use crate::support::layouts::{
    BORE_M, at, drain, first_facts, first_law, law_of, pump, run, running, said, submerged,
    two_tanks,
};
use approx::assert_relative_eq;
use fallwright::finding::{Code, Severity};
use fallwright::hydraulics::STANDARD_GRAVITY_M_S2 as G;
use fallwright::hydraulics::losses::friction::Wall;
use fallwright::hydraulics::losses::loss::Minor;
use fallwright::hydraulics::openings::coefficients::Coefficients;
use fallwright::hydraulics::openings::inlet::Inlet;
use fallwright::hydraulics::openings::submergence::MouthLeadsTo;
use fallwright::layout::{CrestKind, Direction, Opening, Pipe, Rise, Run, ValveUse, Vent};
use fallwright::lower::item_heads;
use fallwright::network::{Check, Outlet, Raised};

fn overflow(crest: CrestKind, rise: Rise) -> Opening {
    Opening::RaisedIntake {
        intake_m: 0.6,
        crest_m: 1.3,
        crest,
        rise,
        vent: Vent::Open,
    }
}

fn from_upper(opening: Opening) -> Run {
    run("over", at("upper", opening), at("lower", submerged()))
}

/// The same run drawn from its other end.
fn flipped(run: &Run) -> Run {
    Run {
        from: run.to.clone(),
        to: run.from.clone(),
        ..run.clone()
    }
}

fn raised(opening: Opening) -> Raised {
    law_of(from_upper(opening)).raised.unwrap()
}

#[test]
fn the_intake_is_the_lip_and_the_crest_stands_over_it() {
    let law = law_of(from_upper(overflow(CrestKind::Tee, Rise::default())));
    let [port, _] = law.ends;
    let coefficients = Coefficients::default();
    assert_eq!((port.lip_m, port.outlet), (0.6, Outlet::Lip));
    let intake = Inlet::lip(BORE_M, &coefficients).leading_to(MouthLeadsTo::ToPipe, G);
    assert_eq!(port.inlet, intake);
    let raised = law.raised.unwrap();
    assert_eq!(raised.crest_m, 1.3);
    assert_eq!(raised.crest, Inlet::side_hole(BORE_M, &coefficients));
    // From intake to crest, with its entrance; both on the run's pipe.
    assert_relative_eq!(raised.rise.length_m, 0.7);
    assert_eq!(raised.rise.bore_m, BORE_M);
    assert_eq!(raised.rise.wall, law.loss.wall);
    let entrance = Minor {
        k: 0.5,
        bore_m: BORE_M,
    };
    assert_eq!(raised.rise.minors, [entrance]);
}

#[test]
fn a_cup_is_a_lip() {
    let cup = raised(overflow(CrestKind::Cup, Rise::default()));
    assert_eq!(cup.crest, Inlet::lip(BORE_M, &Coefficients::default()));
}

#[test]
fn the_rising_leg_may_be_a_pipe_of_its_own() {
    let rise = Rise {
        length_m: Some(0.92),
        bore_m: Some(0.15),
        roughness_m: Some(3e-5),
        total_k: Some(1.3),
    };
    let law = law_of(from_upper(overflow(CrestKind::Tee, rise)));
    let leg = law.raised.unwrap().rise;
    assert_eq!((leg.length_m, leg.bore_m), (0.92, 0.15));
    assert_eq!(leg.wall, Wall::Darcy { roughness_m: 3e-5 });
    assert_eq!(
        leg.minors,
        [Minor {
            k: 1.3,
            bore_m: 0.15
        }]
    );
    // Its intake has its bore.
    assert_eq!(
        law.ends[0].inlet,
        Inlet::lip(0.15, &Coefficients::default()).leading_to(MouthLeadsTo::ToPipe, G)
    );
}

#[test]
fn the_entrance_belongs_to_the_rise_and_is_not_counted_below_the_crest() {
    let plain = from_upper(overflow(CrestKind::Tee, Rise::default()));
    let exit = Minor {
        k: 1.0,
        bore_m: BORE_M,
    };
    assert_eq!(law_of(plain.clone()).loss.minors, [exit]);
    let mut total = plain;
    total.total_k = Some(2.0);
    let law = law_of(total);
    assert_eq!(law.loss.minors[0].k, 2.0);
    assert_eq!(law.raised.unwrap().rise.minors[0].k, 0.5);
}

/// Something of everything that has a direction.
fn directed() -> Run {
    let mut run = from_upper(overflow(CrestKind::Tee, Rise::default()));
    run.pump = Some(pump(Direction::Forward));
    run.check_valve = Some(Direction::Forward);
    run.valves.push(ValveUse {
        kind: "gate".to_owned(),
        opening: 0.5,
        k: None,
        at_m: None,
        near: None,
    });
    run
}

#[test]
fn prop_drawn_the_other_way_round_it_is_the_same_link() {
    let forward = directed();
    let mut backward = flipped(&forward);
    backward.pump = Some(pump(Direction::Backward));
    backward.check_valve = Some(Direction::Backward);
    let one = running(&two_tanks(vec![forward]));
    let other = running(&two_tanks(vec![backward]));
    assert_eq!(first_law(&one), first_law(&other));
    let ends = |lowered: &fallwright::lower::Lowered| {
        let edge = petgraph::graph::EdgeIndex::new(lowered.origin.runs[0]);
        lowered.network.edge_endpoints(edge).unwrap()
    };
    assert_eq!(ends(&one), ends(&other));
    let (one, other) = (first_facts(&one), first_facts(&other));
    assert!(!one.reversed && other.reversed);
    assert_eq!(
        (one.as_drawn(0.002), other.as_drawn(0.002)),
        (0.002, -0.002)
    );
    assert_eq!(one.items, other.items);
}

#[test]
fn facts_stay_as_drawn_when_the_link_is_turned() {
    let backward = flipped(&from_upper(overflow(CrestKind::Tee, Rise::default())));
    let lowered = running(&two_tanks(vec![backward]));
    let facts = first_facts(&lowered);
    assert_eq!(facts.end_lips_m, [None, Some(0.6)]);
    assert_eq!(facts.end_elevations_m, [0.0, 1.3]);
    assert_eq!(facts.highest_m, 1.3);
}

#[test]
fn a_turned_link_turns_pump_and_check_valve_with_it() {
    let mut backward = flipped(&directed());
    backward.pump = Some(pump(Direction::Forward));
    backward.check_valve = Some(Direction::Forward);
    let law = law_of(backward);
    assert!(law.pump.unwrap().backward);
    assert_eq!(law.check, Check::BackwardOnly);
}

#[test]
fn prop_items_hold_the_rising_leg_too() {
    let lowered = running(&two_tanks(vec![directed()]));
    let law = first_law(&lowered);
    let rise = &law.raised.as_ref().unwrap().rise;
    for flow in [1e-4, -3e-3] {
        let items = item_heads(first_facts(&lowered), law, flow, [1.4, 0.5]);
        let sum: f64 = items.iter().map(|(_, head)| head).sum();
        let expected = law.loss_at(flow) + rise.at(flow).value;
        assert_relative_eq!(sum, expected, max_relative = 1e-12);
    }
}

#[test]
fn of_two_raised_ends_the_second_is_a_plain_upstand_and_that_is_told() {
    let mut both = from_upper(overflow(CrestKind::Tee, Rise::default()));
    both.to = at(
        "lower",
        Opening::RaisedIntake {
            intake_m: 0.1,
            crest_m: 0.35,
            crest: CrestKind::Cup,
            rise: Rise::default(),
            vent: Vent::Open,
        },
    );
    let lowered = running(&two_tanks(vec![both]));
    let law = first_law(&lowered);
    assert_eq!(law.raised.as_ref().unwrap().crest_m, 1.3);
    assert_eq!(law.ends[1].lip_m, 0.35);
    assert_eq!(
        law.ends[1].inlet,
        Inlet::lip(BORE_M, &Coefficients::default()).leading_to(MouthLeadsTo::ToPipe, G)
    );
    let codes: Vec<Code> = said(&lowered).iter().map(|f| f.code).collect();
    assert_eq!(codes, [Code::MaySiphon]);
}

#[test]
fn a_shut_vent_may_siphon_and_is_computed_as_open() {
    let shut = |vent| Opening::RaisedIntake {
        intake_m: 0.6,
        crest_m: 1.3,
        crest: CrestKind::Tee,
        rise: Rise::default(),
        vent,
    };
    let with_vent = running(&two_tanks(vec![from_upper(shut(Vent::OpenTo {
        top_m: 1.6,
    }))]));
    assert!(said(&with_vent).is_empty());
    let without = running(&two_tanks(vec![from_upper(shut(Vent::Shut))]));
    let told = said(&without);
    assert_eq!(told.len(), 1);
    assert_eq!(told[0].code, Code::MaySiphon);
    assert_eq!(told[0].severity, Severity::Warning);
    let [open, shut] = [&with_vent, &without].map(|lowered| first_law(lowered).raised.clone());
    let (open, shut) = (open.unwrap(), shut.unwrap());
    assert!(open.vented && !shut.vented && !shut.primed);
    let told_apart = Raised {
        vented: true,
        ..shut
    };
    assert_eq!(open, told_apart);
}

#[test]
fn a_primed_siphon_flows_over_its_crest_from_below_it_until_its_intake_is_bare() {
    let mut law = law_of(from_upper(overflow(CrestKind::Tee, Rise::default())));
    // Below the crest at 1.3 m and above the intake at 0.6 m.
    assert_eq!(law.flow(1.2, 0.2, 0.0), 0.0);
    let raised = law.raised.as_mut().unwrap();
    raised.vented = false;
    raised.primed = true;
    let flow = law.flow(1.2, 1.1, 0.0);
    let rise = law.raised.as_ref().unwrap().rise.at(flow).value;
    assert_relative_eq!(law.loss_at(flow) + rise, 0.1, max_relative = 1e-9);
    assert_eq!(law.flow(0.6, 0.2, 0.0), 0.0);
    // And back, if the water stands higher on the other side.
    assert!(law.flow(0.7, 0.9, 0.0) < 0.0);
}

#[test]
fn a_rise_by_hazen_williams_stays_so() {
    let mut run = from_upper(overflow(CrestKind::Tee, Rise::default()));
    run.friction = Some(fallwright::layout::Friction::HazenWilliams);
    run.pipe = Pipe::Own {
        bore_m: BORE_M,
        roughness_m: None,
        hazen_williams_c: Some(130.0),
    };
    let law = law_of(run);
    assert_eq!(
        law.raised.unwrap().rise.wall,
        Wall::HazenWilliams { c: 130.0 }
    );
    assert!(law_of(drain()).raised.is_none());
}
