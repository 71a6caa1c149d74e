//! Accessible names of touch targets: the name of a part with its numbers.

use super::plan_run::PlanRun;
use crate::draw::canvas::touch::{called, vent_words};
use crate::draw::page::text::begun;
use crate::draw::results::reports::duty;
use crate::layout::{Fixed, FixedRole, Joint, Opening, Pump, Role, Run, RunEnd, Shape, Vessel};
use crate::states::report::{PumpReport, RunReport, VesselReport};
use crate::units::{self, Quantity, UnitSystem};

/// Describes a vessel: `Cress bed 2, bed, 1.20 m by 2.00 m, level 1176 mm`.
pub(super) fn vessel(part: &Vessel, report: Option<&VesselReport>, system: UnitSystem) -> String {
    let name = called(&part.name, &part.id);
    let mut words = format!("{name}, {}, {}", role(part.role), size(&part.shape, system));
    match report.map(|report| report.stands_m()) {
        Some(Some(level_m)) => {
            let level = units::write(Quantity::Height, level_m, system);
            words.push_str(&format!(", level {level}"));
        }
        Some(None) => words.push_str(", fills without end"),
        None => {}
    }
    if part.already_built {
        words.push_str(", already built");
    }
    words
}

fn role(role: Role) -> &'static str {
    match role {
        Role::Tank => "tank",
        Role::Settler => "settler",
        Role::Filter => "filter",
        Role::Tower => "tower",
        Role::Bed => "bed",
        Role::Sump => "sump",
        Role::Header => "header",
        Role::Pond => "pond",
        Role::Supply => "supply",
        Role::Waste => "waste",
    }
}

/// Describes the size of a vessel in the plan.
fn size(shape: &Shape, system: UnitSystem) -> String {
    let length = |m: f64| units::write(Quantity::Length, m, system);
    match shape {
        Shape::Round { diameter_m } => format!("{} across", length(*diameter_m)),
        Shape::ConeBottom { diameter_m, .. } => {
            format!("{} across with a cone", length(*diameter_m))
        }
        Shape::Rectangular { length_m, width_m } => {
            format!("{} by {}", length(*length_m), length(*width_m))
        }
        Shape::LyingDrum {
            diameter_m,
            length_m,
        } => format!(
            "drum {} long and {} across",
            length(*length_m),
            length(*diameter_m)
        ),
        Shape::Prism { .. } | Shape::Table { .. } => "known by its area".to_owned(),
    }
}

/// Describes a fixed level: `Soakaway, waste, level -600 mm`.
pub(super) fn fixed(part: &Fixed, system: UnitSystem) -> String {
    let role = match part.role {
        FixedRole::Supply => "supply",
        FixedRole::Waste => "waste",
    };
    let level = units::write(Quantity::Height, part.level_m, system);
    format!("{}, {role}, level {level}", called(&part.name, &part.id))
}

/// Describes a joint: `Manifold 1, joint at 1620 mm`.
pub(super) fn joint(part: &Joint, system: UnitSystem) -> String {
    let height = units::write(Quantity::Height, part.elevation_m, system);
    let vent = vent_words(part.vented.then_some(part.vent_top_m), system);
    format!("{}, joint at {height}{vent}", called(&part.name, &part.id))
}

/// Describes a run: `Lift, 9.60 m long, bore 57.0 mm, 11.9 m³/h`.
pub(super) fn run(
    run: &Run,
    course: &PlanRun,
    report: Option<&RunReport>,
    system: UnitSystem,
) -> String {
    let name = called(&run.name, &run.id);
    let length = units::write(Quantity::Length, course.length_m, system);
    let bore = units::write(Quantity::Bore, course.bore_m, system);
    let mut words = format!("{name}, {length} long, bore {bore}");
    if let Some(report) = report {
        let flow = units::write(Quantity::Flow, report.flow_m3_s.abs(), system);
        words.push_str(&format!(", {flow}"));
    }
    if run.already_built {
        words.push_str(", already built");
    }
    words
}

/// Describes a crest: `Crest of Cress upstand 3, 1155 mm`.
pub(super) fn crest(run: &Run, which: RunEnd, system: UnitSystem) -> String {
    let opening = run.end(which).opening.as_ref();
    let what = begun(opening.map_or("end", Opening::height_word));
    let name = called(&run.name, &run.id);
    match opening.and_then(Opening::crest_m) {
        Some(height_m) => {
            let height = units::write(Quantity::Height, height_m, system);
            format!("{what} of {name}, {height}")
        }
        None => format!("{what} of {name}"),
    }
}

/// Describes a pump: `Circulation pump, 11.9 m³/h at 4.10 m`.
pub(super) fn pump(pump: &Pump, report: Option<&PumpReport>, system: UnitSystem) -> String {
    let name = called(&pump.name, &pump.id);
    match report.map(|report| duty(report, &pump.curve, system)) {
        Some(duty) => format!("{name}, {duty}"),
        None => name.to_owned(),
    }
}
