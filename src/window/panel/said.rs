//! Describes a proposed run in a sentence, so that it can be checked and changed.

use crate::edit::kind_words;
use crate::layout::{Layout, Opening, Pipe, Run, RunEnd};
use crate::units::{self, Quantity};

/// Describes the choices made for a new run: openings, pipe, length and elbows.
pub fn said_of(layout: &Layout, run: &Run) -> String {
    let end = |which: RunEnd| {
        let end = run.end(which);
        let name = layout.name_of(&end.at);
        match &end.opening {
            None => name.to_owned(),
            Some(opening) => {
                let height = opening.crest_m();
                let height =
                    height.map(|height| units::write(Quantity::Height, height, layout.units));
                let at = height.map_or(String::new(), |height| {
                    format!(", {} {height}", Opening::height_word(opening))
                });
                format!("{} in {name}{at}", kind_words(opening))
            }
        }
    };
    let pipe = match &run.pipe {
        Pipe::Bought { size, .. } => format!("{size} pipe"),
        Pipe::Own { .. } => "pipe".to_owned(),
        Pipe::Open => "no pipe".to_owned(),
    };
    let length = units::write(Quantity::Length, layout.length_of(run), layout.units);
    let elbows: u32 = run
        .fittings
        .iter()
        .filter(|fitting| fitting.kind.starts_with("elbow"))
        .map(|fitting| fitting.count)
        .sum();
    let elbows = match elbows {
        0 => "no elbow".to_owned(),
        1 => "1 elbow".to_owned(),
        more => format!("{more} elbows"),
    };
    let pump = match &run.pump {
        Some(_) => " Its pump is a guess: enter the curve of the pump that you buy.",
        None => "",
    };
    format!(
        "Proposed {}: from {} to {}; {pipe}, {length}, {elbows}.{pump}",
        layout.name_of(&run.id),
        end(RunEnd::From),
        end(RunEnd::To)
    )
}
