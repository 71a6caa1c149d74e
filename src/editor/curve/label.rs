//! The two numbers on the box of a small pump.

use super::{CurveRefusal, DefaultUnits, InputPosition};
use crate::layout::CurveForm;
use crate::units::{Quantity, read_in};

/// A guess from the largest flow and the largest head as typed.
///
/// # Errors
/// A number that cannot be read, or is not above 0: at [`InputPosition::Flow`] or [`InputPosition::Head`] of row 0.
pub fn label(flow: &str, head: &str, bare: DefaultUnits<'_>) -> Result<CurveForm, CurveRefusal> {
    let at_flow = |why: String| CurveRefusal::new(InputPosition::Flow(0), why);
    let at_head = |why: String| CurveRefusal::new(InputPosition::Head(0), why);
    let largest_flow_m3_s =
        read_in(Quantity::Flow, flow, (bare.system, bare.flow)).map_err(at_flow)?;
    let largest_head_m =
        read_in(Quantity::Head, head, (bare.system, bare.head)).map_err(at_head)?;
    if largest_flow_m3_s <= 0.0 {
        let why = "The largest flow must be above 0; it is the flow at no head.";
        return Err(at_flow(why.to_owned()));
    }
    if largest_head_m <= 0.0 {
        let why = "The largest head must be above 0; it is the head at no flow.";
        return Err(at_head(why.to_owned()));
    }
    Ok(CurveForm::Label {
        largest_head_m,
        largest_flow_m3_s,
    })
}
