//! What can be touched on a drawing, and how much it is looked at: the same in section and plan.

use super::shape::{Drawing, Ink, Point, Rect, Stroke};
use crate::layout::{Id, Run, RunEnd};
use crate::units::{self, Quantity, UnitSystem};

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
    /// The rim of a vessel, by its height.
    Rim(Id),
    /// The floor of a vessel, by its height; the level of a fixed one, the height of a joint.
    Floor(Id),
    /// A corner of a run's route.
    Corner {
        /// The run.
        run: Id,
        /// Which of its corners, counted from 0.
        index: usize,
    },
}

impl Pick {
    /// The part that is picked, or the one that it belongs to.
    pub fn part(&self) -> &Id {
        match self {
            Pick::Part(id) | Pick::Rim(id) | Pick::Floor(id) => id,
            Pick::Crest { run, .. } | Pick::Corner { run, .. } => run,
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

/// How much a part is looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Attention {
    /// Not at all.
    None,
    /// The pointer is over it.
    Hovered,
    /// It is selected.
    Selected,
}

impl Trust {
    /// How strongly numbers and water are drawn: 1 as they are.
    pub fn strength(self) -> f64 {
        match self {
            Trust::Sure => 1.0,
            Trust::OutOfDate => 0.45,
        }
    }
}

/// Where a pick can be touched.
#[derive(Clone, Debug, PartialEq)]
pub enum TouchArea {
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
    /// Anywhere in a circle: a round vessel from above.
    Disc {
        /// The middle.
        centre: Point,
        /// Its radius, points.
        radius: f64,
    },
    /// Anywhere in a convex polygon, its corners in order: a turned vessel from above.
    Polygon(Vec<Point>),
}

impl TouchArea {
    /// The rectangle around it.
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
    /// What it is.
    pub pick: Pick,
    /// Where it is.
    pub reach: TouchArea,
    /// What it is called: `Cress bed 2`, `Crest of Cress upstand 3`.
    pub name: String,
}

/// A drawing and what can be touched on it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Drawn {
    /// What is drawn.
    pub drawing: Drawing,
    /// What can be touched, the front most last.
    pub targets: Vec<TouchTarget>,
}

/// How much `pick` is looked at.
pub fn attention(selected: &[Pick], hovered: Option<&Pick>, pick: &Pick) -> Attention {
    if selected.contains(pick) {
        Attention::Selected
    } else if hovered == Some(pick) {
        Attention::Hovered
    } else {
        Attention::None
    }
}

/// The ink and width of an outline that is looked at so.
pub(super) fn outline(attention: Attention, plain: Stroke) -> Stroke {
    match attention {
        Attention::Selected => Stroke::new(Ink::Accent, plain.width + 1.0),
        Attention::Hovered => Stroke::new(Ink::Accent, plain.width),
        Attention::None => plain,
    }
}

/// `Corner 2 of Lift at 400 mm, vented up to 1200 mm`.
pub(super) fn corner_name(run: &Run, index: usize, system: UnitSystem) -> String {
    let name = called(&run.name, &run.id);
    let Some(corner) = run.route.get(index) else {
        return name.to_owned();
    };
    let height = units::write(Quantity::Height, corner.z_m, system);
    let vent = vent_words(corner.vented.then_some(corner.vent_top_m), system);
    format!("Corner {} of {name} at {height}{vent}", index + 1)
}

/// What is said behind the name of something that is vented; `vent`: none where it is not, else its top where that is
/// given, metres.
pub(super) fn vent_words(vent: Option<Option<f64>>, system: UnitSystem) -> String {
    match vent {
        None => String::new(),
        Some(None) => ", vented".to_owned(),
        Some(Some(top_m)) => {
            let top = units::write(Quantity::Height, top_m, system);
            format!(", vented up to {top}")
        }
    }
}

/// A name for people: that of the part, or its id.
pub(super) fn called<'a>(name: &'a str, id: &'a Id) -> &'a str {
    let name = name.trim();
    if name.is_empty() { id.as_str() } else { name }
}
