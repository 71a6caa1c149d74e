//! Elbows for the bends of a route.

use crate::geometry::Corner;
use crate::layout::{FittingUse, Run};

/// Keys of the kinds in the catalogue.
const QUARTER: &str = "elbow-90";
const EIGHTH: &str = "elbow-45";
/// Largest bend that needs no fitting, degrees: pipe and sockets give that much (common practice, no source).
const LEAST_BEND_DEG: f64 = 12.0;
/// A bend of at least this is made with a quarter bend, degrees.
const LEAST_QUARTER_DEG: f64 = 60.0;
/// A larger bend doubles back and needs two quarter bends, degrees.
const TURNS_BACK_DEG: f64 = 120.0;
/// Shortest leg that counts, metres.
const NO_LEG_M: f64 = 1e-6;

/// Elbows of a route: quarter bends and eighth bends.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Elbows {
    /// Of 90°.
    pub quarters: u32,
    /// Of 45°.
    pub eighths: u32,
}

/// The elbows for the bends of a line through all `corners`.
///
/// None up to 12°, an eighth bend up to 60°, a quarter bend up to 120°, two of them above.
pub fn elbows(corners: &[Corner]) -> Elbows {
    let mut found = Elbows::default();
    let mut before: Option<[f64; 3]> = None;
    for pair in corners.windows(2) {
        let [from, to] = *pair else { continue };
        let leg = [to.x_m - from.x_m, to.y_m - from.y_m, to.z_m - from.z_m];
        if length(leg) < NO_LEG_M {
            continue;
        }
        if let Some(before) = before {
            match bend_deg(before, leg) {
                bend if bend <= LEAST_BEND_DEG => {}
                bend if bend < LEAST_QUARTER_DEG => found.eighths += 1,
                bend if bend <= TURNS_BACK_DEG => found.quarters += 1,
                _ => found.quarters += 2,
            }
        }
        before = Some(leg);
    }
    found
}

/// Adjusts the elbows of a run to its new route by the difference between the routes. Other elbows stay.
pub fn fit_to_route(run: &mut Run, before: &[Corner], after: &[Corner]) {
    let (old, new) = (elbows(before), elbows(after));
    change(&mut run.fittings, QUARTER, old.quarters, new.quarters);
    change(&mut run.fittings, EIGHTH, old.eighths, new.eighths);
}

fn change(fittings: &mut Vec<FittingUse>, kind: &str, old: u32, new: u32) {
    // Only elbows with the loss of the catalogue and without a place of their own count as drawn.
    let plain = |one: &&mut FittingUse| {
        one.kind == kind && one.k.is_none() && one.bore_m.is_none() && !one.is_placed()
    };
    match fittings.iter_mut().find(plain) {
        Some(one) => one.count = one.count.saturating_add(new).saturating_sub(old),
        None if new > old => fittings.push(FittingUse {
            kind: kind.to_owned(),
            count: new - old,
            k: None,
            choice: None,
            bore_m: None,
            at_m: None,
            near: None,
        }),
        None => {}
    }
    fittings.retain(|one| one.count > 0);
}

fn length([x, y, z]: [f64; 3]) -> f64 {
    (x * x + y * y + z * z).sqrt()
}

/// The bend from one leg to the next, degrees: 0 straight on, 180 back.
fn bend_deg(a: [f64; 3], b: [f64; 3]) -> f64 {
    let along = a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
    let share = along / (length(a) * length(b));
    share.clamp(-1.0, 1.0).acos().to_degrees()
}
