//! What a section is drawn from, and what can be touched on it.

use super::plan::Plan;
use crate::draw::shape::{Point, Rect};
use crate::draw::view::View;
use crate::finding::Finding;
use crate::layout::{Id, Layout, RunEnd};
use crate::states::report::StateReport;
use crate::units::UnitSystem;

/// Something on the drawing that can be picked.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Pick {
    /// A vessel, joint, fixed level, run or pump.
    Part(Id),
    /// The opening at one end of a run, by its height.
    Crest {
        /// The run.
        run: Id,
        /// Which of its ends.
        end: RunEnd,
    },
}

impl Pick {
    /// The part that is picked, or the run whose crest it is.
    pub fn part(&self) -> &Id {
        match self {
            Pick::Part(id) => id,
            Pick::Crest { run, .. } => run,
        }
    }
}

/// How far the numbers can be trusted.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Trust {
    /// They belong to what is drawn.
    #[default]
    Sure,
    /// They belong to an earlier drawing.
    OutOfDate,
}

/// What a section is drawn from.
#[derive(Clone, Copy)]
pub struct Scene<'a> {
    /// The layout.
    pub layout: &'a Layout,
    /// Its plan.
    pub plan: &'a Plan,
    /// How it lies on the page.
    pub view: View,
    /// Where the water stands; none: not known.
    pub water: Option<&'a StateReport>,
    /// How far that can be trusted.
    pub trust: Trust,
    /// What is wrong.
    pub findings: &'a [Finding],
    /// The units of the numbers.
    pub units: UnitSystem,
    /// Lowest and highest good height of the crest that is selected, metres; none: not known.
    pub band: Option<(f64, f64)>,
    /// What is selected.
    pub selected: Option<&'a Pick>,
    /// What the pointer is over.
    pub hovered: Option<&'a Pick>,
}

impl Scene<'_> {
    /// The part is selected or, more faintly, under the pointer.
    pub(super) fn attention(&self, pick: &Pick) -> Attention {
        if self.selected == Some(pick) {
            Attention::Selected
        } else if self.hovered == Some(pick) {
            Attention::Hovered
        } else {
            Attention::None
        }
    }

    /// How strongly numbers and water are drawn.
    pub(super) fn strength(&self) -> f64 {
        match self.trust {
            Trust::Sure => 1.0,
            Trust::OutOfDate => 0.45,
        }
    }
}

/// How much a part is looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Attention {
    None,
    Hovered,
    Selected,
}

/// Where a pick can be touched.
#[derive(Clone, Debug, PartialEq)]
pub enum Reach {
    /// Near a point: a handle, a joint, a pump.
    Spot {
        /// The point.
        centre: Point,
        /// Its radius, points.
        radius: f64,
    },
    /// Along a line: a run.
    Line {
        /// The line.
        points: Vec<Point>,
        /// Half its width, points.
        half_width: f64,
    },
    /// Anywhere in a rectangle: a vessel.
    Area(Rect),
}

impl Reach {
    /// The rectangle around it.
    pub fn bounds(&self) -> Rect {
        match self {
            Reach::Spot { centre, radius } => Rect::between(*centre, *centre).grown(*radius),
            Reach::Area(rect) => *rect,
            Reach::Line { points, half_width } => {
                let mut points = points.iter();
                let first = points.next().copied().unwrap_or_default();
                let around = points.fold(Rect::between(first, first), |rect, point| Rect {
                    left: rect.left.min(point.x),
                    top: rect.top.min(point.y),
                    right: rect.right.max(point.x),
                    bottom: rect.bottom.max(point.y),
                });
                around.grown(*half_width)
            }
        }
    }
}

/// Something that can be touched on the drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct Target {
    /// What it is.
    pub pick: Pick,
    /// Where it is.
    pub reach: Reach,
    /// What it is called: `Cress bed 2`, `Crest of Cress upstand 3`.
    pub name: String,
}
