//! Page on which a section is drawn.

use super::section_layout::SectionLayout;
use crate::draw::canvas::drawing_context::DrawingContext;
use crate::draw::canvas::vessel_index::VesselIndex;
use crate::draw::page::shape::{Point, Rect};
use crate::draw::page::view::SectionPoint;
use crate::draw::scene::input::Scene;
use crate::draw::scene::paper::ScenePage;
use crate::layout::Id;

/// Input of a section.
pub type SectionScene<'a> = Scene<'a, SectionLayout>;

/// A page with a section on it.
pub(super) type SectionPage<'s> = ScenePage<'s, SectionLayout>;

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
        let context = DrawingContext::new(page, free, vessel_index(scene, page));
        ScenePage::on(scene, context)
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
}

/// Returns an index of the areas of vessels and fixed levels.
fn vessel_index(scene: &SectionScene<'_>, page: Rect) -> VesselIndex {
    let view = scene.view;
    let stand = &scene.positions.stand;
    let boxes = stand.vessels.iter().chain(&stand.fixed).map(|one| Rect {
        left: view.x(one.left_m()),
        right: view.x(one.right_m()),
        top: view.y(one.rim_m),
        bottom: view.y(one.floor_m),
    });
    VesselIndex::new(page, boxes)
}
