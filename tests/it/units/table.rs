//! One table for both systems: what a reader sees.

use fallwright::units::{Quantity as Q, UnitSystem, si_symbol, unit_for, write};

const ROWS: &[(Q, f64, &str, &str)] = &[
    (Q::Height, 1.61, "1610 mm", "5 ft 3 3/8 in"),
    (Q::Height, 1.017_587_5, "1018 mm", "3 ft 4 1/16 in"),
    (Q::Height, -1.017_587_5, "-1018 mm", "-3 ft 4 1/16 in"),
    (Q::Height, 0.0254, "25 mm", "1 in"),
    (Q::Height, 0.012_7, "13 mm", "1/2 in"),
    (Q::Height, -0.003_175, "-3 mm", "-1/8 in"),
    (Q::Height, 0.304_8, "305 mm", "1 ft 0 in"),
    (Q::Height, 0.311_15, "311 mm", "1 ft 0 1/4 in"),
    (Q::Height, 9.999, "9999 mm", "32 ft 9 11/16 in"),
    (Q::Height, 12.345_6, "12346 mm", "40 ft 6 1/16 in"),
    (Q::Length, 1.86, "1.86 m", "6.10 ft"),
    (Q::Length, 30.48, "30.5 m", "100 ft"),
    (Q::Bore, 0.0844, "84.4 mm", "3.32 in"),
    (Q::Bore, 0.0254, "25.4 mm", "1.00 in"),
    (Q::Head, 0.085, "0.085 m", "0.28 ft"),
    (Q::Head, 0.000_2, "0 m", "0 ft"),
    (Q::Head, 0.2346, "0.235 m", "0.77 ft"),
    (Q::Head, 25.04, "25.0 m", "82.2 ft"),
    (Q::Head, 2.45, "2.45 m", "8.04 ft"),
    (Q::Area, 1.858_060_8, "1.86 m²", "20.0 sq ft"),
    (Q::Area, 0.02, "0.0200 m²", "0.215 sq ft"),
    (Q::Flow, 0.000_1, "0.360 m³/h", "1.59 US gpm"),
    (Q::Flow, 0.003_94, "14.2 m³/h", "62.5 US gpm"),
    (Q::Flow, -0.003_94, "-14.2 m³/h", "-62.5 US gpm"),
    (Q::Volume, 0.231, "231 L", "61.0 US gal"),
    (Q::Volume, 3.785_411_784, "3790 L", "1000 US gal"),
    (Q::Velocity, 0.523, "0.523 m/s", "1.72 ft/s"),
    (Q::Pressure, 6_894.757, "6.89 kPa", "1.00 psi"),
    (Q::Power, 182.4, "182 W", "182 W"),
    (Q::Power, 1_491.4, "1490 W", "1490 W"),
    (Q::Time, 4.21, "4.2 s", "4.2 s"),
    (Q::Time, 45.0, "45 s", "45 s"),
    (Q::Time, 59.6, "1 min", "1 min"),
    (Q::Time, 750.0, "12 min 30 s", "12 min 30 s"),
    (Q::Time, 36_000.0, "10 h", "10 h"),
    (Q::Time, 3_599.8, "1 h", "1 h"),
    (Q::Time, 86_399.0, "1 day", "1 day"),
    (Q::Time, 90_000.0, "1 day 1 h", "1 day 1 h"),
    (Q::Time, 259_200.0, "3 days", "3 days"),
    (Q::Time, 8.64e10, "1.00e6 days", "1.00e6 days"),
    (Q::Time, -130.0, "-2 min 10 s", "-2 min 10 s"),
    (Q::Temperature, 18.0, "18.0 °C", "64.4 °F"),
    (Q::Temperature, 0.0, "0.0 °C", "32.0 °F"),
    (Q::Ratio, 1.25, "1.25", "1.25"),
    (Q::Ratio, 3.0, "3", "3"),
    (
        Q::Turnover,
        1.3 / 3600.0,
        "1.3 times an hour",
        "1.3 times an hour",
    ),
    (
        Q::Turnover,
        1.2 / 86_400.0,
        "1.2 times a day",
        "1.2 times a day",
    ),
];

#[test]
fn every_quantity_reads_as_a_builder_says_it() {
    for (quantity, value, metric, us) in ROWS {
        assert_eq!(&write(*quantity, *value, UnitSystem::Metric), metric);
        assert_eq!(&write(*quantity, *value, UnitSystem::Us), us);
    }
}

#[test]
fn the_table_leaves_no_quantity_out() {
    for quantity in Q::ALL {
        assert!(ROWS.iter().any(|row| row.0 == quantity), "{quantity:?}");
    }
}

#[test]
fn a_column_shares_the_unit_of_its_largest_value() {
    let unit = unit_for(Q::Flow, 0.003_94, UnitSystem::Metric);
    assert_eq!(unit.symbol, "m³/h");
    assert_eq!(unit.number(0.000_1), "0.360");
    let head = unit_for(Q::Head, 2.0, UnitSystem::Metric).with_decimals(3);
    assert_eq!(head.write(0.004), "0.004 m");
}

/// Quantities of which figures stand beside each other: only a time and how often water changes go by their size.
fn has_one_unit(quantity: Q) -> bool {
    !matches!(quantity, Q::Time | Q::Turnover)
}

#[test]
fn a_quantity_has_one_unit_whatever_its_size() {
    for system in [UnitSystem::Metric, UnitSystem::Us] {
        for quantity in Q::ALL.into_iter().filter(|one| has_one_unit(*one)) {
            let symbols = (-6..12).map(|power| {
                let most = if quantity == Q::Height { 999.0 } else { 1e12 };
                let value = (10_f64.powi(power)).min(most);
                unit_for(quantity, value, system).symbol
            });
            let symbols: std::collections::BTreeSet<&str> = symbols.collect();
            assert_eq!(symbols.len(), 1, "{quantity:?} {system:?} {symbols:?}");
        }
    }
}

#[test]
fn scripts_read_si() {
    let symbols = [
        (Q::Height, "m"),
        (Q::Bore, "m"),
        (Q::Flow, "m³/s"),
        (Q::Pressure, "Pa"),
        (Q::Turnover, "1/s"),
        (Q::Ratio, "1"),
    ];
    for (quantity, symbol) in symbols {
        assert_eq!(si_symbol(quantity), symbol);
    }
}
