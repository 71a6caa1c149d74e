//! Edge forms of mouths: the coefficients at each end of a run.

use super::LoweringContext;
use crate::hydraulics::openings::coefficients;
use crate::hydraulics::openings::edge;
use crate::hydraulics::openings::edge::Form;
use crate::layout::{Edge, End, Pipe, Run, RunEnd};

/// The coefficients at an end: its own numbers, else those of its edge, else the layout's.
pub(super) fn coefficients(
    context: &LoweringContext<'_>,
    run: &Run,
    which: RunEnd,
) -> coefficients::Coefficients {
    let end = set_at(run, which);
    let form = form(end.edge);
    coefficients::Coefficients {
        orifice: end
            .orifice
            .or(form.map(|form| form.orifice))
            .unwrap_or(context.coefficients.orifice),
        entrance_k: end
            .entrance_k
            .or(form.map(|form| form.entrance_k))
            .unwrap_or(context.coefficients.entrance_k),
        ..context.coefficients
    }
}

/// The orifice coefficient of the end itself, where it or its edge has one.
pub(super) fn own_orifice(run: &Run, which: RunEnd) -> Option<f64> {
    let end = set_at(run, which);
    end.orifice.or(form(end.edge).map(|form| form.orifice))
}

/// Without a pipe the opening of one end stands for both, and so does its edge.
fn set_at(run: &Run, which: RunEnd) -> &End {
    let end = run.end(which);
    let shared = run.pipe == Pipe::Open && end.opening.is_none();
    if shared { run.end(which.other()) } else { end }
}

fn form(edge: Edge) -> Option<Form> {
    match edge {
        Edge::Plain => None,
        Edge::Flush => Some(edge::FLUSH),
        Edge::Rounded => Some(edge::ROUNDED),
        Edge::Projecting => Some(edge::PROJECTING),
        Edge::Groove => Some(edge::GROOVE),
        Edge::Mitred => Some(edge::MITRED),
    }
}
