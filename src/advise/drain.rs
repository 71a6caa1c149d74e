//! Cures of drains that pass too little at the rim: a wider drain, or a second one.

use super::bench::Bench;
use super::{advice, size};
use crate::finding::{Code, Cure, Finding, Piece};
use crate::layout::{Id, Layout, Run};
use crate::states::report::StateReport;
use crate::units::Quantity;

pub(super) fn cures(bench: &Bench<'_>, found: &Finding) -> Vec<Cure> {
    let Some((vessel, drains)) = found.about.split_first() else {
        return Vec::new();
    };
    let reserve = match found.code {
        Code::LittleReserve => bench.layout.limits.drain_reserve,
        _ => bench.layout.limits.drain_reserve.max(1.0),
    };
    let enough = |report: &StateReport| {
        spare(bench.layout, report, vessel).is_some_and(|spare| spare >= reserve)
    };
    let widened = drains
        .iter()
        .filter_map(|run| size::next(bench, run, enough));
    let mut cures: Vec<Cure> = widened.take(1).collect();
    cures.extend(
        drains
            .first()
            .and_then(|run| second(bench, vessel, run, reserve)),
    );
    cures
}

/// Adds a second drain like the first, and gives what the two then pass.
fn second(bench: &Bench<'_>, vessel: &Id, run: &Id, reserve: f64) -> Option<Cure> {
    let twin = Run {
        id: Id(format!("{run}-second")),
        ..bench.layout.run(run)?.clone()
    };
    let mut doubled = bench.layout.clone();
    doubled.runs.push(twin);
    let report = bench.preview(&doubled)?;
    let spare = spare(&doubled, &report, vessel).filter(|spare| *spare >= reserve)?;
    Some(advice(vec![
        "Add a second drain like ".into(),
        run.into(),
        ": at the rim they then pass ".into(),
        Piece::Number(Quantity::Ratio, (100.0 * spare).floor() / 100.0),
        " times what they must.".into(),
    ]))
}

/// Ratio of what the gravity drains of a vessel pass at its rim to what they must pass.
fn spare(layout: &Layout, report: &StateReport, vessel: &Id) -> Option<f64> {
    let here = report.vessels.iter().find(|one| one.id == *vessel)?;
    let (mut capacity, mut needed) = (0.0, here.inflow_m3_s);
    for run in &report.runs {
        let source = if run.flow_m3_s < 0.0 {
            &run.to
        } else {
            &run.from
        };
        if source != vessel {
            continue;
        }
        match layout.run(&run.id).and_then(|drawn| drawn.pump.as_ref()) {
            Some(_) => needed -= run.flow_m3_s.abs(),
            None => capacity += run.capacity_at_rim_m3_s.unwrap_or(0.0),
        }
    }
    (needed > 0.0).then(|| capacity / needed)
}
