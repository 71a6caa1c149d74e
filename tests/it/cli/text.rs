//! The report for people.

use crate::support;
use fallwright::cli::report_text;
use fallwright::cli::text::{CAUTION, WIDTH};
use fallwright::evaluate::Evaluation;
use fallwright::finding::Severity;
use fallwright::layout::Layout;
use fallwright::state::State;
use fallwright::states::report::LossItem;
use fallwright::units::UnitSystem;

const SYSTEMS: [UnitSystem; 2] = [UnitSystem::Metric, UnitSystem::Us];

fn text(evaluation: &Evaluation) -> String {
    report_text(&support::layout(), evaluation, UnitSystem::Metric)
}

/// The first line from `start` on that holds `words`, with single spaces.
fn line(text: &str, start: &str, words: &str) -> String {
    let from = text.find(start).expect(start);
    let found = text[from..].lines().find(|line| line.contains(words));
    let words = found.expect(words).split_whitespace();
    words.collect::<Vec<_>>().join(" ")
}

#[test]
fn a_vessel_has_level_rim_freeboard_flow_and_turnover() {
    let text = text(&support::sample());
    assert_eq!(
        line(&text, "\nRunning", "Perch tank"),
        "Perch tank 1142 1300 158 8.17 16"
    );
    assert_eq!(line(&text, "\nAt rest", "Pit"), "Pit 95 100 5 0 0");
}

#[test]
fn a_spill_is_loud_where_it_is_and_only_there() {
    let text = text(&support::sample());
    assert_eq!(text.matches("SPILLS").count(), 1);
    let spilling = line(&text, "\nRunning", "SPILLS");
    assert_eq!(spilling, "Watercress bed 864 850 SPILLS by 14 6.01 12");
    let real = line(&text, "With water leaving", "Watercress");
    assert_eq!(real, "Watercress bed 853 4.57 231 4 min 12 s");
}

#[test]
fn a_hair_over_the_rim_is_brim_full_and_no_level_at_all_spills() {
    let mut evaluation = support::sample();
    let vessels = &mut evaluation.states[0].vessels;
    vessels[0].level_m = Some(vessels[0].rim_m + 2e-5);
    vessels[1].level_m = None;
    let text = text(&evaluation);
    assert_eq!(
        line(&text, "\nAt rest", "Header"),
        "Header 1740 1740 brim full 0 0"
    );
    assert_eq!(
        line(&text, "\nAt rest", "Perch"),
        "Perch tank – 1300 SPILLS 0 0"
    );
}

#[test]
fn a_run_shows_which_way_water_goes_and_what_holds_it() {
    let text = text(&support::sample());
    let row = |words| line(&text, "\n  run ", words);
    assert_eq!(
        row("inlet, surges"),
        "Cress overflow Watercress bed → Pit 6.01 0.298 inlet, surges 1.40"
    );
    assert!(row("Cress feed").contains("Watercress bed ← Header 6.01"));
    assert!(row("Riser").contains("pump"));
    assert!(text.contains("No water moves."));
}

#[test]
fn the_items_of_the_total_dynamic_head_add_up() {
    let text = text(&support::sample());
    assert!(text.contains("  Lift pump in Riser: on"));
    let block = text.split("Lift pump").nth(1).expect("a pump");
    let metres = |row: &str| -> f64 {
        let number = row.trim_end_matches(" m").rsplit(' ').next();
        number.expect("a number").parse().expect("metres")
    };
    let items = block
        .lines()
        .filter(|row| row.contains("static lift") || row.contains("+ "));
    let sum: f64 = items.map(metres).sum();
    let total = block.lines().find(|row| row.contains("total dynamic head"));
    assert!(
        (sum - metres(total.expect("a total"))).abs() < 1e-9,
        "{block}"
    );
}

#[test]
fn a_pump_is_called_one_and_losses_of_one_kind_are_told_once() {
    let mut evaluation = support::sample();
    let pump = &mut evaluation.states[1].pumps[0];
    pump.id = "p1".into();
    pump.losses = [("ball valve", 0.01), ("pipe", 0.03), ("ball valve", 0.025)]
        .map(|(what, head_m)| LossItem {
            what: what.to_owned(),
            head_m,
        })
        .into();
    let text = text(&evaluation);
    assert!(text.contains("Pump p1 in Riser: on"), "{text}");
    let row = |words| line(&text, "Pump p1", words);
    assert_eq!(row("ball valve"), "+ 2 × ball valve 0.035 m");
    assert!(text.find("ball valve") < text.find("+ pipe"), "{text}");
}

#[test]
fn findings_come_worst_first_with_shape_word_and_cure() {
    let mut evaluation = support::sample();
    evaluation.findings.reverse();
    let text = text(&evaluation);
    let places = ["▲ problem", "△ warning", "■ note"].map(|mark| text.find(mark).expect(mark));
    assert!(places.is_sorted());
    let cure = line(&text, "▲ problem", "cure:");
    assert_eq!(
        cure,
        "cure: lower the crest of Cress overflow from 841 mm to 807 mm"
    );
    assert_eq!(
        line(&text, "cure:", "or:"),
        "or: add a second upstand of the same bore"
    );
    assert!(text.contains("1 problem, 1 warning, 1 note"));
}

#[test]
fn what_was_not_checked_stands_last_but_one_and_the_caution_last() {
    let text = text(&support::sample());
    let mut backwards = text.lines().rev();
    assert_eq!(backwards.next(), Some(CAUTION));
    let left_out = "Not checked: starting, fouled, blocked, stopped.";
    assert_eq!(backwards.next(), Some(left_out));
    assert!(text.ends_with('\n'));
}

#[test]
fn the_text_fits_the_page_and_leaves_nothing_dangling() {
    let mut evaluation = support::sample();
    let long = "A rather long name that somebody gave to a bed, ".repeat(4);
    evaluation.states[1].vessels[2].name = long;
    evaluation
        .findings
        .push(support::finding(Severity::Note, &"word ".repeat(60)));
    for system in SYSTEMS {
        let text = report_text(&support::layout(), &evaluation, system);
        for line in text.lines() {
            assert!(line.chars().count() <= WIDTH, "{line}");
            assert_eq!(line, line.trim_end());
        }
        assert_eq!(
            text.matches("somebody").count(),
            8,
            "names are wrapped, never cut"
        );
    }
}

#[test]
fn nothing_reads_nan_or_moves_the_cursor() {
    let mut evaluation = support::sample();
    let running = &mut evaluation.states[1];
    running.vessels[0].level_m = Some(f64::NAN);
    running.vessels[1].name = "Red\u{1b}[31m\nbed".to_owned();
    running.runs[0].flow_m3_s = f64::INFINITY;
    running.pumps[0].head_m = f64::NAN;
    for system in SYSTEMS {
        let text = report_text(&support::layout(), &evaluation, system);
        assert!(!text.contains("NaN") && !text.contains("inf "), "{text}");
        assert!(!text.contains('\u{1b}') && text.contains("Red [31m bed"));
        assert!(text.contains("not known"));
    }
}

#[test]
fn an_empty_layout_still_reads() {
    let text = report_text(&Layout::default(), &Evaluation::default(), UnitSystem::Us);
    assert!(text.starts_with("Layout without a title\nNothing could be checked: no problems"));
    assert!(text.contains("None: no state could be checked."));
}

#[test]
fn a_state_without_an_answer_says_where() {
    let mut evaluation = support::sample();
    evaluation.states.truncate(1);
    evaluation.states[0].converged = false;
    evaluation.unsolved = vec![(State::Running, vec!["cress".into(), "pump".into()])];
    let text = text(&evaluation);
    assert!(text.contains("could not be solved. It fails at Watercress bed and Lift pump."));
    assert!(text.contains("did not settle"));
}

#[test]
fn a_finding_ends_in_its_code_and_the_report_says_where_its_page_is() {
    let evaluation = support::sample();
    let text = text(&evaluation);
    assert!(!evaluation.findings.is_empty());
    for finding in &evaluation.findings {
        let code = format!("[{}]", finding.code.word());
        assert!(text.contains(&code), "{code}");
        let page = format!("docs/findings/{}.md", finding.code.word());
        assert!(
            std::path::Path::new(env!("CARGO_MANIFEST_DIR"))
                .join(page)
                .exists()
        );
    }
    assert_eq!(text.matches('[').count(), evaluation.findings.len());
    assert_eq!(text.matches("docs/findings/CODE.md").count(), 1);
    // Where nothing is found there is no code to look up.
    let sound = Evaluation {
        findings: Vec::new(),
        ..evaluation
    };
    let text = report_text(&support::layout(), &sound, UnitSystem::Metric);
    assert!(!text.contains("docs/findings") && !text.contains('['));
}
