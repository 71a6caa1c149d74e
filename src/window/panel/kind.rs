//! The kind of an opening.

use super::{Facts, choice};
use crate::edit;
use crate::layout::{NotchShape, Opening, Run, RunEnd, Turned, Vent};
use crate::window::wants::Want;
use egui::Ui;

/// The kinds of opening to a vessel.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Kind {
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

const KINDS: [(Kind, &str); 9] = [
    (Kind::Upstand, "Standing pipe"),
    (Kind::SideHole, "Hole in the wall"),
    (Kind::Floor, "Floor outlet"),
    (Kind::OverWater, "Open end facing down"),
    (Kind::Sideways, "Open end through the wall"),
    (Kind::UpwardMouth, "Open end facing up"),
    (Kind::Submerged, "Submerged opening"),
    (Kind::Raised, "Raised-intake overflow"),
    (Kind::Notch, "Notch in the wall"),
];

/// A list of kinds for the opening at one end.
pub(super) fn show(
    ui: &mut Ui,
    facts: &Facts<'_>,
    (run, end): (&Run, RunEnd),
    wants: &mut Vec<Want>,
) {
    let at = &run.end(end).at;
    let Some(vessel) = facts.seen.vessel(at) else {
        return;
    };
    let opening = run.end(end).opening.as_ref();
    let stands = opening.map(kind);
    let options: Vec<(Option<Kind>, String)> = KINDS
        .iter()
        .map(|(kind, words)| (Some(*kind), (*words).to_owned()))
        .collect();
    let label = format!("In {}", facts.seen.name_of(at));
    let tip = "How the run opens into the vessel, and which height is set";
    if let Some(Some(chosen)) = choice::choice(ui, (&label, tip), &stands, &options) {
        let old_m = opening.and_then(Opening::crest_m);
        let height_m = old_m.unwrap_or(vessel.floor_m + 0.5 * (vessel.rim_m - vessel.floor_m));
        let new = opening_of(chosen, height_m, vessel.floor_m);
        wants.push(super::run::made(
            facts,
            edit::opening(facts.layout, &run.id, end, new),
        ));
    }
}

fn kind(opening: &Opening) -> Kind {
    match opening {
        Opening::Upstand { .. } => Kind::Upstand,
        Opening::SideHole { .. } => Kind::SideHole,
        Opening::Floor { .. } => Kind::Floor,
        Opening::Mouth { turned, .. } => match turned {
            Turned::Down => Kind::OverWater,
            Turned::Horizontal => Kind::Sideways,
            Turned::Up => Kind::UpwardMouth,
        },
        Opening::Submerged { .. } => Kind::Submerged,
        Opening::RaisedIntake { .. } => Kind::Raised,
        Opening::Notch { .. } => Kind::Notch,
    }
}

/// An opening of this kind at a height, in a vessel with this floor.
fn opening_of(kind: Kind, height_m: f64, floor_m: f64) -> Opening {
    let mouth = |turned| Opening::Mouth {
        lip_m: height_m,
        turned,
        bore_m: None,
        air_gap: false,
    };
    match kind {
        Kind::Upstand => Opening::Upstand {
            crest_m: height_m,
            bore_m: None,
        },
        Kind::SideHole => Opening::SideHole {
            invert_m: height_m,
            bore_m: None,
        },
        Kind::Floor => Opening::Floor {
            lip_m: None,
            bore_m: None,
        },
        Kind::OverWater => mouth(Turned::Down),
        Kind::Sideways => mouth(Turned::Horizontal),
        Kind::UpwardMouth => mouth(Turned::Up),
        Kind::Submerged => Opening::Submerged {
            lip_m: None,
            bore_m: None,
        },
        Kind::Raised => Opening::RaisedIntake {
            intake_m: floor_m + 0.05_f64.min(0.5 * (height_m - floor_m).max(0.0)),
            crest_m: height_m,
            crest: crate::layout::CrestKind::default(),
            rise: crate::layout::Rise::default(),
            vent: Vent::default(),
        },
        Kind::Notch => Opening::Notch {
            crest_m: height_m,
            shape: NotchShape::Rectangular {
                width_m: 0.1,
                channel_m: None,
            },
            weir: None,
        },
    }
}
