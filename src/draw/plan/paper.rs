//! Page on which a plan is drawn.

use super::outline::Outline;
use super::scene::PlanScene;
use super::{MARGIN, RULER_BELOW, RULER_LEFT};
use crate::draw::canvas::drawing_context::DrawingContext;
use crate::draw::canvas::touch::Drawn;
use crate::draw::canvas::vessel_index::VesselIndex;
use crate::draw::page::shape::{Point, Rect};
use crate::draw::page::view::at;
use crate::draw::results::reports::Reports;
use crate::geometry::Corner;
use std::ops::{Deref, DerefMut, Range};

/// A drawing context with the scene that is drawn on it.
pub(super) struct PlanPage<'s> {
    pub scene: &'s PlanScene<'s>,
    pub reports: Reports<'s>,
    /// Points per metre.
    pub scale: f64,
    /// Index ranges of the marks that are grains of media.
    pub grains: Vec<Range<usize>>,
    context: DrawingContext,
}

impl Deref for PlanPage<'_> {
    type Target = DrawingContext;

    fn deref(&self) -> &DrawingContext {
        &self.context
    }
}

impl DerefMut for PlanPage<'_> {
    fn deref_mut(&mut self) -> &mut DrawingContext {
        &mut self.context
    }
}

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
        let boxes = scene.ground.vessels.iter().map(|one| rect(scene, one));
        PlanPage {
            scene,
            reports: Reports::of(scene.water, scene.findings).against(scene.other),
            scale: scene.view.points_per_metre_up,
            grains: Vec::new(),
            context: DrawingContext::new(page, free, VesselIndex::new(page, boxes)),
        }
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
    pub fn rect(&self, one: &Outline) -> Rect {
        rect(self.scene, one)
    }

    /// Returns the page without its rulers.
    pub fn free(&self) -> Rect {
        Rect {
            left: RULER_LEFT,
            bottom: self.page.bottom - RULER_BELOW,
            ..self.page
        }
    }

    pub fn finish(mut self) -> Drawn {
        let grains = std::mem::take(&mut self.grains);
        self.context.clear_under_words(&grains);
        self.context.finish(self.scene.layout.title.clone())
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
