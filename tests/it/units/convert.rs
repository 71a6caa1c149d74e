//! Sizes of units against NIST SP 811, appendix B (figures from memory, to the seven figures it prints).

use fallwright::units::convert as c;

/// Half a unit of the seventh figure.
const SEVEN_FIGURES: f64 = 5e-7;

#[test]
fn val_units_have_the_sizes_that_nist_sp_811_prints() {
    let rows = [
        ("foot", c::FOOT_M, 3.048_000e-1),
        ("inch", c::INCH_M, 2.540_000e-2),
        ("US gallon", c::US_GALLON_M3, 3.785_412e-3),
        (
            "US gallon a minute",
            c::US_GALLON_A_MINUTE_M3_S,
            6.309_020e-5,
        ),
        ("pound-force", c::POUND_FORCE_N, 4.448_222),
        ("psi", c::PSI_PA, 6.894_757e3),
        ("horsepower (550 ft·lbf/s)", c::HORSEPOWER_W, 7.456_999e2),
        ("litre", c::LITRE_M3, 1.0e-3),
        ("litre a minute", c::LITRE_A_MINUTE_M3_S, 1.666_667e-5),
    ];
    for (name, ours, printed) in rows {
        let error = (ours / printed - 1.0).abs();
        assert!(error < SEVEN_FIGURES, "{name}: {ours} against {printed}");
    }
}

#[test]
fn val_a_us_gallon_is_231_cubic_inches() {
    let cubic_inches = c::US_GALLON_M3 / c::INCH_M.powi(3);
    assert!((cubic_inches - 231.0).abs() < 1e-9, "{cubic_inches}");
}

#[test]
fn val_water_freezes_at_32_and_boils_at_212_fahrenheit() {
    // Definition of the scale, from memory; the two scales meet at -40.
    for (celsius, fahrenheit) in [(0.0, 32.0), (100.0, 212.0), (-40.0, -40.0)] {
        assert!((c::fahrenheit_from_celsius(celsius) - fahrenheit).abs() < 1e-12);
    }
}
