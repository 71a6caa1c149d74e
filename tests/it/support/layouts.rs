//! Small layouts in code.

use fallwright::advise::with_cures_of_drawing;
use fallwright::catalogue::Catalogue;
use fallwright::check::of_problem;
use fallwright::evaluate::Evaluation;
use fallwright::finding::{Finding, Severity};
use fallwright::layout::{
    CurveForm, CurvePoint, Direction, Edge, End, FittingUse, Fixed, Joint, Layout, Opening, Pipe,
    Place, Pump, Role, Run, Shape, ValveUse, Vessel, WaterSettings,
};
use fallwright::lower::{Age, Lowered, Pumps, RunFacts, Situation, Walls, lower};
use fallwright::network::{Link, RunLaw};

/// Bore of every run made here, metres.
pub const BORE_M: f64 = 0.1;
/// Kinematic viscosity of the water made here, m²/s: round, so that sums can be done by hand.
pub const VISCOSITY_M2_S: f64 = 1e-6;

/// Pumps on, tall walls.
pub const RUNNING: Situation = Situation {
    pumps: Pumps::On,
    walls: Walls::Tall,
    age: Age::New,
};

/// A tank of 2 m² from `floor_m` to `rim_m`, filled to half.
pub fn tank(id: &str, floor_m: f64, rim_m: f64) -> Vessel {
    Vessel {
        id: id.into(),
        name: String::new(),
        role: Role::Tank,
        shape: Shape::Prism { area_m2: 2.0 },
        floor_m,
        rim_m,
        fill_m: 0.5 * (floor_m + rim_m),
        medium: None,
        rim_perimeter_m: None,
        spills_to: None,
        make_up_m3_s: 0.0,
        make_up_outlet_m: None,
        make_up_drinking_water: false,
        float_valve: None,
        under_cover: false,
        catch_area_m2: None,
        wanted_turnover_per_h: None,
        place: Place::default(),
        already_built: false,
    }
}

/// A joint.
pub fn joint(id: &str, elevation_m: f64) -> Joint {
    Joint {
        id: id.into(),
        elevation_m,
        ..Joint::default()
    }
}

/// A fixed level.
pub fn fixed(id: &str, level_m: f64) -> Fixed {
    Fixed {
        id: id.into(),
        level_m,
        ..Fixed::default()
    }
}

/// An end with an opening.
pub fn at(part: &str, opening: Opening) -> End {
    End {
        at: part.into(),
        opening: Some(opening),
        place: None,
        screen: None,
        edge: Edge::Plain,
        orifice: None,
        entrance_k: None,
    }
}

/// An end without one.
pub fn bare(part: &str) -> End {
    End {
        at: part.into(),
        opening: None,
        place: None,
        screen: None,
        edge: Edge::Plain,
        orifice: None,
        entrance_k: None,
    }
}

/// An upstand with its lip at `crest_m`.
pub fn upstand(crest_m: f64) -> Opening {
    Opening::Upstand {
        crest_m,
        bore_m: None,
    }
}

/// An end of pipe under water, without a lip that counts.
pub fn submerged() -> Opening {
    Opening::Submerged {
        lip_m: None,
        bore_m: None,
    }
}

/// A run of 4 m of plain pipe of [`BORE_M`].
pub fn run(id: &str, from: End, to: End) -> Run {
    Run {
        id: id.into(),
        name: String::new(),
        from,
        to,
        pipe: Pipe::Own {
            bore_m: BORE_M,
            roughness_m: None,
            hazen_williams_c: None,
        },
        route: Vec::new(),
        length_m: Some(4.0),
        fittings: Vec::new(),
        valves: Vec::new(),
        equipment: Vec::new(),
        pump: None,
        check_valve: None,
        check_valve_failed: false,
        siphon_break: None,
        total_k: None,
        friction_factor: None,
        friction: None,
        carries_solids: false,
        already_built: false,
        starts_primed: false,
    }
}

/// A fitting by its kind.
pub fn fitting(kind: &str) -> FittingUse {
    FittingUse {
        kind: kind.to_owned(),
        count: 1,
        k: None,
        choice: None,
        bore_m: None,
        at_m: None,
        near: None,
    }
}

/// A valve by its kind.
pub fn valve(kind: &str, opening: f64) -> ValveUse {
    ValveUse {
        kind: kind.to_owned(),
        opening,
        k: None,
        at_m: None,
        near: None,
    }
}

/// A pump of 3 m at rest, 2 m at 1 L/s and 0.5 m at 1.5 L/s.
pub fn pump(pushes: Direction) -> Pump {
    let points = [(0.0, 3.0), (0.001, 2.0), (0.0015, 0.5)];
    let points = points.map(|(flow_m3_s, head_m)| CurvePoint { flow_m3_s, head_m });
    Pump {
        id: "lift".into(),
        name: String::new(),
        curve: CurveForm::Points(points.to_vec()),
        pushes,
        speed: 1.0,
        stopped_k: 0.0,
        efficiency: Vec::new(),
        suction: None,
        wet: None,
        float: None,
        stops_when_dry: true,
        npsh_required: Vec::new(),
    }
}

/// An upper tank (0.5 to 1.5 m), a lower one (0 to 0.4 m), a joint at 0.3 m, a ditch at −1 m, and these runs.
pub fn two_tanks(runs: Vec<Run>) -> Layout {
    Layout {
        title: "Two tanks".to_owned(),
        water: WaterSettings {
            kinematic_viscosity_m2_s: Some(VISCOSITY_M2_S),
            ..WaterSettings::default()
        },
        vessels: vec![tank("upper", 0.5, 1.5), tank("lower", 0.0, 0.4)],
        joints: vec![joint("tee", 0.3)],
        fixed: vec![fixed("ditch", -1.0)],
        runs,
        ..Layout::default()
    }
}

/// A plain drain from an upstand at 1.2 m in the upper tank to under water in the lower.
pub fn drain() -> Run {
    run("drain", at("upper", upstand(1.2)), at("lower", submerged()))
}

/// Lowered with pumps on and tall walls.
pub fn running(layout: &Layout) -> Lowered {
    lower(layout, Catalogue::builtin(), RUNNING)
}

/// What was said on the way, without the notes on parts that a test leaves unconnected.
pub fn said(lowered: &Lowered) -> Vec<Finding> {
    let loud = |found: &Finding| found.severity != Severity::Note;
    let mut all = findings(lowered);
    all.retain(loud);
    all
}

/// The findings on the drawing, without cures.
pub fn findings(lowered: &Lowered) -> Vec<Finding> {
    lowered.problems.iter().map(of_problem).collect()
}

/// The findings on the drawing of a layout, with their cures.
pub fn findings_with_cures(layout: &Layout) -> Vec<Finding> {
    let problems = running(layout).problems;
    let evaluation = Evaluation {
        findings: problems.iter().map(of_problem).collect(),
        problems,
        ..Evaluation::default()
    };
    with_cures_of_drawing(layout, evaluation).findings
}

/// The law of the first run.
pub fn first_law(lowered: &Lowered) -> &RunLaw {
    let index = petgraph::graph::EdgeIndex::new(lowered.origin.runs[0]);
    match &lowered.network[index] {
        Link::Run(law) => law,
        Link::Rim(_) => panic!("the first run is no run"),
    }
}

/// What the first run is made of.
pub fn first_facts(lowered: &Lowered) -> &RunFacts {
    &lowered.origin.run_facts[0]
}

/// The law of a run between the two tanks, running.
pub fn law_of(run: Run) -> RunLaw {
    first_law(&running(&two_tanks(vec![run]))).clone()
}
