//! Runs proposed between vessels: what they are, and that water gets through them.

use super::made;
use crate::support::drawn::{Drawn, place};
use fallwright::catalogue::Catalogue;
use fallwright::edit::Preset;
use fallwright::edit::propose::{self, Elbows, FlowManner, elbows};
use fallwright::evaluate::evaluate;
use fallwright::finding::Severity;
use fallwright::geometry::Corner;
use fallwright::layout::{Id, Layout, Opening, RunEnd, Turned};
use fallwright::state::State;

fn corner(x_m: f64, y_m: f64, z_m: f64) -> Corner {
    Corner::at(x_m, y_m, z_m)
}

#[test]
fn elbows_follow_from_bends() {
    let flat = [
        corner(0.0, 0.0, 1.0),
        corner(2.0, 0.0, 1.0),
        corner(2.0, 3.0, 1.0),
    ];
    let one = Elbows {
        quarters: 1,
        eighths: 0,
    };
    assert_eq!(elbows(&flat), one);
    // 45 degrees, and a fall that no fitting is needed for.
    let eighth = [
        corner(0.0, 0.0, 1.0),
        corner(2.0, 0.0, 1.0),
        corner(3.0, 1.0, 1.0),
    ];
    assert_eq!(
        elbows(&eighth),
        Elbows {
            quarters: 0,
            eighths: 1
        }
    );
    let slight = [
        corner(0.0, 0.0, 1.0),
        corner(2.0, 0.0, 1.0),
        corner(4.0, 0.0, 0.9),
    ];
    assert_eq!(elbows(&slight), Elbows::default());
    // Back on itself: two.
    let back = [
        corner(0.0, 0.0, 0.0),
        corner(1.0, 0.0, 0.0),
        corner(0.0, 0.01, 0.0),
    ];
    assert_eq!(
        elbows(&back),
        Elbows {
            quarters: 2,
            eighths: 0
        }
    );
    // A leg without length bends nothing, and a line of one place has no bend.
    let still = [flat[0], flat[0], flat[1], flat[1], flat[2]];
    assert_eq!(elbows(&still), one);
    assert_eq!(elbows(&flat[..1]), Elbows::default());
    assert_eq!(elbows(&[]), Elbows::default());
}

/// A tank over a bed over a sump, and a run from each to the next.
fn loop_of_three() -> (Drawn, [Id; 3]) {
    let mut drawn = Drawn::empty();
    let tank = drawn.add(Preset::RoundTank, place(0.0, 0.0, 0.0));
    let bed = drawn.add(Preset::Bed, place(2.5, 0.0, 2.5));
    let sump = drawn.add(Preset::Sump, place(5.0, 0.0, 5.0));
    let runs = [(&tank, &bed), (&bed, &sump), (&sump, &tank)].map(|(a, b)| drawn.run(a, b));
    (drawn, runs)
}

#[test]
fn water_falls_from_tank_to_bed_to_sump_and_is_pumped_back() {
    let (drawn, [first, second, lift]) = loop_of_three();
    let layout = &drawn.layout;
    let run = |id: &Id| layout.run(id).unwrap();
    assert!(matches!(
        run(&first).from.opening,
        Some(Opening::Upstand { .. })
    ));
    assert!(run(&first).pump.is_none() && run(&second).pump.is_none());
    let Some(pump) = &run(&lift).pump else {
        panic!("no pump")
    };
    assert!(pump.name.starts_with("Pump"));
    // What is assumed is marked as a guess, and the check says so.
    assert!(pump.curve.is_guess());
    // Where it comes in from above it stays in air, at least two bores over the rim.
    let Some(Opening::Mouth {
        lip_m,
        turned,
        air_gap,
        ..
    }) = &run(&lift).to.opening
    else {
        panic!("{:?}", run(&lift).to.opening)
    };
    let rim_m = layout.vessel(&run(&lift).to.at).unwrap().rim_m;
    assert!(*air_gap && *turned == Turned::Down && *lip_m >= rim_m + 2.0 * 0.0284);
}

#[test]
fn a_proposed_loop_runs_without_a_problem() {
    let (drawn, runs) = loop_of_three();
    let found = evaluate(
        &drawn.layout,
        Catalogue::builtin(),
        &[State::Rest, State::Running],
    );
    let problems: Vec<String> = found
        .findings
        .iter()
        .filter(|one| one.severity == Severity::Problem)
        .map(|one| drawn.read(&one.text))
        .collect();
    assert!(problems.is_empty(), "{problems:#?}");
    let running = found.state(State::Running).unwrap();
    assert!(running.converged);
    for run in &runs {
        let flow = running.runs.iter().find(|one| one.id == *run).unwrap();
        assert!(flow.flow_m3_s > 1e-4, "{run}: {}", flow.flow_m3_s);
    }
}

#[test]
fn a_run_never_climbs_where_water_falls() {
    let (drawn, [first, second, _]) = loop_of_three();
    for id in [first, second] {
        let run = drawn.layout.run(&id).unwrap();
        let corners = drawn.layout.corners_of(run);
        for pair in corners.windows(2) {
            assert!(pair[1].z_m <= pair[0].z_m + 1e-9, "{id}: {corners:?}");
        }
    }
}

#[test]
fn vessels_filled_alike_are_joined_low_in_their_walls() {
    let mut drawn = Drawn::empty();
    let a = drawn.add(Preset::Cube, place(0.0, 0.0, 0.0));
    let b = drawn.add(Preset::Cube, place(2.0, 0.0, 2.0));
    let made = propose::run(&drawn.layout, &a, &b, &[]).unwrap();
    assert_eq!(made.manner, FlowManner::Evens);
    let run = drawn.run(&a, &b);
    let run = drawn.layout.run(&run).unwrap();
    for end in RunEnd::BOTH {
        let Some(Opening::SideHole { invert_m, .. }) = run.end(end).opening else {
            panic!("{:?}", run.end(end).opening)
        };
        assert!((invert_m - 0.2).abs() < 1e-9, "{invert_m}");
    }
    // Wall to wall: 2 m between the middles, 1.1 m of it inside the cubes.
    assert!((drawn.layout.length_of(run) - 0.9).abs() < 1e-9);
}

#[test]
fn places_on_the_way_become_corners_with_elbows() {
    let mut drawn = Drawn::empty();
    let tank = drawn.add(Preset::RoundTank, place(0.0, 0.0, 0.0));
    let sump = drawn.add(Preset::Sump, place(4.0, 3.0, 4.0));
    let via = [(0.0, 3.0)];
    let made = propose::run(&drawn.layout, &tank, &sump, &via).unwrap();
    let layout = made.edit.apply(&drawn.layout).unwrap();
    let run = layout.run(&made.run).unwrap();
    assert!(
        run.route
            .iter()
            .any(|corner| corner.x_m == 0.0 && corner.y_m == 3.0)
    );
    let quarters = run
        .fittings
        .iter()
        .find(|one| one.kind == "elbow-90")
        .unwrap();
    assert_eq!(quarters.count, elbows(&layout.corners_of(run)).quarters);
    // Plan: 3 m less what the standing pipe stands towards the corner, and 4 m less what is in the sump.
    let plan: f64 = layout
        .corners_of(run)
        .windows(2)
        .map(|pair| (pair[0].x_m - pair[1].x_m).hypot(pair[0].y_m - pair[1].y_m))
        .sum();
    assert!((plan - (3.0 - 0.45 + 4.0 - 0.45)).abs() < 0.16, "{plan}");
}

#[test]
fn a_run_to_itself_or_to_nothing_is_refused() {
    let mut drawn = Drawn::empty();
    let tank = drawn.add(Preset::RoundTank, place(0.0, 0.0, 0.0));
    let said = propose::run(&drawn.layout, &tank, &tank, &[]).unwrap_err();
    assert!(
        said.to_string().contains("end it at another vessel"),
        "{said}"
    );
    let nowhere = Id::from("nowhere");
    let said = propose::run(&drawn.layout, &tank, &nowhere, &[]).unwrap_err();
    assert!(said.to_string().contains("no such part"), "{said}");
}

#[test]
fn a_tee_splits_a_run_where_it_is_pointed_at() {
    let (drawn, [first, ..]) = loop_of_three();
    let layout = &drawn.layout;
    let whole = layout.run(&first).unwrap();
    let length = layout.length_of(whole);
    let (edit, joint) = propose::split(layout, &first, (1.2, 0.02)).unwrap();
    let after = made(layout, &edit);
    let tee = after.joints.iter().find(|one| one.id == joint).unwrap();
    assert!((tee.place.x_m - 1.2).abs() < 1e-3 && tee.place.y_m.abs() < 1e-3);
    let parts: Vec<_> = after
        .runs
        .iter()
        .filter(|run| run.from.at == joint || run.to.at == joint)
        .collect();
    assert_eq!(parts.len(), 2);
    assert_eq!(parts[0].id, first);
    let both: f64 = parts.iter().map(|run| after.length_of(run)).sum();
    assert!((both - length).abs() < 2e-3, "{both} {length}");
    // No fitting is lost or made.
    let count = |layout: &Layout, ids: &[&Id]| -> u32 {
        let runs = layout.runs.iter().filter(|run| ids.contains(&&run.id));
        runs.flat_map(|run| &run.fittings)
            .map(|one| one.count)
            .sum()
    };
    let ids: Vec<&Id> = parts.iter().map(|run| &run.id).collect();
    assert_eq!(count(&after, &ids), count(layout, &[&first]));
}

#[test]
fn a_manifold_feeds_every_vessel_through_its_own_valve() {
    let mut drawn = Drawn::empty();
    let header = drawn.add(Preset::Header, place(0.0, 0.0, 0.0));
    let beds: Vec<Id> = (1..=3)
        .map(|turn| {
            let x = 2.5 * f64::from(turn);
            drawn.add(Preset::Bed, place(x, 1.5, x))
        })
        .collect();
    let (edit, ids) = propose::manifold(&drawn.layout, &header, &beds).unwrap();
    let after = made(&drawn.layout, &edit);
    assert_eq!(after.joints.len(), 2);
    assert_eq!(after.runs.len(), 5);
    assert!(ids.iter().all(|id| after.has(id)));
    for bed in &beds {
        let feeds: Vec<_> = after.runs.iter().filter(|run| run.to.at == *bed).collect();
        assert_eq!(feeds.len(), 1);
        assert!(!feeds[0].valves.is_empty());
    }
    let found = evaluate(&after, Catalogue::builtin(), &[State::Rest]);
    assert!(found.unsolved.is_empty());
    // One vessel is no manifold, and neither is none.
    for few in [&beds[..1], &[]] {
        let said = propose::manifold(&drawn.layout, &header, few).unwrap_err();
        assert!(said.to_string().contains("at least two"), "{said}");
    }
}

#[test]
fn a_corner_moved_takes_its_elbows_along() {
    let (drawn, [_, _, lift]) = loop_of_three();
    let layout = &drawn.layout;
    let run = layout.run(&lift).unwrap();
    let mut to = run.route[0];
    to.y_m += 2.0;
    let edit = propose::corner(layout, &lift, 0, to).unwrap();
    let after = made(layout, &edit);
    let now = after.run(&lift).unwrap();
    let all = elbows(&after.corners_of(now));
    let has = |kind: &str| {
        let found = now.fittings.iter().find(|one| one.kind == kind);
        found.map_or(0, |one| one.count)
    };
    assert_eq!(
        (has("elbow-90"), has("elbow-45")),
        (all.quarters, all.eighths)
    );
    let said = propose::corner(layout, &lift, 99, to).unwrap_err();
    assert!(said.to_string().contains("no such corner"), "{said}");
    // Taken out, the corners are one fewer.
    let edit = propose::unbend(layout, &lift, 0).unwrap();
    let fewer = made(layout, &edit);
    assert_eq!(fewer.run(&lift).unwrap().route.len() + 1, run.route.len());
}

#[test]
fn elbows_that_somebody_added_stay() {
    let (drawn, [_, _, lift]) = loop_of_three();
    let mut layout = drawn.layout.clone();
    let run = layout.runs.iter_mut().find(|run| run.id == lift).unwrap();
    let elbows_now = run
        .fittings
        .iter_mut()
        .find(|one| one.kind == "elbow-90")
        .unwrap();
    elbows_now.count += 2;
    let before = layout.run(&lift).unwrap().clone();
    let mut to = before.route[0];
    to.z_m += 0.1;
    let edit = propose::corner(&layout, &lift, 0, to).unwrap();
    let after = edit.apply(&layout).unwrap();
    let after = after.run(&lift).unwrap();
    let plus = elbows(&layout.corners_of(&before)).quarters;
    assert!(
        after
            .fittings
            .iter()
            .any(|one| one.kind == "elbow-90" && one.count >= plus)
    );
}
