//! Findings on the drawing itself: one for each problem that lowering met.
//!
//! They hold in every state and are reported for the running one.

mod catalogue;
mod connections;
mod hazen_williams;
mod large_numbers;
mod openings;
mod pumps;
mod spills;
mod wording;

use crate::finding::Finding;
use crate::lower::problem::Problem;

/// Returns the finding on a problem of the drawing, without cures.
pub fn of_problem(problem: &Problem) -> Finding {
    match problem {
        Problem::NotReached(part) => connections::not_reached(part),
        Problem::EndsNowhere { run, missing } => connections::ends_nowhere(run, missing),
        Problem::SpillRing(vessels) => spills::ring(vessels),
        Problem::SpillUphill(climb) => spills::uphill(climb),
        Problem::Overlap {
            vessels: [one, other],
            by_m,
            limit_m,
        } => connections::overlap([one, other], *by_m, *limit_m),
        Problem::HazenWilliamsBore {
            run,
            bore_m,
            least_m,
        } => hazen_williams::bore(run, *bore_m, *least_m),
        Problem::HazenWilliamsTemperature {
            runs,
            temperature_c,
            range_c,
        } => hazen_williams::temperature(runs, *temperature_c, *range_c),
        Problem::NotInCatalogue { run, entry, .. } => catalogue::unknown(run, entry),
        Problem::PumpCurve { pump, run, fault } => pumps::curve(pump, run, *fault),
        Problem::UnventedOverflow { run, at } => openings::unvented(run, at),
        Problem::TwoRaisedIntakes { run, at } => openings::two_raised(run, at),
        Problem::CrestAboveRim { opening, rim_m } => openings::above_rim(opening, *rim_m),
        Problem::OpeningBelowFloor { opening, floor_m } => openings::below_floor(opening, *floor_m),
        Problem::NarrowNotch {
            run,
            size,
            value,
            least,
        } => openings::narrow_notch(run, *size, *value, *least),
        Problem::LargeNumber {
            number,
            parts,
            value,
            limit,
        } => large_numbers::large(*number, parts, *value, *limit),
        Problem::WiderThanVessel {
            run,
            vessel,
            bore_m,
            width_m,
        } => large_numbers::wider(run, vessel, *bore_m, *width_m),
    }
}
