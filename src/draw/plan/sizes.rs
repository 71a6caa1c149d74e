//! Length of a run and width of its pipe.

use crate::catalogue::Catalogue;
use crate::geometry::{Corner, route_length_m};
use crate::layout::{Opening, Pipe, Run, RunEnd};

/// Bore of a pipe that is not in the catalogue, for drawing only, metres.
const BORE_M: f64 = 0.05;
/// Ratio of outside diameter to bore where only the bore is known: from memory, of plastic pressure pipe.
const OUTSIDE_OVER_BORE: f64 = 1.1;

/// Returns the length used for the computation, metres: the given one, else that of the route between `ends`, which the
/// caller has found already.
pub(super) fn length_m(run: &Run, ends: [Corner; 2]) -> f64 {
    if run.pipe == Pipe::Open {
        return 0.0;
    }
    run.length_m.unwrap_or_else(|| {
        let mut corners = vec![ends[0]];
        corners.extend(&run.route);
        corners.push(ends[1]);
        route_length_m(&corners)
    })
}

/// Returns inside and outside width of a run, metres.
pub(super) fn widths_m(run: &Run) -> (f64, f64) {
    match &run.pipe {
        Pipe::Bought { family, size, .. } => match Catalogue::builtin().pipe(family, size) {
            Some(pipe) => (pipe.bore_m(), pipe.od_m()),
            None => (BORE_M, BORE_M * OUTSIDE_OVER_BORE),
        },
        Pipe::Own { bore_m, .. } => (*bore_m, bore_m * OUTSIDE_OVER_BORE),
        Pipe::Open => {
            let own = RunEnd::BOTH.into_iter().filter_map(|which| {
                let opening = run.end(which).opening.as_ref();
                opening.and_then(Opening::bore_m)
            });
            let bore_m = own.reduce(f64::min).unwrap_or(BORE_M);
            (bore_m, bore_m)
        }
    }
}

/// Returns whether the pipe starts in the wall at an end with this opening.
pub(super) fn is_in_wall(opening: Option<&Opening>, pipe: &Pipe) -> bool {
    match opening {
        Some(Opening::SideHole { .. } | Opening::Submerged { .. } | Opening::Notch { .. }) => true,
        // Without a pipe it is the other side of the opening at the other end.
        None => *pipe == Pipe::Open,
        _ => false,
    }
}
