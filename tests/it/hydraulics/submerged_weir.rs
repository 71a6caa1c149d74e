//! Weirs under water: held to themselves. What was measured is in `experiments`.

use super::difference;
use approx::assert_relative_eq;
use fallwright::hydraulics::STANDARD_GRAVITY_M_S2 as G;
use fallwright::hydraulics::openings::inlet::Inlet;
use fallwright::hydraulics::openings::notch::{Notch, Rectangle};
use fallwright::hydraulics::openings::submerged_weir::SubmergedWeir;
use proptest::prelude::*;

fn wide() -> Notch {
    let shape = Rectangle {
        width_m: 0.2,
        channel_m: None,
        height_m: Some(0.5),
    };
    Notch::rectangular(shape, G)
}

/// A rectangle, a vee, a plain notch and a rim.
fn notches() -> [Notch; 4] {
    [
        wide(),
        Notch::vee(60.0, G),
        Notch::plain_rectangular(0.05, 0.62, G),
        Notch::rim(1.7, 12.0),
    ]
}

/// The law as it is printed: flow from both heads.
fn printed(notch: Notch, head_m: f64, tail_m: f64) -> f64 {
    let ratio = tail_m.max(0.0) / head_m;
    let free = Inlet::Notch(notch).capacity(head_m).value;
    free * (1.0 - ratio.powf(notch.power())).powf(0.385)
}

#[test]
fn prop_it_is_the_printed_law() {
    for notch in notches() {
        let weir = SubmergedWeir::new(notch);
        for [head_m, tail_m] in [
            [0.1, -0.2],
            [0.1, 0.0],
            [0.08, 0.03],
            [0.08, 0.0799],
            [1.5, 0.7],
        ] {
            let flow = printed(notch, head_m, tail_m);
            assert_relative_eq!(weir.flow(head_m, tail_m), flow, max_relative = 1e-9);
            let back = weir.head_for(flow, tail_m);
            assert_relative_eq!(back.head_m, head_m, max_relative = 1e-9);
        }
    }
}

/// Without tail water over its sill it is the free weir to the last digit.
#[test]
fn prop_without_tail_water_it_is_the_free_weir() {
    for notch in notches() {
        let (weir, free) = (SubmergedWeir::new(notch), Inlet::Notch(notch));
        for flow in [1e-9, 1e-5, 3e-3, 0.4] {
            let head = weir.head_for(flow, -0.01);
            assert_eq!(
                (head.head_m, head.by_tail),
                (free.head_for(flow).value, 0.0)
            );
            let barely = weir.head_for(flow, 1e-12);
            assert_relative_eq!(barely.head_m, head.head_m, max_relative = 1e-7);
        }
        assert_eq!(weir.flow(0.07, -0.3), free.capacity(0.07).value);
    }
}

#[test]
fn prop_level_water_does_not_flow() {
    for notch in notches() {
        let weir = SubmergedWeir::new(notch);
        for tail_m in [-0.1, 0.0, 1e-9, 0.05, 40.0] {
            assert_eq!(weir.flow(tail_m, tail_m), 0.0);
            assert_eq!(weir.flow(0.5 * tail_m - 0.01, tail_m), 0.0);
            assert_eq!(weir.head_for(0.0, tail_m).head_m, tail_m.max(0.0));
        }
        let trickle = weir.head_for(1e-13, 0.05);
        assert!(trickle.by_flow > 0.0 && trickle.by_flow.is_finite());
        assert!((trickle.head_m - 0.05).abs() < 1e-14, "{trickle:?}");
    }
}

/// What the gentle end of the law takes off the printed one is no height that anybody could measure.
#[test]
fn prop_the_gentle_end_is_micrometres() {
    for notch in notches() {
        let free = Inlet::Notch(notch).capacity(0.1).value;
        for share in [1e-6, 1e-3, 9.99e-3] {
            let head = SubmergedWeir::new(notch).head_for(share * free, 0.1);
            assert!(head.head_m - 0.1 < 1e-6, "{head:?}");
        }
    }
}

/// The trial of the method: a notch of 0.2 m, 5 L/s, the tail water 69.1 mm over its sill.
#[test]
fn regress_the_trial() {
    let notch = Notch::rectangular(
        Rectangle {
            width_m: 0.2,
            channel_m: None,
            height_m: Some(0.5),
        },
        G,
    );
    let weir = SubmergedWeir::new(notch);
    assert!((weir.head_for(0.005, 0.0691).head_m - 0.08336).abs() < 1e-4);
    assert!((weir.head_for(0.005, -0.1).head_m - 0.0578).abs() < 1e-4);
}

proptest! {
    #[test]
    fn prop_its_slopes_are_its_differences(which in 0usize..4, log_flow in -6.0f64..-0.5, tail_m in -0.05f64..0.4) {
        let weir = SubmergedWeir::new(notches()[which]);
        let flow = 10f64.powf(log_flow);
        let here = weir.head_for(flow, tail_m);
        // Away from the corners of the free law and of the gentle end.
        let share = flow / Inlet::Notch(notches()[which]).capacity(here.head_m).value;
        let corners = notches()[which].corners_m();
        prop_assume!((share / 0.01).ln().abs() > 0.01 && tail_m.abs() > 1e-3);
        prop_assume!(corners.iter().all(|corner_m| (here.head_m - corner_m).abs() > 1e-4));
        let by_flow = difference(|flow| weir.head_for(flow, tail_m).head_m, flow, 1e-4 * flow);
        let by_tail = difference(|tail_m| weir.head_for(flow, tail_m).head_m, tail_m, 1e-6);
        prop_assert!((here.by_flow - by_flow).abs() <= 1e-3 * by_flow + 1e-9 / flow, "{here:?} {by_flow}");
        prop_assert!((here.by_tail - by_tail).abs() <= 1e-3, "{here:?} {by_tail}");
    }

    #[test]
    fn prop_it_never_falls(which in 0usize..4, log_flow in -9.0f64..0.5, tail_m in -0.1f64..0.6, more in 0.0f64..0.1) {
        let weir = SubmergedWeir::new(notches()[which]);
        let flow = 10f64.powf(log_flow);
        let here = weir.head_for(flow, tail_m);
        prop_assert!(here.by_flow > 0.0 && (0.0..=1.0).contains(&here.by_tail));
        prop_assert!(here.head_m >= tail_m && here.head_m > 0.0);
        prop_assert!(weir.head_for(flow * (1.0 + more), tail_m).head_m >= here.head_m);
        prop_assert!(weir.head_for(flow, tail_m + more).head_m >= here.head_m - 1e-15);
    }

    #[test]
    fn prop_it_is_one_law_either_way_round(which in 0usize..4, log_head in -3.0f64..0.3, share in -0.5f64..1.0) {
        let weir = SubmergedWeir::new(notches()[which]);
        let head_m = 10f64.powf(log_head);
        let tail_m = share * head_m;
        let flow = weir.flow(head_m, tail_m);
        prop_assume!(flow > 0.0);
        let back_m = weir.head_for(flow, tail_m).head_m;
        prop_assert!((back_m - head_m).abs() <= 1e-12 * head_m.max(1e-2), "{head_m} {back_m}");
    }
}
