//! Bore and wall: from the catalogue, or as given.

use crate::support::layouts::{
    VISCOSITY_M2_S, drain, findings_with_cures, first_law, law_of, running, two_tanks,
};
use fallwright::finding::{Code, Severity};
use fallwright::hydraulics::losses::friction::Wall;
use fallwright::layout::{Friction, Pipe, Run};

fn bought(family: &str, size: &str) -> Run {
    Run {
        pipe: Pipe::Bought {
            family: family.to_owned(),
            size: size.to_owned(),
            roughness_m: None,
            hazen_williams_c: None,
        },
        ..drain()
    }
}

#[test]
fn a_pipe_that_is_bought_has_the_bore_of_its_standard() {
    // ASTM D1785 schedule 40, 2 in: 2.375 in outside less twice 0.154 in, 52.5 mm.
    let loss = law_of(bought("pvc-sch40-minimum", "2\"")).loss;
    assert!((loss.bore_m - (2.375 - 2.0 * 0.154) * 0.0254).abs() < 1e-5);
    assert_eq!(
        loss.wall,
        Wall::Darcy {
            roughness_m: 1.5e-6
        }
    );
}

#[test]
fn a_wall_of_ones_own_comes_before_the_family_s() {
    let mut rough = bought("pvc-sch40-minimum", "2 in");
    rough.friction = Some(Friction::HazenWilliams);
    assert_eq!(
        law_of(rough.clone()).loss.wall,
        Wall::HazenWilliams { c: 150.0 }
    );
    if let Pipe::Bought {
        roughness_m,
        hazen_williams_c,
        ..
    } = &mut rough.pipe
    {
        *roughness_m = Some(2e-4);
        *hazen_williams_c = Some(120.0);
    }
    assert_eq!(
        law_of(rough.clone()).loss.wall,
        Wall::HazenWilliams { c: 120.0 }
    );
    rough.friction = None;
    assert_eq!(law_of(rough).loss.wall, Wall::Darcy { roughness_m: 2e-4 });
}

#[test]
fn a_bore_of_ones_own_is_drawn_plastic_unless_it_says_otherwise() {
    let mut run = drain();
    assert_eq!(
        law_of(run.clone()).loss.wall,
        Wall::Darcy {
            roughness_m: 1.5e-6
        }
    );
    run.friction = Some(Friction::HazenWilliams);
    assert_eq!(
        law_of(run.clone()).loss.wall,
        Wall::HazenWilliams { c: 150.0 }
    );
    run.friction_factor = Some(0.021);
    assert_eq!(law_of(run).loss.wall, Wall::FixedFactor(0.021));
}

#[test]
fn the_layout_s_friction_law_and_water_reach_every_run() {
    let mut layout = two_tanks(vec![drain()]);
    layout.friction = Friction::HazenWilliams;
    layout.coefficients.hazen_williams.k = 10.9;
    layout.coefficients.gravity_m_s2 = 9.81;
    let lowered = running(&layout);
    let loss = &first_law(&lowered).loss;
    assert_eq!(loss.wall, Wall::HazenWilliams { c: 150.0 });
    assert_eq!(loss.hazen_williams_k, 10.9);
    assert_eq!(loss.gravity_m_s2, 9.81);
    assert_eq!(loss.kinematic_viscosity_m2_s, VISCOSITY_M2_S);
}

#[test]
fn val_water_is_that_of_the_temperature_unless_given() {
    // IAPWS, 20 °C: 998.21 kg/m³ and 1.0034e-6 m²/s (from memory).
    let mut layout = two_tanks(Vec::new());
    layout.water.kinematic_viscosity_m2_s = None;
    let water = running(&layout).water;
    assert!((water.density_kg_m3 - 998.21).abs() < 0.02);
    assert!((water.kinematic_viscosity_m2_s - 1.0034e-6).abs() < 1e-9);
    layout.water.density_kg_m3 = Some(1025.0);
    layout.water.kinematic_viscosity_m2_s = Some(1.2e-6);
    layout.water.temperature_c = 300.0;
    let water = running(&layout).water;
    assert_eq!(water.density_kg_m3, 1025.0);
    assert_eq!(water.kinematic_viscosity_m2_s, 1.2e-6);
}

fn told(run: Run) -> (f64, String) {
    let layout = two_tanks(vec![run]);
    let lowered = running(&layout);
    let mut told = findings_with_cures(&layout);
    told.retain(|one| one.severity != Severity::Note);
    assert_eq!(told.len(), 1, "{told:?}");
    let finding = &told[0];
    assert_eq!(
        (finding.code, finding.severity),
        (Code::NotInCatalogue, Severity::Problem)
    );
    assert_eq!(finding.about, ["drain".into()]);
    let cure = finding.cures[0]
        .text
        .read(&|id| id.to_string(), Default::default());
    (first_law(&lowered).loss.bore_m, cure)
}

#[test]
fn an_unknown_family_is_told_with_the_nearest_and_stood_in_for() {
    let (bore_m, cure) = told(bought("pvc-sch40-minimun", "2 in"));
    assert_eq!(bore_m, 0.05);
    assert!(cure.contains("“pvc-sch40-minimum”"), "{cure}");
}

#[test]
fn an_unknown_size_is_told_with_the_nearest_and_keeps_its_wall() {
    let (bore_m, cure) = told(bought("pvc-sch40-minimum", "7 in"));
    assert_eq!(bore_m, 0.05);
    assert!(cure.contains("“6 in”") || cure.contains("“8 in”"), "{cure}");
}
