//! The layouts in `examples/`, held to what their comments tell.

mod by_hand;
mod drain_too_high;
mod other_way_round;

use fallwright::catalogue::Catalogue;
use fallwright::cli::{self, Outcome, exit_code};
use fallwright::evaluate::{Evaluation, evaluate};
use fallwright::file::{self, Format};
use fallwright::finding::{Code, Severity};
use fallwright::layout::{Id, Layout};
use fallwright::state::State;
use fallwright::states::report::{Control, RunReport, StateReport, VesselReport};
use fallwright::units::UnitSystem;
use std::path::PathBuf;
use std::sync::LazyLock;

/// One layout with all that it came to.
struct Example {
    name: &'static str,
    /// What `check` ends with.
    code: i32,
    layout: Layout,
    evaluation: Evaluation,
}

static ALL: LazyLock<Vec<Example>> = LazyLock::new(|| {
    [
        ("glasshouse", 0),
        ("drain-too-high", 1),
        ("two-beds", 0),
        ("rain-cistern", 0),
    ]
    .map(|(name, code)| {
        let layout = file::read(&path(name)).expect(name);
        let evaluation = solved(&layout);
        Example {
            name,
            code,
            layout,
            evaluation,
        }
    })
    .into()
});

fn path(name: &str) -> PathBuf {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR"));
    folder.join("examples").join(format!("{name}.ron"))
}

fn example(name: &str) -> &'static Example {
    ALL.iter().find(|one| one.name == name).expect(name)
}

fn solved(layout: &Layout) -> Evaluation {
    evaluate(layout, Catalogue::builtin(), &[State::Rest, State::Running])
}

/// What the program prints for `check`.
fn checked(name: &str) -> Outcome {
    let words = [
        "fallwright".into(),
        "check".into(),
        path(name).into_os_string(),
    ];
    cli::run(words, &|_| Err("no window here".to_owned()))
}

fn running(evaluation: &Evaluation) -> &StateReport {
    evaluation.state(State::Running).expect("running")
}

fn vessel<'a>(report: &'a StateReport, id: &str) -> &'a VesselReport {
    let found = report.vessels.iter().find(|one| one.id == Id::from(id));
    found.expect(id)
}

fn run<'a>(report: &'a StateReport, id: &str) -> &'a RunReport {
    let found = report.runs.iter().find(|one| one.id == Id::from(id));
    found.expect(id)
}

#[test]
fn every_file_in_the_folder_is_tested_here() {
    let folder = path("x").parent().expect("a folder").to_path_buf();
    let mut found: Vec<String> = std::fs::read_dir(folder)
        .expect("the folder")
        .map(|entry| entry.expect("an entry").path())
        .filter_map(|path| Some(path.file_stem()?.to_str()?.to_owned()))
        .collect();
    let mut known: Vec<String> = ALL.iter().map(|one| one.name.to_owned()).collect();
    found.sort();
    known.sort();
    assert_eq!(found, known);
}

#[test]
fn every_example_is_solved_to_the_tolerances() {
    for one in ALL.iter() {
        let name = one.name;
        assert!(one.layout.faults().is_empty(), "{name}");
        assert!(one.evaluation.unsolved.is_empty(), "{name}");
        assert_eq!(one.evaluation.states.len(), 2, "{name}");
        for state in &one.evaluation.states {
            assert!(state.converged, "{name}");
            assert!(state.mass_error_m3_s < 1e-9, "{name}");
            assert!(state.energy_error_m < 1e-6, "{name}");
        }
    }
}

#[test]
fn the_program_ends_with_the_code_that_the_example_tells() {
    for one in ALL.iter() {
        assert_eq!(exit_code(&one.evaluation), one.code, "{}", one.name);
        let outcome = checked(one.name);
        assert_eq!(outcome.code, one.code, "{}", one.name);
        assert_eq!(outcome.err, "", "{}", one.name);
    }
}

#[test]
fn sound_examples_have_no_warning() {
    for one in ALL.iter().filter(|one| one.code == 0) {
        let loud: Vec<_> = one
            .evaluation
            .findings
            .iter()
            .filter(|found| found.severity != Severity::Note)
            .map(|found| (found.code, &found.about))
            .collect();
        assert!(loud.is_empty(), "{}: {loud:?}", one.name);
    }
    // The header's overflow stands by.
    let notes = &example("glasshouse").evaluation.findings;
    let notes: Vec<_> = notes
        .iter()
        .map(|note| (note.code, &note.about[0]))
        .collect();
    assert_eq!(notes, [(Code::NoFlow, &Id::from("header-overflow"))]);
}

#[test]
fn prop_what_flows_into_a_vessel_flows_out_of_it() {
    for one in ALL.iter() {
        let report = running(&one.evaluation);
        for vessel in &one.layout.vessels {
            let runs = report.runs.iter();
            let net: f64 = runs
                .map(|run| match (run.from == vessel.id, run.to == vessel.id) {
                    (true, false) => -run.flow_m3_s,
                    (false, true) => run.flow_m3_s,
                    _ => 0.0,
                })
                .sum();
            let net = net + vessel.make_up_m3_s;
            assert!(
                net.abs() < 1e-8,
                "{} {}: {net}",
                one.name,
                vessel.id.as_str()
            );
        }
    }
}

#[test]
fn wanted_turnovers_are_met_in_the_glasshouse() {
    let one = example("glasshouse");
    let report = running(&one.evaluation);
    let mut wanted_by = 0;
    for part in &one.layout.vessels {
        let Some(wanted_per_h) = part.wanted_turnover_per_h else {
            continue;
        };
        let found = vessel(report, part.id.as_str()).turnover_per_s();
        assert!(found.expect("water") * 3600.0 >= wanted_per_h);
        wanted_by += 1;
    }
    assert_eq!(wanted_by, 7);
}

#[test]
fn the_glasshouse_is_what_its_notes_tell() {
    let one = example("glasshouse");
    assert_eq!(one.layout.title, "Perch and watercress glasshouse");
    let report = running(&one.evaluation);
    let pump = &report.pumps[0];
    assert!((10.0..14.0).contains(&(pump.flow_m3_s * 3600.0)));
    assert!((4.0..6.0).contains(&pump.head_m));
    for state in &one.evaluation.states {
        for vessel in &state.vessels {
            let free_m = vessel.freeboard_m().expect("a level");
            assert!(free_m >= 0.04, "{}: {free_m}", vessel.id.as_str());
        }
    }
    let level = |id| vessel(report, id).level_m.expect("a level");
    assert!((level("cress-2") - level("cress-3")).abs() < 0.005);
    for drain in ["overflow-1", "overflow-2", "overflow-3"] {
        let drain = run(report, drain);
        let reserve = drain.capacity_at_rim_m3_s.expect("a capacity") / drain.flow_m3_s;
        assert!((1.3..2.0).contains(&reserve), "{reserve}");
        assert_eq!(drain.control, Control::Inlet, "its crest sets the level");
    }
}

#[test]
fn no_water_stands_in_the_collector_at_rest() {
    let rest = example("glasshouse").evaluation.state(State::Rest);
    let rest = rest.expect("rest");
    assert!(rest.joints.iter().all(|joint| joint.head_m.is_none()));
}

#[test]
fn the_rain_goes_on_alike_at_rest_and_running() {
    let one = example("rain-cistern");
    let [rest, running] = [State::Rest, State::Running].map(|state| {
        let report = one.evaluation.state(state).expect("a report");
        let levels = report.vessels.iter().map(|vessel| vessel.level_m);
        levels.collect::<Option<Vec<f64>>>().expect("levels")
    });
    for (a, b) in rest.iter().zip(&running) {
        assert!((a - b).abs() < 1e-3, "{a} {b}");
    }
}

#[test]
fn prop_both_notations_hold_the_same() {
    for one in ALL.iter() {
        let json = file::to_text(&one.layout, Format::Json).expect("JSON");
        let back = file::parse(&json, Format::Json).expect("a layout");
        assert_eq!(back, one.layout, "{}", one.name);
        let ron = file::to_text(&back, Format::Ron).expect("RON");
        let back = file::parse(&ron, Format::Ron).expect("a layout");
        assert_eq!(back, one.layout, "{}", one.name);
    }
}

#[test]
fn prop_the_units_that_are_shown_change_no_number() {
    for one in ["glasshouse", "rain-cistern"].map(example) {
        let other = match one.layout.units {
            UnitSystem::Metric => UnitSystem::Us,
            UnitSystem::Us => UnitSystem::Metric,
        };
        let shown = Layout {
            units: other,
            ..one.layout.clone()
        };
        assert_eq!(solved(&shown).states, one.evaluation.states, "{}", one.name);
    }
}
