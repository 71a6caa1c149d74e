//! Times of emptying and of equalising, by traces.
//!
//! "Empty" of a tank that drains to its own outlet is the limit of √h: the last centimetre is
//! reckoned from the times at 4 cm and at 1 cm, between which √h falls by as much as after them.

use super::course::Course;
use super::layout;
use crate::hydraulics::units::FT;
use crate::verification::{Case, checks};

fn time_to_m(given: &Case, level_m: f64) -> f64 {
    Course::tall(layout(given)).time_to("tank", level_m)
}

fn time_to_empty(given: &Case) -> f64 {
    let course = Course::tall(layout(given));
    2.0 * course.time_to("tank", 0.01) - course.time_to("tank", 0.04)
}

/// The orifice coefficient with which the tank of Lal Ex 3.6 falls to 2 ft in 4 minutes.
fn coefficient_of_orifice(given: &Case) -> f64 {
    let (mut low, mut high) = (0.4, 0.9);
    for _ in 0..25 {
        let middle: f64 = 0.5 * (low + high);
        let mut layout = layout(given);
        layout.runs[0].total_k = Some(middle.powi(-2));
        if Course::tall(layout).level_after("tank", 240.0) > 2.0 * FT {
            low = middle;
        } else {
            high = middle;
        }
    }
    0.5 * (low + high)
}

/// 25 m³ over the 50 m² of the upper tank is half a metre.
fn time_of_transfer(given: &Case) -> f64 {
    let layout = layout(given);
    let from_m = layout.vessels[0].fill_m;
    Course::tall(layout).time_to("upper", from_m - 25.0 / 50.0)
}

fn fall_in_a_quarter(given: &Case) -> f64 {
    let layout = layout(given);
    let from_m = layout.vessels[0].fill_m;
    from_m - Course::tall(layout).level_after("larger", 900.0)
}

checks! {
    val_lal_orifice: "T-LAL36" => coefficient_of_orifice;
    val_sarkar_two_tanks: "T-SARK48" => time_of_transfer;
    val_choudhary_fall: "T-CH616A" => |given| time_to_m(given, 2.0);
    val_choudhary_large_empty: "T-CH616B" => time_to_empty;
    val_choudhary_small_empty: "T-CH617" => time_to_empty;
    // The last millimetres over a lip take as long as one likes to look at it.
    val_lal_falling_pipe: "T-LAL519A" => |given| time_to_m(given, 0.002);
    val_lal_level_pipe: "T-LAL519B" => time_to_empty;
    val_massey_two_pipes: "T-MASSEY76" => fall_in_a_quarter;
}
