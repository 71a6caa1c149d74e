//! Notches in a common wall: weirs between two levels, either of which may stand above the sill.

use super::ends::LoweredEnd;
use crate::hydraulics::openings::inlet::Inlet;
use crate::hydraulics::openings::notch::Notch;
use crate::hydraulics::openings::submerged_weir::SubmergedWeir;
use crate::layout::{Pipe, Run};
use crate::network::{Outlet, Port, Sill};

/// Makes both ends of a run without a pipe discharge over the notch in the other end, or over their own.
///
/// Where only one end has a notch it is the sill in both directions; of two, the one where the water enters counts.
pub(super) fn lay(run: &Run, [from, to]: &mut [LoweredEnd; 2]) {
    if run.pipe != Pipe::Open || from.raised.is_some() || to.raised.is_some() {
        return;
    }
    let [of_from, of_to] = [&*from, &*to].map(|meeting| sill(&meeting.port));
    if let Some(enters) = of_to.or(of_from) {
        from.port.outlet = Outlet::Sill(enters);
    }
    if let Some(enters) = of_from.or(of_to) {
        to.port.outlet = Outlet::Sill(enters);
    }
}

/// Whether a run crosses a sill, so that neither entrance nor exit counts.
pub(super) fn is_crossed(ends: [&LoweredEnd; 2]) -> bool {
    ends.iter()
        .any(|meeting| matches!(meeting.port.outlet, Outlet::Sill(_)))
}

fn sill(port: &Port) -> Option<Sill> {
    let notch: Notch = match port.inlet {
        Inlet::Notch(notch) => notch,
        Inlet::Screened(screened) => match screened.behind() {
            Inlet::Notch(notch) => notch,
            _ => return None,
        },
        _ => return None,
    };
    Some(Sill {
        crest_m: port.lip_m,
        weir: SubmergedWeir::new(notch),
    })
}
