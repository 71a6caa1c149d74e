//! Faults of the settings of the whole layout.

use super::{FaultList, FaultText};
use crate::layout::range::{
    ANY_TEMPERATURE, ATMOSPHERE, COEFFICIENT, CURVE_FLOW, DENSITY, GRAVITY, LIMIT, LIMITS, LOSS_K,
    ROUGHNESS, SALINITY, SHARE, TEMPERATURE, VISCOSITY, WEATHER,
};
use crate::layout::{Coefficients, Layout, Limits, WaterSettings};

pub(super) fn check(book: &mut FaultList, layout: &Layout) {
    book.words("title", &layout.title);
    water(book, &layout.water);
    coefficients(book, &layout.coefficients);
    limits(book, &layout.limits);
    use_and_weather(book, layout);
    if let Some(underlay) = &layout.underlay {
        super::underlay::check(book, underlay);
    }
}

fn use_and_weather(book: &mut FaultList, layout: &Layout) {
    let (ageing, weather) = (&layout.ageing, &layout.weather);
    book.number("ageing.film_m", ageing.film_m, &LIMITS);
    book.number("ageing.roughness_m", ageing.roughness_m, &ROUGHNESS);
    let blinded = ageing.screens_blinded;
    book.number("ageing.screens_blinded", blinded, &SHARE);
    book.number("weather.rain_m_s", weather.rain_m_s, &WEATHER);
    let evaporation_m_s = weather.evaporation_m_s;
    book.number("weather.evaporation_m_s", evaporation_m_s, &WEATHER);
    book.number_if_given("first_fill_m3_s", layout.first_fill_m3_s, &CURVE_FLOW);
}

fn water(book: &mut FaultList, water: &WaterSettings) {
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
    book.number_if_given("water.cold_c", water.cold_c, &TEMPERATURE);
    book.number_if_given("water.warm_c", water.warm_c, &TEMPERATURE);
    if let (Some(cold_c), Some(warm_c)) = (water.cold_c, water.warm_c)
        && cold_c > warm_c
    {
        book.say(
            "water.cold_c",
            FaultText::with(
                "`water.cold_c` is {}, over the warmest, {}",
                &[(cold_c, "°C"), (warm_c, "°C")],
            ),
            "give the coldest no more than the warmest".into(),
        );
    }
}

fn coefficients(book: &mut FaultList, given: &Coefficients) {
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

fn limits(book: &mut FaultList, limits: &Limits) {
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
        book.say(
            "limits.least_share_of_curve",
            FaultText::with(
                "`limits.least_share_of_curve` is {}, over the most, {}",
                &[(least, ""), (most, "")],
            ),
            "give the least share no more than the most".into(),
        );
    }
}
