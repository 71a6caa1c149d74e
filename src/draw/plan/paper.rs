//! Page on which a plan is drawn.

use super::floor::Floorplan;
use super::outline::Outline;
use super::{MARGIN, RULER_BELOW, RULER_LEFT};
use crate::draw::canvas::drawing_context::DrawingContext;
use crate::draw::canvas::vessel_index::VesselIndex;
use crate::draw::page::shape::{Point, Rect};
use crate::draw::page::view::at;
use crate::draw::scene::input::Scene;
use crate::draw::scene::paper::ScenePage;
use crate::geometry::Corner;

/// Input of a plan.
pub type PlanScene<'a> = Scene<'a, Floorplan>;

/// A page with a plan on it.
pub(super) type PlanPage<'s> = ScenePage<'s, Floorplan>;

impl<'s> PlanPage<'s> {
    pub fn new(scene: &'s PlanScene<'s>) -> PlanPage<'s> {
        let page = Rect {
            left: 0.0,
            top: 0.0,
            right: scene.view.page.right + MARGIN,
            bottom: scene.view.page.bottom + RULER_BELOW,
        };
        let free = Rect {
            left: RULER_LEFT,
            bottom: page.bottom - RULER_BELOW,
            ..page
        };
        let vessels = scene.positions.vessels.iter();
        let boxes = vessels.map(|one| rect(scene, one));
        let context = DrawingContext::new(page, free, VesselIndex::new(page, boxes));
        ScenePage::on(scene, context)
    }

    /// Returns the points per metre.
    pub fn scale(&self) -> f64 {
        self.scene.view.points_per_metre_up
    }

    /// Converts a point of the plan to the page.
    pub fn point(&self, place: Corner) -> Point {
        self.scene.view.page_from_section(at(place.x_m, place.y_m))
    }

    /// Converts a point of the page to the plan.
    pub fn place(&self, point: Point) -> Corner {
        let place = self.scene.view.section_from_page(point);
        super::outline::place(place.along_m, place.z_m)
    }

    pub fn points(&self, places: &[Corner]) -> Vec<Point> {
        places.iter().map(|place| self.point(*place)).collect()
    }

    /// Returns the bounding rectangle of a vessel on the page.
    pub(super) fn rect(&self, one: &Outline) -> Rect {
        rect(self.scene, one)
    }
}

fn rect(scene: &PlanScene<'_>, one: &Outline) -> Rect {
    let bounds = one.bounds();
    Rect {
        left: scene.view.x(bounds.left_m),
        right: scene.view.x(bounds.right_m),
        top: scene.view.y(bounds.high_m),
        bottom: scene.view.y(bounds.low_m),
    }
}
