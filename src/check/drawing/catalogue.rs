//! Entries that are not in the catalogue.

use super::wording::finding;
use crate::finding::{Code, Finding, Piece, Severity};
use crate::layout::Id;
use crate::lower::problem::UnknownEntry;
use crate::units::Quantity;

pub(super) fn unknown(run: &Id, entry: &UnknownEntry) -> Finding {
    let text = match entry {
        UnknownEntry::Family { family, stand_in_m } => {
            let wrong = format!(" is of the family “{family}”, which is not in the catalogue; ");
            of_pipe(run, wrong, *stand_in_m)
        }
        UnknownEntry::Size {
            family,
            size,
            stand_in_m,
        } => {
            let wrong =
                format!(" is size “{size}” of “{family}”, which is not in the catalogue; ");
            of_pipe(run, wrong, *stand_in_m)
        }
        UnknownEntry::Fitting(kind) => vec![
            run.into(),
            format!(" has a fitting “{kind}”, which is not in the catalogue; it is computed as losing nothing.")
                .into(),
        ],
        UnknownEntry::Choice { fitting, choice } => vec![
            run.into(),
            format!(
                " takes the K of its {fitting} from “{choice}”, which the catalogue does not have for it; "
            )
            .into(),
            "the usual source is used.".into(),
        ],
        UnknownEntry::SecondBore { fitting } => vec![
            run.into(),
            format!(" has a {fitting} without a second bore; it is computed as losing nothing.")
                .into(),
        ],
        UnknownEntry::Valve(kind) => vec![
            run.into(),
            format!(" has a valve “{kind}”, which is not in the catalogue; it is computed as losing nothing.")
                .into(),
        ],
    };
    finding((Code::NotInCatalogue, Severity::Problem), &[run], text)
}

fn of_pipe(run: &Id, wrong: String, stand_in_m: f64) -> Vec<Piece> {
    vec![
        "The pipe of ".into(),
        run.into(),
        wrong.into(),
        "it is computed with a bore of ".into(),
        Piece::Number(Quantity::Bore, stand_in_m),
        ".".into(),
    ]
}
