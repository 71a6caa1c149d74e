//! Colours that mean something are told apart by whoever sees colours otherwise, and by lightness alone where they
//! stand on one another.
//!
//! Sources: Machado, Oliveira, Fernandes, "A Physiologically-based Model for Simulation of Color Vision
//! Deficiency", IEEE Transactions on Visualization and Computer Graphics 15 (2009), table of matrices for severity
//! 1.0, which act on linear RGB; CIE 15 (2004), L*a*b* and its difference, for the white of D65. The matrices were
//! compared with a public copy of that table; the formulas of L*a*b* are from memory.

use fallwright::draw::page::shape::Ink;
use fallwright::draw::page::theme::{Colour, Theme, colour};

type Rows = [[f64; 3]; 3];

/// What is missing, and how it is seen then.
const KINDS: [(&str, Rows); 3] = [
    (
        "no red cones",
        [
            [0.152_286, 1.052_583, -0.204_868],
            [0.114_503, 0.786_281, 0.099_216],
            [-0.003_882, -0.048_116, 1.051_998],
        ],
    ),
    (
        "no green cones",
        [
            [0.367_322, 0.860_646, -0.227_968],
            [0.280_085, 0.672_501, 0.047_413],
            [-0.011_820, 0.042_940, 0.968_881],
        ],
    ),
    (
        "no blue cones",
        [
            [1.255_528, -0.076_749, -0.178_779],
            [-0.078_411, 0.930_809, 0.147_602],
            [0.004_733, 0.691_367, 0.303_900],
        ],
    ),
];

/// Least difference of two colours of which each means something, ΔE*ab: some eight times what is just seen side
/// by side (common practice, no source).
const APART: f64 = 18.0;

fn linear(Colour(red, green, blue): Colour) -> [f64; 3] {
    [red, green, blue].map(|part| {
        let share = f64::from(part) / 255.0;
        if share <= 0.040_45 {
            share / 12.92
        } else {
            ((share + 0.055) / 1.055).powf(2.4)
        }
    })
}

fn times(rows: &Rows, rgb: [f64; 3]) -> [f64; 3] {
    rows.map(|row| {
        row.iter()
            .zip(rgb)
            .map(|(a, b)| a * b)
            .sum::<f64>()
            .clamp(0.0, 1.0)
    })
}

/// L*, a*, b* of linear RGB.
fn lab(rgb: [f64; 3]) -> [f64; 3] {
    let [red, green, blue] = rgb;
    let xyz = [
        (0.412_456_4 * red + 0.357_576_1 * green + 0.180_437_5 * blue) / 0.950_47,
        0.212_672_9 * red + 0.715_152_2 * green + 0.072_175_0 * blue,
        (0.019_333_9 * red + 0.119_192_0 * green + 0.950_304_1 * blue) / 1.088_83,
    ];
    let [x, y, z] = xyz.map(|share| {
        if share > 216.0 / 24_389.0 {
            share.cbrt()
        } else {
            (24_389.0 / 27.0 * share + 16.0) / 116.0
        }
    });
    [116.0 * y - 16.0, 500.0 * (x - y), 200.0 * (y - z)]
}

fn apart(a: [f64; 3], b: [f64; 3]) -> f64 {
    let sum: f64 = a.iter().zip(b).map(|(a, b)| (a - b).powi(2)).sum();
    sum.sqrt()
}

#[test]
fn lightness_is_measured_as_published() {
    let of = |red, green, blue| lab(linear(Colour(red, green, blue)));
    assert!(apart(of(255, 255, 255), [100.0, 0.0, 0.0]) < 0.05);
    assert!(apart(of(0, 0, 0), [0.0, 0.0, 0.0]) < 0.05);
    // Pure red of sRGB as it is told in many tables of conversions.
    assert!(apart(of(255, 0, 0), [53.24, 80.09, 67.20]) < 0.1);
    // Whoever misses a kind of cones sees greys as they are.
    for (_, rows) in KINDS {
        let grey = linear(Colour(128, 128, 128));
        assert!(apart(lab(times(&rows, grey)), lab(grey)) < 0.1);
    }
}

/// Colours that say different things where one could be taken for the other: a line, a mark, a number.
const MEAN: [(Ink, Ink); 10] = [
    (Ink::Accent, Ink::WaterLine),
    (Ink::Problem, Ink::Good),
    (Ink::Problem, Ink::WaterLine),
    (Ink::Problem, Ink::Text),
    (Ink::Problem, Ink::Line),
    (Ink::Warning, Ink::WaterLine),
    (Ink::Accent, Ink::Problem),
    (Ink::Accent, Ink::Good),
    (Ink::Accent, Ink::Line),
    (Ink::WaterLine, Ink::Line),
];

#[test]
fn what_colours_mean_is_told_apart_in_three_kinds_of_colour_blindness() {
    for theme in [Theme::Light, Theme::Dark] {
        for (kind, rows) in KINDS {
            let seen = |ink| lab(times(&rows, linear(colour(theme, ink))));
            for (a, b) in MEAN {
                let found = apart(seen(a), seen(b));
                assert!(
                    found >= APART,
                    "{theme:?}, {kind}: {a:?} and {b:?} {found:.1}"
                );
            }
        }
    }
}

#[test]
fn water_is_told_from_air_without_colour() {
    for theme in [Theme::Light, Theme::Dark, Theme::Paper] {
        let lightness = |ink| lab(linear(colour(theme, ink)))[0];
        // The surface of the water has a line of its own, much darker or lighter than both.
        for beside in [Ink::Water, Ink::Inside, Ink::Page] {
            let found = (lightness(Ink::WaterLine) - lightness(beside)).abs();
            assert!(found >= 30.0, "{theme:?}: {beside:?} {found:.1}");
        }
        let found = (lightness(Ink::Water) - lightness(Ink::Inside)).abs();
        assert!(found >= 7.0, "{theme:?}: water and air {found:.1}");
    }
}
