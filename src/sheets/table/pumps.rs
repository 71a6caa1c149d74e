//! The table of pumps.

use super::{Cell, Column, Row, Said, column, words};
use crate::layout::{Id, Layout};
use crate::states::report::{PumpReport, Standing, StateReport};
use crate::units::Quantity;
use std::collections::HashMap;

pub(super) const COLUMNS: [Column; 12] = [
    words("Name", "Name of the pump"),
    words("Run", "The run of the pump"),
    words("Stands", "Whether it runs, and why not"),
    column("Flow", "Flow that it delivers", Quantity::Flow),
    column(
        "Head",
        "Total dynamic head: static lift and every loss at the duty",
        Quantity::Head,
    ),
    column(
        "Static lift",
        "From the suction level to the delivery level or outlet, at this flow",
        Quantity::Head,
    ),
    column("Shut-off head", "Head at no flow", Quantity::Head),
    column(
        "End of curve",
        "Flow at the end of its curve",
        Quantity::Flow,
    ),
    column(
        "Power",
        "Electrical power, if the efficiency is given",
        Quantity::Power,
    ),
    column(
        "NPSH available",
        "Net positive suction head available, if the suction is described",
        Quantity::Head,
    ),
    column(
        "NPSH required",
        "Net positive suction head required by its data sheet, if given",
        Quantity::Head,
    ),
    column(
        "Draws from",
        "Level of the vessel that it draws from",
        Quantity::Height,
    ),
];

pub(super) fn rows(layout: &Layout, report: Option<&StateReport>, said: &Said<'_>) -> Vec<Row> {
    let told = report
        .map(|report| &report.real().pumps)
        .into_iter()
        .flatten();
    let told: HashMap<&Id, &PumpReport> = told.map(|one| (&one.id, one)).collect();
    let pumps = layout
        .runs
        .iter()
        .filter_map(|run| Some((run, run.pump.as_ref()?)));
    let rows = pumps.map(|(run, pump)| {
        let here = told.get(&pump.id).copied();
        let of = |value: fn(&PumpReport) -> Option<f64>| Cell::of(here.and_then(value));
        let on = |value: fn(&PumpReport) -> Option<f64>| {
            Cell::of(here.filter(|one| one.on).and_then(value))
        };
        let stands = here.map_or(Cell::Nothing, |one| {
            Cell::Words(stands(one.standing).to_owned())
        });
        let cells = vec![
            said.name(&pump.id),
            said.name(&run.id),
            stands,
            of(|one| Some(one.flow_m3_s)),
            on(|one| Some(one.head_m)),
            on(|one| Some(one.static_m)),
            of(|one| Some(one.shutoff_head_m)),
            of(|one| one.end_of_curve_m3_s),
            of(|one| one.power_w),
            of(|one| one.npsh_available_m),
            of(|one| one.npsh_required_m),
            of(|one| one.suction_level_m),
        ];
        said.row(&pump.id, cells)
    });
    rows.collect()
}

fn stands(standing: Standing) -> &'static str {
    match standing {
        Standing::Runs => "runs",
        Standing::Off => "off",
        Standing::FloatOff => "off by its float",
        Standing::RanDry => "ran dry",
    }
}
