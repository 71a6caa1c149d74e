//! The pipe and the pump of a proposed run.

use super::ends::{EndPart, FlowManner};
use crate::catalogue::Catalogue;
use crate::layout::{CurveForm, Direction, Id, Layout, Pipe, Pump, Shape, Vessel};
use crate::units::UnitSystem;

/// Greatest velocity in a proposed pumped run, m/s: common practice, no source.
const VELOCITY_M_S: f64 = 1.2;
/// Least and greatest flow of a proposed pump, m³/s.
const LEAST_FLOW_M3_S: f64 = 1.0e-4;
const MOST_FLOW_M3_S: f64 = 3.0e-3;

/// The pipe of the first run, by its purpose and the units of the layout.
fn first_pipe(manner: FlowManner, units: UnitSystem) -> (&'static str, &'static str) {
    match (manner, units) {
        (FlowManner::Pumped, UnitSystem::Metric) => ("pvcu-din8062-pn10", "32"),
        (FlowManner::Pumped, UnitSystem::Us) => ("pvc-sch40-average", "1-1/4"),
        (_, UnitSystem::Metric) => ("pvcu-waste-en1329", "50"),
        (_, UnitSystem::Us) => ("pvc-dwv", "2"),
    }
}

/// The pipe of a new run: as the last one of the same kind, else a common one.
pub(super) fn pipe(layout: &Layout, manner: FlowManner) -> Pipe {
    let pumped = manner == FlowManner::Pumped;
    let alike = layout.runs.iter().rev();
    let mut alike = alike.filter(|run| run.pump.is_some() == pumped && run.pipe != Pipe::Open);
    if let Some(run) = alike.next() {
        return run.pipe.clone();
    }
    let (family, size) = first_pipe(manner, layout.units);
    Pipe::Bought {
        family: family.to_owned(),
        size: size.to_owned(),
        roughness_m: None,
        hazen_williams_c: None,
    }
}

/// The bore of a pipe, metres; 50 mm where the catalogue does not know it.
pub(super) fn bore_m(pipe: &Pipe) -> f64 {
    match pipe {
        Pipe::Own { bore_m, .. } => *bore_m,
        Pipe::Bought { family, size, .. } => Catalogue::builtin()
            .pipe(family, size)
            .map_or(0.05, |pipe| pipe.bore_m()),
        Pipe::Open => 0.05,
    }
}

/// The smallest size of the same family that carries a flow slowly enough.
pub(super) fn wide_enough(pipe: Pipe, flow_m3_s: f64) -> Pipe {
    let Pipe::Bought { family, size, .. } = &pipe else {
        return pipe;
    };
    let area_m2 = flow_m3_s / VELOCITY_M_S;
    let least_m = (4.0 * area_m2 / std::f64::consts::PI).sqrt();
    if bore_m(&pipe) >= least_m {
        return pipe;
    }
    let sizes = Catalogue::builtin()
        .family(family)
        .map(|family| &family.sizes);
    let wide = sizes
        .into_iter()
        .flatten()
        .filter(|one| one.bore_m >= least_m);
    let found = wide.min_by(|a, b| a.bore_m.total_cmp(&b.bore_m));
    Pipe::Bought {
        family: family.clone(),
        size: found.map_or_else(|| size.clone(), |one| one.size.clone()),
        roughness_m: None,
        hazen_williams_c: None,
    }
}

/// The flow of a pump into a part: its volume once an hour.
pub(super) fn wanted_flow_m3_s(to: EndPart<'_>) -> f64 {
    let volume_m3 = match to {
        EndPart::Vessel(part) => {
            area_m2(&part.shape) * (part.fill_m - part.floor_m).max(0.0) * share(part)
        }
        _ => 0.0,
    };
    (volume_m3 / 3600.0).clamp(LEAST_FLOW_M3_S, MOST_FLOW_M3_S)
}

/// The share of a vessel's volume that water can fill.
fn share(part: &Vessel) -> f64 {
    part.medium.map_or(1.0, |medium| medium.porosity)
}

/// The greatest plan area of a shape, m².
fn area_m2(shape: &Shape) -> f64 {
    let (length_m, width_m) = shape.footprint_m();
    let round = if shape.is_round() {
        std::f64::consts::FRAC_PI_4
    } else {
        1.0
    };
    round * length_m * width_m
}

/// A pump that lifts `flow_m3_s` by `lift_m` with a quarter to spare: a guess from two numbers of a label, to be
/// replaced by the curve of the pump that is bought.
pub(super) fn pump(id: Id, name: String, flow_m3_s: f64, lift_m: f64) -> Pump {
    let lift_m = lift_m.max(0.3);
    // To a tenth of a metre and a litre a minute, as on labels.
    let shut_off_m = ((1.8 * lift_m + 0.3) * 10.0).ceil() / 10.0;
    let share = (1.0 - 1.25 * lift_m / shut_off_m).max(0.1).sqrt();
    let most_m3_s = (flow_m3_s / share * 60_000.0).ceil() / 60_000.0;
    Pump {
        id,
        name,
        curve: CurveForm::Label {
            largest_head_m: shut_off_m,
            largest_flow_m3_s: most_m3_s,
        },
        pushes: Direction::Forward,
        speed: 1.0,
        stopped_k: 0.0,
        efficiency: Vec::new(),
        suction: None,
        wet: None,
        float: None,
        stops_when_dry: true,
        npsh_required: Vec::new(),
    }
}
