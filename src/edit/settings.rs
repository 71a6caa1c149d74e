//! What holds for the whole layout, taken as one thing.

use crate::layout::{
    Ageing, Coefficients, Friction, Layout, Limits, Underlay, WaterSettings, Way, Weather,
};
use crate::units::UnitSystem;
use serde::{Deserialize, Serialize};

/// Everything of a layout but its parts.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Settings {
    /// What the drawing is called.
    pub title: String,
    /// The units shown to the reader.
    pub units: UnitSystem,
    /// The water.
    pub water: WaterSettings,
    /// The friction law.
    pub friction: Friction,
    /// Coefficients of openings and rims.
    pub coefficients: Coefficients,
    /// The limits that the check holds the layout to.
    pub limits: Limits,
    /// What use does to the layout.
    pub ageing: Ageing,
    /// Rain and evaporation.
    pub weather: Weather,
    /// What the hose gives that fills it first, m³/s.
    pub first_fill_m3_s: Option<f64>,
    /// Named sets of valve positions.
    pub ways: Vec<Way>,
    /// A picture of the site under the plan.
    pub underlay: Option<Underlay>,
}

impl Settings {
    /// Those of a layout.
    pub fn of(layout: &Layout) -> Settings {
        // Taken apart by name, so that a field added to the layout cannot be forgotten here.
        let Layout {
            title,
            units,
            water,
            friction,
            coefficients,
            limits,
            ageing,
            weather,
            first_fill_m3_s,
            ways,
            underlay,
            vessels: _,
            joints: _,
            fixed: _,
            runs: _,
        } = layout;
        Settings {
            title: title.clone(),
            units: *units,
            water: *water,
            friction: *friction,
            coefficients: *coefficients,
            limits: *limits,
            ageing: *ageing,
            weather: *weather,
            first_fill_m3_s: *first_fill_m3_s,
            ways: ways.clone(),
            underlay: underlay.clone(),
        }
    }

    /// Gives them to a layout.
    pub(super) fn put(&self, layout: &mut Layout) {
        let Settings {
            title,
            units,
            water,
            friction,
            coefficients,
            limits,
            ageing,
            weather,
            first_fill_m3_s,
            ways,
            underlay,
        } = self;
        layout.title.clone_from(title);
        layout.units = *units;
        layout.water = *water;
        layout.friction = *friction;
        layout.coefficients = *coefficients;
        layout.limits = *limits;
        layout.ageing = *ageing;
        layout.weather = *weather;
        layout.first_fill_m3_s = *first_fill_m3_s;
        layout.ways.clone_from(ways);
        layout.underlay.clone_from(underlay);
    }
}
