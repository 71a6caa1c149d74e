//! Page on which a section is drawn.

use super::scene::SectionScene;
use crate::draw::canvas::drawing_context::DrawingContext;
use crate::draw::canvas::touch::Drawn;
use crate::draw::canvas::vessel_index::VesselIndex;
use crate::draw::page::shape::{Point, Rect};
use crate::draw::page::view::SectionPoint;
use crate::draw::results::reports::Reports;
use crate::layout::Id;
use crate::states::report::{PumpReport, RunReport, VesselReport};
use std::ops::{Deref, DerefMut};

/// A drawing context with the scene that is drawn on it.
pub(super) struct SectionPage<'s> {
    pub scene: &'s SectionScene<'s>,
    pub reports: Reports<'s>,
    context: DrawingContext,
}

impl Deref for SectionPage<'_> {
    type Target = DrawingContext;

    fn deref(&self) -> &DrawingContext {
        &self.context
    }
}

impl DerefMut for SectionPage<'_> {
    fn deref_mut(&mut self) -> &mut DrawingContext {
        &mut self.context
    }
}

impl<'s> SectionPage<'s> {
    pub fn new(scene: &'s SectionScene<'s>) -> SectionPage<'s> {
        let page = Rect {
            left: 0.0,
            top: 0.0,
            right: scene.view.page.right + 12.0,
            bottom: scene.view.page.bottom + 8.0,
        };
        let free = Rect {
            left: super::STAFF_WIDTH,
            ..page
        };
        SectionPage {
            scene,
            reports: Reports::of(scene.water, scene.findings).against(scene.other),
            context: DrawingContext::new(page, free, vessel_index(scene, page)),
        }
    }

    pub fn vessel(&self, id: &Id) -> Option<&'s VesselReport> {
        self.reports.vessel(id)
    }

    pub fn run(&self, id: &Id) -> Option<&'s RunReport> {
        self.reports.run(id)
    }

    pub fn pump(&self, id: &Id) -> Option<&'s PumpReport> {
        self.reports.pump(id)
    }

    /// Returns the head at an end of a run, metres: the level of a vessel or fixed level, the grade at a joint.
    pub fn level_m(&self, id: &Id) -> Option<f64> {
        let water = self.scene.water?.real();
        let joint = || water.joints.iter().find(|one| one.id == *id);
        let fixed = || water.fixed.iter().find(|one| one.id == *id);
        match self.vessel(id) {
            Some(vessel) => vessel.stands_m(),
            None => joint()
                .and_then(|one| one.head_m)
                .or_else(|| fixed().map(|one| one.level_m)),
        }
    }

    /// Converts a point of the section to the page.
    pub fn point(&self, place: SectionPoint) -> Point {
        self.scene.view.page_from_section(place)
    }

    pub fn finish(self) -> Drawn {
        self.context.finish(self.scene.layout.title.clone())
    }
}

/// Returns an index of the areas of vessels and fixed levels.
fn vessel_index(scene: &SectionScene<'_>, page: Rect) -> VesselIndex {
    let view = scene.view;
    let all = scene
        .plan
        .stand
        .vessels
        .iter()
        .chain(&scene.plan.stand.fixed);
    let boxes = all.map(|one| Rect {
        left: view.x(one.left_m()),
        right: view.x(one.right_m()),
        top: view.y(one.rim_m),
        bottom: view.y(one.floor_m),
    });
    VesselIndex::new(page, boxes)
}
