//! The profile of a run, on which its grade is marched.

use super::ends::{Lip, Meeting};
use super::{Ground, Item, ItemAt, ItemKind};
use crate::geometry::{Corner, route_length_m};
use crate::hydraulics::grade_course::{Course, Leg, lossless};
use crate::hydraulics::grade_table::Grade;
use crate::hydraulics::loss::{Loss, Minor};

/// Heights closer than this are the same, metres: rounding in conversion of units.
const SAME_M: f64 = 1e-6;
/// A leg shorter than this has no slope, metres.
const SHORTEST_M: f64 = 1e-6;

/// The way of a run, in the direction of a flow.
pub(super) struct Route<'a> {
    pub ground: &'a Ground<'a>,
    /// From end to end.
    pub corners: Vec<Corner>,
    /// Corners between the ends were entered.
    pub given: bool,
    /// Length that counts, metres; the way as drawn may be another.
    pub length_m: f64,
}

/// What a flow along a route loses: item by item, and the sum.
pub(super) type Lost<'a> = (&'a [Item], &'a Loss);

impl Route<'_> {
    /// The grade laws of a flow along the route and of one back, where they are marched.
    pub(super) fn grades(
        &self,
        [source, target]: [&Meeting; 2],
        [lost, lost_back]: [Lost<'_>; 2],
    ) -> [Option<Box<Grade>>; 2] {
        [
            self.grade([source, target], lost),
            self.turned().grade([target, source], lost_back),
        ]
    }

    fn turned(&self) -> Route<'_> {
        Route {
            corners: self.corners.iter().rev().copied().collect(),
            ..*self
        }
    }

    /// The grade law of a flow along the route; none where that flow counts as filling the run.
    fn grade(&self, [upper, outlet]: [&Meeting; 2], lost: Lost<'_>) -> Option<Box<Grade>> {
        if !matches!(outlet.lip, Lip::Horizontal | Lip::Down) || !outlet.port.lip_m.is_finite() {
            return None;
        }
        if !outlet.found || !upper.found || self.has_hump(upper) {
            return None;
        }
        let (items, loss) = lost;
        let course = self.course([upper, outlet], items, &lossless_wall(loss));
        Grade::new(course, loss.clone()).map(Box::new)
    }

    /// A high point between the ends, over the upper end: only a primed siphon passes it.
    fn has_hump(&self, upper: &Meeting) -> bool {
        let [first, inner @ .., _] = self.corners.as_slice() else {
            return false;
        };
        let least_m = match (upper.lip, inner) {
            (Lip::Unknown, [next, ..]) => next.z_m,
            _ => first.z_m,
        };
        inner.iter().any(|corner| corner.z_m > least_m + SAME_M)
    }

    fn course(&self, [upper, outlet]: [&Meeting; 2], items: &[Item], pipe: &Loss) -> Course {
        let mut legs = self.legs(upper);
        legs.reverse();
        let mut course = Course {
            legs,
            outlet_m: outlet.port.lip_m,
            outlet_bore_m: outlet.bore_m.filter(|_| outlet.lip == Lip::Horizontal),
            pipe: pipe.clone(),
            spread: lossless(pipe),
            top: lossless(pipe),
            full: lossless(pipe),
        };
        let settings = &self.ground.layout.coefficients;
        let at_ends = [
            upper.bore_m.map_or(0.0, |_| settings.entrance_k),
            outlet.bore_m.map_or(0.0, |_| settings.exit_k),
        ];
        for item in items {
            share_out(&mut course, item, at_ends.iter().sum());
        }
        if course.length_m() < SHORTEST_M {
            let spread = std::mem::take(&mut course.spread.minors);
            course.top.minors.extend(spread);
        }
        course
    }

    /// Legs in the direction of the flow.
    fn legs(&self, upper: &Meeting) -> Vec<Leg> {
        if !self.given {
            return self.plain(upper);
        }
        let drawn_m = route_length_m(&self.corners);
        let stretch = if drawn_m > SHORTEST_M {
            self.length_m / drawn_m
        } else {
            1.0
        };
        let mut corners = self.corners.clone();
        if let (Lip::Unknown, [first, next, ..]) = (upper.lip, corners.as_mut_slice()) {
            first.z_m = next.z_m;
        }
        corners
            .windows(2)
            .filter_map(|pair| match pair {
                [from, to] => leg(*from, *to, stretch),
                _ => None,
            })
            .collect()
    }

    /// The height between its ends, metres.
    fn fall_m(&self) -> f64 {
        let ends = self.corners.first().zip(self.corners.last());
        ends.map_or(0.0, |(from, to)| (from.z_m - to.z_m).abs())
    }

    /// How far a pipe with no corners given stands plumb below a lip that looks up, metres.
    fn plumb_m(&self) -> f64 {
        self.fall_m().min(self.length_m)
    }

    /// Share of the length up to each corner, with its height, along the link: the pipe on which these laws
    /// were marched.
    pub(super) fn shares(
        &self,
        [source, target]: [&Meeting; 2],
        grades: &[Option<Box<Grade>>; 2],
    ) -> Vec<(f64, f64)> {
        let plumb = self.plumb_m() / self.length_m;
        if !self.given
            && plumb.is_finite()
            && let [from, to] = self.corners.as_slice()
        {
            match grades {
                [Some(_), _] if source.lip == Lip::Up => {
                    return vec![(0.0, from.z_m), (plumb, to.z_m), (1.0, to.z_m)];
                }
                [_, Some(_)] if target.lip == Lip::Up => {
                    return vec![(0.0, from.z_m), (1.0 - plumb, from.z_m), (1.0, to.z_m)];
                }
                _ => {}
            }
        }
        let whole_m = route_length_m(&self.corners);
        let legs = self.corners.len().saturating_sub(1).max(1);
        let mut along_m = 0.0;
        let mut before: Option<Corner> = None;
        let mut shares = Vec::with_capacity(self.corners.len());
        for (place, corner) in self.corners.iter().enumerate() {
            along_m += before.map_or(0.0, |before| before.distance_m(*corner));
            let share = if whole_m > SHORTEST_M {
                (along_m / whole_m).min(1.0)
            } else {
                // Drawn at one place: its length lies somewhere between its ends.
                place as f64 / legs as f64
            };
            shares.push((share, corner.z_m));
            before = Some(*corner);
        }
        shares
    }

    /// With no corners given: from a lip straight down and then level, else straight.
    fn plain(&self, upper: &Meeting) -> Vec<Leg> {
        let [from, to] = self.corners.as_slice() else {
            return Vec::new();
        };
        let fall_m = self.fall_m();
        let level = |length_m: f64| sloping(length_m, [to.z_m, to.z_m]);
        let legs = match upper.lip {
            Lip::Unknown => vec![level(self.length_m)],
            Lip::Up => {
                let plumb_m = self.plumb_m();
                let plumb = Leg::Plumb { length_m: plumb_m };
                vec![Some(plumb), level(self.length_m - plumb_m)]
            }
            Lip::Horizontal | Lip::Down if is_steep(fall_m, self.length_m) => {
                vec![Some(Leg::Plumb {
                    length_m: self.length_m,
                })]
            }
            Lip::Horizontal | Lip::Down => {
                vec![sloping(self.length_m, [to.z_m, from.z_m])]
            }
        };
        legs.into_iter().flatten().collect()
    }
}

/// A leg between corners, its length stretched; none where they are one.
fn leg(from: Corner, to: Corner, stretch: f64) -> Option<Leg> {
    let drawn_m = from.distance_m(to);
    let length_m = drawn_m * stretch;
    if is_steep(from.z_m - to.z_m, drawn_m) {
        return (length_m > 0.0).then_some(Leg::Plumb { length_m });
    }
    sloping(length_m, [to.z_m, from.z_m])
}

/// Steeper than 1:1: it falls by more than it goes forward.
fn is_steep(fall_m: f64, length_m: f64) -> bool {
    fall_m.abs() > length_m * std::f64::consts::FRAC_1_SQRT_2
}

/// A leg with an invert, if it has a length.
fn sloping(length_m: f64, [lower_m, upper_m]: [f64; 2]) -> Option<Leg> {
    (length_m > SHORTEST_M).then_some(Leg::Sloping {
        length_m,
        lower_m,
        upper_m,
    })
}

/// The bare pipe of a loss.
fn lossless_wall(loss: &Loss) -> Loss {
    Loss {
        minors: Vec::new(),
        equipment_a: 0.0,
        equipment_b: 0.0,
        ..*loss
    }
}

/// Puts an item where it counts; `ends_k` is what plain ends would lose.
fn share_out(course: &mut Course, item: &Item, ends_k: f64) {
    let minor = match item.kind {
        ItemKind::Pipe | ItemKind::Rise => return,
        ItemKind::Equipment { a, b } => {
            course.full.equipment_a += a;
            course.full.equipment_b += b;
            return;
        }
        ItemKind::Minor(minor) => minor,
    };
    match item.at {
        ItemAt::Entrance | ItemAt::Exit => course.top.minors.push(minor),
        ItemAt::Along => course.spread.minors.push(minor),
        ItemAt::Full => course.full.minors.push(minor),
        ItemAt::Together => {
            let at_ends = minor.k.min(ends_k);
            course.top.minors.push(Minor {
                k: at_ends,
                ..minor
            });
            let rest = minor.k - at_ends;
            course.spread.minors.push(Minor { k: rest, ..minor });
        }
    }
}
