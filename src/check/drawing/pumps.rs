//! Pump curves that cannot be read, that rise, or that are guesses.

use super::wording::finding;
use crate::finding::{Code, Finding, Severity};
use crate::layout::Id;
use crate::lower::problem::CurveFault;

pub(super) fn curve(pump: &Id, run: &Id, fault: CurveFault) -> Finding {
    let (kind, wrong) = match fault {
        CurveFault::Unreadable => (
            (Code::PumpOffCurve, Severity::Problem),
            " cannot be read; the pump is taken as stopped.",
        ),
        CurveFault::Rises => (
            (Code::CurveRises, Severity::Warning),
            " rises with flow somewhere, so one head can belong to two flows; it is computed as level there.",
        ),
        CurveFault::Guessed => (
            (Code::CurveGuessed, Severity::Warning),
            " is a guess from the two numbers of its label; its duty and all flows are guesses with it.",
        ),
    };
    let text = vec!["The curve of the pump of ".into(), run.into(), wrong.into()];
    finding(kind, &[pump, run], text)
}
