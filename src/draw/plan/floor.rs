//! The plan of a layout in metres: everything that depends neither on the water nor on the page.

use super::crossings::{covered_edges, find_gaps, find_hidden};
use super::outline::Outline;
use super::plan_points::{plan_points, things};
use super::plan_run::{PlanRun, plan_runs};
use crate::draw::page::view::{Bounds, at};
use crate::geometry::Corner;
use crate::layout::Layout;

/// Margin around the plan, as a share of its larger side.
const MARGIN_SHARE: f64 = 0.05;
/// Half the size of a fixed level, metres.
const FIXED_HALF_M: f64 = 0.3;

/// Positions of all parts of a layout in the plan. Lists are in the order of the layout.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Floorplan {
    pub(super) vessels: Vec<Outline>,
    pub(super) fixed: Vec<Corner>,
    pub(super) joints: Vec<Corner>,
    pub(super) courses: Vec<PlanRun>,
    /// Vessels by the height of their floors, lowest first.
    pub(super) order: Vec<usize>,
    /// Edges of vessels that are under others.
    pub(super) covered: Vec<(usize, [Corner; 2])>,
    set_out: usize,
}

/// A point where one run passes under another in the plan.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Crossing {
    /// Index of the lower run in the layout.
    pub under: usize,
    /// Index of the higher run.
    pub over: usize,
    /// Position, at the height of the lower run.
    pub at: Corner,
}

impl Floorplan {
    /// Returns the plan of a layout.
    pub fn of(layout: &Layout) -> Floorplan {
        let places = plan_points(layout);
        let pairs = layout.vessels.iter().zip(&places.vessels);
        let vessels: Vec<Outline> = pairs.map(|(part, at)| Outline::of(part, *at)).collect();
        let mut courses = plan_runs(layout, &places, &things(layout));
        for (course, run) in courses.iter_mut().zip(&layout.runs) {
            course.trim(run, &vessels);
        }
        find_hidden(&mut courses, &vessels);
        find_gaps(&mut courses);
        let mut order: Vec<usize> = (0..vessels.len()).collect();
        let height = |index: &usize| vessels.get(*index).map_or((0.0, 0.0), heights);
        order.sort_by(|a, b| {
            let (a, b) = (height(a), height(b));
            a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1))
        });
        let covered = covered_edges(&vessels, &order);
        Floorplan {
            vessels,
            courses,
            order,
            covered,
            set_out: places.row.len(),
            fixed: places.fixed,
            joints: places.joints,
        }
    }

    /// Returns how many parts have no place in the plan and are set out in a row.
    pub fn without_place(&self) -> usize {
        self.set_out
    }

    /// Returns every point where one run passes under another, in the order of the lower runs.
    pub fn crossings(&self) -> Vec<Crossing> {
        let courses = self.courses.iter().enumerate();
        let gaps = courses.flat_map(|(under, course)| {
            course.gaps.iter().map(move |gap| Crossing {
                under,
                over: gap.over,
                at: course.at_m(gap.at_m).unwrap_or_default(),
            })
        });
        gaps.collect()
    }

    /// Returns the extent of the plan with a margin.
    pub fn bounds(&self) -> Bounds {
        let vessels = self.vessels.iter().map(Outline::bounds);
        let vessels =
            vessels.flat_map(|one| [at(one.left_m, one.low_m), at(one.right_m, one.high_m)]);
        let fixed = self.fixed.iter().flat_map(|one| {
            [-FIXED_HALF_M, FIXED_HALF_M].map(|half| at(one.x_m + half, one.y_m + half))
        });
        let lines = self.courses.iter().flat_map(|course| &course.points);
        let points = self.joints.iter().chain(lines);
        let points = points.map(|one| at(one.x_m, one.y_m));
        let found = Bounds::of(vessels.chain(fixed).chain(points));
        let width = (found.right_m - found.left_m).max(found.high_m - found.low_m);
        let margin = MARGIN_SHARE * width.max(0.2);
        Bounds {
            left_m: found.left_m - margin,
            right_m: found.right_m + margin,
            low_m: found.low_m - margin,
            high_m: found.high_m + margin,
        }
    }
}

fn heights(one: &Outline) -> (f64, f64) {
    (one.middle.z_m, one.rim_m)
}
