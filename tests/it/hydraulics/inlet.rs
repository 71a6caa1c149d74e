//! Openings: what they let in, both ways round.

use super::difference;
use super::units::{FT, FT3_S, GPM, INCH};
use crate::verification::{Case, checks};
use fallwright::hydraulics::STANDARD_GRAVITY_M_S2 as G;
use fallwright::hydraulics::inlet::{Coefficients, Inlet, rim_spill};
use fallwright::hydraulics::vortex::{froude, submergence_m};
use proptest::prelude::*;

/// A standpipe whose weir is given as C in C·P·h^1.5.
fn standpipe(given: &Case, bore_m: f64) -> Inlet {
    let coefficients = Coefficients {
        weir: given.n("weir_m") * 1.5 / (2.0 * G).sqrt(),
        orifice: given.n("orifice"),
        ..Coefficients::default()
    };
    Inlet::lip(bore_m, &coefficients)
}

fn side_hole(given: &Case, bore_m: f64) -> Inlet {
    let coefficients = Coefficients {
        orifice: given.n("orifice"),
        entrance_k: given.n("entrance_k"),
        ..Coefficients::default()
    };
    Inlet::side_hole(bore_m, &coefficients)
}

fn side_hole_head(given: &Case) -> f64 {
    let hole = side_hole(given, given.n("bore_m"));
    hole.head_for(given.n("flow_m3_s")).value
}

fn crossing(given: &Case) -> f64 {
    let Inlet::SideHole(hole) = side_hole(given, given.n("bore_m")) else {
        panic!("not a side hole");
    };
    hole.crossing_head_m() / given.n("bore_m")
}

fn lip_head(given: &Case) -> f64 {
    let lip = Inlet::lip(given.n("bore_m"), &Coefficients::default());
    lip.head_for(given.n("flow_m3_s")).value
}

fn standpipe_l_s(given: &Case) -> f64 {
    let pipe = standpipe(given, given.n("bore_m"));
    1e3 * pipe.capacity(given.n("head_m")).value
}

checks! {
    val_orifice: "OR-SUB131" => |given| {
        let coefficients = Coefficients { orifice: given.n("orifice"), ..Coefficients::default() };
        1e3 * Inlet::lip(given.n("bore_m"), &coefficients).capacity(given.n("head_m")).value
    };
    val_weir_across_a_channel: "W-DF124" => |given| {
        // 3.33 in ft^½/s; the head that makes the flow, found on the spill law.
        let coefficient = given.n("coefficient_ft") * FT.sqrt();
        let width_m = given.n("width_ft") * FT;
        let flow = given.n("flow_ft3_s") * FT3_S;
        let spill = |head_m: f64| rim_spill(coefficient, width_m, head_m).value;
        given.n("level_ft") - super::solve(0.0, 2.0, flow, spill) / FT
    };
    val_lip_drowns: "W-STAND-HX" => |given| {
        let Inlet::Lip(lip) = standpipe(given, 1.0) else { panic!("not a lip") };
        lip.drowning_head_m()
    };
    val_standpipe_weir: "W-STAND-100" => standpipe_l_s;
    val_standpipe_drowned: "OR-STAND-100" => standpipe_l_s;
    val_culvert_headwater: "HDS5-C-sh" => |given| {
        let bore_m = given.n("bore_ft") * FT;
        side_hole(given, bore_m).head_for(given.n("flow_ft3_s") * FT3_S).value / bore_m
    };
    val_submergence: "HI-SUBMERGENCE" => |given| {
        submergence_m(given.n("flow_gpm") * GPM, given.n("bore_in") * INCH, G) / INCH
    };
    val_side_hole_film: "CS-H-1" => side_hole_head;
    val_side_hole_shallow: "CS-H-2" => side_hole_head;
    val_side_hole_deep: "CS-H-3" => side_hole_head;
    val_side_hole_eased: "CS-H-4" => side_hole_head;
    val_side_hole_drowned: "CS-H-5" => side_hole_head;
    val_side_hole_crossing_1: "CS-X-1" => crossing;
    val_side_hole_crossing_2: "CS-X-2" => crossing;
    val_side_hole_crossing_3: "CS-X-3" => crossing;
    val_lip_1: "CL-H-1" => lip_head;
    val_lip_2: "CL-H-2" => lip_head;
    val_lip_drowned: "CL-H-3" => lip_head;
}

fn any_coefficients() -> impl Strategy<Value = Coefficients> {
    (0.3_f64..0.8, 0.3_f64..1.0, 0.0_f64..1.5).prop_map(|(weir, orifice, entrance_k)| {
        Coefficients {
            weir,
            orifice,
            entrance_k,
            ..Coefficients::default()
        }
    })
}

fn any_inlet() -> impl Strategy<Value = (f64, Inlet)> {
    (any::<bool>(), -3.0_f64..0.7, any_coefficients()).prop_map(|(lip, log_bore, coefficients)| {
        let bore = 10f64.powf(log_bore);
        if lip {
            (bore, Inlet::lip(bore, &coefficients))
        } else {
            (bore, Inlet::side_hole(bore, &coefficients))
        }
    })
}

proptest! {
    #[test]
    fn prop_capacity_never_falls((bore, inlet) in any_inlet(), log_head in -12.0_f64..4.0, growth in 1.0_f64..3.0) {
        let head = bore * 10f64.powf(log_head);
        let (here, there) = (inlet.capacity(head), inlet.capacity(head * growth));
        prop_assert!(here.value.is_finite() && here.slope.is_finite());
        prop_assert!(here.value > 0.0 && here.slope >= 0.0);
        prop_assert!(there.value >= here.value * (1.0 - 1e-13));
    }

    #[test]
    fn prop_both_directions_agree((_, inlet) in any_inlet(), log_q in -12.0_f64..3.0) {
        let q = 10f64.powf(log_q);
        let head = inlet.head_for(q);
        prop_assert!(head.value.is_finite() && head.value > 0.0);
        let back = inlet.capacity(head.value);
        prop_assert!((back.value / q - 1.0).abs() < 1e-12, "{} {}", back.value, q);
        // Away from the corners the slopes are each other's inverse.
        let flat = back.slope == 0.0;
        prop_assert!(flat || (back.slope * head.slope - 1.0).abs() < 1e-6 || near_corner(&inlet, head.value));
    }

    #[test]
    fn prop_capacity_slope_is_the_difference((bore, inlet) in any_inlet(), log_head in -6.0_f64..3.0) {
        let head = bore * 10f64.powf(log_head);
        prop_assume!(!near_corner(&inlet, head));
        let numeric = difference(|h| inlet.capacity(h).value, head, 1e-6 * head);
        let slope = inlet.capacity(head).slope;
        prop_assert!((numeric - slope).abs() <= 1e-5 * slope.max(1e-9 * inlet.capacity(head).value / head));
    }
}

/// Whether the head is where one law hands over to the next.
fn near_corner(inlet: &Inlet, head: f64) -> bool {
    let corner = match inlet {
        Inlet::Lip(lip) => lip.drowning_head_m(),
        Inlet::SideHole(hole) => hole.crossing_head_m(),
        _ => return false,
    };
    if (head / corner - 1.0).abs() < 1e-4 {
        return true;
    }
    // With a small orifice coefficient W waits on a flat stretch above the crossing.
    let (here, next) = (inlet.capacity(head * 0.9999), inlet.capacity(head * 1.0001));
    (here.slope == 0.0) != (next.slope == 0.0)
}

#[test]
fn prop_no_head_no_flow() {
    let coefficients = Coefficients::default();
    for inlet in [
        Inlet::lip(0.1, &coefficients),
        Inlet::side_hole(0.1, &coefficients),
        Inlet::Never,
    ] {
        for head in [0.0, -0.0, -1e-300, -5.0, f64::NAN] {
            let at = inlet.capacity(head);
            assert_eq!((at.value, at.slope), (0.0, 0.0));
        }
        assert_eq!(inlet.head_for(0.0).value, 0.0);
    }
    assert_eq!(Inlet::Unlimited.capacity(-1.0).value, f64::INFINITY);
    assert_eq!(Inlet::Unlimited.head_for(3.0).value, 0.0);
    assert_eq!(Inlet::Never.head_for(1e-9).value, f64::INFINITY);
    assert_eq!(rim_spill(1.7, 2.0, -0.1).value, 0.0);
}

/// The plain minimum of critical depth and orifice would fall from its first crossing on.
#[test]
fn prop_a_side_hole_at_half_depth_is_not_shut() {
    let hole = Inlet::side_hole(0.083, &Coefficients::default());
    assert!(hole.capacity(0.55 * 0.083).value > 1e-4);
}

#[test]
fn prop_rim_spill_grows_with_head_to_three_halves() {
    let (one, four) = (rim_spill(1.7, 2.0, 0.01), rim_spill(1.7, 2.0, 0.04));
    assert!((four.value / one.value - 8.0).abs() < 1e-12);
    assert!((one.slope * 0.01 / one.value - 1.5).abs() < 1e-12);
}

#[test]
fn prop_froude_is_one_at_the_wave_speed() {
    let bore = 0.1_f64;
    let flow = (G * bore).sqrt() * std::f64::consts::PI / 4.0 * bore * bore;
    assert!((froude(-flow, bore, G) - 1.0).abs() < 1e-12);
}

/// Below a film the law is its leading term alone; the two must join.
#[test]
fn prop_a_film_joins_the_law() {
    let hole = Inlet::side_hole(1.0, &Coefficients::default());
    let grows = |head: f64| hole.capacity(head).value / (head * head);
    assert!((grows(0.99e-14) / grows(1.01e-14) - 1.0).abs() < 1e-10);
    assert!((grows(1e-20) / grows(1e-10) - 1.0).abs() < 1e-8);
}
