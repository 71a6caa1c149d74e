//! Offset of overlapping runs, so that both are visible.
//!
//! Only the line on the page is moved, by a few points: crests and their handles stay at their height.

use crate::draw::page::shape::Point;
use crate::layout::Id;
use std::collections::HashMap;

/// Distance within which legs overlap, points.
const SAME: f64 = 1.5;
/// Shared length from which legs overlap, points.
const LEAST: f64 = 8.0;
/// Steps by which a leg may be moved to either side.
const STEPS: [f64; 5] = [0.0, 1.0, -1.0, 2.0, -2.0];
/// Size of a bucket of the index, points.
const BUCKET: f64 = 8.0;

/// A line whose legs may be moved.
pub(super) struct MovableLeg<'p, 'a> {
    pub points: &'p mut [Point],
    /// Size of a step, points.
    pub step: f64,
    /// Joints at its ends: runs that meet in a joint may share a trunk.
    pub joints: [Option<&'a Id>; 2],
}

#[derive(Clone, Copy)]
struct AsideLeg<'a> {
    upright: bool,
    place: f64,
    from: f64,
    to: f64,
    joints: [Option<&'a Id>; 2],
}

/// Legs in use, by direction and position.
#[derive(Default)]
pub(super) struct LegLanes<'a> {
    taken: HashMap<(bool, i64), Vec<AsideLeg<'a>>>,
}

impl<'a> LegLanes<'a> {
    /// Moves the legs of a line that overlap legs in use, and marks them as in use.
    pub fn set(&mut self, line: &mut MovableLeg<'_, 'a>) {
        let mut moves = vec![(0.0, 0.0); line.points.len()];
        let mut taken = Vec::new();
        let mut start = 0;
        while let Some((end, mut leg)) = straight(line, start) {
            let by = self.free(leg, line.step);
            leg.place += by;
            taken.push(leg);
            for one in moves.get_mut(start..=end).into_iter().flatten() {
                if leg.upright {
                    one.0 = by;
                } else {
                    one.1 = by;
                }
            }
            start = end;
        }
        for (point, (dx, dy)) in line.points.iter_mut().zip(moves) {
            *point = point.moved(dx, dy);
        }
        for leg in taken {
            let key = (leg.upright, bucket(leg.place));
            self.taken.entry(key).or_default().push(leg);
        }
    }

    /// Returns the smallest move at which a leg overlaps no other; 0 if there is no room.
    fn free(&self, leg: AsideLeg<'_>, step: f64) -> f64 {
        let moves = STEPS.iter().map(|count| count * step);
        let mut free = moves.filter(|by| {
            let near = if *by == 0.0 { SAME } else { step * 0.8 };
            let place = leg.place + by;
            let key = bucket(place);
            let around = (key - 1..=key + 1).filter_map(|key| self.taken.get(&(leg.upright, key)));
            let mut around = around.flatten();
            !around.any(|other| (other.place - place).abs() < near && over(leg, *other))
        });
        free.next().unwrap_or(0.0)
    }
}

fn over(a: AsideLeg<'_>, b: AsideLeg<'_>) -> bool {
    let shared = a.to.min(b.to) - a.from.max(b.from);
    let trunk = a
        .joints
        .iter()
        .flatten()
        .any(|id| b.joints.contains(&Some(id)));
    shared > LEAST && !trunk
}

// The value is rounded and in range, so the cast is exact.
fn bucket(place: f64) -> i64 {
    (place / BUCKET).round().clamp(-1e12, 1e12) as i64
}

/// Returns the straight level or vertical leg that starts at `start`, and the index of its end.
fn straight<'a>(line: &MovableLeg<'_, 'a>, start: usize) -> Option<(usize, AsideLeg<'a>)> {
    let from = *line.points.get(start)?;
    let next = *line.points.get(start + 1)?;
    let upright = (next.x - from.x).abs() < (next.y - from.y).abs();
    let off = |point: &Point| {
        if upright {
            (point.x - from.x).abs()
        } else {
            (point.y - from.y).abs()
        }
    };
    let rest = line.points.get(start + 1..).unwrap_or_default();
    let count = rest.iter().take_while(|point| off(point) < 0.01).count();
    let end = start + count.max(1);
    let last = *line.points.get(end)?;
    let (place, a, b) = if upright {
        (from.x, from.y, last.y)
    } else {
        (from.y, from.x, last.x)
    };
    // A sloping leg is not moved: it counts as a leg without length.
    let (a, b) = if count == 0 { (a, a) } else { (a, b) };
    let leg = AsideLeg {
        upright,
        place,
        from: a.min(b),
        to: a.max(b),
        joints: line.joints,
    };
    Some((end, leg))
}
