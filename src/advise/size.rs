//! Finds the next pipe that is wide enough.

use super::bench::{Bench, SAME_HEIGHT_M, level_of};
use super::spill::TooHigh;
use super::{advice, step};
use crate::finding::{Change, Cure, Piece, Sentence};
use crate::layout::{Id, Layout, Pipe, Run, RunField};
use crate::states::report::StateReport;
use crate::units::{Quantity, UnitSystem};

/// Number of larger sizes that are tried.
const MOST_SIZES: usize = 4;
/// Factor by which a bore that is not from the catalogue is widened from try to try.
const WIDER: f64 = 1.15;

/// Returns the same pipe in the next size that brings the level down; none where no size does, or it is already built.
pub(super) fn wider(bench: &Bench<'_>, high: &TooHigh<'_>, run: &Id) -> Option<Cure> {
    let enough = |report: &StateReport| {
        level_of(report, &high.vessel.id)
            .is_some_and(|level_m| level_m <= high.goal_m + SAME_HEIGHT_M)
    };
    next(bench, run, enough)
}

/// Returns the next size of a run's pipe whose preview is `enough`.
pub(super) fn next(
    bench: &Bench<'_>,
    run: &Id,
    enough: impl Fn(&StateReport) -> bool,
) -> Option<Cure> {
    let run = bench.layout.run(run).filter(|run| !run.already_built)?;
    let tried = larger(bench, run).into_iter().take(MOST_SIZES);
    let mut fits = tried.filter(|pipe| {
        let changed = with_pipe(bench.layout, &run.id, pipe);
        bench
            .preview(&changed)
            .is_some_and(|report| enough(&report))
    });
    Some(cure(bench, run, &fits.next()?))
}

fn with_pipe(layout: &Layout, id: &Id, pipe: &Pipe) -> Layout {
    let mut changed = layout.clone();
    if let Some(run) = changed.runs.iter_mut().find(|run| run.id == *id) {
        run.pipe = pipe.clone();
    }
    changed
}

/// Returns larger pipes of the same kind, smallest first.
fn larger(bench: &Bench<'_>, run: &Run) -> Vec<Pipe> {
    match &run.pipe {
        Pipe::Own { bore_m, .. } => {
            let bores = std::iter::successors(Some(*bore_m), |bore_m| Some(bore_m * WIDER));
            let wider = bores.skip(1).take(MOST_SIZES);
            let whole = wider.map(|bore_m| step::up(bore_m, UnitSystem::Metric));
            whole.map(|bore_m| own(&run.pipe, bore_m)).collect()
        }
        Pipe::Open => Vec::new(),
        Pipe::Bought { family, size, .. } => {
            let now = bench.catalogue.pipe(family, size);
            let Some(now) = now else {
                return Vec::new();
            };
            let sizes = now.family.sizes.iter();
            let mut wider: Vec<_> = sizes.filter(|size| size.bore_m > now.bore_m()).collect();
            wider.sort_by(|a, b| a.bore_m.total_cmp(&b.bore_m));
            wider
                .into_iter()
                .map(|size| bought(&run.pipe, &size.size))
                .collect()
        }
    }
}

fn own(pipe: &Pipe, wider_m: f64) -> Pipe {
    let mut pipe = pipe.clone();
    if let Pipe::Own { bore_m, .. } = &mut pipe {
        *bore_m = wider_m;
    }
    pipe
}

fn bought(pipe: &Pipe, larger: &str) -> Pipe {
    let mut pipe = pipe.clone();
    if let Pipe::Bought { size, .. } = &mut pipe {
        larger.clone_into(size);
    }
    pipe
}

fn cure(bench: &Bench<'_>, run: &Run, pipe: &Pipe) -> Cure {
    match (&run.pipe, pipe) {
        (Pipe::Own { bore_m: from, .. }, Pipe::Own { bore_m: to, .. }) => Cure {
            text: Sentence(vec![
                "Widen the pipe of ".into(),
                (&run.id).into(),
                " from a bore of ".into(),
                Piece::Number(Quantity::Bore, *from),
                " to ".into(),
                Piece::Number(Quantity::Bore, *to),
                ".".into(),
            ]),
            changes: vec![Change {
                part: run.id.clone(),
                field: RunField::Bore.into(),
                from: *from,
                to: *to,
                quantity: Quantity::Bore,
            }],
        },
        (_, Pipe::Bought { family, size, .. }) => {
            let known = bench.catalogue.family(family);
            let words = known.map_or(family.as_str(), |known| known.words.as_str());
            let wider = format!(" of size {size} ({words}).");
            advice(vec![
                "Make the pipe of ".into(),
                (&run.id).into(),
                wider.into(),
            ])
        }
        _ => advice(vec![
            "Widen the pipe of ".into(),
            (&run.id).into(),
            ".".into(),
        ]),
    }
}
