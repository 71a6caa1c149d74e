//! Where a run's pipe lies: its length, its ends, its highest point.

use crate::support::layouts::{at, bare, first_facts, run, running, submerged, two_tanks, upstand};
use fallwright::geometry::Corner;
use fallwright::layout::{Layout, Place, Run};
use fallwright::lower::RunFacts;

fn place(x_m: f64, y_m: f64) -> Place {
    Place {
        x_m,
        y_m,
        along_m: 77.0,
        turned_deg: 33.0,
    }
}

fn corner(x_m: f64, y_m: f64, z_m: f64) -> Corner {
    Corner::at(x_m, y_m, z_m)
}

fn placed(run: Run) -> Layout {
    let mut layout = two_tanks(vec![run]);
    layout.vessels[0].place = place(0.0, 0.0);
    layout.vessels[1].place = place(3.0, 4.0);
    layout.joints[0].place = place(1.0, 0.0);
    layout
}

fn facts(run: Run) -> RunFacts {
    first_facts(&running(&placed(run))).clone()
}

/// From the lip at 1.2 m over the upper tank's middle to the lower tank's floor at 0 m.
fn routed() -> Run {
    Run {
        length_m: None,
        ..run("drain", at("upper", upstand(1.2)), at("lower", submerged()))
    }
}

#[test]
fn the_length_is_that_of_the_route_from_crest_to_end() {
    // Straight down 1.2 m, then 3 m and 4 m on the level.
    let mut run = routed();
    run.route = vec![corner(0.0, 0.0, 0.0), corner(3.0, 0.0, 0.0)];
    let facts = facts(run);
    assert!((facts.length_m - 8.2).abs() < 1e-12);
    assert_eq!(facts.end_elevations_m, [1.2, 0.0]);
    assert_eq!(facts.end_lips_m, [Some(1.2), None]);
    assert_eq!(facts.highest_m, 1.2);
}

#[test]
fn without_corners_it_is_the_straight_line() {
    // 3, 4 and 1.2 apart: √26.44.
    assert!((facts(routed()).length_m - 26.44_f64.sqrt()).abs() < 1e-12);
}

#[test]
fn a_length_that_is_given_counts() {
    let mut run = routed();
    run.length_m = Some(12.5);
    run.route = vec![corner(100.0, 0.0, 0.0)];
    assert_eq!(facts(run).length_m, 12.5);
}

#[test]
fn an_end_may_have_its_own_place() {
    // The end stands on the corner of the tank at (3, 0): 3 m along and 1.2 m down.
    let mut run = routed();
    run.to.place = Some(place(3.0, 0.0));
    assert!((facts(run).length_m - (9.0_f64 + 1.44).sqrt()).abs() < 1e-12);
}

#[test]
fn the_highest_corner_counts_not_only_the_ends() {
    let mut run = routed();
    run.route = vec![corner(0.0, 0.0, 1.9)];
    assert_eq!(facts(run).highest_m, 1.9);
}

#[test]
fn a_joint_is_at_its_centre_and_the_pipe_half_a_bore_under_it() {
    // From (1, 0, 0.3) to (3, 4, 0): 2, 4 and 0.3 apart.
    let run = Run {
        length_m: None,
        ..run("leg", bare("tee"), at("lower", submerged()))
    };
    let facts = facts(run);
    assert_eq!(facts.end_elevations_m, [0.25, 0.0]);
    assert!((facts.length_m - 20.09_f64.sqrt()).abs() < 1e-12);
}
