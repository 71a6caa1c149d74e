//! Heights that a hand means.

use fallwright::editor::snap;
use fallwright::units::UnitSystem::{Metric, Us};

#[test]
fn a_candidate_near_enough_wins_over_the_tape() {
    let snapped = snap(1.1523, &[1.1551, 1.34], 0.003, Metric);
    assert!(snapped.to_candidate);
    assert_eq!(snapped.height_m, 1.1551);
    let far = snap(1.1523, &[1.16], 0.003, Metric);
    assert!(!far.to_candidate);
}

#[test]
fn of_two_candidates_the_nearer_wins() {
    let snapped = snap(1.0, &[1.002, 0.999], 0.01, Metric);
    assert_eq!(snapped.height_m, 0.999);
}

#[test]
fn the_step_of_the_tape_follows_the_sureness_of_the_hand() {
    assert_eq!(snap(1.2349, &[], 0.0003, Metric).height_m, 1.235);
    assert_eq!(snap(1.2329, &[], 0.004, Metric).height_m, 1.235);
    assert_eq!(snap(1.2329, &[], 0.05, Metric).height_m, 1.23);
    let quarter = snap(1.2, &[], 0.004, Us).height_m / 0.0254;
    assert!(
        (quarter * 4.0 - (quarter * 4.0).round()).abs() < 1e-9,
        "{quarter}"
    );
    let fine = snap(1.2, &[], 0.0002, Us).height_m / 0.0254;
    assert!((fine * 16.0 - (fine * 16.0).round()).abs() < 1e-9, "{fine}");
    assert!((fine * 0.0254 - 1.2).abs() <= 0.0254 / 32.0 + 1e-9);
}
