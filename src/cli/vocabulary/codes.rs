//! The codes of findings, each in one sentence; `docs/findings` has a page for each.

use super::List;
use crate::finding::Code;

/// Returns every code of a finding.
pub fn codes() -> List {
    List::new("code", "code", Code::ALL.map(|one| (one.word(), of(one))))
}

fn of(code: Code) -> &'static str {
    match code {
        Code::Spills => "A vessel's level is over its rim",
        Code::FillsForEver => "A vessel takes in water that no run takes away",
        Code::SpillsInARing => "Vessels spill into each other, round in a ring",
        Code::SpillsUphill => "A vessel is to spill into a part that stands higher than its rim",
        Code::LittleFreeboard => "A vessel has too little freeboard: its level is close to its rim",
        Code::DrainTooSmall => "With its vessel full to the rim, a drain passes less than it must",
        Code::LittleReserve => {
            "With its vessel full to the rim, a drain passes what it must with little to spare"
        }
        Code::RunsDry => "A vessel has run dry",
        Code::NoFlow => "A run that should flow is dry or still",
        Code::NoPump => "Nothing flows: there is no pump, and no water comes in",
        Code::FlowsBackward => "A run flows against the direction it was drawn in",
        Code::TooFast => "The velocity in a run is over its limit",
        Code::TooSlow => "The velocity is too low to carry solids",
        Code::CrestAboveRim => "A crest or lip is above the rim of its vessel",
        Code::OpeningBelowFloor => "A run leaves a vessel below its floor or enters it there",
        Code::RunClimbs => "A gravity run climbs above the level that feeds it",
        Code::AirGapDrowned => "An outlet that was meant to be in air is under water",
        Code::PumpCannotLift => "A pump cannot lift the water",
        Code::PumpOffCurve => {
            "A pump works off its curve, or outside the part of it that the limits allow"
        }
        Code::CurveRises => "A pump's curve rises: two duties are possible",
        Code::CurveGuessed => "A pump's curve is a guess from the numbers on its label",
        Code::PumpStarved => {
            "A pump delivers less than it could: too little water stands over its suction"
        }
        Code::PumpDrivenBackward => "A running pump is driven backward",
        Code::IdlePumpsShortCircuit => {
            "A stopped pump lets the pump beside it push water back through it"
        }
        Code::SuctionShut => "A pump has no way to draw water: its suction is shut",
        Code::LittleTurnover => "A vessel turns its water over more slowly than wanted",
        Code::MaySiphon => "An overflow without an open vent may prime as a siphon",
        Code::VentSpills => "Water leaves at a vent",
        Code::VesselsOverlap => "Two vessels stand in one place, in the plan and in height",
        Code::HazenWilliamsRange => "Hazen–Williams is used outside its range",
        Code::NotchRange => "A notch is outside the range that its law was measured in",
        Code::NotInCatalogue => "A pipe, fitting or valve is not in the catalogue",
        Code::NotConnected => "No run reaches a vessel or joint",
        Code::Suction => "The water in a run is under suction: the grade line is below the pipe",
        Code::CannotDraw => "No run can supply what is drawn off at a joint",
        Code::TooMuchForJoint => "More water comes in at a joint than its runs can take",
        Code::StarvesAtStart => "While starting, a pump is limited by its intake or runs dry",
        Code::PumpRunsDry => "A pump that should run has run dry and stopped",
        Code::NeverSteady => "A state never becomes steady: something keeps switching",
        Code::SpillsWhenBlocked => "A vessel spills once a path is blocked",
        Code::StarvesWhenBlocked => "A pump lacks water once a path is blocked",
        Code::RunsBack => "Water runs back when the pumps stop",
        Code::IntakeUncovered => "Too little water stands over an intake to keep air out of it",
        Code::Surges => "An opening swings between drawing air and running full",
        Code::AirLock => "Air trapped at a high point of a run reduces its flow",
        Code::IsThisMeant => "A number so large that its unit may be wrong",
        Code::NoRoomToFill => {
            "No fill level works for the lowest vessel: each is too full or too empty"
        }
        Code::MayNeverPrime => "A siphon that nobody fills passes nothing",
        Code::CrossConnection => {
            "Drinking water comes out below a rim, under water, or with too small an air gap"
        }
        Code::RunsToWaste => "Water from outside runs straight to waste",
        Code::MouthOverWater => "An end that was said to be under water is above it",
    }
}
