//! Numbers of pumps.

use super::NumberSlot;
use super::parse::indices;
use super::reach::{FieldValue, fields, index, reach};
use crate::layout::range::{self, Range};
use crate::layout::{CurveForm, Pump};
use crate::units::Quantity;

fields! {
    /// A number of a pump.
    PumpField of Pump {
        /// Flow of a point of its curve.
        PointFlow(point) "curve.points.{}.flow_m3_s" Flow CURVE_FLOW [.curve (CurveForm::Points => (points)) [point] .flow_m3_s];
        /// Head of a point of its curve.
        PointHead(point) "curve.points.{}.head_m" Head PUMP_HEAD [.curve (CurveForm::Points => (points)) [point] .head_m];
        /// Shut-off head of a power curve.
        ShutOffHead "curve.power.h0_m" Head SHUTOFF_HEAD [.curve (CurveForm::Power => h0_m)];
        /// Coefficient of a power curve.
        CurveCoefficient "curve.power.c" Ratio CURVE_TERM [.curve (CurveForm::Power => c)];
        /// Exponent of a power curve.
        CurveExponent "curve.power.n" Ratio EXPONENT [.curve (CurveForm::Power => n)];
        /// Largest head on its label.
        LabelHead "curve.label.largest_head_m" Head SHUTOFF_HEAD [.curve (CurveForm::Label => largest_head_m)];
        /// Largest flow on its label.
        LabelFlow "curve.label.largest_flow_m3_s" Flow LABEL_FLOW [.curve (CurveForm::Label => largest_flow_m3_s)];
        /// Speed, 1 as its sheet.
        Speed "speed" Ratio SPEED [.speed];
        /// Loss coefficient when stopped.
        StoppedK "stopped_k" Ratio LOSS_K [.stopped_k];
        /// Flow of a point of its efficiency.
        EfficiencyFlow(point) "efficiency.{}.flow_m3_s" Flow CURVE_FLOW [.efficiency [point] .flow_m3_s];
        /// Efficiency of a point, 0 to 1.
        Efficiency(point) "efficiency.{}.efficiency" Ratio EFFICIENCY [.efficiency [point] .efficiency];
        /// Height of its suction.
        SuctionElevation "suction.elevation_m" Height ELEVATION [.suction? .elevation_m];
        /// Length of its suction.
        SuctionLength "suction.length_m" Length LENGTH [.suction? .length_m];
        /// Loss coefficient of its suction.
        SuctionK "suction.total_k" Ratio LOSS_K [.suction? .total_k];
        /// Level at which its float switch starts it.
        FloatOn "float.on_m" Height ELEVATION [.float? .on_m];
        /// Level at which its float switch stops it.
        FloatOff "float.off_m" Height ELEVATION [.float? .off_m];
        /// Flow of a point of its required NPSH.
        NpshFlow(point) "npsh_required.{}.flow_m3_s" Flow CURVE_FLOW [.npsh_required [point] .flow_m3_s];
        /// Required NPSH of a point.
        Npsh(point) "npsh_required.{}.npsh_m" Head LOSS_HEAD [.npsh_required [point] .npsh_m];
    }
}
