//! Settings of the whole layout as one value.

use crate::layout::{
    Ageing, Coefficients, Friction, Layout, Limits, Underlay, WaterSettings, Way, Weather,
};
use crate::units::UnitSystem;
use serde::{Deserialize, Serialize};

/// Everything of a layout except its parts.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Settings {
    /// The title.
    pub title: String,
    /// The display units.
    pub units: UnitSystem,
    /// The water.
    pub water: WaterSettings,
    /// The friction law.
    pub friction: Friction,
    /// Coefficients of openings and rims.
    pub coefficients: Coefficients,
    /// The limits of the check.
    pub limits: Limits,
    /// The ageing of a used layout.
    pub ageing: Ageing,
    /// Rain and evaporation.
    pub weather: Weather,
    /// Flow of the hose that fills it first, m³/s.
    pub first_fill_m3_s: Option<f64>,
    /// Named sets of valve positions.
    pub ways: Vec<Way>,
    /// A site picture under the plan.
    pub underlay: Option<Underlay>,
}

impl Settings {
    /// The settings of a layout.
    pub fn of(layout: &Layout) -> Settings {
        // Destructured by name, so that a new field of the layout cannot be forgotten here.
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

    /// Applies them to a layout.
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
