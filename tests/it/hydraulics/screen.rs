//! Screens: what they lose, before what they stand, and cages that stand out of the water.

use super::difference;
use crate::verification::{Case, checks};
use fallwright::hydraulics::STANDARD_GRAVITY_M_S2 as G;
use fallwright::hydraulics::openings::clear_share;
use fallwright::hydraulics::openings::coefficients::Coefficients;
use fallwright::hydraulics::openings::inlet::Inlet;
use fallwright::hydraulics::openings::screen;
use fallwright::hydraulics::openings::screen::{Bars, Cage, ScreenLaw};
use proptest::prelude::*;

const VISCOSITY: f64 = 1e-6;

fn rack(given: &Case) -> f64 {
    let clear = clear_share::clear_share(given.n("open_share"), 0.0);
    screen::gross_k(screen::rack_k(clear), clear)
}

checks! {
    val_screen_rack_40: "SC-1" => rack;
    val_screen_rack_67: "SC-3" => rack;
}

/// 40 % open, half blinded: 20 % clear; the rack law by hand, and a K of one's own.
#[test]
fn prop_a_screen_loses_by_the_square_of_what_it_leaves_clear() {
    let clear = clear_share::clear_share(0.4, 0.5);
    assert!((clear - 0.2).abs() < 1e-15);
    assert!((screen::rack_k(clear) - (1.45 - 0.09 - 0.04)).abs() < 1e-12);
    assert!((screen::gross_k(1.32, clear) - 33.0).abs() < 1e-9);
    assert_eq!(screen::rack_k(1.0), 0.0);
    assert_eq!(clear_share::clear_share(1.0, 1.0), 0.0);
    let bore_m = screen::equal_bore_m(0.25 * std::f64::consts::PI * 0.09);
    assert!((bore_m - 0.3).abs() < 1e-15);
}

fn law(share: f64, area_m2: f64, cage: Option<Cage>) -> ScreenLaw {
    let bars = Bars {
        gross_k: screen::gross_k(screen::rack_k(share), share),
        area_m2,
        cage,
    };
    ScreenLaw::new(&bars, VISCOSITY, G)
}

fn cage(foot_m: f64, height_m: f64) -> Option<Cage> {
    Some(Cage { foot_m, height_m })
}

/// 1 L/s through 0.02 m², 20 % clear: V = 0.05 m/s, 33·0.05²/2g = 4.207 mm.
#[test]
fn a_screen_that_counts_whole_loses_the_same_at_every_level() {
    let whole = law(0.2, 0.02, None);
    for lower_m in [-4.0, 0.0, 0.7] {
        let higher = whole.higher(1e-3, lower_m);
        assert!((higher.level_m - lower_m - 4.206_33e-3).abs() < 1e-7);
        assert_eq!(higher.by_lower, 1.0);
    }
    assert_eq!(whole.higher(0.0, 0.3).level_m, 0.3);
    assert_eq!(whole.sill_m(), f64::NEG_INFINITY);
}

/// The same with half of a cage wet inside the loss: by hand, u − 0.00420633·(0.2/u)² = 0.1 has u = 0.1141 m.
#[test]
fn a_cage_counts_its_wet_height_by_the_higher_level() {
    let caged = law(0.2, 0.02, cage(0.5, 0.2));
    let over_m = caged.higher(1e-3, 0.6).level_m - 0.5;
    assert!((over_m - 4.206_33e-3 * (0.2 / over_m).powi(2) - 0.1).abs() < 1e-6);
    assert!((over_m - 0.1141).abs() < 1e-3, "{over_m}");
    // All of it under water, it is a screen like any other.
    let whole = law(0.2, 0.02, None);
    assert_eq!(caged.higher(1e-3, 0.75), whole.higher(1e-3, 0.75));
    // Under its foot the lower level counts no more: u³ = 0.00420633·0.2².
    let free = caged.higher(1e-3, -3.0);
    assert!((free.level_m - 0.5 - (4.206_33e-3_f64 * 0.04).cbrt()).abs() < 1e-6);
    assert_eq!(free.by_lower, 0.0);
    // Nothing flows: it stands at the lower level, or at the foot.
    assert_eq!(caged.higher(0.0, 0.6).level_m, 0.6);
    assert_eq!(caged.higher(0.0, 0.4).level_m, 0.5);
    assert_eq!(caged.capacity(&lip(), 0.3, 0.5).value, 0.0);
}

fn lip() -> Inlet {
    Inlet::lip(0.05, &Coefficients::default())
}

/// A screen of any clearness and size, whole or a cage about the datum.
fn any_law() -> impl Strategy<Value = ScreenLaw> {
    let cages = prop::option::of((-0.5..0.5_f64, 0.02..0.6_f64));
    (0.01..1.0_f64, -3.0..-0.5_f64, cages).prop_map(|(share, area, cages)| {
        let stands = cages.map(|(foot_m, height_m)| Cage { foot_m, height_m });
        law(share, 10_f64.powf(area), stands)
    })
}

proptest! {
    #[test]
    fn prop_the_higher_level_rises_with_flow_and_with_the_lower_one(
        law in any_law(), exponent in -9.0..-1.5_f64, lower_m in -1.0..1.0_f64, up_m in 1e-6..0.3_f64,
    ) {
        let flow = 10_f64.powf(exponent);
        let here = law.higher(flow, lower_m);
        prop_assert!(here.level_m >= lower_m.max(law.sill_m()));
        prop_assert!(law.higher(1.01 * flow, lower_m).level_m >= here.level_m);
        prop_assert!(law.higher(flow, lower_m + up_m).level_m >= here.level_m - 1e-15);
        // What it loses at that level is what it stands over the lower one, or over the foot.
        let lost_m = law.loss_m(flow, here.level_m);
        let stands_m = here.level_m - lower_m.max(law.sill_m());
        prop_assert!((lost_m - stands_m).abs() <= 1e-9 * (1.0 + stands_m), "{lost_m} {stands_m}");
    }

    #[test]
    fn prop_its_derivatives_are_those_of_its_levels(
        law in any_law(), exponent in -7.0..-1.5_f64, lower_m in -1.0..1.0_f64,
    ) {
        let flow = 10_f64.powf(exponent);
        let here = law.higher(flow, lower_m);
        let sides = |by: fn(&ScreenLaw, f64, f64) -> f64, at: f64, step: f64| {
            let (low, middle, high) = (by(&law, flow, at - step), by(&law, flow, at), by(&law, flow, at + step));
            [(middle - low) / step, (high - middle) / step]
        };
        let level = |law: &ScreenLaw, flow: f64, lower_m: f64| law.higher(flow, lower_m).level_m;
        let [below, above] = sides(level, lower_m, 1e-7);
        let (least, most) = (below.min(above), below.max(above));
        prop_assert!(here.by_lower > least - 1e-3 && here.by_lower < most + 1e-3);
        let by_flow = |step: f64| (level(&law, flow + step, lower_m) - here.level_m) / step;
        let (below, above) = (by_flow(-1e-6 * flow), by_flow(1e-6 * flow));
        let room = 1e-3 * here.by_flow + 1e-9 / flow;
        prop_assert!(here.by_flow > below.min(above) - room && here.by_flow < below.max(above) + room,
            "{} {below} {above}", here.by_flow);
    }

    #[test]
    fn prop_what_an_opening_takes_behind_it_and_what_that_asks_for_agree(
        law in any_law(), over_m in 1e-4..1.5_f64,
    ) {
        let (inlet, intake_m) = (lip(), 0.1);
        let level_m = intake_m + over_m;
        let taken = law.capacity(&inlet, intake_m, level_m);
        if level_m <= law.sill_m() {
            prop_assert_eq!(taken.value, 0.0);
            return Ok(());
        }
        let asked_m = law.higher(taken.value, intake_m + inlet.head_for(taken.value).value).level_m;
        prop_assert!((asked_m - level_m).abs() < 1e-9, "{asked_m} {level_m}");
        prop_assert!(taken.value <= inlet.capacity(over_m).value * (1.0 + 1e-12));
        let more = difference(|level_m| law.capacity(&inlet, intake_m, level_m).value, level_m, 1e-7);
        let corner = law.capacity(&inlet, intake_m, level_m + 2e-7).derivative;
        let room = 2e-3 * taken.derivative + (corner - taken.derivative).abs() + 1e-8;
        prop_assert!((more - taken.derivative).abs() <= room, "{more} {}", taken.derivative);
    }

    /// A clearer screen never asks for more, however much stands over the opening.
    #[test]
    fn prop_a_clearer_screen_lets_in_more(
        share in 0.01..0.99_f64, clearer in 1.0..2.0_f64, cover_m in 0.0..2.0_f64,
    ) {
        let taken = |share: f64| law(share, 0.01, None).capacity(&lip(), 0.0, cover_m).value;
        prop_assert!(taken((share * clearer).min(1.0)) >= taken(share) * (1.0 - 1e-12));
    }
}
