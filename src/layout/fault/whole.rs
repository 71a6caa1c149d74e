//! Faults of what holds for the whole layout.

use super::Book;
use super::range::{
    ANY_TEMPERATURE, ATMOSPHERE, COEFFICIENT, DENSITY, GRAVITY, LIMIT, LOSS_K, SALINITY,
    TEMPERATURE, VISCOSITY, digits,
};
use crate::layout::{Coefficients, Layout, Limits, WaterSettings};

pub(super) fn check(book: &mut Book, layout: &Layout) {
    book.words("title", &layout.title);
    water(book, &layout.water);
    coefficients(book, &layout.coefficients);
    limits(book, &layout.limits);
}

fn water(book: &mut Book, water: &WaterSettings) {
    let both = water
        .kinematic_viscosity_m2_s
        .and(water.density_kg_m3)
        .is_some();
    let temperature = if both { &ANY_TEMPERATURE } else { &TEMPERATURE };
    book.number("water.temperature_c", water.temperature_c, temperature);
    book.number("water.salinity_g_kg", water.salinity_g_kg, &SALINITY);
    book.number_if_given(
        "water.kinematic_viscosity_m2_s",
        water.kinematic_viscosity_m2_s,
        &VISCOSITY,
    );
    book.number_if_given("water.density_kg_m3", water.density_kg_m3, &DENSITY);
    book.number("water.atmosphere_pa", water.atmosphere_pa, &ATMOSPHERE);
}

fn coefficients(book: &mut Book, given: &Coefficients) {
    book.number("coefficients.weir", given.weir, &COEFFICIENT);
    book.number("coefficients.orifice", given.orifice, &COEFFICIENT);
    book.number("coefficients.entrance_k", given.entrance_k, &LOSS_K);
    book.number("coefficients.exit_k", given.exit_k, &LOSS_K);
    book.number("coefficients.rim", given.rim, &COEFFICIENT);
    book.number("coefficients.gravity_m_s2", given.gravity_m_s2, &GRAVITY);
    let hazen_williams_k = given.hazen_williams.k;
    book.number(
        "coefficients.hazen_williams.k",
        hazen_williams_k,
        &COEFFICIENT,
    );
}

fn limits(book: &mut Book, limits: &Limits) {
    let (least, most) = (limits.least_share_of_curve, limits.most_share_of_curve);
    let rows = [
        ("limits.freeboard_m", limits.freeboard_m),
        ("limits.drain_reserve", limits.drain_reserve),
        ("limits.pumped_velocity_m_s", limits.pumped_velocity_m_s),
        ("limits.gravity_velocity_m_s", limits.gravity_velocity_m_s),
        ("limits.solids_velocity_m_s", limits.solids_velocity_m_s),
        ("limits.least_share_of_curve", least),
        ("limits.most_share_of_curve", most),
        ("limits.blocked_spill_s", limits.blocked_spill_s),
    ];
    for (field, value) in rows {
        book.number(field, value, &LIMIT);
    }
    if least > most {
        let (least, most) = (digits(least), digits(most));
        book.add(
            "limits.least_share_of_curve",
            format!("`limits.least_share_of_curve` is {least}, over the most, {most}"),
            "give the least share no more than the most".into(),
        );
    }
}
