//! Exit codes: 0 nothing wrong, 1 a problem, 2 no answer.

use crate::support;
use fallwright::cli::exit_code;
use fallwright::evaluate::Evaluation;
use fallwright::finding::{Severity, State};

fn with(severities: &[Severity]) -> Evaluation {
    let findings = severities.iter();
    Evaluation {
        findings: findings
            .map(|one| support::finding(*one, "words"))
            .collect(),
        ..Evaluation::default()
    }
}

#[test]
fn warnings_and_notes_are_no_problem() {
    assert_eq!(exit_code(&with(&[])), 0);
    assert_eq!(exit_code(&with(&[Severity::Warning, Severity::Note])), 0);
}

#[test]
fn one_problem_anywhere_is_bad_news() {
    assert_eq!(exit_code(&with(&[Severity::Problem])), 1);
    assert_eq!(exit_code(&with(&[Severity::Note, Severity::Problem])), 1);
}

#[test]
fn an_unsolved_state_outweighs_a_problem() {
    let mut evaluation = with(&[Severity::Problem]);
    evaluation.unsolved = vec![(State::Running, Vec::new())];
    assert_eq!(exit_code(&evaluation), 2);
}
