//! Exit codes: 0 nothing wrong, 1 a problem, 2 no answer.

use crate::support;
use fallwright::cli::exit_code;
use fallwright::evaluate::Evaluation;
use fallwright::finding::Severity;
use fallwright::state::State;
use fallwright::states::report::StateReport;

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

fn settled_or_not(converged: bool) -> StateReport {
    StateReport {
        state: State::Fouled,
        converged,
        newton_steps: 0,
        time_steps: 0,
        mass_error_m3_s: 0.0,
        energy_error_m: 0.0,
        vessels: Vec::new(),
        joints: Vec::new(),
        fixed: Vec::new(),
        runs: Vec::new(),
        pumps: Vec::new(),
        cycle: None,
        course: None,
        blocked: Vec::new(),
        in_runs_m3: 0.0,
        outcome: Default::default(),
        primed: None,
        as_built: None,
    }
}

#[test]
fn a_state_that_did_not_settle_is_no_answer_in_either_outcome() {
    let mut evaluation = with(&[]);
    evaluation.states = vec![settled_or_not(true)];
    assert_eq!(exit_code(&evaluation), 0);
    evaluation.states[0].primed = Some(Box::new(settled_or_not(false)));
    assert_eq!(exit_code(&evaluation), 2);
    evaluation.states = vec![settled_or_not(false)];
    assert_eq!(exit_code(&evaluation), 2);
}
