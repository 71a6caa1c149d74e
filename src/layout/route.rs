//! Positions of runs: the corners of a route with its two ends.

use super::{End, Id, Layout, Place, Run, RunEnd};
use crate::geometry::{Corner, route_length_m};

impl End {
    /// Returns the position of this end in the plan and the elevation at which the run begins, as [`Layout::corner_at`]
    /// does. `stands` is the place of its part and the floor, centre or level of that, metres.
    pub fn corner(&self, stands: Option<(Place, f64)>) -> Corner {
        let place = self.place.or(stands.map(|(place, _)| place));
        let place = place.unwrap_or_default();
        let crest_m = self.opening.as_ref().and_then(|opening| opening.crest_m());
        let foot_m = stands.map(|(_, foot_m)| foot_m);
        let z_m = crest_m.or(foot_m).unwrap_or(0.0);
        Corner::at(place.x_m, place.y_m, z_m)
    }
}

impl Layout {
    /// Returns the place of a vessel, joint or fixed level on the drawings; `None` if there is no such part.
    pub fn place_of(&self, id: &Id) -> Option<Place> {
        let vessels = self.vessels.iter().map(|part| (&part.id, part.place));
        let joints = self.joints.iter().map(|part| (&part.id, part.place));
        let fixed = self.fixed.iter().map(|part| (&part.id, part.place));
        let mut all = vessels.chain(joints).chain(fixed);
        all.find(|(part, _)| *part == id).map(|(_, place)| place)
    }

    /// Returns the position of an end of a run in the plan and the elevation at which the run begins there: the crest
    /// of its opening, else the floor of its vessel, the centre of its joint or the fixed level. At the origin if the
    /// end names no part and has no place.
    pub fn corner_at(&self, end: &End) -> Corner {
        let stands = self.place_of(&end.at).zip(self.foot_m(&end.at));
        end.corner(stands)
    }

    /// Returns the floor of a vessel, the centre of a joint or the level of a fixed level, metres above the datum.
    pub fn foot_m(&self, id: &Id) -> Option<f64> {
        let vessels = self.vessels.iter().map(|part| (&part.id, part.floor_m));
        let joints = self.joints.iter().map(|part| (&part.id, part.elevation_m));
        let fixed = self.fixed.iter().map(|part| (&part.id, part.level_m));
        let mut all = vessels.chain(joints).chain(fixed);
        all.find(|(part, _)| *part == id).map(|(_, height)| height)
    }

    /// Returns all corners of a run, both ends included: at least two.
    pub fn corners_of(&self, run: &Run) -> Vec<Corner> {
        let mut corners = Vec::with_capacity(run.route.len() + 2);
        corners.push(self.corner_at(run.end(RunEnd::From)));
        corners.extend(&run.route);
        corners.push(self.corner_at(run.end(RunEnd::To)));
        corners
    }

    /// Returns the length of a run in metres: the given one, else that of its route.
    pub fn length_of(&self, run: &Run) -> f64 {
        let drawn = || route_length_m(&self.corners_of(run));
        run.length_m.unwrap_or_else(drawn)
    }

    /// Returns the run that a pump sits in.
    pub fn run_of_pump(&self, pump: &Id) -> Option<&Run> {
        let mut runs = self.runs.iter();
        runs.find(|run| run.pump.as_ref().is_some_and(|one| one.id == *pump))
    }

    /// Returns whether a vessel, joint, fixed level, run, pump or operating mode has this id.
    pub fn has(&self, id: &Id) -> bool {
        let pumps = self.runs.iter().filter_map(|run| run.pump.as_ref());
        self.vessels.iter().any(|part| part.id == *id)
            || self.joints.iter().any(|part| part.id == *id)
            || self.fixed.iter().any(|part| part.id == *id)
            || self.runs.iter().any(|part| part.id == *id)
            || pumps.into_iter().any(|part| part.id == *id)
            || self.ways.iter().any(|part| part.id == *id)
    }
}
