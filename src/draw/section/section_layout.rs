//! The section of a layout in metres: everything that depends neither on the water nor on the page.

use super::routes::RoutingContext;
use super::run_end_points::{Connection, RunEndPoint, run_end_points};
use super::section_runs::{SectionRun, section_run};
use super::standing::{PartOnPage, PartsOnPage, stand};
use crate::draw::page::view::{Bounds, SectionPoint, at};
use crate::draw::parts::stations::{is_measured, measured};
use crate::layout::{Id, Layout, Place, Run};
use std::collections::HashMap;

/// Margin above the highest and below the lowest part, as a share of the height of the section.
const MARGIN_SHARE: f64 = 0.06;
/// Bore of a pipe whose size gives none, for drawing only, metres.
const PIPE_M: f64 = 0.05;

/// Clearance of a leg from what it passes, as shares of the length and height of the section.
const OFF_ALONG: f64 = 0.014;
const OFF_UP: f64 = 0.035;
/// Most vessels that routes avoid.
const MOST_PASSED: usize = 60;

/// Geometry of a layout in the section. Lists are in the order of the layout.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SectionLayout {
    /// Vessels, fixed levels and joints.
    pub stand: PartsOnPage,
    /// Line of each run.
    pub ways: Vec<SectionRun>,
    /// Bore of each run as drawn, metres.
    pub bores_m: Vec<f64>,
    /// Tops of vents that have a given height.
    pub vent_tops: Vec<SectionPoint>,
}

impl SectionLayout {
    /// Returns the section of a layout.
    pub fn of(layout: &Layout) -> SectionLayout {
        let stand = stand(layout);
        let spots = run_end_points(layout, &stand);
        let vessels: HashMap<&Id, &PartOnPage> = layout
            .vessels
            .iter()
            .map(|part| &part.id)
            .zip(&stand.vessels)
            .chain(layout.fixed.iter().map(|part| &part.id).zip(&stand.fixed))
            .collect();
        let places = places(layout);
        let routing = routing(&stand);
        let ways: Vec<SectionRun> = layout
            .runs
            .iter()
            .zip(spots)
            .map(|(run, ends)| {
                let at_ends = [&run.from.at, &run.to.at].map(|id| vessels.get(id).copied());
                let given = [&run.from, &run.to].map(|end| {
                    let stands = places.get(&end.at).copied();
                    end.corner(stands)
                });
                let mut way = section_run(run, ends, at_ends, given, routing);
                by_distance(layout, run, &mut way);
                way
            })
            .collect();
        let bores_m = layout.runs.iter().map(bore_m).collect();
        SectionLayout {
            vent_tops: vent_tops(layout, &stand, &ways),
            stand,
            ways,
            bores_m,
        }
    }

    /// Returns an end of a run in the section.
    pub fn run_end_point(&self, run: usize, end: usize) -> Option<&RunEndPoint> {
        self.ways.get(run)?.ends.get(end)
    }

    /// Returns the extent of the section with a margin, and with the ground if it is near.
    pub fn bounds(&self) -> Bounds {
        let standing = self.stand.vessels.iter().chain(&self.stand.fixed);
        let corners =
            standing.flat_map(|one| [at(one.left_m(), one.floor_m), at(one.right_m(), one.rim_m)]);
        let joints = self.stand.joints.iter().copied();
        let ways = self.ways.iter().flat_map(|way| way.line.iter().copied());
        let vents = self.vent_tops.iter().copied();
        let all: Vec<SectionPoint> = corners.chain(joints).chain(ways).chain(vents).collect();
        let mut bounds = Bounds::of(all);
        // Extended down to the ground if that is near.
        let height = (bounds.high_m - bounds.low_m).max(0.2);
        if bounds.low_m > 0.0 && bounds.low_m < 1.5 * height {
            bounds.low_m = 0.0;
        }
        let height = (bounds.high_m - bounds.low_m).max(0.2);
        bounds.low_m -= MARGIN_SHARE * height;
        bounds.high_m += MARGIN_SHARE * height;
        let width = (bounds.right_m - bounds.left_m).max(0.2);
        bounds.left_m -= 0.03 * width;
        bounds.right_m += 0.03 * width;
        bounds
    }
}

/// Moves a dry-mounted pump to its distance, if any item of its run has a given distance.
fn by_distance(layout: &Layout, run: &Run, way: &mut SectionRun) {
    let dry = run.pump.as_ref().is_some_and(|pump| !pump.is_wet());
    if !dry || !is_measured(run) {
        return;
    }
    let length_m = layout.length_of(run);
    let stations = measured(run, length_m);
    let pump = stations.iter().find(|one| one.what.is_none());
    if let Some(place) = pump.and_then(|pump| way.at_share(pump.share(length_m))) {
        way.pump = Some(place);
    }
}

/// Returns the context for routes. Clearances are in proportion to the section, so that they are visible beside trays
/// as well as beside towers.
fn routing(stand: &PartsOnPage) -> RoutingContext<'_> {
    let standing = stand.vessels.iter().chain(&stand.fixed);
    let corners =
        standing.flat_map(|one| [at(one.left_m(), one.floor_m), at(one.right_m(), one.rim_m)]);
    let bounds = Bounds::of(corners.chain(stand.joints.iter().copied()));
    let size = at(
        (bounds.right_m - bounds.left_m).max(0.1),
        (bounds.high_m - bounds.low_m).max(0.01),
    );
    let few = stand.vessels.len() <= MOST_PASSED;
    RoutingContext {
        off: at(OFF_ALONG * size.along_m, OFF_UP * size.z_m),
        size,
        vessels: if few { &stand.vessels } else { &[] },
    }
}

/// Returns the place of each part in the plan, and its floor, level or centre, metres.
fn places(layout: &Layout) -> HashMap<&Id, (Place, f64)> {
    let vessels = layout.vessels.iter();
    let vessels = vessels.map(|part| (&part.id, (part.place, part.floor_m)));
    let fixed = layout.fixed.iter();
    let fixed = fixed.map(|part| (&part.id, (part.place, part.level_m)));
    let joints = layout.joints.iter();
    let joints = joints.map(|part| (&part.id, (part.place, part.elevation_m)));
    vessels.chain(fixed).chain(joints).collect()
}

/// Returns the tops of vents that have a given height, which the page must include.
fn vent_tops(layout: &Layout, stand: &PartsOnPage, ways: &[SectionRun]) -> Vec<SectionPoint> {
    let joints = layout.joints.iter().zip(&stand.joints);
    let joints = joints.filter_map(|(part, place)| Some(at(place.along_m, part.vent_top_m?)));
    let runs = layout.runs.iter().zip(ways);
    let corners = runs.flat_map(|(run, way)| {
        let corners = run.route.iter().zip(&way.corners);
        corners.filter_map(|(corner, share)| {
            let foot = way.at_share(*share)?;
            Some(at(foot.along_m, corner.vent_top_m?))
        })
    });
    joints.chain(corners).collect()
}

/// Drawn width of an opening without a pipe, metres.
const OPENING_M: f64 = 0.02;

/// Returns the bore of a run as given in the file; for bought pipe, from the number in the name of its size.
///
/// Only the width of a line depends on it; the hydraulics use the catalogue.
fn bore_m(run: &Run) -> f64 {
    use crate::layout::Pipe;
    match &run.pipe {
        Pipe::Own { bore_m, .. } => *bore_m,
        Pipe::Open => OPENING_M,
        Pipe::Bought { size, .. } => match size.parse::<f64>() {
            Ok(millimetres) if millimetres >= 10.0 => millimetres / 1000.0,
            _ => PIPE_M,
        },
    }
}

/// Returns the ends whose height the builder sets: run, end and position.
pub fn settable(plan: &SectionLayout) -> impl Iterator<Item = (usize, usize, &RunEndPoint)> {
    plan.ways.iter().enumerate().flat_map(|(run, way)| {
        way.ends
            .iter()
            .enumerate()
            .filter(|(_, spot)| spot.settable && spot.meets != Connection::Joint)
            .map(move |(end, spot)| (run, end, spot))
    })
}
