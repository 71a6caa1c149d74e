//! A small glasshouse whose cress bed spills: numbers by hand, as an evaluation would hold them.

use fallwright::evaluate::Evaluation;
use fallwright::finding::{Change, Code, Cure, Finding, Piece, Sentence, Severity};
use fallwright::layout::{EndField, NumberField, RunEnd};
use fallwright::layout::{Fixed, Joint, Layout, Run, Vessel};
use fallwright::state::State;
use fallwright::states::report::{
    Control, FixedReport, JointReport, LossItem, PumpReport, Regime, RunReport, Standing,
    StateReport, VesselReport, WithSpill,
};
use fallwright::units::Quantity;

/// The layout as far as its names go: no run of it is fit to be solved.
pub fn layout() -> Layout {
    let names = [
        ("to_perch", "Perch feed"),
        ("to_cress", "Cress feed"),
        ("overflow", "Cress overflow"),
        ("riser", "Riser"),
    ];
    Layout {
        title: "Perch and watercress glasshouse".to_owned(),
        vessels: vessels([1.0; 4]).iter().map(named_vessel).collect(),
        joints: vec![Joint {
            id: "tee".into(),
            name: "Tee to the beds".to_owned(),
            ..Joint::default()
        }],
        fixed: vec![Fixed {
            id: "ditch".into(),
            name: "Ditch".to_owned(),
            ..Fixed::default()
        }],
        runs: names.iter().map(|name| named_run(*name)).collect(),
        ..Layout::default()
    }
}

fn named_vessel(report: &VesselReport) -> Vessel {
    let text = format!(
        "(id: {:?}, name: {:?}, shape: prism(area_m2: 1.0), floor_m: 0.0, rim_m: 1.0, fill_m: 0.5)",
        report.id.as_str(),
        report.name
    );
    ron::from_str(&text).expect("a sound vessel")
}

fn named_run((id, name): (&str, &str)) -> Run {
    let pump = match id {
        "riser" => {
            r#"Some((id: "pump", name: "Lift pump", curve: power(h0_m: 4.6, c: 1.0, n: 2.0)))"#
        }
        _ => "None",
    };
    let text = format!(
        r#"(id: "{id}", name: "{name}", from: (at: "sump"), to: (at: "header"),
            pipe: own(bore_m: 0.0844), pump: {pump})"#
    );
    ron::from_str(&text).expect("a sound run")
}

/// At rest and running; running, the cress bed stands 14 mm over its rim.
pub fn sample() -> Evaluation {
    Evaluation {
        states: vec![rest(), running()],
        findings: findings(),
        problems: Vec::new(),
        unsolved: Vec::new(),
        marks: None,
        variants: Vec::new(),
        not_checked: vec![
            State::Starting,
            State::Fouled,
            State::Blocked,
            State::Stopped,
        ],
    }
}

/// A vessel between `floor_m` and `rim_m`, half a cubic metre in it.
pub fn vessel(id: &str, name: &str, floor_rim_m: (f64, f64), level_m: f64) -> VesselReport {
    VesselReport {
        id: id.into(),
        name: name.to_owned(),
        floor_m: floor_rim_m.0,
        rim_m: floor_rim_m.1,
        level_m: Some(level_m),
        volume_m3: Some(0.5),
        inflow_m3_s: 0.0,
        with_spill: None,
    }
}

/// A finding with nothing in it but its severity and its words.
pub fn finding(severity: Severity, words: &str) -> Finding {
    Finding {
        code: Code::Spills,
        severity,
        state: State::Running,
        about: Vec::new(),
        text: Sentence(vec![words.into()]),
        measured: None,
        limit: None,
        quantity: Quantity::Height,
        cures: Vec::new(),
    }
}

fn vessels(levels_m: [f64; 4]) -> Vec<VesselReport> {
    vec![
        vessel("header", "Header", (1.34, 1.74), levels_m[0]),
        vessel("perch", "Perch tank", (0.42, 1.3), levels_m[1]),
        vessel("cress", "Watercress bed", (0.55, 0.85), levels_m[2]),
        vessel("sump", "Pit", (-0.13, 0.1), levels_m[3]),
    ]
}

fn state(state: State, levels_m: [f64; 4]) -> StateReport {
    StateReport {
        state,
        converged: true,
        newton_steps: 31,
        time_steps: 12,
        mass_error_m3_s: 1e-12,
        energy_error_m: 1e-9,
        vessels: vessels(levels_m),
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

fn rest() -> StateReport {
    let mut report = state(State::Rest, [1.39, 1.0961, 0.84, 0.095]);
    report.runs = runs();
    for run in &mut report.runs {
        run.flow_m3_s = 0.0;
        run.velocity_m_s = 0.0;
        run.loss_m = 0.0;
        run.control = Control::Still;
        run.regime = Regime::None;
    }
    report
}

fn running() -> StateReport {
    let mut report = state(State::Running, [1.61, 1.142, 0.864, 0.021]);
    let inflows_m3_s = [0.003_94, 0.002_27, 0.001_67, 0.003_94];
    for (vessel, inflow_m3_s) in report.vessels.iter_mut().zip(inflows_m3_s) {
        vessel.inflow_m3_s = inflow_m3_s;
    }
    report.vessels[2].with_spill = Some(WithSpill {
        level_m: 0.853,
        spill_m3_s: 0.001_27,
        lost_m3: 0.231,
        first_spill_s: Some(252.0),
    });
    report.joints = vec![JointReport {
        id: "tee".into(),
        elevation_m: 1.45,
        head_m: None,
        pressure_pa: None,
    }];
    report.fixed = vec![FixedReport {
        id: "ditch".into(),
        level_m: -0.4,
        flow_m3_s: -0.000_1,
    }];
    report.runs = runs();
    report.pumps = vec![pump()];
    report
}

fn run(id: &str, ends: (&str, &str), flow_m3_s: f64, control: Control) -> RunReport {
    let bore_m: f64 = 0.0844;
    RunReport {
        id: id.into(),
        from: ends.0.into(),
        to: ends.1.into(),
        flow_m3_s,
        velocity_m_s: flow_m3_s / (std::f64::consts::FRAC_PI_4 * bore_m * bore_m),
        bore_m,
        length_m: 1.86,
        loss_m: 0.031 * flow_m3_s.signum(),
        screens_m: [0.0; 2],
        free_drop_m: 0.2,
        control,
        regime: Regime::Full,
        valve_open: None,
        capacity_at_rim_m3_s: None,
        drowned: false,
        surge: None,
        through_hole_m3_s: None,
        air: None,
        profile: Vec::new(),
    }
}

fn runs() -> Vec<RunReport> {
    let mut overflow = run("overflow", ("cress", "sump"), 0.001_67, Control::Inlet);
    overflow.capacity_at_rim_m3_s = Some(0.000_39);
    overflow.regime = Regime::Surging;
    let mut riser = run("riser", ("sump", "header"), 0.003_94, Control::Pumped);
    riser.valve_open = Some(0.62);
    vec![
        run("to_perch", ("header", "perch"), 0.002_27, Control::Outlet),
        run("to_cress", ("cress", "header"), -0.001_67, Control::Outlet),
        overflow,
        riser,
    ]
}

fn pump() -> PumpReport {
    let item = |what: &str, head_m: f64| LossItem {
        what: what.to_owned(),
        head_m,
    };
    PumpReport {
        id: "pump".into(),
        run: "riser".into(),
        on: true,
        standing: Standing::Runs,
        flow_m3_s: 0.003_94,
        head_m: 2.45,
        static_m: 1.589,
        losses: vec![
            item("filter", 0.52),
            item("pipe friction", 0.241),
            item("4 × elbow 90°", 0.1),
        ],
        power_w: Some(182.4),
        npsh_available_m: Some(9.61),
        npsh_required_m: Some(3.2),
        suction_level_m: Some(0.021),
        shutoff_head_m: 4.6,
        end_of_curve_m3_s: Some(0.0075),
        curve_rises: false,
    }
}

fn part(id: &str) -> Piece {
    Piece::Part(id.into())
}

fn findings() -> Vec<Finding> {
    let number = |value| Piece::Number(Quantity::Height, value);
    let spills = Sentence(vec![
        part("cress"),
        " spills: its level stands ".into(),
        number(0.014),
        " over the rim, because ".into(),
        part("overflow"),
        " passes too little at the rim and its crest is set too high for that much water".into(),
    ]);
    let lower = Sentence(vec![
        "lower the crest of ".into(),
        part("overflow"),
        " from ".into(),
        number(0.841),
        " to ".into(),
        number(0.807),
    ]);
    vec![
        Finding {
            about: vec!["cress".into(), "overflow".into()],
            text: spills,
            measured: Some(0.864),
            limit: Some(0.85),
            cures: vec![
                Cure {
                    text: lower,
                    changes: vec![Change {
                        part: "overflow".into(),
                        field: NumberField::End(RunEnd::From, EndField::UpstandCrest),
                        from: 0.841,
                        to: 0.807,
                        quantity: Quantity::Height,
                    }],
                },
                Cure {
                    text: Sentence(vec!["add a second upstand of the same bore".into()]),
                    changes: Vec::new(),
                },
            ],
            ..finding(Severity::Problem, "")
        },
        Finding {
            code: Code::LittleFreeboard,
            state: State::Rest,
            measured: Some(f64::NAN),
            limit: Some(0.025),
            ..finding(Severity::Warning, "little room over the water in the pit")
        },
        Finding {
            code: Code::TooSlow,
            measured: Some(0.3),
            quantity: Quantity::Velocity,
            ..finding(Severity::Note, "the overflow runs in its surge band")
        },
    ]
}
