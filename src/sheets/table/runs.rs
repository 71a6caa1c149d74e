//! The table of runs.

use super::{Cell, Column, Row, Said, column, words};
use crate::catalogue::Catalogue;
use crate::draw::results::reports::filled;
use crate::layout::{Id, Layout, Pipe, Run};
use crate::states::report::{Control, RunReport, StateReport};
use crate::units::Quantity;
use std::collections::HashMap;

pub(super) const COLUMNS: [Column; 12] = [
    words("Name", "Name of the run"),
    words("From", "The part at its start, as drawn"),
    words("To", "The part at its end, as drawn"),
    words("Size", "Nominal size and family of its pipe"),
    column("Length", "Length of the pipe", Quantity::Length),
    column(
        "Flow",
        "Flow from start to end as drawn; negative: backward",
        Quantity::Flow,
    ),
    column("Velocity", "Flow over the full bore", Quantity::Velocity),
    column("Loss", "Head lost along the run", Quantity::Head),
    words("Held by", "What limits the flow: inlet, losses or pump"),
    words(
        "Filled",
        "Whether the pipe runs full, part full or with air",
    ),
    column(
        "Reserve",
        "Capacity with its vessel full to the rim, divided by the present flow",
        Quantity::Ratio,
    ),
    column(
        "Free drop",
        "Head that is neither lost in the run nor needed after it",
        Quantity::Head,
    ),
];

pub(super) fn rows(layout: &Layout, report: Option<&StateReport>, said: &Said<'_>) -> Vec<Row> {
    let told = report
        .map(|report| &report.real().runs)
        .into_iter()
        .flatten();
    let told: HashMap<&Id, &RunReport> = told.map(|one| (&one.id, one)).collect();
    let row = |run: &Run| {
        let here = told.get(&run.id).copied();
        let of = |value: fn(&RunReport) -> Option<f64>| Cell::of(here.and_then(value));
        let told = |words: fn(&RunReport) -> &'static str| {
            here.map_or(Cell::Nothing, |one| Cell::Words(words(one).to_owned()))
        };
        let cells = vec![
            said.name(&run.id),
            said.name(&run.from.at),
            said.name(&run.to.at),
            Cell::Words(size(run)),
            Cell::of(here.map(|one| one.length_m).or(run.length_m)),
            of(|one| Some(one.flow_m3_s)),
            of(|one| Some(one.velocity_m_s.abs())),
            of(|one| Some(one.loss_m.abs())),
            told(|one| limited_by(one.control)),
            told(|one| filled(one.regime)),
            of(RunReport::reserve),
            of(|one| Some(one.free_drop_m)),
        ];
        said.row(&run.id, cells)
    };
    layout.runs.iter().map(row).collect()
}

/// The nominal size of its pipe, as bought.
fn size(run: &Run) -> String {
    match &run.pipe {
        Pipe::Bought { family, size, .. } => {
            let known = Catalogue::builtin().family(family);
            let words = known.map_or(family.as_str(), |family| family.words.as_str());
            format!("{size}, {words}")
        }
        Pipe::Own { .. } => "own bore".to_owned(),
        Pipe::Open => "opening".to_owned(),
    }
}

/// What limits a flow, in one word.
fn limited_by(control: Control) -> &'static str {
    match control {
        Control::Inlet => "inlet",
        Control::Outlet => "losses",
        Control::Pumped => "pump",
        Control::Shut => "shut",
        Control::Dry => "dry",
        Control::Still => "still",
    }
}
