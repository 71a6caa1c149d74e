//! Valves: what they lose, and which way water may pass.

use crate::support::layouts::{
    BORE_M, drain, first_facts, law_of, pump, running, said, two_tanks, valve,
};
use approx::assert_relative_eq;
use fallwright::layout::{Direction, Run, ValveUse};
use fallwright::network::Check;

fn with(valves: &[(&str, f64)]) -> Run {
    let mut run = drain();
    run.valves = valves
        .iter()
        .map(|(kind, opening)| valve(kind, *opening))
        .collect();
    run
}

fn k_of(run: Run) -> f64 {
    let minors = law_of(run).loss.minors;
    assert!(minors.iter().all(|minor| minor.bore_m == BORE_M));
    minors.iter().map(|minor| minor.k).sum()
}

#[test]
fn val_an_open_gate_is_eight_times_the_turbulent_factor() {
    // Crane TP-410 (from memory): 8·f_T with f_T = 0.0163685 at 100 mm.
    let k = k_of(with(&[("gate", 1.0)])) - 1.5;
    assert_relative_eq!(k, 0.130_948, max_relative = 1e-5);
}

#[test]
fn a_gate_half_shut_is_the_row_of_its_table() {
    // Munson, Young and Okiishi, table 8.2 (from memory): gate half closed, K = 2.1.
    assert_relative_eq!(k_of(with(&[("gate", 0.5)])), 1.5 + 2.1);
}

#[test]
fn a_k_that_is_given_counts_at_any_opening() {
    let mut run = drain();
    run.valves.push(ValveUse {
        k: Some(7.0),
        ..valve("some special thing", 0.4)
    });
    let lowered = running(&two_tanks(vec![run.clone()]));
    assert!(said(&lowered).is_empty());
    assert_eq!(k_of(run), 8.5);
}

#[test]
fn a_total_k_holds_open_valves_but_not_what_is_throttled() {
    let total = |valves| Run {
        total_k: Some(3.0),
        ..with(valves)
    };
    assert_eq!(k_of(total(&[("gate", 1.0), ("unheard-of", 1.0)])), 3.0);
    // Half shut 2.1, of which 0.130948 is in the total already.
    let half = k_of(total(&[("gate", 0.5)]));
    assert_relative_eq!(half, 3.0 + 2.1 - 0.130_948, max_relative = 1e-6);
}

#[test]
fn a_shut_valve_wins_over_everything() {
    for opening in [0.0, -0.1] {
        let mut run = with(&[("ball", 1.0), ("gate", opening)]);
        run.check_valve = Some(Direction::Forward);
        assert_eq!(law_of(run).check, Check::Shut);
    }
}

#[test]
fn a_check_valve_passes_the_way_it_says() {
    let mut run = drain();
    assert_eq!(law_of(run.clone()).check, Check::None);
    run.check_valve = Some(Direction::Forward);
    assert_eq!(law_of(run.clone()).check, Check::ForwardOnly);
    run.check_valve = Some(Direction::Backward);
    assert_eq!(law_of(run).check, Check::BackwardOnly);
}

#[test]
fn a_valve_that_the_flow_moves_passes_one_way_even_without_a_direction() {
    let mut run = with(&[("swing-check", 1.0)]);
    assert_eq!(law_of(run.clone()).check, Check::ForwardOnly);
    run.pump = Some(pump(Direction::Backward));
    assert_eq!(law_of(run.clone()).check, Check::BackwardOnly);
    run.check_valve = Some(Direction::Forward);
    assert_eq!(law_of(run).check, Check::ForwardOnly);
}

#[test]
fn the_most_shut_valve_is_the_one_that_is_told() {
    let open_of = |run: Run| first_facts(&running(&two_tanks(vec![run]))).valve_open;
    assert_eq!(open_of(drain()), None);
    assert_eq!(open_of(with(&[("ball", 1.0), ("gate", 0.25)])), Some(0.25));
}
