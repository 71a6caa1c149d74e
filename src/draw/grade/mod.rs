//! The grade line: the hydraulic grade along one path, above the pipes it runs in.
//!
//! Heights are true to scale against the staff; distances run along the pipes, with the vessels on the way cut open
//! between the runs. A [`PathProfile`] holds the geometry in metres; [`grade`] draws it on a page.

mod band;
mod marks;
mod path_parts;
mod pipes;
mod profile;
mod sheet;
mod words;

pub use profile::{PathItem, PathPart, PathProfile, PathRun, Seated};
pub use sheet::{path_words, sheet};

use crate::draw::axes::staff;
use crate::draw::axes::staff::{STAFF_WIDTH, Staff};
use crate::draw::canvas::drawing_context::DrawingContext;
use crate::draw::canvas::touch::{Attention, Drawn, Pick, Trust, attention};
use crate::draw::canvas::vessel_index::VesselIndex;
use crate::draw::page::shape::{Ink, Rect, Shape, pt};
use crate::draw::page::view::{Bounds, View, at};
use crate::draw::results::reports::Reports;
use crate::layout::{Id, Layout};
use crate::states::report::StateReport;
use crate::units::UnitSystem;

/// Room for the text above the drawing, and for the axis and rows below it, points.
const HEAD: f64 = 26.0;
const FOOT: f64 = 22.0 + 3.0 * band::ROW + 6.0;

/// Input of a grade line.
#[derive(Clone, Copy)]
pub struct GradeScene<'a> {
    /// The layout.
    pub layout: &'a Layout,
    /// The path, in metres.
    pub profile: &'a PathProfile,
    /// Mapping of the profile to the page.
    pub view: View,
    /// State whose grade is shown; `None`: not known.
    pub water: Option<&'a StateReport>,
    /// Trust in that state.
    pub trust: Trust,
    /// Units of the numbers.
    pub units: UnitSystem,
    /// Selected items.
    pub selected: &'a [Pick],
    /// Item under the pointer.
    pub hovered: Option<&'a Pick>,
}

/// Draws a grade line. Never fails: unknown and non-finite values are left out.
pub fn grade(scene: &GradeScene<'_>) -> Drawn {
    let mut paper = GradePage::new(scene);
    path_parts::draw(&mut paper);
    pipes::draw(&mut paper);
    marks::draw(&mut paper);
    words::draw_words(&mut paper);
    paper.context.set_labels();
    paper.frame();
    let title = format!("Grade line of {}", scene.layout.title);
    paper.context.finish(title)
}

/// Returns the area of a page for the grade line itself: right of the staff, between the text and the rows.
pub fn room(page: Rect) -> Rect {
    Rect {
        left: page.left + STAFF_WIDTH + 6.0,
        top: page.top + HEAD,
        right: (page.right - 12.0).max(page.left + STAFF_WIDTH + 7.0),
        bottom: (page.bottom - FOOT).max(page.top + HEAD + 1.0),
    }
}

/// Returns the view that fits `bounds` in `room`, with separate scales for heights and distances.
pub fn fitting(bounds: Bounds, room: Rect) -> View {
    let wide = (bounds.right_m - bounds.left_m).max(0.1);
    let high = (bounds.high_m - bounds.low_m).max(0.02);
    View {
        page: room,
        corner: at(bounds.left_m, bounds.low_m),
        points_per_metre_along: room.width().max(1.0) / wide,
        points_per_metre_up: room.height().max(1.0) / high,
    }
}

/// A page while it is being drawn.
struct GradePage<'s> {
    scene: &'s GradeScene<'s>,
    reports: Reports<'s>,
    context: DrawingContext,
    /// Area for the grade line itself.
    room: Rect,
    strength: f64,
}

impl<'s> GradePage<'s> {
    fn new(scene: &'s GradeScene<'s>) -> GradePage<'s> {
        let room = scene.view.page;
        let page = Rect::between(pt(0.0, 0.0), pt(room.right + 12.0, room.bottom + FOOT));
        let free = Rect {
            left: STAFF_WIDTH,
            top: HEAD - 2.0,
            right: page.right,
            bottom: room.bottom + 3.0,
        };
        let view = scene.view;
        let boxes = scene.profile.stands.iter().filter_map(|stand| {
            let (floor_m, rim_m) = stand.walls_m?;
            Some(Rect {
                left: view.x(stand.along_m),
                right: view.x(stand.along_m + stand.width_m),
                top: view.y(rim_m),
                bottom: view.y(floor_m),
            })
        });
        GradePage {
            scene,
            reports: Reports::of(scene.water, &[]),
            context: DrawingContext::new(page, free, VesselIndex::new(page, boxes)),
            room,
            strength: scene.trust.strength(),
        }
    }

    fn attention(&self, part: &Id) -> Attention {
        attention(
            self.scene.selected,
            self.scene.hovered,
            &Pick::Part(part.clone()),
        )
    }

    /// Draws the surroundings of the grade line on top of what is scrolled under them.
    fn frame(&mut self) {
        let page = self.context.page;
        let cleared = |top: f64, bottom: f64| Shape::Box {
            rect: Rect {
                top,
                bottom,
                ..page
            },
            radius: 0.0,
            fill: Some(Ink::Page),
            edge: None,
        };
        self.context.add(None, cleared(page.top, HEAD - 4.0));
        self.context
            .add(None, cleared(self.room.bottom + 4.0, page.bottom));
        let staff = Staff {
            top: self.room.top,
            bottom: self.room.bottom,
            units: self.scene.units,
            taken: None,
        };
        staff::draw(&mut self.context, self.scene.view, &staff);
        band::draw(self);
        words::head(self);
    }
}
