//! Cures that follow from the finding itself, without a search.

use super::advice;
use super::bench::{Bench, level_of};
use super::silent;
use super::step::{down, up};
use crate::check::{AIR_GAP_BORES, LEAST_AIR_GAP_M};
use crate::finding::{Change, Code, Cure, Finding, Piece, Sentence};
use crate::layout::{
    EndField, Id, NumberField, Opening, Run, RunEnd, RunField, Vessel, VesselField,
};
use crate::states::report::PumpReport;
use crate::units::Quantity;

/// Depth over its intake at which a starved pump draws again, in bores. Common practice, no source.
const COVER_BORES: f64 = 2.0;

pub(super) fn cures(bench: &Bench<'_>, found: &Finding) -> Vec<Cure> {
    let cure = match found.code {
        Code::FillsForEver => Some(drain_it(found)),
        Code::Spills => at_rest(bench, found),
        Code::AirGapDrowned => raise_mouth(bench, found),
        Code::PumpCannotLift => lift(bench, found),
        Code::PumpStarved => cover(bench, found),
        Code::PumpDrivenBackward => Some(advice(vec![
            "Fit a check valve after the pump, or a pump with more head.".into(),
        ])),
        Code::VentSpills => vent(found),
        _ => silent::cure(bench, found),
    };
    cure.into_iter().collect()
}

fn drain_it(found: &Finding) -> Cure {
    let mut text: Vec<Piece> = vec!["Give ".into()];
    text.extend(found.about.iter().take(1).map(Piece::from));
    text.push(" a drain with its crest under the rim.".into());
    advice(text)
}

/// Cures a spill at rest: fill the vessel less if it was filled over its rim, drain its make-up, or fill in less by the
/// volume lost.
fn at_rest(bench: &Bench<'_>, found: &Finding) -> Option<Cure> {
    let vessel = bench.layout.vessel(found.about.first()?)?;
    if vessel.fill_m > vessel.rim_m {
        return Some(fill_to_rim(bench, vessel));
    }
    let report = bench.report(found)?;
    let here = report.vessels.iter().find(|one| one.id == vessel.id)?;
    if vessel.make_up_m3_s > 0.0 {
        return Some(drain_it(found));
    }
    let lost_m3 = here
        .with_spill
        .map(|spill| spill.lost_m3)
        .filter(|lost| *lost > 0.0)?;
    Some(advice(vec![
        "Fill the system with at least ".into(),
        Piece::Number(Quantity::Volume, lost_m3),
        " less, or give ".into(),
        (&vessel.id).into(),
        " that much more room.".into(),
    ]))
}

fn fill_to_rim(bench: &Bench<'_>, vessel: &Vessel) -> Cure {
    let to = down(vessel.rim_m, bench.layout.units);
    Cure {
        text: Sentence(vec![
            "Fill ".into(),
            (&vessel.id).into(),
            " to ".into(),
            Piece::Number(Quantity::Height, to),
            " at most.".into(),
        ]),
        changes: vec![Change {
            part: vessel.id.clone(),
            field: VesselField::Fill.into(),
            from: vessel.fill_m,
            to,
            quantity: Quantity::Height,
        }],
    }
}

/// Raises the mouth above the rim, not only above the level: in a fault the level rises to the rim.
fn raise_mouth(bench: &Bench<'_>, found: &Finding) -> Option<Cure> {
    let [at, run] = found.about.as_slice() else {
        return None;
    };
    let run = bench.layout.run(run).filter(|run| !run.already_built)?;
    let report = bench.report(found)?;
    let here = report.runs.iter().find(|one| one.id == run.id)?;
    let (end, lip_m, bore_m) = air_gap(run, at)?;
    let gap_m = (AIR_GAP_BORES * bore_m.unwrap_or(here.bore_m)).max(LEAST_AIR_GAP_M);
    let level_m = level_of(report, at).or(found.measured)?;
    let rim_m = bench
        .layout
        .vessel(at)
        .map_or(level_m, |vessel| vessel.rim_m);
    let to = up(rim_m.max(level_m) + gap_m, bench.layout.units);
    Some(Cure {
        text: Sentence(vec![
            "Raise the mouth of ".into(),
            (&run.id).into(),
            " from ".into(),
            Piece::Number(Quantity::Height, lip_m),
            " to ".into(),
            Piece::Number(Quantity::Height, to),
            ": two bores over the rim, and not less than ".into(),
            Piece::Number(Quantity::Height, LEAST_AIR_GAP_M),
            ".".into(),
        ]),
        changes: vec![Change {
            part: run.id.clone(),
            field: NumberField::End(end, EndField::MouthLip),
            from: lip_m,
            to,
            quantity: Quantity::Height,
        }],
    })
}

/// Returns the end of a run that has an air gap at this part, its lip, and the bore of its mouth if given.
fn air_gap(run: &Run, at: &Id) -> Option<(RunEnd, f64, Option<f64>)> {
    let gap = |which: RunEnd| match run.end(which).opening {
        Some(Opening::Mouth {
            lip_m,
            bore_m,
            air_gap: true,
            ..
        }) if run.end(which).at == *at => Some((which, lip_m, bore_m)),
        _ => None,
    };
    gap(RunEnd::From).or_else(|| gap(RunEnd::To))
}

/// Opens the shut valve, turns the check valve round, or names the missing head.
fn lift(bench: &Bench<'_>, found: &Finding) -> Option<Cure> {
    let (pump, run) = pump_of(bench, found)?;
    let shut = run.valves.iter().position(|valve| valve.opening <= 0.0);
    if let Some((place, valve)) = shut.and_then(|at| Some((at, run.valves.get(at)?))) {
        return Some(Cure {
            text: Sentence(vec![
                "Open the valve in ".into(),
                (&run.id).into(),
                ".".into(),
            ]),
            changes: vec![Change {
                part: run.id.clone(),
                field: RunField::ValveOpening(place).into(),
                from: valve.opening,
                to: 1.0,
                quantity: Quantity::Ratio,
            }],
        });
    }
    if run.pushes_on_check_valve() {
        return Some(advice(vec![
            "Turn the check valve of ".into(),
            (&run.id).into(),
            " round.".into(),
        ]));
    }
    let missing_m = pump.static_m - pump.shutoff_head_m;
    let head = |value| Piece::Number(Quantity::Head, value);
    (missing_m >= 0.0).then(|| {
        advice(vec![
            "It lacks ".into(),
            head(missing_m),
            ", with nothing yet for losses: choose a pump that gives well over ".into(),
            head(pump.static_m),
            " at no flow, or lower what it lifts to.".into(),
        ])
    })
}

fn cover(bench: &Bench<'_>, found: &Finding) -> Option<Cure> {
    let (pump, run) = pump_of(bench, found)?;
    let report = bench.report(found)?;
    let here = report.runs.iter().find(|one| one.id == run.id)?;
    let least_m = found.limit?;
    let level_m = least_m + COVER_BORES * here.bore_m;
    if pump
        .suction_level_m
        .is_some_and(|stands_m| stands_m >= level_m)
    {
        return Some(wider_intake(run));
    }
    let from = found.about.get(2)?;
    // A raised intake that already draws over its crest is reported with the height of its intake.
    let crests = [&run.from, &run.to].map(|end| match end.opening {
        Some(Opening::RaisedIntake { crest_m, .. }) => Some(crest_m),
        _ => None,
    });
    let over = if crests.contains(&Some(least_m)) {
        "the crest of the intake"
    } else {
        "the intake"
    };
    Some(advice(vec![
        "Bring the level of ".into(),
        from.into(),
        " to ".into(),
        Piece::Number(Quantity::Height, up(level_m, bench.layout.units)),
        format!(" or more, two bores over {over}: fill in more water, or set {over} lower.").into(),
    ]))
}

/// Returns the cure for an intake with more than two bores of water over it that still lets in too little.
fn wider_intake(run: &Run) -> Cure {
    advice(vec![
        "Give the intake of ".into(),
        (&run.id).into(),
        " a wider mouth, or clear the guard on it: enough water stands over it.".into(),
    ])
}

fn pump_of<'a>(bench: &Bench<'a>, found: &Finding) -> Option<(&'a PumpReport, &'a Run)> {
    let [pump, run, ..] = found.about.as_slice() else {
        return None;
    };
    let mut pumps = bench.report(found)?.pumps.iter();
    let pump = pumps.find(|one| one.id == *pump)?;
    Some((pump, bench.layout.run(run)?))
}

fn vent(found: &Finding) -> Option<Cure> {
    let grade_m = found.measured?;
    let mut text: Vec<Piece> = vec!["Take the vent of ".into()];
    text.extend(found.about.iter().take(1).map(Piece::from));
    text.extend([
        " up past ".into(),
        Piece::Number(Quantity::Height, grade_m),
        ", and better past the rim.".into(),
    ]);
    Some(advice(text))
}
