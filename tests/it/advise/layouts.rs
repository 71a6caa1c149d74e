//! Small systems in code that go wrong.

use crate::support::layouts::{at, pump, run, submerged, tank, upstand};
use fallwright::advise::with_cures;
use fallwright::catalogue::Catalogue;
use fallwright::edit;
use fallwright::evaluate::{Evaluation, evaluate};
use fallwright::finding::{Change, Code, Cure, Finding, Severity};
use fallwright::layout::{Direction, Layout, Opening, Run, Turned};
use fallwright::state::State;

/// A mouth that faces down.
pub fn mouth(lip_m: f64) -> Opening {
    Opening::Mouth {
        lip_m,
        turned: Turned::Down,
        bore_m: None,
        air_gap: false,
    }
}

/// A pump lifts from a sump into the first of three beds with their rims at 0.9 m; links under water
/// join them, and an upstand in the third lets the water fall back.
pub fn beds(crest_m: f64) -> Layout {
    let bed = |id: &str| {
        let mut bed = tank(id, 0.6, 0.9);
        bed.fill_m = 0.8;
        bed
    };
    let mut sump = tank("sump", -0.4, 0.5);
    sump.fill_m = 0.3;
    let link = |id: &str, from: &str, to: &str| run(id, at(from, submerged()), at(to, submerged()));
    let mut rise = run("rise", at("sump", mouth(-0.3)), at("first", mouth(1.0)));
    rise.pump = Some(pump(Direction::Forward));
    Layout {
        title: "Three beds".to_owned(),
        vessels: vec![bed("first"), bed("second"), bed("third"), sump],
        runs: vec![
            rise,
            link("link-1", "first", "second"),
            link("link-2", "second", "third"),
            run(
                "overflow",
                at("third", upstand(crest_m)),
                at("sump", submerged()),
            ),
        ],
        ..Layout::default()
    }
}

/// Solved, checked and cured.
pub fn cured(layout: &Layout) -> Evaluation {
    let catalogue = Catalogue::builtin();
    let states = [State::Rest, State::Running];
    let evaluation = evaluate(layout, catalogue, &states);
    assert!(evaluation.unsolved.is_empty(), "{:?}", evaluation.unsolved);
    with_cures(layout, catalogue, evaluation)
}

/// The finding of this kind about this part.
pub fn finding<'e>(evaluation: &'e Evaluation, code: Code, about: &str) -> Option<&'e Finding> {
    let mut findings = evaluation.findings.iter();
    findings.find(|one| one.code == code && one.about[0].as_str() == about)
}

/// The layout with every change of a cure made, each shifted by so much.
pub fn changed(layout: &Layout, cure: &Cure, shift_m: f64) -> Layout {
    assert!(!cure.changes.is_empty(), "{cure:?}");
    let shifted = cure.changes.iter().map(|change| Change {
        to: change.to + shift_m,
        ..change.clone()
    });
    let shifted: Vec<Change> = shifted.collect();
    edit::changed(layout, &shifted).unwrap()
}

/// The problems of a layout.
pub fn problems(layout: &Layout) -> Vec<String> {
    let states = [State::Rest, State::Running];
    let evaluation = evaluate(layout, Catalogue::builtin(), &states);
    let loud = evaluation
        .findings
        .iter()
        .filter(|one| one.severity == Severity::Problem);
    loud.map(|one| format!("{}:{}", one.code.word(), one.about[0]))
        .collect()
}

/// A run of the layout.
pub fn run_of<'l>(layout: &'l mut Layout, id: &str) -> &'l mut Run {
    layout
        .runs
        .iter_mut()
        .find(|run| run.id.as_str() == id)
        .unwrap()
}

/// A sentence in metric.
pub fn read(cure: &Cure) -> String {
    cure.text.read(&|id| id.to_string(), Default::default())
}
