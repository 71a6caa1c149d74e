//! Numbers of the ends of runs.

use super::NumberSlot;
use super::parse::indices;
use super::reach::{FieldValue, fields, reach};
use crate::layout::range::{self, Range};
use crate::layout::{End, NotchShape, Opening, Vent};
use crate::units::Quantity;

fields! {
    /// A number of one end of a run.
    EndField of End {
        /// Crest of an upstand.
        UpstandCrest "opening.upstand.crest_m" Height ELEVATION [.opening? (Opening::Upstand => crest_m)];
        /// Bore of an upstand.
        UpstandBore "opening.upstand.bore_m" Bore BORE [.opening? (Opening::Upstand => bore_m)];
        /// Invert of a side hole.
        SideHoleInvert "opening.side_hole.invert_m" Height ELEVATION [.opening? (Opening::SideHole => invert_m)];
        /// Bore of a side hole.
        SideHoleBore "opening.side_hole.bore_m" Bore BORE [.opening? (Opening::SideHole => bore_m)];
        /// Lip of a floor outlet.
        FloorLip "opening.floor.lip_m" Height ELEVATION [.opening? (Opening::Floor => lip_m)];
        /// Bore of a floor outlet.
        FloorBore "opening.floor.bore_m" Bore BORE [.opening? (Opening::Floor => bore_m)];
        /// Lip of a mouth.
        MouthLip "opening.mouth.lip_m" Height ELEVATION [.opening? (Opening::Mouth => lip_m)];
        /// Bore of a mouth.
        MouthBore "opening.mouth.bore_m" Bore BORE [.opening? (Opening::Mouth => bore_m)];
        /// Lip of a submerged opening.
        SubmergedLip "opening.submerged.lip_m" Height ELEVATION [.opening? (Opening::Submerged => lip_m)];
        /// Bore of a submerged opening.
        SubmergedBore "opening.submerged.bore_m" Bore BORE [.opening? (Opening::Submerged => bore_m)];
        /// Intake of a raised-intake overflow.
        Intake "opening.raised_intake.intake_m" Height ELEVATION [.opening? (Opening::RaisedIntake => intake_m)];
        /// Crest of a raised-intake overflow.
        IntakeCrest "opening.raised_intake.crest_m" Height ELEVATION [.opening? (Opening::RaisedIntake => crest_m)];
        /// Length of its rising leg.
        RiseLength "opening.raised_intake.rise.length_m" Length LENGTH [.opening? (Opening::RaisedIntake => rise) .length_m];
        /// Bore of its rising leg.
        RiseBore "opening.raised_intake.rise.bore_m" Bore BORE [.opening? (Opening::RaisedIntake => rise) .bore_m];
        /// Roughness of its rising leg.
        RiseRoughness "opening.raised_intake.rise.roughness_m" Bore ROUGHNESS [.opening? (Opening::RaisedIntake => rise) .roughness_m];
        /// Loss coefficient of its rising leg.
        RiseK "opening.raised_intake.rise.total_k" Ratio LOSS_K [.opening? (Opening::RaisedIntake => rise) .total_k];
        /// Top of its vent.
        VentTop "opening.raised_intake.vent.open_to.top_m" Height ELEVATION [.opening? (Opening::RaisedIntake => vent) (Vent::OpenTo => top_m)];
        /// Crest of a notch.
        NotchCrest "opening.notch.crest_m" Height ELEVATION [.opening? (Opening::Notch => crest_m)];
        /// Width of a rectangular notch.
        NotchWidth "opening.notch.shape.rectangular.width_m" Height SIZE [.opening? (Opening::Notch => shape) (NotchShape::Rectangular => width_m)];
        /// Width of the channel before a notch.
        NotchChannel "opening.notch.shape.rectangular.channel_m" Height SIZE [.opening? (Opening::Notch => shape) (NotchShape::Rectangular => channel_m)];
        /// Angle of a vee notch, degrees.
        NotchAngle "opening.notch.shape.vee.angle_deg" Ratio ANGLE [.opening? (Opening::Notch => shape) (NotchShape::Vee => angle_deg)];
        /// Coefficient of a notch.
        NotchWeir "opening.notch.weir" Ratio COEFFICIENT [.opening? (Opening::Notch => weir)];
        /// Position in the plan.
        X "place.x_m" Length PLAN [.place? .x_m];
        /// Position in the plan.
        Y "place.y_m" Length PLAN [.place? .y_m];
        /// Position along the section.
        Along "place.along_m" Length PLAN [.place? .along_m];
        /// Rotation in the plan, degrees.
        Turned "place.turned_deg" Ratio TURN [.place? .turned_deg];
        /// Area of its screen.
        ScreenArea "screen.area_m2" Area PLAN_AREA [.screen? .area_m2];
        /// Open share of its screen, 0 to 1.
        ScreenOpenShare "screen.open_share" Ratio OPEN_SHARE [.screen? .open_share];
        /// Blinded share of its screen, 0 to 1.
        ScreenBlinded "screen.blinded" Ratio SHARE [.screen? .blinded];
        /// Loss coefficient of its screen.
        ScreenK "screen.k" Ratio LOSS_K [.screen? .k];
        /// Foot of its cage.
        ScreenFoot "screen.foot_m" Height ELEVATION [.screen? .foot_m];
        /// Height of its cage.
        ScreenHeight "screen.height_m" Height SIZE [.screen? .height_m];
        /// Orifice coefficient.
        Orifice "orifice" Ratio COEFFICIENT [.orifice];
        /// Loss coefficient of the entrance.
        EntranceK "entrance_k" Ratio LOSS_K [.entrance_k];
    }
}

impl EndField {
    /// The height at which an opening starts to pass water: the crest, invert or lip.
    pub fn crest_of(opening: &Opening) -> EndField {
        match opening {
            Opening::Upstand { .. } => EndField::UpstandCrest,
            Opening::SideHole { .. } => EndField::SideHoleInvert,
            Opening::Floor { .. } => EndField::FloorLip,
            Opening::Mouth { .. } => EndField::MouthLip,
            Opening::Submerged { .. } => EndField::SubmergedLip,
            Opening::RaisedIntake { .. } => EndField::IntakeCrest,
            Opening::Notch { .. } => EndField::NotchCrest,
        }
    }
}
