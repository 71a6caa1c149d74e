//! Overlap of outlines in the plan.

use super::PlanPoint;

/// Whether two convex outlines, given by their corners in order, overlap by more than `by_m`, metres; outlines that
/// only touch do not.
///
/// By the separating axis theorem: two convex outlines are apart where their projections on the normal of one of their
/// sides are. An outline with fewer than three corners overlaps nothing.
pub fn overlap(one: &[PlanPoint], other: &[PlanPoint], by_m: f64) -> bool {
    overlap_m(one, other) > by_m
}

/// Depth by which two convex outlines overlap, metres; not above 0 where they are apart or only touch.
pub fn overlap_m(one: &[PlanPoint], other: &[PlanPoint]) -> f64 {
    if one.len() < 3 || other.len() < 3 {
        return 0.0;
    }
    let normals = normals(one).chain(normals(other));
    let least = normals
        .map(|normal| along(one, normal, other))
        .min_by(f64::total_cmp);
    least.unwrap_or(0.0)
}

/// The normals of all sides, of length one.
fn normals(outline: &[PlanPoint]) -> impl Iterator<Item = (f64, f64)> + '_ {
    let next = outline.iter().cycle().skip(1);
    outline.iter().zip(next).filter_map(|(from, to)| {
        let (x, y) = (to.x_m - from.x_m, to.y_m - from.y_m);
        let length = x.hypot(y);
        (length > 0.0).then(|| (-y / length, x / length))
    })
}

/// Overlap in the direction of one normal, metres; below 0 where they are apart.
fn along(one: &[PlanPoint], (x, y): (f64, f64), other: &[PlanPoint]) -> f64 {
    let range = |outline: &[PlanPoint]| {
        let far = outline.iter().map(|spot| spot.x_m * x + spot.y_m * y);
        far.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| {
            (low.min(at), high.max(at))
        })
    };
    let ((low, high), (least, most)) = (range(one), range(other));
    high.min(most) - low.max(least)
}
