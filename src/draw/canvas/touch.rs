//! Touch targets of a drawing and their attention, the same in section and plan.

use crate::draw::page::shape::{Drawing, Ink, Point, Rect, Stroke};
use crate::layout::{Id, Run, RunEnd};
use crate::units::{self, Quantity, UnitSystem};

/// Something on the drawing that can be picked.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Pick {
    /// A vessel, joint, fixed level, run or pump.
    Part(Id),
    /// The opening at one end of a run, picked by its height.
    Crest {
        /// Id of the run.
        run: Id,
        /// End of the run.
        end: RunEnd,
    },
    /// The rim of a vessel, picked by its height.
    Rim(Id),
    /// The floor of a vessel, picked by its height; the level of a fixed level, the height of a joint.
    Floor(Id),
    /// A corner of a run's route.
    Corner {
        /// Id of the run.
        run: Id,
        /// Index of the corner, counted from 0.
        index: usize,
    },
}

impl Pick {
    /// Returns the part that is picked, or that the picked item belongs to.
    pub fn part(&self) -> &Id {
        match self {
            Pick::Part(id) | Pick::Rim(id) | Pick::Floor(id) => id,
            Pick::Crest { run, .. } | Pick::Corner { run, .. } => run,
        }
    }
}

/// Trust in the numbers.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Trust {
    /// They belong to the layout as drawn.
    #[default]
    Sure,
    /// They belong to an earlier version of the layout.
    OutOfDate,
}

/// Whether an item is hovered or selected.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Attention {
    /// Neither.
    None,
    /// The pointer is over it.
    Hovered,
    /// It is selected.
    Selected,
}

impl Trust {
    /// Returns the opacity of numbers and water: 1 if they are up to date.
    pub fn strength(self) -> f64 {
        match self {
            Trust::Sure => 1.0,
            Trust::OutOfDate => 0.45,
        }
    }
}

/// Hit area of a pick.
#[derive(Clone, Debug, PartialEq)]
pub enum TouchArea {
    /// Near a point: a handle, a joint, a pump.
    Spot {
        /// The point.
        centre: Point,
        /// Radius, points.
        radius: f64,
    },
    /// Along a line: a run.
    Line {
        /// The line.
        points: Vec<Point>,
        /// Half its width, points.
        half_width: f64,
    },
    /// Inside a rectangle: a vessel.
    Area(Rect),
    /// Inside a circle: a round vessel in the plan.
    Disc {
        /// The middle.
        centre: Point,
        /// Radius, points.
        radius: f64,
    },
    /// Inside a convex polygon, its corners in order: a rotated vessel in the plan.
    Polygon(Vec<Point>),
}

impl TouchArea {
    /// Returns the bounding rectangle.
    pub fn bounds(&self) -> Rect {
        match self {
            TouchArea::Spot { centre, radius } | TouchArea::Disc { centre, radius } => {
                Rect::between(*centre, *centre).grown(*radius)
            }
            TouchArea::Area(rect) => *rect,
            TouchArea::Line { points, half_width } => Rect::around(points).grown(*half_width),
            TouchArea::Polygon(corners) => Rect::around(corners),
        }
    }
}

/// Something that can be touched on the drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct TouchTarget {
    /// What is picked.
    pub pick: Pick,
    /// Hit area.
    pub reach: TouchArea,
    /// Accessible name: `Cress bed 2`, `Crest of Cress upstand 3`.
    pub name: String,
}

/// A drawing with its touch targets.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Drawn {
    /// The drawing.
    pub drawing: Drawing,
    /// Touch targets, the frontmost last.
    pub targets: Vec<TouchTarget>,
}

/// Returns the attention of `pick`.
pub fn attention(selected: &[Pick], hovered: Option<&Pick>, pick: &Pick) -> Attention {
    if selected.contains(pick) {
        Attention::Selected
    } else if hovered == Some(pick) {
        Attention::Hovered
    } else {
        Attention::None
    }
}

/// Returns the stroke of an outline for this attention.
pub(in crate::draw) fn outline(attention: Attention, plain: Stroke) -> Stroke {
    match attention {
        Attention::Selected => Stroke::new(Ink::Accent, plain.width + 1.0),
        Attention::Hovered => Stroke::new(Ink::Accent, plain.width),
        Attention::None => plain,
    }
}

/// Describes a corner: `Corner 2 of Lift at 400 mm, vented up to 1200 mm`.
pub(in crate::draw) fn corner_name(run: &Run, index: usize, system: UnitSystem) -> String {
    let name = called(&run.name, &run.id);
    let Some(corner) = run.route.get(index) else {
        return name.to_owned();
    };
    let height = units::write(Quantity::Height, corner.z_m, system);
    let vent = vent_words(corner.vented.then_some(corner.vent_top_m), system);
    format!("Corner {} of {name} at {height}{vent}", index + 1)
}

/// Returns the text on a vent that follows a name; `vent`: `None` without a vent, else its top if that is given,
/// metres.
pub(in crate::draw) fn vent_words(vent: Option<Option<f64>>, system: UnitSystem) -> String {
    match vent {
        None => String::new(),
        Some(None) => ", vented".to_owned(),
        Some(Some(top_m)) => {
            let top = units::write(Quantity::Height, top_m, system);
            format!(", vented up to {top}")
        }
    }
}

/// Returns the display name of a part: its name, or else its id.
pub(in crate::draw) fn called<'a>(name: &'a str, id: &'a Id) -> &'a str {
    let name = name.trim();
    if name.is_empty() { id.as_str() } else { name }
}
