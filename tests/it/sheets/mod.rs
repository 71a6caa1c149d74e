//! Tables of vessels, runs and pumps: what is in them, in which order, and as text.

use crate::support::layouts::{tank, two_tanks};
use fallwright::catalogue::Catalogue;
use fallwright::evaluate::evaluate;
use fallwright::finding::{Finding, Severity};
use fallwright::layout::Layout;
use fallwright::sheets::table::{Cell, Lists, Order, Table, table};
use fallwright::state::State;
use fallwright::states::report::StateReport;
use fallwright::units::UnitSystem;

struct Case {
    layout: Layout,
    report: StateReport,
    findings: Vec<Finding>,
}

impl Case {
    fn of(layout: Layout) -> Case {
        let found = evaluate(
            &layout,
            Catalogue::builtin(),
            &[State::Rest, State::Running],
        );
        let findings = found
            .findings
            .iter()
            .filter(|one| one.state == State::Running);
        Case {
            report: found.state(State::Running).unwrap().clone(),
            findings: findings.cloned().collect(),
            layout,
        }
    }

    fn demo() -> Case {
        Case::of(fallwright::session::demo().unwrap())
    }

    fn table(&self, lists: Lists) -> Table {
        table(lists, &self.layout, Some(&self.report), &self.findings)
    }
}

fn column(table: &Table, title: &str) -> usize {
    table
        .columns
        .iter()
        .position(|column| column.title == title)
        .unwrap()
}

fn number(table: &Table, row: usize, title: &str) -> Option<f64> {
    match table.rows[row].cells[column(table, title)] {
        Cell::Number(value) => Some(value),
        _ => None,
    }
}

fn names(table: &Table, rows: &[usize]) -> Vec<String> {
    let name = |row: &usize| match &table.rows[*row].cells[0] {
        Cell::Words(words) => words.clone(),
        other => panic!("{other:?} is no name"),
    };
    rows.iter().map(name).collect()
}

#[test]
fn every_part_has_a_row_with_a_cell_for_each_column() {
    let case = Case::demo();
    let counts = [case.layout.vessels.len(), case.layout.runs.len(), 1];
    for (lists, count) in Lists::ALL.into_iter().zip(counts) {
        let table = case.table(lists);
        assert_eq!(table.rows.len(), count, "{lists:?}");
        assert!(
            table
                .rows
                .iter()
                .all(|row| row.cells.len() == table.columns.len())
        );
        // Nothing but the drawing is known without a report.
        let bare = fallwright::sheets::table::table(lists, &case.layout, None, &[]);
        assert_eq!(bare.rows.len(), count);
    }
}

#[test]
fn values_are_those_of_the_report_to_the_last_digit() {
    let case = Case::demo();
    let vessels = case.table(Lists::Vessels);
    for (row, vessel) in case.report.vessels.iter().enumerate() {
        assert_eq!(number(&vessels, row, "Level"), vessel.stands_m());
        assert_eq!(number(&vessels, row, "Needed"), vessel.level_m);
        assert_eq!(number(&vessels, row, "Freeboard"), vessel.freeboard_m());
        assert_eq!(number(&vessels, row, "Depth"), vessel.depth_m());
        assert_eq!(number(&vessels, row, "Inflow"), Some(vessel.inflow_m3_s));
    }
    let runs = case.table(Lists::Runs);
    for (row, run) in case.report.runs.iter().enumerate() {
        assert_eq!(number(&runs, row, "Flow"), Some(run.flow_m3_s));
        assert_eq!(number(&runs, row, "Reserve"), run.reserve());
        assert_eq!(number(&runs, row, "Free drop"), Some(run.free_drop_m));
    }
    let pumps = case.table(Lists::Pumps);
    assert_eq!(number(&pumps, 0, "Head"), Some(case.report.pumps[0].head_m));
}

#[test]
fn a_column_is_sorted_up_down_and_as_drawn_and_what_is_not_known_comes_last() {
    let mut layout = two_tanks(Vec::new());
    for name in ["Bed 10", "Bed 2", "bed 1"] {
        let mut vessel = tank(&name.replace(' ', "-"), 0.0, 1.0);
        name.clone_into(&mut vessel.name);
        layout.vessels.push(vessel);
    }
    let mut table = table(Lists::Vessels, &layout, None, &[]);
    let up = table.sorted(0, Order::Up);
    assert_eq!(
        names(&table, &up),
        ["bed 1", "Bed 2", "Bed 10", "lower", "upper"]
    );
    let mut down = table.sorted(0, Order::Down);
    down.reverse();
    assert_eq!(names(&table, &down), names(&table, &up));
    assert_eq!(table.sorted(0, Order::AsDrawn), [0, 1, 2, 3, 4]);
    let level = column(&table, "Level");
    table.rows[1].cells[level] = Cell::Number(0.5);
    table.rows[3].cells[level] = Cell::Number(-0.5);
    assert_eq!(table.sorted(level, Order::Up), [3, 1, 0, 2, 4]);
    assert_eq!(table.sorted(level, Order::Down), [1, 3, 0, 2, 4]);
    let orders = [Order::AsDrawn, Order::Up, Order::Down].map(Order::next);
    assert_eq!(orders, [Order::Up, Order::Down, Order::AsDrawn]);
}

#[test]
fn a_spreadsheet_reads_every_number_in_the_unit_of_its_heading() {
    let case = Case::demo();
    let table = case.table(Lists::Vessels);
    let rows = table.sorted(column(&table, "Level"), Order::Down);
    for (system, heading, one_m) in [
        (UnitSystem::Metric, "Level, mm", 0.001),
        (UnitSystem::Us, "Level, in", 0.0254),
    ] {
        let text = table.for_spreadsheet(&rows, system);
        let lines: Vec<Vec<&str>> = text
            .lines()
            .map(|line| line.split('\t').collect())
            .collect();
        assert_eq!(lines.len(), rows.len() + 1);
        assert!(
            lines.iter().all(|line| line.len() == table.columns.len()),
            "{text}"
        );
        let level = lines[0].iter().position(|one| *one == heading).unwrap();
        for (line, row) in lines[1..].iter().zip(&rows) {
            let read: f64 = line[level].parse().unwrap();
            let exact = number(&table, *row, "Level").unwrap();
            assert!(
                (read * one_m - exact).abs() < 1e-8 * exact.abs().max(0.1),
                "{read}"
            );
        }
    }
}

#[test]
fn words_stay_in_their_cell_and_are_no_formula() {
    let mut layout = two_tanks(Vec::new());
    "tab\tand\nline".clone_into(&mut layout.vessels[0].name);
    "=1+1".clone_into(&mut layout.vessels[1].name);
    let table = table(Lists::Vessels, &layout, None, &[]);
    let text = table.for_spreadsheet(&[0, 1], UnitSystem::Metric);
    let lines: Vec<&str> = text.lines().collect();
    assert_eq!(lines.len(), 3);
    assert!(lines[1].starts_with("tab and line\t"), "{text}");
    assert!(lines[2].starts_with("'=1+1\t"), "{text}");
    // What is not known is an empty cell.
    assert!(lines[1].ends_with('\t'), "{text}");
}

#[test]
fn a_problem_is_marked_on_its_row() {
    let mut layout = fallwright::session::demo().unwrap();
    let run = layout
        .runs
        .iter_mut()
        .find(|run| run.id.as_str() == "step-3")
        .unwrap();
    if let Some(fallwright::layout::Opening::Upstand { crest_m, .. }) = &mut run.from.opening {
        *crest_m = 1.3;
    }
    let case = Case::of(layout);
    let table = case.table(Lists::Vessels);
    let row = table
        .rows
        .iter()
        .find(|row| row.part.as_str() == "cress-2")
        .unwrap();
    assert_eq!(row.worst, Some(Severity::Problem));
    let fine = table
        .rows
        .iter()
        .find(|row| row.part.as_str() == "pit")
        .unwrap();
    assert_ne!(fine.worst, Some(Severity::Problem));
}

#[test]
fn headings_on_the_screen_may_differ_from_those_that_formulas_look_up() {
    let table = table(Lists::Runs, &two_tanks(Vec::new()), None, &[]);
    let limited = column(&table, "Held by");
    assert_eq!(table.heading(limited, UnitSystem::Metric), "Limited by");
    let text = table.for_spreadsheet(&[], UnitSystem::Metric);
    assert!(text.contains("\tHeld by\t"), "{text}");
    assert!(!text.contains("Limited by"), "{text}");
}
