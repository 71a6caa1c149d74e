//! Values that nobody measures, and values on the border of a unit.

use fallwright::units::{NOT_KNOWN, Quantity as Q, UnitSystem, write};
use proptest::prelude::*;

const SYSTEMS: [UnitSystem; 2] = [UnitSystem::Metric, UnitSystem::Us];

#[test]
fn what_is_not_a_number_is_not_known() {
    for quantity in Q::ALL {
        for system in SYSTEMS {
            for value in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
                assert_eq!(write(quantity, value, system), NOT_KNOWN);
            }
        }
    }
}

#[test]
fn nought_has_no_sign_and_what_is_too_small_to_measure_is_nought() {
    for value in [0.0, -0.0, 1e-12, -1e-12] {
        assert_eq!(write(Q::Height, value, UnitSystem::Metric), "0 mm");
        assert_eq!(write(Q::Height, value, UnitSystem::Us), "0 in");
        assert_eq!(write(Q::Flow, value, UnitSystem::Metric), "0 m³/h");
        assert_eq!(write(Q::Temperature, value, UnitSystem::Metric), "0.0 °C");
    }
}

#[test]
fn absurd_sizes_take_a_power_of_ten() {
    assert_eq!(write(Q::Height, 1e9, UnitSystem::Metric), "1.00e9 m");
    assert_eq!(write(Q::Height, 1e9, UnitSystem::Us), "3.28e9 ft");
    assert_eq!(write(Q::Flow, 1e9, UnitSystem::Metric), "3.60e12 m³/h");
    assert_eq!(write(Q::Ratio, 1e300, UnitSystem::Us), "1.00e300");
}

#[test]
fn rounding_up_does_not_add_a_figure() {
    assert_eq!(write(Q::Velocity, 9.996, UnitSystem::Metric), "10.0 m/s");
    assert_eq!(write(Q::Height, 9.999_6, UnitSystem::Metric), "10000 mm");
    assert_eq!(
        write(Q::Height, 999.999_6, UnitSystem::Metric),
        "1000.000 m"
    );
    assert_eq!(write(Q::Height, 0.304_79, UnitSystem::Us), "1 ft 0 in");
    assert_eq!(
        write(Q::Velocity, 0.000_6, UnitSystem::Metric),
        "0.000600 m/s"
    );
    assert_eq!(
        write(Q::Velocity, 123_456.0, UnitSystem::Metric),
        "123000 m/s"
    );
}

/// The inches that a tape text stands for.
fn inches(text: &str) -> f64 {
    let sign = if text.starts_with('-') { -1.0 } else { 1.0 };
    let (mut sum, mut number) = (0.0, 0.0);
    for word in text.trim_start_matches('-').split(' ') {
        match (word, word.split_once('/')) {
            ("ft", _) => (sum, number) = (sum + 12.0 * number, 0.0),
            ("in", _) => (sum, number) = (sum + number, 0.0),
            (_, Some((over, under))) => {
                number += over.parse::<f64>().unwrap() / under.parse::<f64>().unwrap();
            }
            _ => number += word.parse::<f64>().unwrap(),
        }
    }
    sign * sum
}

#[test]
fn the_largest_numbers_are_still_numbers() {
    let text = write(Q::Velocity, f64::MAX, UnitSystem::Metric);
    assert_eq!(text, "1.80e308 m/s");
}

proptest! {
    #[test]
    fn prop_a_tape_reads_back_within_half_a_sixteenth(value_m in -200.0..200.0_f64) {
        let read = inches(&write(Q::Height, value_m, UnitSystem::Us));
        prop_assert!((read - value_m / 0.0254).abs() <= 1.0 / 32.0 + 1e-9);
    }

    #[test]
    fn prop_three_figures_are_within_half_of_the_third(value in 1e-3..1e5_f64) {
        let text = write(Q::Velocity, value, UnitSystem::Metric);
        let read: f64 = text.trim_end_matches(" m/s").parse().unwrap();
        prop_assert!((read / value - 1.0).abs() <= 0.005 + 1e-12);
    }

    #[test]
    fn prop_any_bits_are_written_without_nan_or_inf(bits in any::<u64>()) {
        for quantity in Q::ALL {
            for system in SYSTEMS {
                let text = write(quantity, f64::from_bits(bits), system);
                prop_assert!(!text.contains("NaN") && !text.contains("inf"), "{text}");
                prop_assert!(!text.starts_with("-0 ") && text.len() < 40, "{text}");
            }
        }
    }
}
