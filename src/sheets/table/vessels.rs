//! The table of vessels.

use super::{Cell, Column, Row, Said, column, words};
use crate::layout::{Id, Layout};
use crate::states::report::{StateReport, VesselReport};
use crate::units::Quantity;
use std::collections::HashMap;

pub(super) const COLUMNS: [Column; 11] = [
    words("Name", "Name of the vessel"),
    column("Floor", "Inside bottom above the datum", Quantity::Height),
    column(
        "Rim",
        "Level at which it spills, above the datum",
        Quantity::Height,
    ),
    column(
        "Level",
        "Water surface above the datum, with the walls as built",
        Quantity::Height,
    ),
    column(
        "Needed",
        "Level that the flow requires, if the walls were tall enough",
        Quantity::Height,
    ),
    column(
        "Freeboard",
        "Rim minus the required level; negative: it spills",
        Quantity::Height,
    ),
    column("Depth", "Level minus floor", Quantity::Height),
    column("Volume", "Water in it at that level", Quantity::Volume),
    column("Inflow", "Total inflow", Quantity::Flow),
    column("Turnover", "Water changes per hour", Quantity::Turnover),
    column("Spill", "Flow over its rim at the end", Quantity::Flow),
];

pub(super) fn rows(layout: &Layout, report: Option<&StateReport>, said: &Said<'_>) -> Vec<Row> {
    let told = report.map(|report| &report.vessels).into_iter().flatten();
    let told: HashMap<&Id, &VesselReport> = told.map(|one| (&one.id, one)).collect();
    let real = report.map(|report| &report.real().vessels);
    let real: HashMap<&Id, &VesselReport> = real
        .into_iter()
        .flatten()
        .map(|one| (&one.id, one))
        .collect();
    let row = |vessel: &crate::layout::Vessel| {
        let here = told.get(&vessel.id).copied();
        let of = |value: fn(&VesselReport) -> Option<f64>| {
            Cell::of(real.get(&vessel.id).copied().and_then(value))
        };
        let level_m = here.and_then(|one| one.level_m);
        let stands_m = here.and_then(VesselReport::stands_m);
        // The walls are those drawn now, the levels those that were solved.
        let over =
            |from_m: Option<f64>, to_m: Option<f64>| Cell::of(from_m.zip(to_m).map(|(a, b)| a - b));
        let cells = vec![
            said.name(&vessel.id),
            Cell::of(Some(vessel.floor_m)),
            Cell::of(Some(vessel.rim_m)),
            Cell::of(stands_m),
            Cell::of(level_m),
            over(Some(vessel.rim_m), level_m),
            over(stands_m, Some(vessel.floor_m)),
            of(|one| one.volume_m3),
            of(|one| Some(one.inflow_m3_s)),
            of(VesselReport::turnover_per_s),
            of(|one| {
                one.with_spill
                    .map(|spill| spill.spill_m3_s)
                    .filter(|spill| *spill > 0.0)
            }),
        ];
        said.row(&vessel.id, cells)
    };
    layout.vessels.iter().map(row).collect()
}
