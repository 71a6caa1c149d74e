//! Reports water that leaves at a vent: of a raised-intake overflow, a corner or a joint.

use super::line;
use super::state_view::{PipedRun, SAME_HEIGHT_M, StateView};
use super::wording::{finding, height, when, with_limit};
use crate::finding::{Code, Finding, Piece, Severity};
use crate::layout::{Id, Joint, Opening, Vent};
use crate::states::report::{Control, DepthPoint};
use crate::units::Quantity;

pub(super) fn find(seen: &StateView<'_>) -> Vec<Finding> {
    let mut found = Vec::new();
    for run in &seen.runs {
        for (end, drawn) in [&run.drawn.from, &run.drawn.to].into_iter().enumerate() {
            if let Some(Opening::RaisedIntake {
                vent: Vent::OpenTo { top_m },
                ..
            }) = drawn.opening
            {
                found.extend(of_vent(seen, run, (end, &drawn.at), top_m));
            }
        }
        found.extend(of_corners(seen, run));
    }
    let joints = seen.layout.joints.iter();
    found.extend(joints.filter_map(|joint| of_joint(seen, joint)));
    found
}

/// The grade at the vent is the level of the vessel less the loss of the rising leg.
fn of_vent(
    seen: &StateView<'_>,
    run: &PipedRun<'_>,
    (end, at): (usize, &Id),
    top_m: f64,
) -> Option<Finding> {
    let flow_m3_s = run.here.flow_m3_s.abs();
    let leaves_by_it = run.flows() && run.upstream() == end;
    let rise = run.facts.rise.as_ref().filter(|_| leaves_by_it);
    let rise_m = rise.map_or(0.0, |rise| rise.at(flow_m3_s).value);
    let grade_m = seen.head_m(at)? - rise_m;
    if grade_m <= top_m + SAME_HEIGHT_M {
        return None;
    }
    let id = &run.drawn.id;
    let text = vec![
        "Water leaves at the vent of ".into(),
        id.into(),
        " in ".into(),
        at.into(),
        when(seen.report.state).into(),
        ": the grade there is at ".into(),
        height(grade_m),
        " and its top at ".into(),
        height(top_m),
        ".".into(),
    ];
    let found = finding(seen, (Code::VentSpills, Severity::Problem), &[id, at], text);
    Some(with_limit(found, Quantity::Height, (grade_m, top_m)))
}

/// Positions of a profile closer than this are the same, metres.
const SAME_POSITION_M: f64 = 1e-3;

/// Returns the findings for vented corners of a run where the grade is above the vent.
fn of_corners(seen: &StateView<'_>, run: &PipedRun<'_>) -> Vec<Finding> {
    // A run with no corners in its route has none that could be vented.
    let places = run.facts.corners.iter().skip(1).zip(&run.drawn.route);
    let vented = places.enumerate().filter(|(_, (_, corner))| corner.vented);
    let told = vented.filter_map(|(index, ((share, _), corner))| {
        let crown_m = corner.z_m + run.here.bore_m;
        let distance_m = share * run.here.length_m;
        let id = &run.drawn.id;
        let vent = VentHere {
            about: vec![id],
            place: vec![
                id.into(),
                ", ".into(),
                Piece::Number(Quantity::Length, distance_m),
                " from ".into(),
                run.end(0).into(),
                ",".into(),
            ],
            crown_m,
            top_m: corner.vent_top_m,
        };
        let grade_m = at_corner_m(seen, run, (index + 1, distance_m))?;
        vent.reported(seen, grade_m)
    });
    told.collect()
}

/// Grade at a corner, metres; none where no water is known to reach it. `index`: among all corners, ends included.
fn at_corner_m(
    seen: &StateView<'_>,
    run: &PipedRun<'_>,
    (index, distance_m): (usize, f64),
) -> Option<f64> {
    if run.has_shut_valve() {
        return None;
    }
    match run.here.control {
        Control::Dry | Control::Shut => None,
        Control::Still => standing_m(seen, run, index),
        _ if run.here.profile.is_empty() => line::corners(seen, run)
            .nth(index)
            .map(|(_, grade_m)| grade_m),
        _ => marched_m(&run.here.profile, distance_m),
    }
}

/// Grade at a corner where nothing flows, metres: the level of an end from which water reaches the corner with no
/// higher one between.
fn standing_m(seen: &StateView<'_>, run: &PipedRun<'_>, index: usize) -> Option<f64> {
    let heights = |places: &[(f64, f64)]| {
        let heights = places.iter().map(|(_, height_m)| *height_m);
        heights.fold(f64::NEG_INFINITY, f64::max)
    };
    let corners = &run.facts.corners;
    let ways = [corners.get(..=index)?, corners.get(index..)?].map(heights);
    let levels = [0, 1].map(|end| seen.head_m(run.end(end)));
    let reaching = levels
        .into_iter()
        .zip(ways)
        .filter_map(|(level_m, highest_m)| level_m.filter(|level_m| *level_m > highest_m));
    reaching.reduce(f64::max)
}

/// Grade in a computed profile at a distance from the `from` end, metres: the higher one at a step.
fn marched_m(profile: &[DepthPoint], distance_m: f64) -> Option<f64> {
    let here = profile
        .iter()
        .filter(|at| (at.distance_m - distance_m).abs() <= SAME_POSITION_M);
    here.map(|at| at.grade_m).reduce(f64::max)
}

/// Returns the finding for a vented joint where the grade is above the vent.
fn of_joint(seen: &StateView<'_>, joint: &Joint) -> Option<Finding> {
    if !joint.vented {
        return None;
    }
    let bores = seen.meeting(&joint.id).map(|run| run.here.bore_m);
    let half_m = 0.5 * bores.reduce(f64::max)?;
    let vent = VentHere {
        about: vec![&joint.id],
        place: vec![(&joint.id).into()],
        crown_m: joint.elevation_m + half_m,
        top_m: joint.vent_top_m,
    };
    vent.reported(seen, at_joint_m(seen, joint)?)
}

/// Grade at a joint, metres: its head less the smallest velocity head of the runs that meet there.
fn at_joint_m(seen: &StateView<'_>, joint: &Joint) -> Option<f64> {
    let head_m = seen.head_m(&joint.id)?;
    let gravity_m_s2 = seen.layout.coefficients.gravity_m_s2;
    let runs = seen.meeting(&joint.id).filter(|run| run.flows());
    let velocity_heads = runs.map(|run| {
        let end_m = if *run.end(0) == joint.id {
            0.0
        } else {
            run.here.length_m
        };
        let here = run.here.profile.iter();
        let mut here = here.filter(|at| (at.distance_m - end_m).abs() <= SAME_POSITION_M);
        let velocity_m_s = here
            .next()
            .map_or(run.here.velocity_m_s, |at| at.velocity_m_s);
        velocity_m_s * velocity_m_s / (2.0 * gravity_m_s2)
    });
    Some(head_m - velocity_heads.reduce(f64::min).unwrap_or(0.0))
}

/// A vent on a corner or a joint.
struct VentHere<'a> {
    about: Vec<&'a Id>,
    /// Words for its position, for the middle of a sentence.
    place: Vec<Piece>,
    crown_m: f64,
    /// Elevation of the top of the vent pipe, metres; none where the vent is open at the crown.
    top_m: Option<f64>,
}

impl VentHere<'_> {
    /// Returns the finding; none where the grade is at the top of the vent or below it.
    fn reported(self, seen: &StateView<'_>, grade_m: f64) -> Option<Finding> {
        let limit_m = self.top_m.unwrap_or(self.crown_m);
        if grade_m <= limit_m + SAME_HEIGHT_M {
            return None;
        }
        let top = match self.top_m {
            Some(_) => " and the top of the vent at ",
            None => " and the top of the pipe at ",
        };
        let mut text: Vec<Piece> = vec!["Water leaves at the vent of ".into()];
        text.extend(self.place);
        text.extend([
            when(seen.report.state).into(),
            ": the grade there is at ".into(),
            height(grade_m),
            top.into(),
            height(limit_m),
            ".".into(),
        ]);
        let found = finding(
            seen,
            (Code::VentSpills, Severity::Problem),
            &self.about,
            text,
        );
        Some(with_limit(found, Quantity::Height, (grade_m, limit_m)))
    }
}
