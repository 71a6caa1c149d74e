//! What use does: film, rough walls, dirty filters, blinded screens.

use crate::support::layouts::{
    BORE_M, RUNNING, at, drain, fitting, run, running, submerged, two_tanks, upstand,
};
use approx::assert_relative_eq;
use fallwright::catalogue::Catalogue;
use fallwright::hydraulics::STANDARD_GRAVITY_M_S2 as G;
use fallwright::hydraulics::losses::friction::Wall;
use fallwright::hydraulics::losses::loss::Loss;
use fallwright::hydraulics::openings::coefficients::Coefficients;
use fallwright::hydraulics::openings::inlet::Inlet;
use fallwright::hydraulics::openings::submergence::MouthLeadsTo;
use fallwright::layout::{
    CrestKind, Equipment, EquipmentLoss, Friction, Opening, Pipe, Rise, Run, Screen, SiphonBreak,
    Vent,
};
use fallwright::lower::{Age, Lowered, Situation, lower};
use fallwright::network::RunLaw;

const FILM_M: f64 = 0.002;

fn fouled(run: Run) -> Lowered {
    let situation = Situation {
        age: Age::Fouled,
        ..RUNNING
    };
    lower(&two_tanks(vec![run]), Catalogue::builtin(), situation)
}

fn law(run: Run) -> RunLaw {
    crate::support::layouts::first_law(&fouled(run)).clone()
}

#[test]
fn a_film_narrows_pipe_and_openings_and_the_wall_is_rough() {
    let law = law(drain());
    let bore_m = BORE_M - 2.0 * FILM_M;
    assert_relative_eq!(law.loss.bore_m, bore_m);
    assert_eq!(law.loss.wall, Wall::Darcy { roughness_m: 1e-3 });
    assert_eq!(law.ends[0].lip_m, 1.2);
    assert_eq!(
        law.ends[0].inlet,
        Inlet::lip(bore_m, &Coefficients::default()).leading_to(MouthLeadsTo::ToPipe, G)
    );
    let mut bell = drain();
    bell.from.opening = Some(Opening::Upstand {
        crest_m: 1.2,
        bore_m: Some(0.2),
    });
    let bell = self::law(bell);
    assert_eq!(
        bell.ends[0].inlet,
        Inlet::lip(0.2 - 2.0 * FILM_M, &Coefficients::default())
            .leading_to(MouthLeadsTo::ToPipe, G)
    );
    assert!(
        bell.loss
            .minors
            .iter()
            .any(|minor| minor.bore_m == 0.2 - 2.0 * FILM_M)
    );
}

#[test]
fn new_it_is_as_drawn_whatever_the_ageing_says() {
    let mut layout = two_tanks(vec![drain()]);
    let plain = running(&layout);
    layout.ageing.film_m = 0.01;
    layout.ageing.screens_blinded = 0.9;
    let said = running(&layout);
    assert_eq!(
        crate::support::layouts::first_law(&plain),
        crate::support::layouts::first_law(&said)
    );
}

#[test]
fn a_rougher_wall_of_its_own_stays_and_a_bore_never_closes() {
    let mut rough = drain();
    rough.pipe = Pipe::Own {
        bore_m: 0.003,
        roughness_m: Some(0.002),
        hazen_williams_c: None,
    };
    let law = law(rough);
    assert_eq!(law.loss.wall, Wall::Darcy { roughness_m: 2e-3 });
    assert_eq!(law.loss.bore_m, 1e-4);
}

#[test]
fn what_was_given_outright_keeps_its_number() {
    let mut given = drain();
    given.total_k = Some(3.2);
    given.friction_factor = Some(0.03);
    let law = law(given);
    assert_eq!(law.loss.wall, Wall::FixedFactor(0.03));
    assert_eq!(law.loss.minors[0].k, 3.2);
    // K of a fitting goes by the size as bought.
    let with = |age| {
        let mut run = drain();
        run.fittings.push(fitting("elbow-90"));
        let layout = two_tanks(vec![run]);
        let lowered = lower(&layout, Catalogue::builtin(), Situation { age, ..RUNNING });
        let law = crate::support::layouts::first_law(&lowered).clone();
        law.loss.minors.iter().map(|minor| minor.k).sum::<f64>()
    };
    assert!(with(Age::New) > 1.5);
    assert_eq!(with(Age::Fouled), with(Age::New));
}

/// At 1 m/s the fouled C loses what the fouled roughness does.
#[test]
fn prop_a_fouled_wall_is_the_same_by_either_law() {
    let friction = |law| {
        let mut run = drain();
        run.friction = Some(law);
        run.total_k = Some(0.0);
        let loss: Loss = self::law(run).loss;
        loss.at(loss.area_m2()).value
    };
    let darcy = friction(Friction::DarcyWeisbach);
    let by_c = friction(Friction::HazenWilliams);
    assert_relative_eq!(by_c, darcy, max_relative = 1e-6);
    // An old pipe with less stays as it is.
    let mut old = drain();
    old.friction = Some(Friction::HazenWilliams);
    old.pipe = Pipe::Own {
        bore_m: BORE_M,
        roughness_m: None,
        hazen_williams_c: Some(60.0),
    };
    assert_eq!(law(old).loss.wall, Wall::HazenWilliams { c: 60.0 });
}

#[test]
fn equipment_is_dirty_where_that_is_given_and_nothing_where_it_is_out() {
    let piece = |dirty: Option<f64>, out| Equipment {
        name: "canister".to_owned(),
        clean: EquipmentLoss::Terms { a: 1.0, b: 100.0 },
        dirty: dirty.map(|b| EquipmentLoss::Terms { a: 2.0, b }),
        at_wash: Some(EquipmentLoss::Terms { a: 9.0, b: 9e9 }),
        wash_head_m: None,
        out,
        at_m: None,
        near: None,
    };
    let mut run = drain();
    run.equipment = vec![
        piece(Some(700.0), false),
        piece(None, false),
        piece(Some(5e6), true),
    ];
    let clean = crate::support::layouts::law_of(run.clone()).loss;
    assert_eq!((clean.equipment_a, clean.equipment_b), (2.0, 200.0));
    let dirty = law(run).loss;
    assert_eq!((dirty.equipment_a, dirty.equipment_b), (3.0, 800.0));
}

#[test]
fn a_screen_is_blinded_to_its_own_share_or_that_of_use() {
    let with = |blinded| {
        let mut run = drain();
        run.from.screen = Some(Screen {
            name: "Guard".to_owned(),
            area_m2: 0.1,
            open_share: 0.5,
            blinded,
            k: Some(1.0),
            on_the_lip: false,
            foot_m: None,
            height_m: None,
        });
        let lowered = fouled(run);
        let facts = crate::support::layouts::first_facts(&lowered).clone();
        facts.screens[0].clone().unwrap()
    };
    let little = with(0.1);
    assert_relative_eq!(little.clear_share, 0.25);
    assert_relative_eq!(little.gross_k, 16.0);
    assert_relative_eq!(with(0.8).clear_share, 0.1);
}

#[test]
fn a_rising_leg_is_narrower_too_and_its_crest_stays() {
    let overflow = Opening::RaisedIntake {
        intake_m: 0.6,
        crest_m: 1.3,
        crest: CrestKind::Cup,
        rise: Rise {
            bore_m: Some(0.15),
            roughness_m: Some(3e-5),
            ..Rise::default()
        },
        vent: Vent::Open,
    };
    let law = law(run("over", at("upper", overflow), at("lower", submerged())));
    let raised = law.raised.unwrap();
    assert_relative_eq!(raised.rise.bore_m, 0.15 - 2.0 * FILM_M);
    assert_eq!(raised.rise.wall, Wall::Darcy { roughness_m: 1e-3 });
    let bore_m = BORE_M - 2.0 * FILM_M;
    assert_eq!(raised.crest, Inlet::lip(bore_m, &Coefficients::default()));
    assert_eq!(raised.crest_m, 1.3);
}

#[test]
fn film_closes_a_small_hole_of_a_siphon_break() {
    let with = |bore_m| {
        let mut run = run("down", at("upper", upstand(1.2)), at("lower", submerged()));
        run.siphon_break = Some(SiphonBreak {
            height_m: 0.3,
            bore_m,
            near: fallwright::layout::RunEnd::To,
        });
        let lowered = fouled(run);
        let facts = crate::support::layouts::first_facts(&lowered).siphon_break;
        let law = crate::support::layouts::first_law(&lowered);
        (facts.unwrap(), law.ends[1].draws_from_m)
    };
    let (small, draws_from_m) = with(0.003);
    assert!(small.grown_over);
    // From the floor on, as without a hole.
    assert_eq!(draws_from_m, Some(0.0));
    let (large, draws_from_m) = with(0.008);
    assert!(!large.grown_over);
    assert_eq!(draws_from_m, Some(0.3));
    assert_relative_eq!(large.bore_m, 0.004);
}
