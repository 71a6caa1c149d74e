//! K of a valve against its opening.

use approx::assert_relative_eq;
use fallwright::catalogue::{Actuation, Catalogue, FittingContext, LEAST_OPENING, Valve};

fn valve(kind: &str) -> &'static Valve {
    Catalogue::builtin().valve(kind).unwrap()
}

const AT: FittingContext = FittingContext {
    bore_m: 0.0525,
    crane_ft: 0.0188,
    darcy_f: 0.02,
};

#[test]
fn shut_gives_nothing() {
    for valve in &Catalogue::builtin().valves {
        for opening in [0.0, -0.0, -1.0, f64::NAN, f64::NEG_INFINITY] {
            assert_eq!(valve.k(opening, 0.019), None, "{} at {opening}", valve.key);
        }
    }
}

#[test]
fn prop_closing_never_lowers_the_loss_nor_makes_it_jump() {
    for valve in &Catalogue::builtin().valves {
        for ft in [0.012, 0.019, 0.027] {
            let k_at = |step: u32| valve.k(f64::from(step) / 1000.0, ft).unwrap();
            for step in 1..1000 {
                let (narrow, wide) = (k_at(step), k_at(step + 1));
                assert!(
                    narrow >= wide,
                    "{} opens from {step}/1000: {narrow} to {wide}",
                    valve.key
                );
                let steepest = f64::from(step + 1) / f64::from(step);
                assert!(
                    narrow <= wide * 1.05 * steepest.powi(2),
                    "{} jumps at {step}/1000",
                    valve.key
                );
            }
            assert!(valve.k(1e-300, ft).unwrap().is_finite(), "{}", valve.key);
        }
    }
}

#[test]
fn more_than_open_is_open() {
    let ball = valve("ball");
    assert_eq!(ball.k(1.0, 0.0188), ball.k(1.7, 0.0188));
    assert_eq!(ball.k(1.0, 0.0188), ball.k(f64::INFINITY, 0.0188));
}

#[test]
fn halfway_between_points_is_their_geometric_mean() {
    let gate = valve("gate");
    assert_relative_eq!(
        gate.k(0.375, 0.0188).unwrap(),
        (2.1_f64 * 17.0).sqrt(),
        max_relative = 1e-12
    );
}

#[test]
fn below_the_last_point_the_loss_goes_by_the_area_squared() {
    let gate = valve("gate");
    assert_relative_eq!(
        gate.k(0.05, 0.0188).unwrap(),
        17.0 * 25.0,
        max_relative = 1e-12
    );
    let least = gate.k(LEAST_OPENING, 0.0188);
    assert_eq!(gate.k(LEAST_OPENING / 10.0, 0.0188), least);
}

#[test]
fn a_valve_without_points_goes_by_the_area_squared_throughout() {
    let angle = valve("angle");
    let open = angle.k(1.0, 0.02).unwrap();
    assert_relative_eq!(
        angle.k(0.5, 0.02).unwrap(),
        4.0 * open,
        max_relative = 1e-12
    );
}

#[test]
fn a_check_valve_has_one_loss() {
    for valve in &Catalogue::builtin().valves {
        if valve.acts == Actuation::Check {
            assert_eq!(valve.k(0.2, 0.02), valve.k(1.0, 0.02), "{}", valve.key);
        }
    }
}

#[test]
fn a_choice_replaces_what_it_covers() {
    let gate = valve("gate");
    let k = |opening: f64, choice: &str| gate.k_chosen(opening, &AT, Some(choice)).unwrap();
    // Both halves from one source.
    assert_relative_eq!(k(1.0, "additional-loss-table"), 0.17);
    assert_relative_eq!(k(0.5, "additional-loss-table"), 4.5);
    // Open loss only: the throttled losses stay the default's.
    assert_relative_eq!(k(1.0, "cengel-ex-8-8"), 0.2);
    assert_relative_eq!(k(0.5, "cengel-ex-8-8"), 2.1);
    // By bore.
    assert_relative_eq!(k(1.0, "ashrae-threaded"), 0.17);
    // Throttled losses only.
    let butterfly = valve("butterfly");
    let open = butterfly.k_chosen(1.0, &AT, Some("additional-loss-table"));
    assert_eq!(open, butterfly.k(1.0, AT.crane_ft));
}

/// Two tables that were read apart: a ball valve from memory (Munson, Young and Okiishi, table 8.2) and a
/// plug cock (additional-loss table, read). Both turn a bored plug by the same angle.
#[test]
fn ball_and_plug_tables_agree_at_two_thirds_closed() {
    let ball = valve("ball");
    let munson = ball.k_chosen(1.0 / 3.0, &AT, Some("munson-8-2")).unwrap();
    let plug = ball
        .k_chosen(1.0 / 3.0, &AT, Some("additional-loss-table"))
        .unwrap();
    assert_relative_eq!(munson, plug, max_relative = 0.03);
}
