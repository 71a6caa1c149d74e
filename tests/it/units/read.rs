//! What people type, read back.

use fallwright::units::{Quantity, UnitSystem, read, write};

fn near(text: &str, quantity: Quantity, system: UnitSystem, si: f64) {
    let value = read(quantity, text, system).unwrap_or_else(|error| panic!("{text}: {error}"));
    assert!(
        (value - si).abs() < 1e-9 * si.abs().max(1.0),
        "{text} reads {value}, not {si}"
    );
}

#[test]
fn heights_are_read_as_people_say_them() {
    let metric = |text, si| near(text, Quantity::Height, UnitSystem::Metric, si);
    metric("1215", 1.215);
    metric(" 1215 mm ", 1.215);
    metric("1.215 m", 1.215);
    metric("1,215 m", 1.215);
    metric("121.5cm", 1.215);
    metric("-120", -0.12);
    metric("−120 mm", -0.12);
    metric("4 ft", 1.2192);
    let us = |text, si| near(text, Quantity::Height, UnitSystem::Us, si);
    us("48", 1.2192);
    us("4 ft", 1.2192);
    us("4' 0 1/2\"", 1.2192 + 0.0127);
    us("3 ft 11 13/16 in", 0.9144 + 11.8125 * 0.0254);
    us("1/2", 0.0127);
    us("-4 1/16 in", -4.0625 * 0.0254);
    us("1215 mm", 1.215);
}

#[test]
fn other_quantities_are_read_with_their_units() {
    near("12", Quantity::Flow, UnitSystem::Metric, 12.0 / 3600.0);
    near("30 L/min", Quantity::Flow, UnitSystem::Us, 0.0005);
    near(
        "50 gpm",
        Quantity::Flow,
        UnitSystem::Metric,
        50.0 * 0.003_785_411_784 / 60.0,
    );
    near("64.4", Quantity::Temperature, UnitSystem::Us, 18.0);
    near("18 °C", Quantity::Temperature, UnitSystem::Us, 18.0);
    near("50 %", Quantity::Ratio, UnitSystem::Metric, 0.5);
    near("2.4", Quantity::Length, UnitSystem::Metric, 2.4);
    near("57", Quantity::Bore, UnitSystem::Metric, 0.057);
}

#[test]
fn what_cannot_be_read_is_refused_with_an_example() {
    for text in [
        "",
        "abc",
        "12 apples",
        "1 200",
        "1e9",
        "1/0",
        "--5",
        "5 m 3",
        "NaN",
        "inf",
        "1 m 2 ft",
    ] {
        let refused = read(Quantity::Height, text, UnitSystem::Metric);
        assert!(
            refused.as_ref().is_err_and(|why| why.contains("1215")),
            "{text}: {refused:?}"
        );
    }
}

#[test]
fn a_comma_that_may_stand_between_thousands_is_asked_about() {
    let refused = read(Quantity::Height, "1,215", UnitSystem::Metric).unwrap_err();
    assert_eq!(
        refused,
        "1,215 can be read in two ways: type 1215 or 1.215."
    );
    near("1,5 m", Quantity::Height, UnitSystem::Metric, 1.5);
}

#[test]
fn prop_what_is_written_reads_back() {
    for system in [UnitSystem::Metric, UnitSystem::Us] {
        for step in -400..4000 {
            let metres = f64::from(step) * 0.003_17;
            let text = write(Quantity::Height, metres, system);
            let back = read(Quantity::Height, &text, system).unwrap();
            // To the millimetre or the sixteenth of an inch that was written.
            assert!(
                (back - metres).abs() < 0.000_81,
                "{text} of {metres} reads {back}"
            );
        }
    }
}
