//! The only module through which the command line uses the rest of the program.
//!
//! Each function calls one module, and converts its errors into [`Failure`].

use super::Failure;
use super::failure::is_standard_input;
use super::words::{Form, View};
use crate::advise;
use crate::catalogue::Catalogue;
use crate::draw::page::frame::SheetOptions;
use crate::draw::page::shape::Drawing;
use crate::draw::page::site_photo::Dots;
use crate::draw::{grade, plan, section};
use crate::evaluate;
use crate::evaluate::{AsBuilt, Evaluation, FailureCase, NoPath, NotConverged, Paths};
use crate::file::{self, FileError, Format, Opened};
use crate::layout::{Id, Layout};
use crate::session;
use crate::state::State;
use crate::states::{InitialChange, SimulationResult};
use crate::sweep::{self, Parallel};
use std::path::Path;
use std::sync::Arc;

/// Reads a layout, from standard input where the path stands for it.
pub(super) fn read(path: &Path) -> Result<Layout, Failure> {
    open(path).map(|opened| opened.layout)
}

/// As [`read`], with the facts about the file that the layout does not hold.
pub(super) fn open(path: &Path) -> Result<Opened, Failure> {
    let opened = if is_standard_input(path) {
        file::open_from(std::io::stdin().lock(), path)
    } else {
        file::open(path)
    };
    opened.map_err(failure)
}

/// Whether two paths lead to the same file.
pub(super) fn is_same(one: &Path, other: &Path) -> bool {
    let real = |path: &Path| std::fs::canonicalize(path).ok();
    real(one).is_some_and(|one| real(other) == Some(one))
}

/// The demo layout.
pub(super) fn demo() -> Result<Layout, Failure> {
    session::demo().map_err(failure)
}

/// The layout as text.
pub(super) fn to_text(layout: &Layout, form: Form) -> Result<String, Failure> {
    let format = match form {
        Form::Json => Format::Json,
        Form::Ron => Format::Ron,
    };
    file::to_text(layout, format).map_err(failure)
}

/// Saves `text` as a file.
pub(super) fn save(text: &str, path: &Path) -> Result<(), Failure> {
    session::clear_parts_of(path);
    file::save(text, path).map_err(failure)
}

fn failure(error: FileError) -> Failure {
    let short = |number: Option<usize>| number.and_then(|number| u32::try_from(number).ok());
    Failure {
        file: error.place.file.map(|path| path.to_path_buf()),
        line: short(error.place.line),
        column: short(error.place.column),
        part: error.part,
        ..Failure::new(error.what, error.cure)
    }
}

/// Saves a drawing.
pub(super) fn save_bytes(bytes: &[u8], path: &Path) -> Result<(), Failure> {
    session::clear_parts_of(path);
    file::save_bytes(bytes, path).map_err(failure)
}

/// Solves and checks without cures, which a drawing does not show.
pub(super) fn evaluate_only(layout: &Layout, states: &[State]) -> Evaluation {
    evaluate::evaluate_by(&Parallel::default(), layout, Catalogue::builtin(), states)
}

/// Reads the site picture that a layout read from `file` names; none where it names none.
pub(super) fn site(layout: &Layout, file: &Path) -> Result<Option<Dots>, Failure> {
    let Some(underlay) = &layout.underlay else {
        return Ok(None);
    };
    let folder = file.parent().unwrap_or(Path::new(""));
    let raster = file::read_picture(&folder.join(&underlay.file)).map_err(failure)?;
    let in_file = (raster.width, raster.height);
    let raster = raster.at_most(session::MOST_SIDE);
    Ok(Some(Dots {
        width: raster.width,
        height: raster.height,
        rgba: Arc::new(raster.rgba),
        in_file,
    }))
}

/// Draws the section or the plan, running, on a page of this size in points; the plan over the site picture.
pub(super) fn drawing(
    layout: &Layout,
    found: &Evaluation,
    (view, page_pt, dots): (View, (f64, f64), Option<Dots>),
) -> Drawing {
    let sheet = sheet(layout, found, page_pt);
    match view {
        View::Plan => plan::sheet_on(&sheet, dots),
        View::Section | View::Grade => section::sheet(&sheet),
    }
}

fn sheet<'a>(layout: &'a Layout, found: &'a Evaluation, page_pt: (f64, f64)) -> SheetOptions<'a> {
    SheetOptions {
        layout,
        running: found.state(State::Running),
        findings: &found.findings,
        units: layout.units,
        page: page_pt,
    }
}

/// Draws the grade line, running, through the parts with these ids in this order, on a page of this size in points;
/// without ids along the path with the most flow.
pub(super) fn grade_line(
    layout: &Layout,
    found: &Evaluation,
    (ids, page_pt): (&[&str], (f64, f64)),
) -> Result<Drawing, Failure> {
    let running = found.state(State::Running);
    let parts: Vec<Id> = ids.iter().copied().map(Id::from).collect();
    let runs = Paths::of(layout, running).along(&parts);
    let runs = runs.map_err(|none| no_path(layout, none))?;
    let line =
        running.and_then(|report| evaluate::grade(layout, Catalogue::builtin(), report, &runs));
    let line = line.ok_or_else(|| Failure::not_converged(State::Running.word()))?;
    Ok(grade::sheet(&sheet(layout, found, page_pt), &line))
}

fn no_path(layout: &Layout, none: NoPath) -> Failure {
    match none {
        NoPath::Unknown(id) => {
            let known = ids(layout);
            let near = nearest(id.as_str(), &known);
            let cure = match near {
                Some(near) => {
                    format!("Did you mean {near}? --path takes ids as they stand in the file")
                }
                None => "--path takes ids as they stand in the file, with a comma between them"
                    .to_owned(),
            };
            Failure {
                part: Some(id.to_string()),
                ..Failure::new("the path names a part that is not there", cure)
            }
        }
        NoPath::NotJoined(from, to) => Failure {
            part: Some(to.to_string()),
            ..Failure::new(
                format!("no runs lead from {from} to {to}"),
                "Name parts that are joined, or one in each piece of the layout at a time",
            )
        },
        NoPath::NoRun => Failure::new(
            "there is no run to draw a grade line along",
            "Draw a run, or name a part that has one",
        ),
    }
}

/// The ids of everything that a path may pass.
fn ids(layout: &Layout) -> Vec<String> {
    let vessels = layout.vessels.iter().map(|part| &part.id);
    let joints = layout.joints.iter().map(|part| &part.id);
    let fixed = layout.fixed.iter().map(|part| &part.id);
    let runs = layout.runs.iter().map(|part| &part.id);
    let pumps = layout.runs.iter().filter_map(|run| run.pump.as_ref());
    let parts = vessels.chain(joints).chain(fixed).chain(runs);
    parts
        .chain(pumps.map(|pump| &pump.id))
        .map(ToString::to_string)
        .collect()
}

/// Solves and checks, with cures.
pub(super) fn evaluate(layout: &Layout, states: &[State]) -> Evaluation {
    let catalogue = Catalogue::builtin();
    let evaluation = evaluate::evaluate_by(&Parallel::default(), layout, catalogue, states);
    advise::with_cures(layout, catalogue, evaluation)
}

/// Solves the layout at rest and running, the states that traces and failures start from.
pub(super) fn as_built(layout: &Layout) -> Result<AsBuilt<'_>, Failure> {
    AsBuilt::new(layout, Catalogue::builtin()).map_err(not_converged)
}

/// Simulates the change that happens at second 0.
pub(super) fn trace(
    ground: &AsBuilt<'_>,
    turn: InitialChange,
    until_s: Option<f64>,
) -> Result<SimulationResult, Failure> {
    ground.trace(turn, until_s).map_err(not_converged)
}

/// Simulates all failures, one at a time, and returns them worst first.
pub(super) fn faults(ground: &AsBuilt<'_>) -> Result<Vec<FailureCase>, Failure> {
    sweep::faults(ground).map_err(not_converged)
}

/// The word of `known` that was probably meant.
pub(super) fn nearest<'k>(word: &str, known: &'k [String]) -> Option<&'k str> {
    file::nearest(word, known)
}

fn not_converged(stranded: NotConverged) -> Failure {
    Failure {
        part: stranded.about.first().map(ToString::to_string),
        ..Failure::not_converged(stranded.state.word())
    }
}
