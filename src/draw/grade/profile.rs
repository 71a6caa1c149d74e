//! Geometry of a path in metres: its runs one after the other, with the vessels between them.

use crate::draw::page::view::{Bounds, SectionPoint, at};
use crate::draw::parts::stations::{Station, is_measured, measured, stations};
use crate::draw::parts::symbols::Symbol;
use crate::draw::results::reports::NO_FLOW_M3_S;
use crate::layout::{Direction, Id, Layout, Opening, Run};
use crate::states::GradePoint;
use crate::states::report::{Control, Regime, StateReport};

/// Drawn width of a vessel, and the most for all vessels together, as shares of the length of the path.
const WIDE: f64 = 0.035;
const MOST_WIDE: f64 = 0.4;
/// Drawn depth of a fixed level, as a share of the height of the path.
const DEEP: f64 = 0.12;
/// Length that one item near an end of a run takes up, as a share of the length of the path.
const SLOT: f64 = 0.02;
/// Margins above the highest and below the lowest point, as shares of the height of the path.
const OVER: f64 = 0.12;
const UNDER: f64 = 0.05;
/// Margin on both sides for the names of the parts at the ends, as a share of the length of the drawing.
const ASIDE: f64 = 0.018;

/// A vessel, a fixed level or a joint on the path.
#[derive(Clone, Debug, PartialEq)]
pub struct PathPart {
    /// Id of the part.
    pub part: Id,
    /// Left edge along the drawing, metres.
    pub along_m: f64,
    /// Drawn width, metres; 0 for a joint.
    pub width_m: f64,
    /// Floor and rim, metres; for a fixed level the bottom of what is drawn and the level; `None` for a joint.
    pub walls_m: Option<(f64, f64)>,
    /// Whether it is a fixed level.
    pub fixed: bool,
    /// Water level, or head at a joint, metres.
    pub level_m: Option<f64>,
}

/// A run on the path.
#[derive(Clone, Debug, PartialEq)]
pub struct PathRun {
    /// Id of the run.
    pub run: Id,
    /// Grade points in the order of the path. Where water falls freely, the grade is at the invert.
    pub points: Vec<GradePoint>,
    /// Whether it runs full, with no vent that lets air in.
    pub full: bool,
    /// Whether it has a pump.
    pub pumped: bool,
    /// Whether the path follows it in the direction it was drawn.
    pub forward: bool,
    /// Items in the run: valves, check valve, equipment, placed fittings and its pump.
    pub seated: Vec<Seated>,
    /// Offset added to the distances along the drawing, metres, since the vessels before it are drawn with a width.
    pub shift_m: f64,
}

/// An item at its position on the path.
#[derive(Clone, Debug, PartialEq)]
pub struct Seated {
    /// Kind of item.
    pub what: PathItem,
    /// Distance from the start of the path, metres.
    pub distance_m: f64,
}

/// Kind of item in a run.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum PathItem {
    /// Pump of the run.
    Pump,
    /// Valve, with its degree of opening.
    Valve(f64),
    /// Check valve.
    Check {
        /// Whether it lets water pass in the direction of the path.
        with_path: bool,
    },
    /// Filter, heater, lamp or meter.
    Equipment,
    /// Fitting with a given position.
    Fitting,
}

impl PathRun {
    /// Returns the position of its pump along the drawing, metres.
    pub fn pump_m(&self) -> Option<f64> {
        let mut seated = self.seated.iter();
        let pump = seated.find(|one| one.what == PathItem::Pump)?;
        Some(pump.distance_m + self.shift_m)
    }

    /// Returns where it starts and ends along the drawing, metres.
    pub fn reach_m(&self) -> (f64, f64) {
        let first = self.points.first().map_or(0.0, |point| point.distance_m);
        let last = self.points.last().map_or(first, |point| point.distance_m);
        (first + self.shift_m, last + self.shift_m)
    }

    /// Returns whether the pressure at a point is below atmospheric. A gravity run whose grade is inside the pipe is
    /// only not quite full, so there the grade must be below the invert.
    pub fn sucks(&self, point: &GradePoint) -> bool {
        let edge_m = if self.pumped {
            point.crown_m
        } else {
            point.invert_m
        };
        let under = |(grade_m, edge_m): (f64, f64)| grade_m < edge_m - 1e-4;
        self.full && point.grade_m.zip(edge_m).is_some_and(under)
    }

    /// Returns the line of a quantity at the points where it is known: distance along the drawing, and height.
    pub fn line(&self, of: impl Fn(&GradePoint) -> Option<f64>) -> Vec<SectionPoint> {
        let known = self.points.iter().filter_map(|point| {
            let height_m = of(point)?;
            height_m
                .is_finite()
                .then(|| at(point.distance_m + self.shift_m, height_m))
        });
        known.collect()
    }
}

/// Geometry of a path as drawn.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PathProfile {
    /// Parts where the path begins, where runs meet and where it ends, in path order.
    pub stands: Vec<PathPart>,
    /// Runs between them.
    pub legs: Vec<PathRun>,
    /// Length of the pipes, metres.
    pub length_m: f64,
}

impl PathProfile {
    /// Returns the profile of a line that [`crate::evaluate::grade`] computed from `report`.
    pub fn of(layout: &Layout, report: &StateReport, line: &[GradePoint]) -> PathProfile {
        let report = report.real();
        let length_m = line.last().map_or(0.0, |last| last.distance_m);
        let groups: Vec<&[GradePoint]> = line.chunk_by(|a, b| a.at == b.at).collect();
        let wide = |group: &&[GradePoint]| {
            group
                .first()
                .is_some_and(|first| is_wide(layout, &first.at))
        };
        let vessels = groups.iter().filter(|group| wide(group)).count();
        let share = WIDE.min(MOST_WIDE / (vessels.max(1) as f64));
        let width_m = (share * length_m).max(0.02);
        let deep_m = DEEP * height_m(line);
        let mut profile = PathProfile {
            length_m,
            ..PathProfile::default()
        };
        let mut shift_m = 0.0;
        for group in groups {
            let Some(first) = group.first() else { continue };
            if let Some(run) = layout.run(&first.at) {
                let full = is_full(report, run);
                let flows = flows(report, run);
                let points = group.iter().map(|point| fallen(point, full, flows));
                let mut points: Vec<GradePoint> = points.collect();
                let forward = goes_forward(run, profile.stands.last());
                let seated = seated(run, &points, forward, SLOT * length_m);
                lift_at_pump(&mut points, &seated);
                profile.legs.push(PathRun {
                    run: first.at.clone(),
                    points,
                    full,
                    forward,
                    seated,
                    pumped: run.pump.is_some(),
                    shift_m,
                });
                continue;
            }
            let stand = stand(layout, first, shift_m, width_m, deep_m);
            shift_m += stand.width_m;
            profile.stands.push(stand);
        }
        profile
    }

    /// Returns the extent with a margin, and down to the datum if that is near.
    pub fn bounds(&self) -> Bounds {
        let mut places: Vec<SectionPoint> = Vec::new();
        for stand in &self.stands {
            let (low_m, high_m) = stand.walls_m.unwrap_or_default();
            let (left_m, right_m) = (stand.along_m, stand.along_m + stand.width_m);
            let high_m = high_m.max(stand.level_m.unwrap_or(high_m));
            if stand.walls_m.is_some() {
                places.extend([at(left_m, low_m), at(right_m, high_m)]);
            }
        }
        for leg in &self.legs {
            places.extend(leg.line(|point| point.invert_m));
            places.extend(leg.line(|point| point.crown_m));
            places.extend(leg.line(|point| point.grade_m));
            places.extend(leg.line(|point| point.energy_m));
        }
        let mut bounds = Bounds::of(places);
        let height_m = (bounds.high_m - bounds.low_m).max(0.05);
        if bounds.low_m > 0.0 && bounds.low_m < 0.6 * height_m {
            bounds.low_m = 0.0;
        }
        let height_m = (bounds.high_m - bounds.low_m).max(0.05);
        let width_m = bounds.right_m - bounds.left_m;
        bounds.left_m -= ASIDE * width_m;
        bounds.right_m += ASIDE * width_m;
        bounds.low_m -= UNDER * height_m;
        bounds.high_m += OVER * height_m;
        bounds
    }

    /// Returns the values at a distance along the drawing, metres: interpolated linearly in a run, the level in a
    /// vessel, `None` outside the path.
    pub fn reading(&self, along_m: f64) -> Option<GradePoint> {
        let within = |(low, high): (f64, f64)| (low..=high).contains(&along_m);
        if let Some(leg) = self.legs.iter().find(|leg| within(leg.reach_m())) {
            return Some(between(leg, along_m - leg.shift_m));
        }
        let reach = |stand: &&PathPart| within((stand.along_m, stand.along_m + stand.width_m));
        let stand = self.stands.iter().find(reach)?;
        let before = self
            .legs
            .iter()
            .rev()
            .find(|leg| leg.reach_m().1 <= stand.along_m + 1e-9);
        Some(GradePoint {
            at: stand.part.clone(),
            distance_m: before
                .and_then(|leg| leg.points.last())
                .map_or(0.0, |last| last.distance_m),
            invert_m: None,
            crown_m: None,
            grade_m: stand.level_m,
            energy_m: stand.level_m,
        })
    }
}

/// Returns whether the path follows a run in the direction it was drawn. `before`: the part it comes from.
fn goes_forward(run: &Run, before: Option<&PathPart>) -> bool {
    before.is_none_or(|before| before.part == run.from.at)
}

/// Returns the items of a run in path order. `slot_m`: the length that one item near an end takes up.
fn seated(run: &Run, points: &[GradePoint], forward: bool, slot_m: f64) -> Vec<Seated> {
    let (Some(first), Some(last)) = (points.first(), points.last()) else {
        return Vec::new();
    };
    let length_m = last.distance_m - first.distance_m;
    let stations = if is_measured(run) {
        measured(run, length_m)
    } else {
        stations(run, length_m, slot_m)
    };
    let seat = |one: Station<'_>| Seated {
        what: match one.what {
            None => PathItem::Pump,
            Some(Symbol::Valve { opening }) => PathItem::Valve(opening),
            Some(Symbol::Check(way)) => PathItem::Check {
                with_path: (way == Direction::Forward) == forward,
            },
            Some(Symbol::Equipment(_)) => PathItem::Equipment,
            Some(Symbol::Fitting) => PathItem::Fitting,
        },
        distance_m: if forward {
            first.distance_m + one.at_m
        } else {
            last.distance_m - one.at_m
        },
    };
    let mut list: Vec<Seated> = stations.into_iter().map(seat).collect();
    if !forward {
        list.reverse();
    }
    list
}

/// Distance up to which two positions along a path are the same, metres.
const SAME_PLACE_M: f64 = 1e-9;

/// Moves the step of the grade to where the pump is drawn, so that items before it are on its suction side.
///
/// The run law puts a pump without a suction pipe at the very end of the run. The pump is drawn after the items near
/// that end, and the line up to it gets the slope of its run without the lift.
fn lift_at_pump(points: &mut Vec<GradePoint>, seated: &[Seated]) {
    let Some(pump) = seated.iter().find(|one| one.what == PathItem::Pump) else {
        return;
    };
    let lift_m = |pair: &[GradePoint]| match pair {
        [a, b] if (a.distance_m - b.distance_m).abs() < SAME_PLACE_M => {
            Some(b.energy_m? - a.energy_m?)
        }
        _ => None,
    };
    let steps = points.windows(2).enumerate();
    let steps = steps.filter_map(|(at, pair)| Some((at, lift_m(pair)?)));
    let most = steps.max_by(|a, b| a.1.abs().total_cmp(&b.1.abs()));
    let Some((at, lift_m)) = most.filter(|(_, lift_m)| lift_m.abs() > SAME_PLACE_M) else {
        return;
    };
    let was_m = points.get(at).map_or(0.0, |point| point.distance_m);
    if (was_m - pump.distance_m).abs() < SAME_PLACE_M {
        return;
    }
    // The step is removed to make the line continuous, and inserted again where the pump is.
    points.remove(at + 1);
    for point in points.iter_mut().skip(at + 1) {
        raise(point, -lift_m);
    }
    let before = interpolated(points, pump.distance_m);
    let place = points.partition_point(|point| point.distance_m < pump.distance_m);
    let mut behind = before.clone();
    for point in std::iter::once(&mut behind).chain(points.iter_mut().skip(place)) {
        raise(point, lift_m);
    }
    points.splice(place..place, [before, behind]);
}

fn raise(point: &mut GradePoint, by_m: f64) {
    for height_m in [&mut point.grade_m, &mut point.energy_m] {
        *height_m = height_m.map(|height_m| height_m + by_m);
    }
}

/// Returns whether a run may be under suction, by the rule of the check.
fn is_full(report: &StateReport, run: &Run) -> bool {
    let ends = [&run.from.opening, &run.to.opening];
    let vented = ends
        .into_iter()
        .flatten()
        .any(|one| matches!(one, Opening::RaisedIntake { .. }));
    let here = report.runs.iter().find(|one| one.id == run.id);
    let held = here.is_some_and(|one| matches!(one.control, Control::Outlet | Control::Pumped));
    !vented && held && here.is_some_and(|one| one.regime == Regime::Full)
}

/// Returns whether water flows in the run.
fn flows(report: &StateReport, run: &Run) -> bool {
    let here = report.runs.iter().find(|one| one.id == run.id);
    here.is_some_and(|one| one.flow_m3_s.abs() > NO_FLOW_M3_S)
}

/// Corrects a grade below the invert of a pipe with air in it: flowing water runs along the invert, and without flow
/// there is no water.
fn fallen(point: &GradePoint, full: bool, flows: bool) -> GradePoint {
    let invert_m = point.invert_m.filter(|_| !full);
    match (point.grade_m, invert_m) {
        (Some(grade_m), Some(invert_m)) if grade_m < invert_m => GradePoint {
            grade_m: flows.then_some(invert_m),
            energy_m: None,
            ..point.clone()
        },
        _ => point.clone(),
    }
}

fn is_wide(layout: &Layout, part: &Id) -> bool {
    layout.vessel(part).is_some() || layout.fixed.iter().any(|fixed| fixed.id == *part)
}

/// Returns the height from the lowest to the highest known point, metres.
fn height_m(line: &[GradePoint]) -> f64 {
    let known = line
        .iter()
        .flat_map(|point| [point.invert_m, point.energy_m]);
    let bounds = Bounds::of(known.flatten().map(|z_m| at(0.0, z_m)));
    (bounds.high_m - bounds.low_m).max(0.05)
}

fn stand(layout: &Layout, point: &GradePoint, shift_m: f64, width_m: f64, deep_m: f64) -> PathPart {
    let vessel = layout.vessel(&point.at);
    let fixed = layout.fixed.iter().find(|fixed| fixed.id == point.at);
    let walls_m = vessel.map(|one| (one.floor_m, one.rim_m));
    let walls_m = walls_m.or(fixed.map(|one| (one.level_m - deep_m, one.level_m)));
    PathPart {
        part: point.at.clone(),
        along_m: point.distance_m + shift_m,
        width_m: walls_m.map_or(0.0, |_| width_m),
        walls_m,
        fixed: fixed.is_some(),
        level_m: point.grade_m,
    }
}

/// Returns the values in a run at a distance along the drawing, metres.
pub(super) fn at_leg(leg: &PathRun, along_m: f64) -> GradePoint {
    between(leg, along_m - leg.shift_m)
}

/// Returns the values within a run, interpolated linearly.
fn between(leg: &PathRun, distance_m: f64) -> GradePoint {
    GradePoint {
        at: leg.run.clone(),
        ..interpolated(&leg.points, distance_m)
    }
}

/// Interpolates linearly between the points of one run.
fn interpolated(points: &[GradePoint], distance_m: f64) -> GradePoint {
    let value = |of: fn(&GradePoint) -> Option<f64>| {
        let known: Vec<(f64, f64)> = points
            .iter()
            .filter_map(|point| Some((point.distance_m, of(point)?)))
            .collect();
        let after = known.iter().position(|one| one.0 >= distance_m)?;
        let (right, left) = (known.get(after)?, known.get(after.saturating_sub(1))?);
        let span = right.0 - left.0;
        let share = if span > 0.0 {
            (distance_m - left.0) / span
        } else {
            1.0
        };
        Some(left.1 + (right.1 - left.1) * share.clamp(0.0, 1.0))
    };
    let first = points.first();
    GradePoint {
        at: first.map_or_else(|| Id::from(""), |first| first.at.clone()),
        distance_m,
        invert_m: value(|point| point.invert_m),
        crown_m: value(|point| point.crown_m),
        grade_m: value(|point| point.grade_m),
        energy_m: value(|point| point.energy_m),
    }
}
