//! The kind of an opening.

use super::{Facts, choice};
use crate::edit;
use crate::layout::{NotchShape, Opening, Run, RunEnd, Turned, Vent};
use crate::window::action::Action;
use egui::Ui;

/// The kinds of opening to a vessel.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum ConnectionKind {
    Upstand,
    SideHole,
    Floor,
    OverWater,
    Sideways,
    UpwardMouth,
    Submerged,
    Raised,
    Notch,
}

const KINDS: [(ConnectionKind, &str); 9] = [
    (ConnectionKind::Upstand, "Standing pipe"),
    (ConnectionKind::SideHole, "Hole in the wall"),
    (ConnectionKind::Floor, "Floor outlet"),
    (ConnectionKind::OverWater, "Open end facing down"),
    (ConnectionKind::Sideways, "Open end through the wall"),
    (ConnectionKind::UpwardMouth, "Open end facing up"),
    (ConnectionKind::Submerged, "Submerged opening"),
    (ConnectionKind::Raised, "Raised-intake overflow"),
    (ConnectionKind::Notch, "Notch in the wall"),
];

/// Shows a list of kinds for the opening at one end.
pub(super) fn show(
    ui: &mut Ui,
    facts: &Facts<'_>,
    (run, end): (&Run, RunEnd),
    actions: &mut Vec<Action>,
) {
    let at = &run.end(end).at;
    let Some(vessel) = facts.seen.vessel(at) else {
        return;
    };
    let opening = run.end(end).opening.as_ref();
    let stands = opening.map(kind);
    let options: Vec<(Option<ConnectionKind>, String)> = KINDS
        .iter()
        .map(|(kind, words)| (Some(*kind), (*words).to_owned()))
        .collect();
    let label = format!("In {}", facts.seen.name_of(at));
    let tip = "How the run opens into the vessel, and which height is set";
    if let Some(Some(chosen)) = choice::choice(ui, (&label, tip), &stands, &options) {
        let old_m = opening.and_then(Opening::crest_m);
        let height_m = old_m.unwrap_or(vessel.floor_m + 0.5 * (vessel.rim_m - vessel.floor_m));
        let new = opening_of(chosen, height_m, vessel.floor_m);
        actions.push(super::run::made(
            facts,
            edit::opening(facts.layout, &run.id, end, new),
        ));
    }
}

fn kind(opening: &Opening) -> ConnectionKind {
    match opening {
        Opening::Upstand { .. } => ConnectionKind::Upstand,
        Opening::SideHole { .. } => ConnectionKind::SideHole,
        Opening::Floor { .. } => ConnectionKind::Floor,
        Opening::Mouth { turned, .. } => match turned {
            Turned::Down => ConnectionKind::OverWater,
            Turned::Horizontal => ConnectionKind::Sideways,
            Turned::Up => ConnectionKind::UpwardMouth,
        },
        Opening::Submerged { .. } => ConnectionKind::Submerged,
        Opening::RaisedIntake { .. } => ConnectionKind::Raised,
        Opening::Notch { .. } => ConnectionKind::Notch,
    }
}

/// An opening of this kind at a height, in a vessel with this floor.
fn opening_of(kind: ConnectionKind, height_m: f64, floor_m: f64) -> Opening {
    let mouth = |turned| Opening::Mouth {
        lip_m: height_m,
        turned,
        bore_m: None,
        air_gap: false,
    };
    match kind {
        ConnectionKind::Upstand => Opening::Upstand {
            crest_m: height_m,
            bore_m: None,
        },
        ConnectionKind::SideHole => Opening::SideHole {
            invert_m: height_m,
            bore_m: None,
        },
        ConnectionKind::Floor => Opening::Floor {
            lip_m: None,
            bore_m: None,
        },
        ConnectionKind::OverWater => mouth(Turned::Down),
        ConnectionKind::Sideways => mouth(Turned::Horizontal),
        ConnectionKind::UpwardMouth => mouth(Turned::Up),
        ConnectionKind::Submerged => Opening::Submerged {
            lip_m: None,
            bore_m: None,
        },
        ConnectionKind::Raised => Opening::RaisedIntake {
            intake_m: floor_m + 0.05_f64.min(0.5 * (height_m - floor_m).max(0.0)),
            crest_m: height_m,
            crest: crate::layout::CrestKind::default(),
            rise: crate::layout::Rise::default(),
            vent: Vent::default(),
        },
        ConnectionKind::Notch => Opening::Notch {
            crest_m: height_m,
            shape: NotchShape::Rectangular {
                width_m: 0.1,
                channel_m: None,
            },
            weir: None,
        },
    }
}
