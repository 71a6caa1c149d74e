//! The same layout drawn otherwise, and the jump against the trace.

use super::sound;
use crate::networks::solved;
use crate::support::layouts::RUNNING;
use crate::support::networks::Dice;
use fallwright::catalogue::Catalogue;
use fallwright::evaluate::preview;
use fallwright::layout::{Direction, Edge, End, Joint, Layout, Opening, Run, RunEnd, Turned};
use fallwright::lower::lower;
use fallwright::state::State;
use fallwright::states::report::StateReport;

/// Levels 1 µm apart at most, in the order of `a`; to the tolerance of a time step where a pump ran dry on
/// the way, since the water that is left then hangs on the moment.
fn same_levels(title: &str, a: &StateReport, b: &StateReport) {
    let ran_dry = a.pumps.iter().any(|pump| !pump.on);
    let room = if ran_dry { 1e-4 } else { 1e-6 };
    for (one, other) in a.vessels.iter().zip(&b.vessels) {
        let apart = one.level_m.unwrap_or(0.0) - other.level_m.unwrap_or(0.0);
        assert!(apart.abs() < room, "{title}, {}: {apart:e} m apart", one.id);
    }
}

fn same_flow(title: &str, a: f64, b: f64) {
    assert!(
        (a - b).abs() < 1e-9 + 1e-7 * a.abs(),
        "{title}: {a:e} and {b:e} m³/s"
    );
}

fn turned_round(way: Direction) -> Direction {
    match way {
        Direction::Forward => Direction::Backward,
        Direction::Backward => Direction::Forward,
    }
}

fn drawn_back(mut run: Run, length_m: f64) -> Run {
    for place in run.places_mut() {
        *place.at_m = place
            .at_m
            .map(|at_m| (length_m - at_m).clamp(0.0, length_m));
        *place.near = place.near.map(RunEnd::other);
    }
    std::mem::swap(&mut run.from, &mut run.to);
    run.route.reverse();
    run.check_valve = run.check_valve.map(turned_round);
    if let Some(hole) = &mut run.siphon_break {
        hole.near = hole.near.other();
    }
    if let Some(pump) = &mut run.pump {
        pump.pushes = turned_round(pump.pushes);
    }
    run
}

/// The layout with every run drawn the other way.
pub(super) fn redrawn(layout: &Layout) -> Layout {
    let mut back = layout.clone();
    let runs = back.runs.into_iter();
    back.runs = runs
        .map(|run| {
            let length_m = layout.length_of(&run);
            drawn_back(run, length_m)
        })
        .collect();
    back
}

/// The way of a pipe, too: its corners from one end are those from the other.
#[test]
fn prop_runs_drawn_the_other_way_have_the_same_corners() {
    let mut plumb = 0;
    for layout in sound() {
        let lowered = |layout: &Layout| lower(layout, Catalogue::builtin(), RUNNING);
        let (before, after) = (lowered(&layout), lowered(&redrawn(&layout)));
        for (one, other) in before.origin.run_facts.iter().zip(&after.origin.run_facts) {
            plumb += usize::from(one.corners.len() == 3);
            assert_eq!(one.corners.len(), other.corners.len());
            for (here, there) in one.corners.iter().zip(other.corners.iter().rev()) {
                let apart = (here.0 + there.0 - 1.0).abs() + (here.1 - there.1).abs();
                assert!(apart < 1e-9, "{}: {here:?} {there:?}", layout.title);
            }
        }
    }
    assert!(plumb > 3, "only {plumb}");
}

#[test]
fn prop_runs_drawn_the_other_way_change_only_signs() {
    for layout in sound() {
        let before = solved(&layout, State::Running);
        let other = redrawn(&layout);
        let after = solved(&other, State::Running);
        same_levels(&layout.title, &before, &after);
        for (a, b) in before.runs.iter().zip(&after.runs) {
            same_flow(
                &format!("{}, {}", layout.title, a.id),
                a.flow_m3_s,
                -b.flow_m3_s,
            );
            // Of a run that trickles out, the word hangs on the last digit.
            if a.flow_m3_s.abs() > 1e-6 {
                assert_eq!(a.control, b.control, "{}, {}", layout.title, a.id);
            }
        }
    }
}

/// A run that ends level or facing down is marched on its profile, which a joint would cut in two; and a
/// pump pushes such an end full, where a joint between the two makes it one that runs by gravity.
fn has_a_profile(run: &Run) -> bool {
    let level = |end: &End| {
        matches!(
            end.opening,
            Some(
                Opening::Mouth {
                    turned: Turned::Horizontal | Turned::Down,
                    ..
                } | Opening::SideHole { .. }
            )
        )
    };
    level(&run.from) || level(&run.to)
}

/// The run in two with a joint between, everything but its length in the first piece.
fn cut(run: &Run, length_m: f64, share: f64) -> (Run, Joint, Run) {
    let id = format!("{}-joint", run.id.as_str());
    let joint = Joint {
        id: id.as_str().into(),
        ..Joint::default()
    };
    let at_joint = || End {
        at: id.as_str().into(),
        opening: None,
        place: None,
        screen: None,
        edge: Edge::Plain,
        orifice: None,
        entrance_k: None,
    };
    let mut first = run.clone();
    first.route.clear();
    first.length_m = Some(share * length_m);
    let mut second = first.clone();
    second.id = format!("{}-rest", run.id.as_str()).as_str().into();
    second.length_m = Some((1.0 - share) * length_m);
    second.fittings.clear();
    second.valves.clear();
    second.equipment.clear();
    second.pump = None;
    second.check_valve = None;
    second.total_k = run.total_k.map(|_| 0.0);
    first.to = at_joint();
    second.from = at_joint();
    (first, joint, second)
}

fn with_joints(layout: &Layout, lengths_m: &[f64], dice: &mut Dice) -> Layout {
    let mut other = layout.clone();
    other.runs.clear();
    for (run, length) in layout.runs.iter().zip(lengths_m) {
        let raised_at_end = matches!(run.to.opening, Some(Opening::RaisedIntake { .. }));
        if has_a_profile(run) || raised_at_end {
            other.runs.push(run.clone());
            continue;
        }
        let (first, joint, second) = cut(run, *length, dice.roll());
        other.joints.push(joint);
        other.runs.extend([first, second]);
    }
    other
}

#[test]
fn prop_joints_in_runs_change_nothing() {
    let mut dice = Dice(7);
    let mut cuts = 0;
    for layout in sound() {
        let before = solved(&layout, State::Running);
        let lengths: Vec<f64> = before.runs.iter().map(|run| run.length_m).collect();
        let other = with_joints(&layout, &lengths, &mut dice);
        cuts += other.joints.len() - layout.joints.len();
        let after = solved(&other, State::Running);
        same_levels(&layout.title, &before, &after);
        for run in &before.runs {
            let same = after.runs.iter().find(|other| other.id == run.id).unwrap();
            let title = format!("{}, {}", layout.title, run.id);
            same_flow(&title, run.flow_m3_s, same.flow_m3_s);
        }
    }
    assert!(cuts > 10, "only {cuts} runs were cut");
}

/// From the filled levels, in layouts that lose no water on the way.
#[test]
fn prop_the_jump_is_the_end_of_the_trace() {
    for layout in sound() {
        let traced = solved(&layout, State::Running);
        let jumped = preview(&layout, Catalogue::builtin()).expect("the jump is solved");
        let lost = traced
            .vessels
            .iter()
            .any(|vessel| vessel.with_spill.is_some());
        let wandering = layout
            .vessels
            .iter()
            .any(|vessel| vessel.make_up_m3_s == 0.0);
        // Water that has run off for good before the pumps start is not there for the jump to find.
        if lost || (wandering && !layout.fixed.is_empty()) {
            continue;
        }
        for (a, b) in traced.vessels.iter().zip(&jumped.vessels) {
            let apart = a.level_m.unwrap_or(0.0) - b.level_m.unwrap_or(0.0);
            assert!(
                apart.abs() < 1e-4,
                "{}, {}: {apart:e} m",
                layout.title,
                a.id
            );
        }
    }
}
