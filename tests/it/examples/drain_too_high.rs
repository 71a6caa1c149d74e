//! A bed floods because a drain further down sits a hand too high.

use super::{checked, example, exit_code, run, running, solved, vessel};
use fallwright::advise::with_cures;
use fallwright::catalogue::Catalogue;
use fallwright::edit::changed;
use fallwright::finding::{Change, Code, Finding, Severity};
use fallwright::layout::{EndField, NumberField, RunEnd};
use fallwright::layout::{Id, Layout, Opening};
use fallwright::state::State;
use fallwright::units::Quantity;

/// The field that holds a crest.
const CREST: NumberField = NumberField::End(RunEnd::From, EndField::UpstandCrest);

fn crest_m(layout: &Layout) -> &f64 {
    let found = layout.run(&"step-3".into()).expect("the upstand");
    match &found.from.opening {
        Some(Opening::Upstand { crest_m, .. }) => crest_m,
        other => panic!("an upstand, not {other:?}"),
    }
}

fn problems(findings: &[Finding]) -> Vec<&Finding> {
    let all = findings.iter();
    all.filter(|one| one.severity == Severity::Problem)
        .collect()
}

/// The cure that lowers the crest.
fn cure() -> Change {
    let wrong = example("drain-too-high");
    let told = with_cures(
        &wrong.layout,
        Catalogue::builtin(),
        wrong.evaluation.clone(),
    );
    let cures = &problems(&told.findings)[0].cures;
    let lower = cures.iter().flat_map(|cure| &cure.changes);
    let mut lower = lower.filter(|change| change.field == CREST);
    lower.next().expect("a cure that lowers the crest").clone()
}

#[test]
fn it_is_the_glasshouse_but_for_one_crest() {
    let mut made = example("glasshouse").layout.clone();
    let wrong = &example("drain-too-high").layout;
    let right_m = *crest_m(&made);
    assert!((crest_m(wrong) - right_m - 0.09).abs() < 1e-12);
    made.title.clone_from(&wrong.title);
    let raised = Change {
        part: "step-3".into(),
        field: CREST,
        from: right_m,
        to: *crest_m(wrong),
        quantity: Quantity::Height,
    };
    assert_eq!(changed(&made, &[raised]).as_ref(), Ok(wrong));
}

#[test]
fn one_bed_spills_and_the_crest_of_another_is_blamed() {
    let wrong = example("drain-too-high");
    let report = running(&wrong.evaluation);
    let wet = report.vessels.iter();
    let wet: Vec<&str> = wet
        .filter(|one| one.freeboard_m().is_none_or(|free_m| free_m < 0.0))
        .map(|one| one.id.as_str())
        .collect();
    assert_eq!(wet, ["cress-2"]);
    let found = problems(&wrong.evaluation.findings);
    assert_eq!(found.len(), 1);
    assert_eq!(
        (found[0].code, found[0].state),
        (Code::Spills, State::Running)
    );
    assert_eq!(found[0].about[0], Id::from("cress-2"));
    assert!(found[0].about.contains(&"step-3".into()), "{:?}", found[0]);
    // The raised crest stands in a vessel that has room to spare.
    assert_eq!(run(report, "step-3").from, "cress-3".into());
    assert!(vessel(report, "cress-3").freeboard_m() > Some(0.05));
}

#[test]
fn the_text_names_the_bed_the_millimetres_and_the_crest() {
    let text = checked("drain-too-high").out;
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    let report = running(&example("drain-too-high").evaluation);
    let over_m = -vessel(report, "cress-2").freeboard_m().expect("a level");
    for words in [
        "Cress bed 2 spills".to_owned(),
        format!("{:.0} mm over the rim", 1000.0 * over_m),
        "the crest of Cress upstand 3 in Cress bed 3 at 1245 mm".to_owned(),
    ] {
        assert!(text.contains(&words), "{words}: {text}");
    }
}

/// The figure is the least that does it: by two millimetres less the bed still spills.
#[test]
fn lowering_the_crest_by_the_figure_told_cures_it_and_by_2_mm_less_does_not() {
    let wrong = &example("drain-too-high").layout;
    let told = cure();
    assert_eq!((&told.part, told.from), (&"step-3".into(), *crest_m(wrong)));
    assert!(told.to < told.from);
    let cured = changed(wrong, std::slice::from_ref(&told)).expect("a crest");
    assert_eq!(exit_code(&solved(&cured)), 0);
    let short = Change {
        to: told.to + 0.002,
        ..told
    };
    let short = changed(wrong, &[short]).expect("a crest");
    assert_eq!(exit_code(&solved(&short)), 1);
}
