//! Of a layout that spills the flows that are shown are those that will really be there, as the levels are.

use fallwright::catalogue::Catalogue;
use fallwright::draw::section::SectionLayout;
use fallwright::evaluate::evaluate;
use fallwright::layout::{Id, Layout};
use fallwright::sheets::table::{Cell, Lists, table};
use fallwright::state::State;
use fallwright::states::report::StateReport;
use fallwright::units::{Quantity, UnitSystem, write};

/// The example in which a bed spills, and how it runs.
fn spilling() -> (Layout, StateReport) {
    let path = std::path::Path::new("examples/drain-too-high.ron");
    let layout = fallwright::file::read(path).unwrap();
    let found = evaluate(
        &layout,
        Catalogue::builtin(),
        &[State::Rest, State::Running],
    );
    let report = found.state(State::Running).unwrap().clone();
    (layout, report)
}

/// The run whose flow differs most between tall walls and the real ones; both flows.
fn most_apart(report: &StateReport) -> (Id, f64, f64) {
    let real = report.as_built.as_ref().expect("water leaves over a rim");
    let pairs = report.runs.iter().zip(&real.runs);
    let pairs = pairs.map(|(tall, real)| (tall.id.clone(), tall.flow_m3_s, real.flow_m3_s));
    let apart = |one: &(Id, f64, f64)| (one.1 - one.2).abs();
    pairs.max_by(|a, b| apart(a).total_cmp(&apart(b))).unwrap()
}

#[test]
fn the_real_course_is_a_report_of_its_own_and_agrees_with_its_levels() {
    let (_, report) = spilling();
    let real = report.real();
    assert_eq!(real.state, State::Running);
    for (tall, real) in report.vessels.iter().zip(&real.vessels) {
        assert_eq!(tall.stands_m(), real.level_m, "{}", tall.id);
    }
    assert!(real.water_m3() < report.water_m3());
    // It is told once: there is no course in a course.
    assert!(real.as_built.is_none() && std::ptr::eq(real.real(), real));
}

#[test]
fn drawings_and_tables_show_the_flows_that_will_be_there() {
    let (layout, report) = spilling();
    let (run, tall, real) = most_apart(&report);
    let [tall, real] =
        [tall, real].map(|flow| write(Quantity::Flow, flow.abs(), UnitSystem::Metric));
    assert_ne!(tall, real);
    let plan = SectionLayout::of(&layout);
    let pick = [fallwright::draw::section::Pick::Part(run.clone())];
    let mut scene = super::section::case::scene(&layout, &plan, Some(&report));
    scene.units = UnitSystem::Metric;
    scene.selected = &pick;
    let drawing = fallwright::draw::section::section(&scene).drawing;
    let words = super::section::case::words_of(&drawing, run.as_str()).join("; ");
    assert!(words.contains(&real), "{words}: {real}, not {tall}");
    assert!(!words.contains(&tall), "{words}: {real}, not {tall}");
    let listed = table(Lists::Runs, &layout, Some(&report), &[]);
    let row = listed.rows.iter().find(|row| row.part == run).unwrap();
    let flow_m3_s = report.real().runs.iter().find(|one| one.id == run).unwrap();
    assert!(row.cells.contains(&Cell::Number(flow_m3_s.flow_m3_s)));
}
