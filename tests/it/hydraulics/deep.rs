//! Mouths under deep water: what they take where no air reaches them.

use super::difference;
use fallwright::hydraulics::STANDARD_GRAVITY_M_S2 as G;
use fallwright::hydraulics::openings::coefficients::Coefficients;
use fallwright::hydraulics::openings::inlet::Inlet;
use fallwright::hydraulics::openings::submergence::MouthLeadsTo;
use fallwright::hydraulics::openings::vortex::submergence_m;
use proptest::prelude::*;

fn lip(bore_m: f64, leads: MouthLeadsTo) -> Inlet {
    Inlet::lip(bore_m, &Coefficients::default()).leading_to(leads, G)
}

fn hole(bore_m: f64, leads: MouthLeadsTo) -> Inlet {
    Inlet::side_hole(bore_m, &Coefficients::default()).leading_to(leads, G)
}

/// 0.6·√2·√x = (x − 1)/2.3 at x = 5.63.
#[test]
fn a_lip_over_a_pipe_is_an_orifice_up_to_5_63_bores() {
    let (plain, piped) = (
        lip(0.05, MouthLeadsTo::ToAir),
        lip(0.05, MouthLeadsTo::ToPipe),
    );
    for (bores, same) in [
        (0.1, true),
        (1.0, true),
        (5.6, true),
        (5.66, false),
        (20.0, false),
    ] {
        let [one, other] = [plain, piped].map(|inlet| inlet.capacity(bores * 0.05).value);
        assert_eq!(one == other, same, "{bores}: {one} {other}");
        assert!(other >= one);
    }
}

/// Where air is kept out the head is the submergence that the flow asks for.
#[test]
fn deep_down_the_head_is_the_submergence() {
    let flow = 0.004;
    let wanted_m = submergence_m(flow, 0.0409, G);
    let head_m = lip(0.0409, MouthLeadsTo::ToPipe).head_for(flow).value;
    assert!((head_m - wanted_m).abs() < 1e-9);
    assert!((head_m - 0.4931).abs() < 1e-3, "{head_m}");
    // Of a hole it is over its centre.
    let head_m = hole(0.0409, MouthLeadsTo::ToPipe).head_for(flow).value;
    assert!((head_m - 0.0409 / 2.0 - wanted_m).abs() < 1e-9);
}

/// 1.67 L/s by 26.6 mm: as a weir alone 58 mm, whatever stands over it.
#[test]
fn the_suction_of_a_pump_is_a_weir_alone() {
    let suction = lip(0.0266, MouthLeadsTo::ToPump);
    let weir = 2.0 / 3.0 * 0.6 * (2.0 * G).sqrt() * std::f64::consts::PI * 0.0266;
    for head_m in [0.001, 0.05, 0.3, 4.0_f64] {
        let by_hand = weir * head_m.powf(1.5);
        assert!((suction.capacity(head_m).value / by_hand - 1.0).abs() < 1e-12);
    }
    // A hole is critical in its mouth up to its crown, and goes on from there as a weir.
    let (plain, drawn) = (
        hole(0.05, MouthLeadsTo::ToAir),
        hole(0.05, MouthLeadsTo::ToPump),
    );
    let crown = drawn.capacity(0.05).value;
    assert!((plain.capacity(0.05).value / crown - 1.0).abs() < 1e-9);
    assert!((plain.capacity(0.03).value / drawn.capacity(0.03).value - 1.0).abs() < 1e-12);
    assert!((drawn.capacity(0.2).value / (8.0 * crown) - 1.0).abs() < 1e-9);
}

#[test]
fn a_notch_and_an_end_without_a_limit_stay_what_they_are() {
    for leads in [
        MouthLeadsTo::ToAir,
        MouthLeadsTo::ToPipe,
        MouthLeadsTo::ToPump,
    ] {
        assert_eq!(Inlet::Unlimited.leading_to(leads, G), Inlet::Unlimited);
        assert_eq!(Inlet::Never.leading_to(leads, G), Inlet::Never);
    }
}

fn any_mouth() -> impl Strategy<Value = Inlet> {
    let leads = prop::sample::select(vec![MouthLeadsTo::ToPipe, MouthLeadsTo::ToPump]);
    (0.01..0.3_f64, leads, any::<bool>()).prop_map(|(bore_m, leads, is_lip)| {
        if is_lip {
            lip(bore_m, leads)
        } else {
            hole(bore_m, leads)
        }
    })
}

proptest! {
    #[test]
    fn prop_a_mouth_under_water_never_takes_less_and_reads_both_ways(
        mouth in any_mouth(), exponent in -4.0..1.0_f64, growth in 1.0..1.5_f64,
    ) {
        let head_m = 10_f64.powf(exponent);
        let here = mouth.capacity(head_m);
        prop_assert!(mouth.capacity(head_m * growth).value >= here.value);
        prop_assert!((mouth.head_for(here.value).value / head_m - 1.0).abs() < 1e-9);
        let by_flow = mouth.head_for(here.value).derivative;
        prop_assert!((by_flow * here.derivative - 1.0).abs() < 1e-6, "{by_flow} {}", here.derivative);
        let step = 1e-6 * head_m;
        let numeric = difference(|head_m| mouth.capacity(head_m).value, head_m, step);
        let sides = [mouth.capacity(head_m - step).derivative, mouth.capacity(head_m + step).derivative];
        let room = 1e-5 * here.derivative + (sides[0] - sides[1]).abs();
        prop_assert!((numeric - here.derivative).abs() <= room, "{numeric} {}", here.derivative);
    }
}
