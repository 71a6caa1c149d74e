//! Drawing a run the other way round changes only signs.

use super::{example, running, solved};
use fallwright::layout::{Direction, Id, Layout, Run};
use std::mem::swap;

/// Largest difference of a level, metres, and of a flow, m³/s: the trace is followed anew.
const LEVEL_M: f64 = 1e-6;
const FLOW_M3_S: f64 = 1e-9;

/// A run can be turned where entrance and exit are counted on one bore, or on none: between two
/// vessels or two joints, with no bell.
fn can_be_turned(layout: &Layout, run: &Run) -> bool {
    let own_bore = [&run.from, &run.to].into_iter().any(|end| {
        end.opening
            .as_ref()
            .is_some_and(|one| one.bore_m().is_some())
    });
    let at_joint = [&run.from, &run.to].map(|end| layout.joints.iter().any(|one| one.id == end.at));
    !own_bore && at_joint[0] == at_joint[1]
}

fn turn(run: &mut Run) {
    swap(&mut run.from, &mut run.to);
    run.route.reverse();
    let other = |way: Direction| match way {
        Direction::Forward => Direction::Backward,
        Direction::Backward => Direction::Forward,
    };
    run.check_valve = run.check_valve.map(other);
    if let Some(pump) = &mut run.pump {
        pump.pushes = other(pump.pushes);
    }
}

#[test]
fn prop_turning_runs_round_changes_only_signs() {
    let as_drawn = example("glasshouse");
    let mut layout = as_drawn.layout.clone();
    let turned: Vec<Id> = as_drawn
        .layout
        .runs
        .iter()
        .filter(|run| can_be_turned(&as_drawn.layout, run))
        .map(|run| run.id.clone())
        .collect();
    assert!(turned.contains(&"lift".into()) && turned.len() >= 8);
    for run in &mut layout.runs {
        if turned.contains(&run.id) {
            turn(run);
        }
    }
    let evaluation = solved(&layout);
    let (before, after) = (running(&as_drawn.evaluation), running(&evaluation));
    for (a, b) in before.vessels.iter().zip(&after.vessels) {
        let (a_m, b_m) = (a.level_m.expect("a level"), b.level_m.expect("a level"));
        assert!(
            (a_m - b_m).abs() < LEVEL_M,
            "{}: {a_m} {b_m}",
            a.id.as_str()
        );
    }
    for (a, b) in before.runs.iter().zip(&after.runs) {
        let sign = if turned.contains(&a.id) { -1.0 } else { 1.0 };
        let same = |a: f64, b: f64, most: f64| (a - sign * b).abs() < most;
        assert!(same(a.flow_m3_s, b.flow_m3_s, FLOW_M3_S), "{a:?} {b:?}");
        assert!(same(a.loss_m, b.loss_m, LEVEL_M), "{a:?} {b:?}");
        assert_eq!((a.control, a.regime), (b.control, b.regime), "{a:?}");
    }
    let (a, b) = (&before.pumps[0], &after.pumps[0]);
    assert!((a.flow_m3_s - b.flow_m3_s).abs() < FLOW_M3_S);
    assert!((a.static_m - b.static_m).abs() < LEVEL_M);
}
