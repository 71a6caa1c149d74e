//! A layout with a report by hand.

use crate::support::layouts::running;
use fallwright::check::{WaterFacts, check};
use fallwright::finding::{Code, Finding};
use fallwright::layout::{Layout, Run};
use fallwright::lower::RunFacts;
use fallwright::state::State;
use fallwright::states::report::{
    Control, FixedReport, JointReport, PumpReport, Regime, RunReport, Standing, StateReport,
    VesselReport,
};

/// A layout, a report of it and what its runs are made of.
pub struct Case {
    pub layout: Layout,
    pub report: StateReport,
    pub facts: Vec<RunFacts>,
    pub water: WaterFacts,
}

/// Round figures: 1000 kg/m³ and no vapour pressure.
pub const WATER: WaterFacts = WaterFacts {
    density_kg_m3: 1000.0,
    vapour_pressure_pa: 0.0,
    evaporation_m3_s: 0.0,
};

impl Case {
    /// Running: every vessel half full, every run full and carrying 1 L/s as drawn against a drowned end.
    pub fn new(layout: Layout) -> Case {
        let facts = running(&layout).origin.run_facts;
        let runs = layout.runs.iter().zip(&facts);
        let report = StateReport {
            state: State::Running,
            converged: true,
            newton_steps: 0,
            time_steps: 0,
            mass_error_m3_s: 0.0,
            energy_error_m: 0.0,
            vessels: layout.vessels.iter().map(half_full).collect(),
            joints: layout.joints.iter().map(at_its_height).collect(),
            fixed: layout.fixed.iter().map(fixed).collect(),
            runs: runs.map(|(run, facts)| flowing(run, facts)).collect(),
            pumps: layout.runs.iter().filter_map(pump).collect(),
            cycle: None,
            course: None,
            blocked: Vec::new(),
            in_runs_m3: 0.0,
            outcome: Default::default(),
            primed: None,
            as_built: None,
        };
        Case {
            layout,
            report,
            facts,
            water: WATER,
        }
    }

    pub fn run(&mut self, id: &str) -> &mut RunReport {
        let mut runs = self.report.runs.iter_mut();
        runs.find(|run| run.id.as_str() == id).unwrap()
    }

    pub fn vessel(&mut self, id: &str) -> &mut VesselReport {
        let mut vessels = self.report.vessels.iter_mut();
        vessels.find(|one| one.id.as_str() == id).unwrap()
    }

    /// Everything found.
    pub fn all(&self) -> Vec<Finding> {
        check(&self.layout, &self.report, &self.facts, self.water)
    }

    /// What is found of one kind.
    pub fn found(&self, code: Code) -> Vec<Finding> {
        let mut all = self.all();
        all.retain(|one| one.code == code);
        all
    }

    /// A finding's sentence, in metric.
    pub fn read(&self, found: &Finding) -> String {
        let name = |id: &fallwright::layout::Id| self.layout.name_of(id).to_owned();
        found.text.read(&name, Default::default())
    }
}

/// Holds a rule to three values: one that passes, the limit itself, one that fails. Gives what is said of the last.
pub fn three(code: Code, make: impl Fn(f64) -> Case, [fine, limit, wrong]: [f64; 3]) -> Finding {
    assert!(make(fine).found(code).is_empty(), "{fine} should pass");
    assert!(
        make(limit).found(code).is_empty(),
        "{limit} is on the limit"
    );
    let case = make(wrong);
    let mut found = case.found(code);
    assert_eq!(found.len(), 1, "{wrong} should fail once: {found:?}");
    let one = found.remove(0);
    let text = case.read(&one);
    assert!(text.ends_with('.') && !text.contains("  "), "{text}");
    assert!(!one.about.is_empty() && one.cures.is_empty());
    one
}

fn half_full(vessel: &fallwright::layout::Vessel) -> VesselReport {
    VesselReport {
        id: vessel.id.clone(),
        name: vessel.name.clone(),
        floor_m: vessel.floor_m,
        rim_m: vessel.rim_m,
        level_m: Some(0.5 * (vessel.floor_m + vessel.rim_m)),
        volume_m3: Some(1.0),
        inflow_m3_s: 0.001,
        with_spill: None,
    }
}

fn at_its_height(joint: &fallwright::layout::Joint) -> JointReport {
    JointReport {
        id: joint.id.clone(),
        elevation_m: joint.elevation_m,
        head_m: Some(joint.elevation_m),
        pressure_pa: Some(0.0),
    }
}

fn fixed(fixed: &fallwright::layout::Fixed) -> FixedReport {
    FixedReport {
        id: fixed.id.clone(),
        level_m: fixed.level_m,
        flow_m3_s: 0.0,
    }
}

fn flowing(run: &Run, facts: &RunFacts) -> RunReport {
    let area_m2 = std::f64::consts::FRAC_PI_4 * facts.bore_m * facts.bore_m;
    RunReport {
        id: run.id.clone(),
        from: run.from.at.clone(),
        to: run.to.at.clone(),
        flow_m3_s: 0.001,
        velocity_m_s: 0.001 / area_m2,
        bore_m: facts.bore_m,
        length_m: facts.length_m,
        loss_m: 0.01,
        screens_m: [0.0; 2],
        free_drop_m: 0.0,
        control: Control::Outlet,
        regime: Regime::Full,
        valve_open: facts.valve_open,
        capacity_at_rim_m3_s: Some(0.01),
        drowned: true,
        surge: None,
        through_hole_m3_s: None,
        air: None,
        profile: Vec::new(),
    }
}

fn pump(run: &Run) -> Option<PumpReport> {
    let pump = run.pump.as_ref()?;
    Some(PumpReport {
        id: pump.id.clone(),
        run: run.id.clone(),
        on: true,
        standing: Standing::Runs,
        flow_m3_s: 0.001,
        head_m: 2.0,
        static_m: 1.0,
        losses: Vec::new(),
        power_w: None,
        npsh_available_m: None,
        npsh_required_m: None,
        suction_level_m: Some(0.2),
        shutoff_head_m: 3.0,
        end_of_curve_m3_s: Some(0.0015),
        curve_rises: false,
    })
}
