//! What people type, read back.

use fallwright::units::{Quantity, UnitSystem, read, unit_for, write};
use proptest::prelude::*;

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
fn a_tape_is_read_however_it_is_written() {
    let inches = |text: &str, inches: f64| {
        for system in [UnitSystem::Metric, UnitSystem::Us] {
            near(text, Quantity::Height, system, inches * 0.0254);
        }
    };
    inches("2\"", 2.0);
    inches("1 1/2 in", 1.5);
    inches("1-1/2\"", 1.5);
    inches("1½ in", 1.5);
    inches("1⅛”", 1.125);
    inches("⅝ in.", 0.625);
    inches("2⅓ inches", 7.0 / 3.0);
    inches("1\u{a0}1⁄2 in", 1.5);
    inches("4 ft 3 1/2", 51.5);
    inches("4 ft 3", 51.0);
    inches("4'3 1/2\"", 51.5);
    inches("4'-3½\"", 51.5);
    inches("4’ 3 1/2”", 51.5);
    inches("4′3″", 51.0);
    inches("4 ft. 3 in.", 51.0);
    inches("4ft3in", 51.0);
    inches("4 feet and 3 inches", 51.0);
    inches("4 ft, 3 in", 51.0);
    inches("-4' 3\"", -51.0);
    inches("3 yd", 108.0);
}

#[test]
fn every_quantity_is_read_in_the_units_of_its_trade() {
    let gallon = 0.003_785_411_784;
    let foot = 0.3048;
    let rows = [
        ("63 mm", Quantity::Bore, 0.063),
        ("265 gal", Quantity::Volume, 265.0 * gallon),
        ("265 US gal", Quantity::Volume, 265.0 * gallon),
        ("220 imp gal", Quantity::Volume, 220.0 * 0.004_546_09),
        (
            "220 Imperial gallons",
            Quantity::Volume,
            220.0 * 0.004_546_09,
        ),
        ("1000 L", Quantity::Volume, 1.0),
        ("1\u{202f}000 L", Quantity::Volume, 1.0),
        ("1.2 m3", Quantity::Volume, 1.2),
        ("9 cu. ft", Quantity::Volume, 9.0 * foot * foot * foot),
        ("22 L/min", Quantity::Flow, 22e-3 / 60.0),
        ("22 litres per minute", Quantity::Flow, 22e-3 / 60.0),
        ("22 litres a minute", Quantity::Flow, 22e-3 / 60.0),
        ("22 lpm", Quantity::Flow, 22e-3 / 60.0),
        ("500 gph", Quantity::Flow, 500.0 * gallon / 3600.0),
        ("500 gal/h", Quantity::Flow, 500.0 * gallon / 3600.0),
        ("50 US gpm", Quantity::Flow, 50.0 * gallon / 60.0),
        ("50 imp gal/min", Quantity::Flow, 50.0 * 0.004_546_09 / 60.0),
        ("14 m3/h", Quantity::Flow, 14.0 / 3600.0),
        ("14 m^3/hr", Quantity::Flow, 14.0 / 3600.0),
        ("14 m³ per hour", Quantity::Flow, 14.0 / 3600.0),
        ("0.75 hp", Quantity::Power, 0.75 * 745.699_871_582_270_2),
        ("3/4 hp", Quantity::Power, 0.75 * 745.699_871_582_270_2),
        ("0,55 kW", Quantity::Power, 550.0),
        ("180W", Quantity::Power, 180.0),
        ("8 psi", Quantity::Pressure, 8.0 * 6_894.757_293_168_361),
        ("0.5 bar", Quantity::Pressure, 5e4),
        ("50 kPa", Quantity::Pressure, 5e4),
        ("50", Quantity::Pressure, 5e4),
        ("1.8 m²", Quantity::Area, 1.8),
        ("1.8 m2", Quantity::Area, 1.8),
        ("20 sq. ft.", Quantity::Area, 20.0 * foot * foot),
        ("20 square feet", Quantity::Area, 20.0 * foot * foot),
        ("90 s", Quantity::Time, 90.0),
        ("2 h 5 min", Quantity::Time, 7_500.0),
        ("1 day 3 h", Quantity::Time, 97_200.0),
        ("1 h 30", Quantity::Time, 5_400.0),
        ("0.9 m/s", Quantity::Velocity, 0.9),
        ("3 ft/s", Quantity::Velocity, 3.0 * foot),
        ("3 feet per second", Quantity::Velocity, 3.0 * foot),
        ("64 °F", Quantity::Temperature, 160.0 / 9.0),
        ("-4 degC", Quantity::Temperature, -4.0),
        ("50 percent", Quantity::Ratio, 0.5),
        ("1/2", Quantity::Ratio, 0.5),
        ("1.5 times an hour", Quantity::Turnover, 1.5 / 3600.0),
        ("1.5 an hour", Quantity::Turnover, 1.5 / 3600.0),
        ("36 per day", Quantity::Turnover, 1.5 / 3600.0),
        ("1.5/h", Quantity::Turnover, 1.5 / 3600.0),
    ];
    for (text, quantity, si) in rows {
        near(text, quantity, UnitSystem::Metric, si);
    }
}

#[test]
fn val_eight_psi_are_five_metres_sixty_three_of_water() {
    // 8 · 6894.757 / (998.207 · 9.80665), density of water at 20 °C and 101 325 Pa from the reference tables.
    let head = read(Quantity::Head, "8 psi", UnitSystem::Metric).unwrap();
    assert!((head - 5.6347).abs() < 5e-4, "{head}");
    near("10 ft of head", Quantity::Head, UnitSystem::Metric, 3.048);
    near("3 m of water", Quantity::Head, UnitSystem::Us, 3.0);
    near(
        "3 mH2O",
        Quantity::Pressure,
        UnitSystem::Us,
        3.0 * 998.207 * 9.806_65,
    );
    near(
        "10 ft head",
        Quantity::Pressure,
        UnitSystem::Us,
        3.048 * 998.207 * 9.806_65,
    );
}

#[test]
fn a_pressure_read_as_a_head_has_the_density_that_the_program_computes() {
    let water = fallwright::hydraulics::water::Water::at(20.0, 0.0).unwrap();
    let ours = fallwright::units::convert::FRESH_WATER_KG_M3;
    assert!((water.density_kg_m3 / ours - 1.0).abs() < 1e-4, "{ours}");
}

fn why(quantity: Quantity, text: &str, system: UnitSystem) -> String {
    match read(quantity, text, system) {
        Ok(value) => panic!("{text} was read as {value}"),
        Err(why) => why,
    }
}

#[test]
fn a_unit_of_something_else_is_explained() {
    let metric = |quantity, text| why(quantity, text, UnitSystem::Metric);
    assert_eq!(
        metric(Quantity::Height, "22 L/min"),
        "L/min is a flow; a height is typed such as 1215 or 1.215 m."
    );
    assert_eq!(
        metric(Quantity::Height, "5 m of water"),
        "m of water is a head of water; a height is typed such as 1215 or 1.215 m."
    );
    assert_eq!(
        metric(Quantity::Pressure, "5 m"),
        "m is a length; a pressure is typed such as 50 kPa or 5 m of water."
    );
    assert_eq!(
        metric(Quantity::Flow, "500 gal"),
        "gal does not say in which time; type 500 gpm by the minute, or 500 gph by the hour."
    );
    assert_eq!(
        metric(Quantity::Flow, "30 L"),
        "L does not say in which time; type 30 L/min by the minute, or 30 L/h by the hour."
    );
    assert_eq!(
        why(Quantity::Area, "20 ft", UnitSystem::Us),
        "ft is a length; an area is typed such as 20 sq ft."
    );
    // Minutes are min: 5 m is a length.
    assert!(
        metric(Quantity::Time, "5 m").starts_with("m is a length; a time is typed such as 90 s")
    );
}

#[test]
fn a_word_that_is_no_unit_is_called_by_its_name() {
    assert_eq!(
        why(Quantity::Height, "12 apples", UnitSystem::Metric),
        "“apples” is no unit that is understood; a height is typed such as 1215 or 1.215 m."
    );
    assert_eq!(
        why(Quantity::Flow, "12 gmp", UnitSystem::Us),
        "“gmp” is no unit that is understood; a flow is typed such as 50 gpm or 500 gph."
    );
}

#[test]
fn a_bare_number_without_a_usual_unit_is_asked_about() {
    let asked = why(Quantity::Time, "30", UnitSystem::Metric);
    assert_eq!(
        asked,
        "30 of what? A time is typed such as 90 s, 20 min or 2 h 5 min."
    );
    assert!(why(Quantity::Volume, "300", UnitSystem::Metric).starts_with("300 of what?"));
    assert!(why(Quantity::Power, "0.75", UnitSystem::Us).starts_with("0.75 of what?"));
    near(
        "300",
        Quantity::Volume,
        UnitSystem::Us,
        300.0 * 0.003_785_411_784,
    );
}

#[test]
fn what_cannot_be_read_is_refused_with_an_example() {
    for text in [
        "",
        "abc",
        "12 apples",
        "1 200",
        "1/0",
        "--5",
        "5 m 3",
        "NaN",
        "inf",
        "1 m 2 ft",
        "1e999",
        "4 ft 15 in",
        "3 in 4 ft",
        "1/2/3",
        "1.5 1/2 in",
        "mm",
        "½½",
        "4 ft 3 in 2",
        "5 mm-3",
        "1,2,3",
        "1.2.3",
        "12 mm mm",
        "1'215",
        "=2",
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
    let asked = |text| why(Quantity::Height, text, UnitSystem::Metric);
    assert_eq!(
        asked("1,215"),
        "1,215 can be read in two ways: type 1215 or 1.215."
    );
    assert_eq!(
        asked("1,215 mm"),
        "1,215 can be read in two ways: type 1215 mm or 1.215 mm."
    );
    let asked = why(Quantity::Volume, "2,500 gal", UnitSystem::Us);
    assert_eq!(
        asked,
        "2,500 can be read in two ways: type 2500 gal or 2.500 gal."
    );
    near("1,5 m", Quantity::Height, UnitSystem::Metric, 1.5);
    near("0,125 m", Quantity::Height, UnitSystem::Metric, 0.125);
    near("1,215 m", Quantity::Height, UnitSystem::Metric, 1.215);
}

#[test]
fn signs_between_thousands_that_can_be_nothing_else_are_read() {
    for text in ["1,200.5 gal", "1.200,5 gal", "1\u{2009}200.5 gal"] {
        near(
            text,
            Quantity::Volume,
            UnitSystem::Us,
            1200.5 * 0.003_785_411_784,
        );
    }
    near("1,000,000 L", Quantity::Volume, UnitSystem::Metric, 1000.0);
}

const SYSTEMS: [UnitSystem; 2] = [UnitSystem::Metric, UnitSystem::Us];

proptest! {
    #[test]
    fn prop_what_is_written_reads_back_to_the_digits_that_are_shown(
        size in -9.0..12.0_f64,
        negative in any::<bool>(),
    ) {
        let value = if negative { -1.0 } else { 1.0 } * 10_f64.powf(size);
        for quantity in Quantity::ALL {
            for system in SYSTEMS {
                let text = write(quantity, value, system);
                let back = read(quantity, &text, system);
                prop_assert!(back.is_ok(), "{quantity:?} {text}: {back:?}");
                let back = back.unwrap();
                // In the unit of the first: 999.6 L is written 1000 L, and a cubic metre then.
                let unit = unit_for(quantity, value, system);
                match quantity {
                    Quantity::Time => prop_assert_eq!(write(quantity, back, system), text),
                    // 27.0 times is a whole number once it is read: 27.
                    Quantity::Ratio => {
                        let number = |value: f64| unit.number(value).parse::<f64>().unwrap();
                        prop_assert_eq!(number(back), number(value), "{}", text);
                    }
                    _ => prop_assert_eq!(unit.number(back), unit.number(value), "{:?} {}", quantity, text),
                }
            }
        }
    }

    #[test]
    fn prop_any_text_gives_a_number_or_a_sentence(text in "\\PC{0,40}") {
        for quantity in Quantity::ALL {
            for system in SYSTEMS {
                judge(quantity, &text, system)?;
            }
        }
    }

    #[test]
    fn prop_pieces_of_values_give_a_number_or_a_sentence(
        pieces in proptest::collection::vec(proptest::sample::select(PIECES), 0..9),
    ) {
        let text = pieces.concat();
        for quantity in Quantity::ALL {
            for system in SYSTEMS {
                judge(quantity, &text, system)?;
            }
        }
    }
}

const PIECES: &[&str] = &[
    "1",
    "0",
    "12",
    "999",
    ".",
    ",",
    "/",
    "-",
    "e",
    " ",
    "'",
    "\"",
    "½",
    "ft",
    "in",
    "m",
    "mm",
    "m3",
    "³",
    "gal",
    "/min",
    " per ",
    "%",
    "°F",
    " of water",
    "\u{2009}",
    "−",
    "”",
    "h",
    "and",
    "\u{301}",
    "ß",
];

fn judge(quantity: Quantity, text: &str, system: UnitSystem) -> Result<(), TestCaseError> {
    match read(quantity, text, system) {
        Ok(value) => prop_assert!(value.is_finite(), "{text}"),
        Err(why) => {
            prop_assert!(
                why.ends_with('.') && why.contains("type") || why.starts_with("Type"),
                "{text}: {why}"
            );
            prop_assert!(why.chars().count() < 200 && !why.contains('\n'), "{why}");
        }
    }
    Ok(())
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
