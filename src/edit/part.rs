//! Parts of any kind, and the lists of a layout that hold them.

use crate::layout::{Fixed, Id, Joint, Layout, Run, Vessel};

/// A whole part of a layout; a pump belongs to its run.
#[derive(Clone, Debug, PartialEq)]
pub enum Part {
    /// Anything with a free surface.
    Vessel(Box<Vessel>),
    /// A tee, a manifold.
    Joint(Box<Joint>),
    /// A fixed level.
    Fixed(Fixed),
    /// A length of pipe with everything in it.
    Run(Box<Run>),
}

impl Part {
    /// Its id.
    pub fn id(&self) -> &Id {
        match self {
            Part::Vessel(part) => &part.id,
            Part::Joint(part) => &part.id,
            Part::Fixed(part) => &part.id,
            Part::Run(part) => &part.id,
        }
    }

    /// The part of the layout with this id and its index in the list of its kind; for the id of a pump, its run.
    pub fn find(layout: &Layout, id: &Id) -> Option<(usize, Part)> {
        find::<Vessel>(layout, id)
            .or_else(|| find::<Joint>(layout, id))
            .or_else(|| find::<Fixed>(layout, id))
            .or_else(|| find::<Run>(layout, id))
            .or_else(|| {
                let mut runs = layout.runs.iter().enumerate();
                let run = runs.find(|(_, run)| run.pump.as_ref().is_some_and(|p| p.id == *id));
                run.map(|(place, run)| (place, run.clone().into()))
            })
    }
}

fn find<T: Listed>(layout: &Layout, id: &Id) -> Option<(usize, Part)> {
    let mut parts = T::list(layout).iter().enumerate();
    let (place, part) = parts.find(|(_, part)| part.id() == id)?;
    Some((place, part.clone().into()))
}

/// A kind of part.
pub(super) trait Listed: Clone + PartialEq + Into<Part> {
    /// All of this kind.
    fn list(layout: &Layout) -> &[Self];
    /// All of this kind.
    fn list_mut(layout: &mut Layout) -> &mut Vec<Self>;
    /// The part, where it is of this kind.
    fn of(part: &Part) -> Option<&Self>;
    /// Its id.
    fn id(&self) -> &Id;
}

/// Implements [`Listed`] for one kind: its type, its list and how its variant holds it.
macro_rules! listed {
    ($kind:ident, $list:ident, $hold:expr) => {
        impl From<$kind> for Part {
            fn from(part: $kind) -> Part {
                Part::$kind($hold(part))
            }
        }

        impl Listed for $kind {
            fn list(layout: &Layout) -> &[Self] {
                &layout.$list
            }

            fn list_mut(layout: &mut Layout) -> &mut Vec<Self> {
                &mut layout.$list
            }

            fn of(part: &Part) -> Option<&Self> {
                match part {
                    Part::$kind(part) => Some(part),
                    _ => None,
                }
            }

            fn id(&self) -> &Id {
                &self.id
            }
        }
    };
}

listed!(Vessel, vessels, Box::new);
listed!(Joint, joints, Box::new);
listed!(Fixed, fixed, std::convert::identity);
listed!(Run, runs, Box::new);
