//! The profile of a run, on which its grade is marched.

use super::SAME_HEIGHT_M;
use super::chains::Beyond;
use super::ends::{Lip, LoweredEnd};
use super::profile::{Ends, SHORTEST_M, Stretch, between, falls_at_last, high_points};
use super::{Item, ItemAt, ItemKind, LoweringContext};
use crate::geometry::{Corner, route_length_m};
use crate::hydraulics::losses::loss::{Loss, Minor};
use crate::hydraulics::profile::grade_table::Grade;
use crate::hydraulics::profile::march_profile::{Leg, LocalLoss, MarchProfile, Outfall, lossless};
use crate::network::Outlet;

/// The route of a run, in the direction of a flow.
#[derive(Clone)]
pub(super) struct Route<'a> {
    pub context: &'a LoweringContext<'a>,
    /// From end to end; heights are inverts.
    pub corners: Vec<Corner>,
    /// Corners between the ends were entered.
    pub given: bool,
    /// Length used in computation, metres; the drawn length may differ.
    pub length_m: f64,
    /// A running pump pushes its water, so that no leg of it is marched with a free surface.
    pub pumped: bool,
    /// What lies beyond its two ends, where they are joints.
    pub beyond: [Option<Beyond>; 2],
}

/// Losses of a flow along a route: item by item, and the sum.
pub(super) type ItemLosses<'a> = (&'a [Item], &'a Loss);

/// The laws of a run in which air may stand: with air at all its high points, and primed, where all but those with a
/// vent run full. Each for a flow along it and for one back.
pub(super) struct Grades {
    pub with_air: [Option<Box<Grade>>; 2],
    pub primed: [Option<Box<Grade>>; 2],
}

impl Grades {
    /// For a run that is always full.
    pub fn none() -> Grades {
        Grades {
            with_air: [None, None],
            primed: [None, None],
        }
    }
}

impl Route<'_> {
    /// The grade laws of a flow along the route and of one back, where they are marched.
    pub(super) fn grades(
        &self,
        [source, target]: [&LoweredEnd; 2],
        [lost, lost_back]: [ItemLosses<'_>; 2],
    ) -> Grades {
        let [air, full] = self.grade([source, target], lost);
        let [air_back, full_back] = self.turned().grade([target, source], lost_back);
        Grades {
            with_air: [air, air_back],
            primed: [full, full_back],
        }
    }

    fn turned(&self) -> Self {
        let [source, target] = self.beyond;
        Route {
            corners: self.corners.iter().rev().copied().collect(),
            beyond: [target, source],
            ..self.clone()
        }
    }

    /// The grade laws of a flow along the route, with air and primed; none where that flow counts as filling the run.
    fn grade(
        &self,
        ends: [&LoweredEnd; 2],
        (items, loss): ItemLosses<'_>,
    ) -> [Option<Box<Grade>>; 2] {
        let [upper, outlet] = ends;
        if !outlet.found || !upper.found {
            return [None, None];
        }
        let marched = !self.pumped && is_marched(outlet);
        let course = self.march_profile(ends, items, (&lossless_wall(loss), marched));
        let mut primed = MarchProfile {
            high_points: course.high_points.clone(),
            ..full(&course)
        };
        primed.high_points.retain(|point| point.vented);
        let with_air = if marched { course } else { full(&course) };
        let law = |course: MarchProfile| Grade::new(course, loss.clone()).map(Box::new);
        let primed = Some(primed).filter(|course| !course.high_points.is_empty());
        [law(with_air), primed.and_then(law)]
    }

    fn march_profile(
        &self,
        [upper, outlet]: [&LoweredEnd; 2],
        items: &[Item],
        (pipe, marched): (&Loss, bool),
    ) -> MarchProfile {
        let mut stretches = self.stretches(upper);
        let places = self.cut(&mut stretches, items);
        let legs = stretches.iter().rev().map(leg).collect();
        let ends = Ends {
            upper: self.beyond[0].map(|beyond| (beyond, upper.corner.vented)),
            lower: self.beyond[1],
            fills: self.pumped || matches!(upper.lip, Lip::Unknown),
            risen: upper.lip == Lip::Unknown && self.climbs_out(),
        };
        let mut course = MarchProfile {
            legs,
            outlet_m: Some(outlet.port.lip_m)
                .filter(|lip_m| lip_m.is_finite())
                .unwrap_or_else(|| self.corners.last().map_or(0.0, |last| last.z_m)),
            outfall: outfall(outlet),
            falls_to_outlet: falls_at_last(&stretches),
            high_points: high_points(&stretches, &ends),
            local: Vec::new(),
            pipe: pipe.clone(),
            spread: lossless(pipe),
            top: lossless(pipe),
            full: lossless(pipe),
        };
        let exit_k = self.context.layout.coefficients.exit_k;
        let at_ends = [
            upper.bore_m.map_or(0.0, |_| upper.entrance_k),
            outlet.bore_m.map_or(0.0, |_| exit_k),
        ];
        for (item, place) in items.iter().zip(places) {
            match place {
                Some((boundary, invert_m)) => {
                    let invert_m = if marched { invert_m } else { f64::NEG_INFINITY };
                    let one = (item, pipe, boundary, invert_m);
                    course.local.extend(local(one));
                }
                None => share_out(&mut course, item, at_ends.iter().sum()),
            }
        }
        course
            .local
            .extend(sill_at_joint(&stretches, &course).filter(|_| marched));
        course.local.sort_by_key(|loss| loss.boundary);
        if course.outfall == Outfall::Joint {
            // The velocity head is carried on through the joint, and is lost further on if at all.
            let rides_on = Minor {
                k: 1.0,
                bore_m: course.bore_m(),
            };
            course.top.minors.push(rides_on);
        }
        if course.length_m() < SHORTEST_M {
            let spread = std::mem::take(&mut course.spread.minors);
            course.top.minors.extend(spread);
        }
        course
    }

    /// Cuts the pieces at the positions of items, and returns for each item its boundary and the invert there; none
    /// where it has no position along the run.
    fn cut(&self, stretches: &mut Vec<Stretch>, items: &[Item]) -> Vec<Option<(usize, f64)>> {
        let place_m = |item: &Item| match item.at {
            ItemAt::Along(along_m) => Some(along_m.clamp(0.0, self.length_m)),
            _ => None,
        };
        for along_m in items.iter().filter_map(place_m) {
            let (index, rest_m) = piece_at(stretches, along_m);
            let Some(piece) = stretches.get(index).copied() else {
                continue;
            };
            if rest_m > SHORTEST_M && rest_m < piece.length_m - SHORTEST_M {
                stretches.splice(index..=index, piece.cut(rest_m / piece.length_m));
            }
        }
        let settled = |item: &Item| {
            let along_m = place_m(item)?;
            let (index, rest_m) = piece_at(stretches, along_m);
            let piece = stretches.get(index)?;
            let behind = rest_m > 0.5 * piece.length_m;
            let boundary = stretches.len() - index - usize::from(behind);
            let invert_m = if behind { piece.lower_m } else { piece.upper_m };
            // At a mouth with a vertical pipe below it the law of the mouth applies.
            let at_mouth = boundary == stretches.len() && piece.plumb;
            Some((
                boundary,
                if at_mouth {
                    f64::NEG_INFINITY
                } else {
                    invert_m
                },
            ))
        };
        items.iter().map(settled).collect()
    }

    /// Pieces in the direction of the flow.
    fn stretches(&self, upper: &LoweredEnd) -> Vec<Stretch> {
        if !self.given {
            return self.plain(upper);
        }
        let mut corners = self.corners.clone();
        if let (Lip::Unknown, [first, next, ..]) = (upper.lip, corners.as_mut_slice()) {
            first.z_m = next.z_m;
        }
        between(&corners, self.length_m)
    }

    /// From a submerged end of unknown height the pipe first rises.
    fn climbs_out(&self) -> bool {
        match self.corners.as_slice() {
            [first, next, ..] => self.given && next.z_m > first.z_m + SAME_HEIGHT_M,
            _ => false,
        }
    }

    /// The height between its ends, metres.
    fn fall_m(&self) -> f64 {
        let ends = self.corners.first().zip(self.corners.last());
        ends.map_or(0.0, |(from, to)| (from.z_m - to.z_m).abs())
    }

    /// Length of vertical pipe below a lip that faces up, where no corners are given, metres.
    fn plumb_m(&self) -> f64 {
        self.fall_m().min(self.length_m)
    }

    /// Fraction of the length up to each corner, with its height, along the link: the pipe on which these laws
    /// were marched.
    pub(super) fn shares(
        &self,
        [source, target]: [&LoweredEnd; 2],
        grades: &Grades,
    ) -> Vec<(f64, f64)> {
        let plumb = self.plumb_m() / self.length_m;
        if !self.given
            && plumb.is_finite()
            && let [from, to] = self.corners.as_slice()
        {
            match &grades.with_air {
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
                // Drawn at a single point: its length lies somewhere between its ends.
                place as f64 / legs as f64
            };
            shares.push((share, corner.z_m));
            before = Some(*corner);
        }
        shares
    }

    /// Without given corners: from a lip straight down and then level, else straight.
    fn plain(&self, upper: &LoweredEnd) -> Vec<Stretch> {
        let [from, to] = self.corners.as_slice() else {
            return Vec::new();
        };
        let ends_m = [from.z_m, to.z_m];
        let level = |length_m: f64| Stretch::straight(length_m, [to.z_m, to.z_m]);
        let pieces = match upper.lip {
            Lip::Unknown => vec![level(self.length_m)],
            Lip::Up => {
                let plumb_m = self.plumb_m();
                vec![
                    Stretch::down(plumb_m, ends_m),
                    level(self.length_m - plumb_m),
                ]
            }
            Lip::Horizontal | Lip::Down | Lip::Joint => {
                vec![Stretch::straight(self.length_m, ends_m)]
            }
        };
        let counts = |piece: &Stretch| piece.plumb || piece.length_m > SHORTEST_M;
        pieces.into_iter().filter(counts).collect()
    }
}

/// Whether a flow that leaves there by gravity can have a free surface.
fn is_marched(outlet: &LoweredEnd) -> bool {
    match outlet.lip {
        Lip::Joint => true,
        Lip::Horizontal | Lip::Down => outlet.port.lip_m.is_finite(),
        Lip::Up | Lip::Unknown => false,
    }
}

fn outfall(outlet: &LoweredEnd) -> Outfall {
    match (outlet.lip, outlet.port.outlet) {
        (Lip::Joint, _) => Outfall::Joint,
        (Lip::Horizontal, Outlet::Critical { bore_m }) => Outfall::Critical { bore_m },
        (Lip::Horizontal, Outlet::Full { bore_m }) => Outfall::Full { bore_m },
        _ => Outfall::Lip,
    }
}

/// The same run with no free surface anywhere but at its high points.
fn full(course: &MarchProfile) -> MarchProfile {
    let plumb = |leg: &Leg| Leg::Plumb {
        length_m: leg.length_m(),
    };
    let mut full = course.clone();
    full.legs = course.legs.iter().map(plumb).collect();
    full.outfall = match course.outfall {
        Outfall::Critical { bore_m } => Outfall::Full { bore_m },
        other => other,
    };
    for local in &mut full.local {
        local.invert_m = f64::NEG_INFINITY;
    }
    full
}

/// The piece that contains a distance along the flow, and the distance into it, metres.
fn piece_at(stretches: &[Stretch], along_m: f64) -> (usize, f64) {
    let mut rest_m = along_m;
    for (index, piece) in stretches.iter().enumerate() {
        if rest_m <= piece.length_m || index + 1 == stretches.len() {
            return (index, rest_m.min(piece.length_m));
        }
        rest_m -= piece.length_m;
    }
    (0, 0.0)
}

fn leg(piece: &Stretch) -> Leg {
    let length_m = piece.length_m;
    if piece.plumb {
        Leg::Plumb { length_m }
    } else {
        Leg::Sloping {
            length_m,
            lower_m: piece.lower_m,
            upper_m: piece.upper_m,
        }
    }
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

/// Where a pipe rises vertically into a joint: the water that arrives there still has to pass it.
fn sill_at_joint(stretches: &[Stretch], course: &MarchProfile) -> Option<LocalLoss> {
    let last = stretches.last()?;
    let rises = last.plumb && last.lower_m > last.upper_m + SAME_HEIGHT_M;
    (rises && course.outfall == Outfall::Joint).then(|| LocalLoss {
        boundary: 0,
        invert_m: last.lower_m,
        loss: lossless(&course.pipe),
    })
}

/// The loss of an item at its own position.
fn local((item, pipe, boundary, invert_m): (&Item, &Loss, usize, f64)) -> Option<LocalLoss> {
    let mut loss = lossless(pipe);
    match item.kind {
        ItemKind::Minor(minor) => loss.minors.push(minor),
        ItemKind::Equipment { a, b } => {
            loss.equipment_a += a;
            loss.equipment_b += b;
        }
        ItemKind::Pipe | ItemKind::Rise | ItemKind::Screen { .. } => return None,
    }
    Some(LocalLoss {
        boundary,
        invert_m,
        loss,
    })
}

/// Assigns the loss of an item to its position; `ends_k` is the loss of plain ends.
fn share_out(course: &mut MarchProfile, item: &Item, ends_k: f64) {
    let minor = match item.kind {
        ItemKind::Pipe | ItemKind::Rise | ItemKind::Screen { .. } => return,
        ItemKind::Equipment { a, b } => {
            course.full.equipment_a += a;
            course.full.equipment_b += b;
            return;
        }
        ItemKind::Minor(minor) => minor,
    };
    match item.at {
        ItemAt::Entrance | ItemAt::Exit => course.top.minors.push(minor),
        ItemAt::Spread => course.spread.minors.push(minor),
        ItemAt::Full | ItemAt::Along(_) => course.full.minors.push(minor),
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
