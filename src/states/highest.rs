//! The highest place of a pipe so far: over it water has to go.

/// The highest of `first_m`, each height and all before it, metres.
pub(super) fn highest(first_m: f64, heights_m: impl Iterator<Item = f64>) -> Vec<f64> {
    let so_far = heights_m.scan(first_m, |so_far: &mut f64, height_m| {
        *so_far = so_far.max(height_m);
        Some(*so_far)
    });
    so_far.collect()
}
