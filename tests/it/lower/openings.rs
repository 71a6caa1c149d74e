//! Each opening gives the lip, the inlet and the outlet that it stands for.

use crate::support::layouts::{
    BORE_M, at, bare, first_facts, law_of, pump, run, running, submerged, two_tanks, upstand,
};
use approx::assert_relative_eq;
use fallwright::hydraulics::openings::coefficients;
use fallwright::hydraulics::openings::inlet::Inlet;
use fallwright::hydraulics::openings::submergence;
use fallwright::layout::{Direction, Edge, Opening, Turned};
use fallwright::network::{Outlet, Port};

/// ⅔·0.6·√(2·9.80665)·π·0.1·0.01^1.5: a lip of 100 mm bore with 10 mm of water over it.
const LIP_AT_10_MM: f64 = 5.565_257e-4;
/// 0.6·(π/4)·0.1²·√(2·9.80665·0.3): a hole of 100 mm bore with 0.3 m of water over its middle.
const HOLE_AT_300_MM: f64 = 1.143_081e-2;

fn upper_port(opening: Opening) -> Port {
    law_of(run("drain", at("upper", opening), at("lower", submerged()))).ends[0]
}

fn is_lip(port: &Port, bores: f64) {
    let over = port.lip_m + 0.01;
    assert_relative_eq!(
        port.capacity(over).value,
        bores * LIP_AT_10_MM,
        max_relative = 1e-5
    );
    assert_eq!(port.capacity(port.lip_m).value, 0.0);
}

fn is_hole(port: &Port) {
    let over = port.lip_m + 0.5 * BORE_M + 0.3;
    assert_relative_eq!(
        port.capacity(over).value,
        HOLE_AT_300_MM,
        max_relative = 1e-5
    );
}

fn mouth(turned: Turned, air_gap: bool) -> Opening {
    Opening::Mouth {
        lip_m: 1.1,
        turned,
        bore_m: None,
        air_gap,
    }
}

#[test]
fn an_upstand_is_a_lip_at_its_crest() {
    let port = upper_port(upstand(1.2));
    assert_eq!(port.lip_m, 1.2);
    assert_eq!(port.outlet, Outlet::Lip);
    is_lip(&port, 1.0);
}

#[test]
fn a_bell_has_its_own_bore() {
    let port = upper_port(Opening::Upstand {
        crest_m: 1.2,
        bore_m: Some(2.0 * BORE_M),
    });
    is_lip(&port, 2.0);
}

#[test]
fn a_side_hole_is_a_hole_at_its_invert_and_lets_out_at_critical_depth() {
    let port = upper_port(Opening::SideHole {
        invert_m: 0.9,
        bore_m: None,
    });
    assert_eq!(port.lip_m, 0.9);
    assert_eq!(port.outlet, Outlet::Critical { bore_m: BORE_M });
    is_hole(&port);
}

#[test]
fn a_floor_outlet_is_a_lip_at_the_floor_unless_it_says_otherwise() {
    let floor = |lip_m| Opening::Floor {
        lip_m,
        bore_m: None,
    };
    assert_eq!(upper_port(floor(None)).lip_m, 0.5);
    let raised = upper_port(floor(Some(0.55)));
    assert_eq!(raised.lip_m, 0.55);
    assert_eq!(raised.outlet, Outlet::Lip);
    is_lip(&raised, 1.0);
}

#[test]
fn a_turned_mouth_is_a_lip_and_a_horizontal_one_a_hole() {
    for turned in [Turned::Up, Turned::Down] {
        let port = upper_port(mouth(turned, false));
        assert_eq!((port.lip_m, port.outlet), (1.1, Outlet::Lip));
        is_lip(&port, 1.0);
    }
    let port = upper_port(mouth(Turned::Horizontal, false));
    assert_eq!(port.outlet, Outlet::Critical { bore_m: BORE_M });
    is_hole(&port);
}

#[test]
fn nothing_is_drawn_back_through_an_air_gap() {
    for turned in [Turned::Up, Turned::Down, Turned::Horizontal] {
        let port = upper_port(mouth(turned, true));
        assert_eq!(port.inlet, Inlet::Never);
        assert_eq!(port.lip_m, 1.1);
    }
}

#[test]
fn an_end_under_water_counts_its_lip_only_where_given_and_is_limited_only_near_the_floor() {
    let port = upper_port(submerged());
    assert_eq!(port.lip_m, f64::NEG_INFINITY);
    // The floor is at 0.5 m: under it nothing is drawn, and two centimetres over it far more than a pipe of
    // that bore carries.
    assert_eq!(port.capacity(0.5).value, 0.0);
    assert!(port.capacity(0.52).value > 20.0 * BORE_M * BORE_M);
    let port = upper_port(Opening::Submerged {
        lip_m: Some(0.7),
        bore_m: None,
    });
    assert_eq!((port.lip_m, port.capacity(0.7).value), (0.7, 0.0));
    assert!(port.capacity(0.72).value > 20.0 * BORE_M * BORE_M);
}

#[test]
fn nothing_is_drawn_from_under_a_floor() {
    for opening in [
        upstand(0.2),
        Opening::SideHole {
            invert_m: 0.2,
            bore_m: None,
        },
    ] {
        let port = upper_port(opening);
        assert_eq!((port.lip_m, port.intake_m()), (0.2, 0.5));
        assert_eq!(port.capacity(0.5).value, 0.0);
    }
}

#[test]
fn a_joint_end_is_closed_and_a_bare_end_at_a_fixed_level_is_under_water() {
    let layout = two_tanks(vec![run("drain", bare("tee"), bare("ditch"))]);
    let lowered = running(&layout);
    let law = crate::support::layouts::first_law(&lowered);
    assert_eq!(law.ends, [Port::closed(), Port::closed()]);
    let facts = first_facts(&lowered);
    assert_eq!(facts.end_lips_m, [None, None]);
    // The tee's centre is at 0.3 m, and the bore 0.1 m.
    assert_eq!(facts.end_elevations_m, [0.25, -1.0]);
}

#[test]
fn a_bare_end_at_a_vessel_counts_as_an_outlet_in_its_floor() {
    let law = law_of(run("drain", bare("upper"), at("lower", submerged())));
    assert_eq!(law.ends[0].lip_m, 0.5);
    is_lip(&law.ends[0], 1.0);
}

#[test]
fn only_the_end_that_a_running_pump_pushes_out_of_lets_out_full() {
    let side = |invert_m| Opening::SideHole {
        invert_m,
        bore_m: None,
    };
    let mut lifted = run("rise", at("lower", side(0.1)), at("upper", side(1.3)));
    lifted.pump = Some(pump(Direction::Forward));
    let law = law_of(lifted.clone());
    assert_eq!(law.ends[0].outlet, Outlet::Critical { bore_m: BORE_M });
    assert_eq!(law.ends[1].outlet, Outlet::Full { bore_m: BORE_M });
    lifted.pump = Some(pump(Direction::Backward));
    let law = law_of(lifted.clone());
    assert_eq!(law.ends[0].outlet, Outlet::Full { bore_m: BORE_M });
    assert_eq!(law.ends[1].outlet, Outlet::Critical { bore_m: BORE_M });
    lifted.pump.as_mut().unwrap().speed = 0.0;
    let law = law_of(lifted);
    assert_eq!(law.ends[0].outlet, Outlet::Critical { bore_m: BORE_M });
}

#[test]
fn coefficients_of_the_layout_reach_the_openings() {
    let mut layout = two_tanks(vec![run(
        "drain",
        at("upper", upstand(1.2)),
        at("lower", submerged()),
    )]);
    layout.coefficients.weir = 0.3;
    let lowered = running(&layout);
    let port = crate::support::layouts::first_law(&lowered).ends[0];
    assert_relative_eq!(
        port.capacity(1.21).value,
        0.5 * LIP_AT_10_MM,
        max_relative = 1e-5
    );
}

/// How a mouth is made sets both coefficients; its own numbers stand over that, and it over the layout's.
#[test]
fn an_edge_sets_both_coefficients_and_own_numbers_stand_over_it() {
    let with = |edge, orifice, entrance_k| {
        let mut drain = run("drain", at("upper", hole()), at("lower", submerged()));
        (drain.from.edge, drain.from.orifice, drain.from.entrance_k) = (edge, orifice, entrance_k);
        let law = law_of(drain);
        (law.ends[0].inlet, law.loss.minors[0].k - 1.0)
    };
    let made = |orifice, entrance_k| {
        let coefficients = coefficients::Coefficients {
            orifice,
            entrance_k,
            ..coefficients::Coefficients::default()
        };
        let gravity_m_s2 = coefficients.gravity_m_s2;
        Inlet::side_hole(BORE_M, &coefficients)
            .leading_to(submergence::MouthLeadsTo::ToPipe, gravity_m_s2)
    };
    let cases = [
        ((Edge::Plain, None, None), (0.6, 0.5)),
        ((Edge::Groove, None, None), (0.65, 0.2)),
        ((Edge::Projecting, None, Some(0.3)), (0.52, 0.3)),
        ((Edge::Plain, Some(0.7), None), (0.7, 0.5)),
    ];
    for ((edge, orifice, k), (c_o, k_e)) in cases {
        let (inlet, entrance_k) = with(edge, orifice, k);
        assert_eq!(inlet, made(c_o, k_e));
        assert!((entrance_k - k_e).abs() < 1e-12, "{entrance_k} {k_e}");
    }
}

fn hole() -> Opening {
    Opening::SideHole {
        invert_m: 0.8,
        bore_m: None,
    }
}
