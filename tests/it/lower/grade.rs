//! Profiles of runs: which run is marched, on what legs, and what counts where.

use crate::networks::solved;
use crate::support::layouts::{
    BORE_M, at, bare, fitting, law_of, run, submerged, two_tanks, upstand, valve,
};
use fallwright::geometry::Corner;
use fallwright::hydraulics::profile::march_profile::{Leg, MarchProfile};
use fallwright::layout::{End, Opening, Run, Turned};
use fallwright::network::Sense;
use fallwright::state::State;
use fallwright::states::report::{Control, Regime};

fn mouth(lip_m: f64, turned: Turned) -> Opening {
    Opening::Mouth {
        lip_m,
        turned,
        bore_m: None,
        air_gap: false,
    }
}

fn hole(invert_m: f64) -> Opening {
    Opening::SideHole {
        invert_m,
        bore_m: None,
    }
}

fn level(lip_m: f64) -> End {
    at("lower", mouth(lip_m, Turned::Horizontal))
}

fn course(run: Run, sense: Sense) -> Option<MarchProfile> {
    law_of(run)
        .grade(sense)
        .map(|grade| grade.profile().clone())
}

fn corner(x_m: f64, z_m: f64) -> Corner {
    Corner::at(x_m, 0.0, z_m)
}

#[test]
fn ends_that_are_marched_and_ends_that_are_not() {
    let to = |end: End| course(run("drain", at("upper", hole(1.0)), end), Sense::Forward);
    assert!(to(level(0.1)).is_some());
    assert!(to(at("lower", mouth(0.1, Turned::Down))).is_some());
    assert!(to(at("lower", hole(0.1))).is_some());
    assert!(to(at("lower", mouth(0.1, Turned::Up))).is_none());
    assert!(to(at("lower", upstand(0.1))).is_none());
    assert!(to(at("lower", submerged())).is_none());
    assert!(to(bare("tee")).is_some());
}

#[test]
fn each_direction_has_its_own_outlet() {
    let drain = run("drain", at("upper", hole(1.0)), at("lower", upstand(0.1)));
    assert!(course(drain.clone(), Sense::Forward).is_none());
    let back = course(drain, Sense::Backward).expect("the hole lets out level");
    assert_eq!(back.outlet_m, 1.0);
}

#[test]
fn an_upstand_drops_and_runs_on_level() {
    let drain = run("drain", at("upper", upstand(1.2)), level(0.1));
    let legs = course(drain, Sense::Forward).unwrap().legs;
    let [
        Leg::Sloping {
            length_m,
            lower_m,
            upper_m,
        },
        Leg::Plumb { length_m: plumb_m },
    ] = legs[..]
    else {
        panic!("{legs:?}");
    };
    assert!((plumb_m - 1.1).abs() < 1e-12 && (length_m - 2.9).abs() < 1e-12);
    assert_eq!((lower_m, upper_m), (0.1, 0.1));
}

/// Of a route the legs are stretched to the length that was entered; what is steep stays plumb.
#[test]
fn a_route_is_stretched_to_its_length() {
    let mut drain = run("drain", at("upper", hole(1.0)), level(0.1));
    drain.route = vec![corner(2.0, 0.95), corner(2.0, 0.15)];
    drain.to.place = Some(fallwright::layout::Place {
        x_m: 4.0,
        y_m: 0.0,
        along_m: 0.0,
        turned_deg: 0.0,
    });
    drain.length_m = Some(9.6);
    let course = course(drain, Sense::Forward).unwrap();
    let plumb = course
        .legs
        .iter()
        .map(|leg| matches!(leg, Leg::Plumb { .. }));
    assert_eq!(plumb.collect::<Vec<_>>(), [false, true, false]);
    assert!((course.length_m() - 9.6).abs() < 1e-9);
    assert_eq!(course.sill_m(), 1.0);
}

/// One that lets out under water, or upwards, is marched for the sake of its hump alone.
#[test]
fn a_hump_is_marched_over_whatever_the_outlet() {
    let over = |z_m: f64, end: End| {
        let mut drain = run("drain", at("upper", hole(1.0)), end);
        drain.route = vec![corner(2.0, z_m)];
        course(drain, Sense::Forward)
    };
    assert!(over(1.01, level(0.1)).is_some());
    for end in [at("lower", submerged()), at("lower", upstand(0.1))] {
        assert!(over(0.9, end.clone()).is_none());
        let full = over(1.01, end).expect("it has a high point");
        let plumb = |leg: &Leg| matches!(leg, Leg::Plumb { .. });
        assert!(full.legs.iter().all(plumb) && full.high_points.len() == 1);
    }
}

#[test]
fn what_counts_where() {
    let mut drain = run("drain", at("upper", hole(1.0)), level(0.5));
    drain.fittings = vec![fitting("elbow-90")];
    drain.valves = vec![valve("ball", 0.5)];
    let law = law_of(drain);
    let course = law.grade(Sense::Forward).unwrap().profile();
    let k = |loss: &fallwright::hydraulics::losses::loss::Loss| -> f64 {
        loss.minors.iter().map(|minor| minor.k).sum()
    };
    assert!((k(&course.top) - 1.5).abs() < 1e-12);
    assert!(k(&course.spread) > 0.0 && k(&course.full) > 0.0);
    let all = k(&course.top) + k(&course.spread) + k(&course.full);
    assert!((all - k(&law.loss)).abs() < 1e-12);
}

/// Of a K for everything plain ends take theirs at the upper end.
#[test]
fn a_total_is_shared_out() {
    let with = |total_k: f64| {
        let mut drain = run("drain", at("upper", hole(1.0)), level(0.5));
        drain.total_k = Some(total_k);
        let course = course(drain, Sense::Forward).unwrap();
        let k = |minors: &[fallwright::hydraulics::losses::loss::Minor]| -> f64 {
            minors.iter().map(|minor| minor.k).sum()
        };
        (k(&course.top.minors), k(&course.spread.minors))
    };
    assert_eq!(with(4.0), (1.5, 2.5));
    assert_eq!(with(0.7), (0.7, 0.0));
}

#[test]
fn a_pushed_run_is_full() {
    let mut drain = run("drain", at("upper", hole(1.0)), level(0.1));
    drain.pump = Some(crate::support::layouts::pump(Default::default()));
    let law = law_of(drain);
    assert!(law.grade(Sense::Forward).is_none() && law.grade(Sense::Backward).is_none());
}

/// No length at all, and a fall of half a metre: computed as full, and as finite.
#[test]
fn a_run_without_length_is_solved() {
    let mut drain = run("drain", at("upper", hole(0.9)), level(0.9));
    drain.length_m = Some(0.0);
    let mut layout = two_tanks(vec![drain]);
    layout.vessels[0].make_up_m3_s = 0.001;
    layout.vessels[1].rim_m = 3.0;
    let report = solved(&layout, State::Running);
    assert!(report.runs[0].flow_m3_s.is_finite());
}

/// A drain of 1 L/s from a hole: part full, its depth told from end to end, and the other way round the same.
#[test]
fn depth_along_a_drain_however_it_is_drawn() {
    let made = |turned: bool| {
        let ends = [
            at("upper", hole(0.6)),
            at("ditch", mouth(0.595, Turned::Horizontal)),
        ];
        let [from, to] = ends;
        let mut drain = if turned {
            run("drain", to, from)
        } else {
            run("drain", from, to)
        };
        drain.length_m = Some(6.0);
        let mut layout = two_tanks(vec![drain]);
        layout.vessels[0].make_up_m3_s = 0.001;
        solved(&layout, State::Running)
    };
    let (plain, turned) = (made(false), made(true));
    let [a, b] = [&plain, &turned].map(|report| report.runs[0].clone());
    assert!((a.flow_m3_s - 0.001).abs() < 1e-8 && (b.flow_m3_s + 0.001).abs() < 1e-8);
    assert_eq!((a.regime, a.control), (Regime::PartFull, Control::Outlet));
    assert_eq!(plain.vessels[0].level_m, turned.vessels[0].level_m);
    let [first, last] = [a.profile.first().unwrap(), a.profile.last().unwrap()];
    assert_eq!((first.distance_m, first.invert_m), (0.0, Some(0.6)));
    assert!((last.distance_m - 6.0).abs() < 1e-9 && last.invert_m == Some(0.595));
    assert!(first.depth_m > last.depth_m && first.depth_m < BORE_M);
    assert!(
        a.profile
            .windows(2)
            .all(|pair| pair[0].distance_m <= pair[1].distance_m)
    );
    assert_eq!(b.profile.first().unwrap().depth_m, last.depth_m);
    // The vessel stands over the water in the pipe by its velocity head and the entrance.
    let over_m = plain.vessels[0].level_m.unwrap() - 0.6 - first.depth_m;
    let velocity_head_m = first.velocity_m_s.powi(2) / (2.0 * 9.80665);
    assert!(
        (over_m / velocity_head_m - 1.5).abs() < 0.1,
        "{over_m} {velocity_head_m}"
    );
}
