//! Openings: what they let in, both ways round.

use super::difference;
use super::units::{FT, FT3_S, GPM, INCH};
use crate::verification::{Case, checks};
use fallwright::hydraulics::STANDARD_GRAVITY_M_S2 as G;
use fallwright::hydraulics::openings::coefficients::Coefficients;
use fallwright::hydraulics::openings::edge;
use fallwright::hydraulics::openings::inlet::{Inlet, rim_spill};
use fallwright::hydraulics::openings::notch::{Notch, Rectangle};
use fallwright::hydraulics::openings::siphon_break;
use fallwright::hydraulics::openings::vortex::{froude, submergence_m};
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

/// Head over the invert in bores, of a mouth that is made in the way that the row names.
fn headwater(given: &Case) -> f64 {
    let form = match given.text("edge") {
        "flush" => edge::FLUSH,
        "groove" => edge::GROOVE,
        "mitred" => edge::MITRED,
        other => panic!("no such edge: {other}"),
    };
    let coefficients = Coefficients {
        orifice: form.orifice,
        entrance_k: form.entrance_k,
        ..Coefficients::default()
    };
    let bore_m = given.n("bore_ft") * FT;
    let hole = Inlet::side_hole(bore_m, &coefficients);
    hole.head_for(given.n("flow_ft3_s") * FT3_S).value / bore_m
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

fn vee_l_s(given: &Case) -> f64 {
    let vee = Inlet::Notch(Notch::vee(given.n("angle_deg"), G));
    1e3 * vee.capacity(given.n("head_m")).value
}

checks! {
    val_vee_1: "W-V90-100" => vee_l_s;
    val_vee_2: "W-V90-200" => vee_l_s;
    val_vee_of_60_degrees: "W-V60-05FT" => |given| {
        let vee = Inlet::Notch(Notch::vee(given.n("angle_deg"), G));
        vee.capacity(given.n("head_ft") * FT).value / FT3_S
    };
    val_rectangular_notch: "W-RECT-FRANCIS" => |given| {
        let shape = Rectangle { width_m: given.n("width_ft") * FT, channel_m: None, height_m: None };
        let notch = Inlet::Notch(Notch::rectangular(shape, G));
        notch.capacity(given.n("head_ft") * FT).value / FT3_S
    };
    val_weir_at_its_coefficient: "W-CEN1311" => |given| {
        let ratio = given.n("head_m") / given.n("height_m");
        let coefficient = given.n("constant") + given.n("by_ratio") * ratio;
        let notch = Notch::plain_rectangular(given.n("width_m"), coefficient, 9.81);
        Inlet::Notch(notch).capacity(given.n("head_m")).value
    };
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
        lip.submerging_head_m()
    };
    val_standpipe_weir: "W-STAND-100" => standpipe_l_s;
    val_standpipe_drowned: "OR-STAND-100" => standpipe_l_s;
    val_culvert_headwater: "HDS5-C-sh" => headwater;
    val_culvert_headwater_groove: "HDS5-C-gh" => headwater;
    val_culvert_headwater_groove_projecting: "HDS5-C-gp" => headwater;
    val_culvert_headwater_mitred: "HDS5-CM-m" => headwater;
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

fn any_notch() -> impl Strategy<Value = Notch> {
    let sizes = (-3.0_f64..0.7, 1.0_f64..20.0, -2.0_f64..1.0);
    let given = (any::<bool>(), any::<bool>(), 1.0_f64..170.0);
    (sizes, given, 0u8..4).prop_map(|((log_width, wider, log_height), given, kind)| {
        let (has_channel, has_floor, angle_deg) = given;
        let width_m = 10f64.powf(log_width);
        let shape = Rectangle {
            width_m,
            channel_m: has_channel.then_some(width_m * wider),
            height_m: has_floor.then_some(10f64.powf(log_height)),
        };
        match kind {
            0 | 1 => Notch::rectangular(shape, G),
            2 => Notch::vee(angle_deg, G),
            _ => Notch::plain_rectangular(width_m, 0.58, G),
        }
    })
}

fn any_open_inlet() -> impl Strategy<Value = (f64, Inlet)> {
    let round = (any::<bool>(), -3.0_f64..0.7, any_coefficients());
    let round = round.prop_map(|(lip, log_bore, coefficients)| {
        let bore = 10f64.powf(log_bore);
        if lip {
            (bore, Inlet::lip(bore, &coefficients))
        } else {
            (bore, Inlet::side_hole(bore, &coefficients))
        }
    });
    let notch = any_notch().prop_map(|notch| (0.05, Inlet::Notch(notch)));
    prop_oneof![2 => round, 1 => notch]
}

fn any_inlet() -> impl Strategy<Value = (f64, Inlet)> {
    let screened = (any_open_inlet(), 1e-3_f64..1.0);
    let screened = screened.prop_map(|((bore, inlet), share)| (bore, inlet.screened(share)));
    prop_oneof![2 => any_open_inlet(), 1 => screened]
}

/// Of a film of water only the leading term is kept: its slope is still that of its head.
#[test]
fn prop_a_film_in_a_side_hole_has_the_slope_of_its_head() {
    for bore_m in [0.019, 0.1, 1.0] {
        let hole = Inlet::side_hole(bore_m, &Coefficients::default());
        let q = 1e-34 * f64::powf(bore_m, 2.5);
        let [low, here, high] = [0.999, 1.0, 1.001].map(|share| hole.head_for(share * q));
        let slope = (high.value - low.value) / (0.002 * q);
        assert!((here.derivative / slope - 1.0).abs() < 1e-6, "{bore_m} m");
    }
}

proptest! {
    #[test]
    fn prop_capacity_never_falls((bore, inlet) in any_inlet(), log_head in -12.0_f64..4.0, growth in 1.0_f64..3.0) {
        let head = bore * 10f64.powf(log_head);
        let (here, there) = (inlet.capacity(head), inlet.capacity(head * growth));
        prop_assert!(here.value.is_finite() && here.derivative.is_finite());
        prop_assert!(here.value > 0.0 && here.derivative >= 0.0);
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
        let flat = back.derivative == 0.0;
        prop_assert!(flat || (back.derivative * head.derivative - 1.0).abs() < 1e-6 || near_corner(&inlet, head.value));
    }

    #[test]
    fn prop_a_notch_is_the_same_both_ways_about_its_least_measured_head(notch in any_notch(), share in 0.9_f64..1.1) {
        let head_m = share * notch.corners_m()[0];
        let inlet = Inlet::Notch(notch);
        let back_m = inlet.head_for(inlet.capacity(head_m).value).value;
        prop_assert!((back_m / head_m - 1.0).abs() < 1e-9, "{back_m} {head_m}");
    }

    #[test]
    fn prop_capacity_slope_is_the_difference((bore, inlet) in any_inlet(), log_head in -6.0_f64..3.0) {
        let head = bore * 10f64.powf(log_head);
        prop_assume!(!near_corner(&inlet, head));
        let numeric = difference(|h| inlet.capacity(h).value, head, 1e-6 * head);
        let slope = inlet.capacity(head).derivative;
        prop_assert!((numeric - slope).abs() <= 1e-5 * slope.max(1e-9 * inlet.capacity(head).value / head));
    }
}

/// Whether the head is where one law hands over to the next.
fn near_corner(inlet: &Inlet, head: f64) -> bool {
    let corners = match inlet {
        Inlet::Lip(lip) => vec![lip.submerging_head_m()],
        Inlet::SideHole(hole) => vec![hole.crossing_head_m()],
        Inlet::Notch(notch) => notch.corners_m().to_vec(),
        Inlet::Screened(screened) => return near_corner(&screened.behind(), head),
        Inlet::Unlimited | Inlet::Never => return false,
    };
    let near = |corner: &f64| (head / corner - 1.0).abs() < 1e-4;
    corners.iter().any(near)
}

/// With an orifice coefficient so small that the orifice never catches up with the critical form W does not wait: one
/// flow, one head. Where the two just touch, nothing else changes.
#[test]
fn prop_a_side_hole_with_a_small_orifice_coefficient_never_waits() {
    let hole = |orifice: f64| {
        let coefficients = Coefficients {
            orifice,
            ..Coefficients::default()
        };
        Inlet::side_hole(0.063, &coefficients)
    };
    for orifice in [1e-3, 0.0065, 0.1, 0.3, 0.38, 0.39, 0.4] {
        let inlet = hole(orifice);
        let mut before = 0.0;
        for step in 1..4000 {
            let head = 1e-4 * f64::from(step);
            let at = inlet.capacity(head);
            assert!(
                at.value > before && at.derivative > 0.0,
                "C_o {orifice} at {head} m"
            );
            before = at.value;
            let back = inlet.head_for(at.value).value;
            assert!(
                (back / head - 1.0).abs() < 1e-9,
                "C_o {orifice} at {head} m: {back} m"
            );
        }
        // Deep under water it is the orifice that was asked for.
        let deep_m = 30.0;
        let by_hand = orifice * std::f64::consts::PI / 4.0
            * 0.063_f64.powi(2)
            * (2.0 * G * (deep_m - 0.0315)).sqrt();
        assert!((inlet.capacity(deep_m).value / by_hand - 1.0).abs() < 1e-12);
    }
    // Half of a coefficient that is too small is half of the flow at every head.
    for head in [0.01, 0.05, 0.08, 0.3] {
        let ratio = hole(0.1).capacity(head).value / hole(0.2).capacity(head).value;
        assert!((ratio - 0.5).abs() < 1e-9, "{ratio} at {head} m");
    }
}

#[test]
fn prop_no_head_no_flow() {
    let coefficients = Coefficients::default();
    for inlet in [
        Inlet::lip(0.1, &coefficients),
        Inlet::side_hole(0.1, &coefficients),
        Inlet::Notch(Notch::vee(90.0, G)),
        Inlet::side_hole(0.1, &coefficients).screened(0.3),
        Inlet::Never,
    ] {
        for head in [0.0, -0.0, -1e-300, -5.0, f64::NAN] {
            let at = inlet.capacity(head);
            assert_eq!((at.value, at.derivative), (0.0, 0.0));
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
    assert!((one.derivative * 0.01 / one.value - 1.5).abs() < 1e-12);
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

/// 200 mm wide in a channel of 400 mm, crest 250 mm up, head 100 mm: C_e 0.592 + 0.011·0.4, width 203.1 mm, head 101 mm.
#[test]
fn prop_a_rectangular_notch_is_the_closed_form_where_it_was_measured() {
    let shape = Rectangle {
        width_m: 0.2,
        channel_m: Some(0.4),
        height_m: Some(0.25),
    };
    let notch = Inlet::Notch(Notch::rectangular(shape, G));
    let root_2g = (2.0 * G).sqrt();
    let by_hand = 2.0 / 3.0 * 0.5964 * root_2g * 0.2031 * 0.101_f64.powf(1.5);
    assert!((notch.capacity(0.1).value / by_hand - 1.0).abs() < 1e-12);
    // A notch as wide as its channel, with no floor near: 0.602, 0.9 mm less.
    let whole = Rectangle {
        width_m: 0.4,
        channel_m: Some(0.4),
        height_m: None,
    };
    let whole = Inlet::Notch(Notch::rectangular(whole, G));
    let by_hand = 2.0 / 3.0 * 0.602 * root_2g * 0.3991 * 0.051_f64.powf(1.5);
    assert!((whole.capacity(0.05).value / by_hand - 1.0).abs() < 1e-12);
}

/// The allowance on the head would pass water at no head; it fades out below the least head measured.
#[test]
fn prop_a_notch_has_no_step_and_no_flow_without_head() {
    let notches = [
        Notch::vee(60.0, G),
        Notch::rectangular(
            Rectangle {
                width_m: 0.3,
                channel_m: None,
                height_m: Some(0.01),
            },
            G,
        ),
    ];
    for notch in notches {
        let inlet = Inlet::Notch(notch);
        let [full_offset_m, measured_to_m] = notch.corners_m();
        let corners = [full_offset_m, measured_to_m].into_iter();
        for corner_m in corners.filter(|corner_m| corner_m.is_finite()) {
            let at = |share: f64| inlet.capacity(corner_m * share).value;
            assert!(
                (at(1.0 - 1e-9) / at(1.0 + 1e-9) - 1.0).abs() < 1e-7,
                "{corner_m}"
            );
        }
        assert!(inlet.capacity(1e-9).value < 1e-12);
    }
}

#[test]
fn prop_a_wider_vee_and_a_wider_notch_pass_more() {
    let vee = |angle_deg: f64| Inlet::Notch(Notch::vee(angle_deg, G)).capacity(0.1).value;
    let angles = [5.0, 20.0, 40.0, 60.0, 90.0, 100.0, 120.0, 150.0];
    assert!(angles.windows(2).all(|pair| vee(pair[0]) < vee(pair[1])));
    let wide = |width_m: f64| {
        let shape = Rectangle {
            width_m,
            channel_m: Some(1.0),
            height_m: Some(0.3),
        };
        Inlet::Notch(Notch::rectangular(shape, G))
            .capacity(0.1)
            .value
    };
    let widths: Vec<f64> = (1..=100)
        .map(|percent| f64::from(percent) / 100.0)
        .collect();
    assert!(widths.windows(2).all(|pair| wide(pair[0]) < wide(pair[1])));
}

#[test]
fn prop_a_guard_on_the_lip_takes_its_share_and_guards_multiply() {
    let lip = Inlet::lip(0.1, &Coefficients::default());
    let half = lip.screened(0.5);
    let flow = lip.capacity(0.02).value;
    assert!((half.capacity(0.02).value / flow - 0.5).abs() < 1e-14);
    let quarter = half.screened(0.5).capacity(0.02).value;
    assert!((quarter / flow - 0.25).abs() < 1e-14);
    assert_eq!(Inlet::Unlimited.screened(0.2), Inlet::Unlimited);
    assert_eq!(Inlet::Never.screened(0.2), Inlet::Never);
}

/// 3 mm hole, 1 m over it: 0.6·(π/4)·0.003²·√(2·9.80665) = 18.8 mL/s.
#[test]
fn prop_a_siphon_break_loses_as_an_orifice() {
    let lost =
        |head_m: f64| siphon_break::lost_through_hole(0.003, head_m, &Coefficients::default());
    assert!((lost(1.0) - 1.878_27e-5).abs() < 1e-9);
    assert!((lost(4.0) / lost(1.0) - 2.0).abs() < 1e-12);
    assert_eq!(lost(0.0), 0.0);
    assert_eq!(lost(-1.0), 0.0);
}
