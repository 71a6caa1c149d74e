//! Colours of the inks on a light screen, a dark screen and on paper; the only module with colours.
//!
//! Colours with a meaning (water, problem, warning, good) are from the set of eight that people with every kind of
//! colour vision can distinguish [@okabe-ito], hues from memory. The accent is our own purple, as far from all of those
//! as possible for people who lack one type of cone; the rest is grey.

use super::shape::Ink;

/// Medium on which a drawing is viewed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Theme {
    /// Light screen.
    #[default]
    Light,
    /// Dark screen.
    Dark,
    /// White paper.
    Paper,
}

/// A colour: red, green, blue, each 0 to 255.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Colour(pub u8, pub u8, pub u8);

/// Returns the colour of `ink` on `theme`.
pub fn colour(theme: Theme, ink: Ink) -> Colour {
    match theme {
        Theme::Light => light(ink),
        Theme::Dark => dark(ink),
        Theme::Paper => paper(ink),
    }
}

fn light(ink: Ink) -> Colour {
    match ink {
        Ink::Page => Colour(0xff, 0xff, 0xff),
        Ink::Card => Colour(0xff, 0xff, 0xff),
        Ink::Text => Colour(0x1d, 0x22, 0x26),
        Ink::SoftText => Colour(0x5c, 0x65, 0x6c),
        Ink::Line => Colour(0x33, 0x3a, 0x40),
        Ink::FaintLine => Colour(0xb4, 0xba, 0xbf),
        Ink::Inside => Colour(0xf6, 0xf6, 0xf4),
        Ink::Water => Colour(0xcf, 0xe4, 0xf2),
        Ink::WaterLine => Colour(0x00, 0x72, 0xb2),
        Ink::Medium => Colour(0x9a, 0xa6, 0xa0),
        Ink::Stand => Colour(0xf0, 0xec, 0xe4),
        Ink::StandLine => Colour(0xcf, 0xc7, 0xb8),
        Ink::Ground => Colour(0xa8, 0x92, 0x6f),
        Ink::Accent => Colour(0x7a, 0x26, 0xc2),
        Ink::Problem => Colour(0xb8, 0x4a, 0x00),
        Ink::Warning => Colour(0x94, 0x62, 0x00),
        Ink::Note => Colour(0x5c, 0x65, 0x6c),
        Ink::Good => Colour(0x00, 0x80, 0x5d),
    }
}

fn dark(ink: Ink) -> Colour {
    match ink {
        Ink::Page => Colour(0x1b, 0x1f, 0x23),
        Ink::Card => Colour(0x26, 0x2b, 0x30),
        Ink::Text => Colour(0xe9, 0xec, 0xee),
        Ink::SoftText => Colour(0xa3, 0xac, 0xb3),
        Ink::Line => Colour(0xd2, 0xd8, 0xdc),
        Ink::FaintLine => Colour(0x55, 0x5d, 0x64),
        Ink::Inside => Colour(0x22, 0x27, 0x2b),
        Ink::Water => Colour(0x1f, 0x45, 0x5f),
        Ink::WaterLine => Colour(0x56, 0xb4, 0xe9),
        Ink::Medium => Colour(0x70, 0x7c, 0x76),
        Ink::Stand => Colour(0x2c, 0x2c, 0x2a),
        Ink::StandLine => Colour(0x4c, 0x49, 0x42),
        Ink::Ground => Colour(0x8a, 0x78, 0x5a),
        Ink::Accent => Colour(0xb8, 0x78, 0xff),
        Ink::Problem => Colour(0xff, 0x8a, 0x3c),
        Ink::Warning => Colour(0xe6, 0x9f, 0x00),
        Ink::Note => Colour(0xa3, 0xac, 0xb3),
        Ink::Good => Colour(0x2f, 0xc3, 0x9b),
    }
}

fn paper(ink: Ink) -> Colour {
    match ink {
        Ink::Text | Ink::Line => Colour(0x00, 0x00, 0x00),
        Ink::SoftText | Ink::Note => Colour(0x40, 0x40, 0x40),
        Ink::Inside => Colour(0xff, 0xff, 0xff),
        other => light(other),
    }
}
