//! What a drawing alone already says, one passing, one failing and one on the limit.

use crate::support::layouts::{
    BORE_M, at, drain, findings_with_cures, fitting, pump, run, submerged, two_tanks, upstand,
    valve,
};
use fallwright::finding::{Code, Finding, Severity};
use fallwright::layout::{
    CrestKind, Direction, FittingUse, Friction, Layout, NotchShape, Opening, Pipe, Rise, Run,
    Turned, Vent,
};
use fallwright::state::State;
use fallwright::units::Quantity;

fn found(layout: &Layout) -> Vec<Finding> {
    let mut all = findings_with_cures(layout);
    all.retain(|one| one.severity != Severity::Note);
    all
}

/// Findings of one run between the tanks.
fn of(run: Run) -> Vec<Finding> {
    found(&two_tanks(vec![run]))
}

fn from_upper(opening: Opening) -> Vec<Finding> {
    of(run("drain", at("upper", opening), at("lower", submerged())))
}

fn into_upper(opening: Opening) -> Vec<Finding> {
    of(run("drain", at("lower", submerged()), at("upper", opening)))
}

fn only(found: Vec<Finding>, kind: (Code, Severity)) -> Finding {
    assert_eq!(found.len(), 1, "{found:?}");
    let one = found.into_iter().next().unwrap();
    assert_eq!(
        (one.code, one.severity, one.state),
        (kind.0, kind.1, State::Running)
    );
    one
}

fn mouth(lip_m: f64) -> Opening {
    Opening::Mouth {
        lip_m,
        turned: Turned::Down,
        bore_m: None,
        air_gap: false,
    }
}

#[test]
fn a_crest_over_its_rim_is_a_problem_with_a_cure() {
    assert!(from_upper(upstand(1.5)).is_empty());
    let one = only(
        from_upper(upstand(1.6)),
        (Code::CrestAboveRim, Severity::Problem),
    );
    assert_eq!((one.measured, one.limit), (Some(1.6), Some(1.5)));
    assert_eq!(one.quantity, Quantity::Height);
    assert_eq!(one.about, ["upper".into(), "drain".into()]);
    let change = &one.cures[0].changes[0];
    assert_eq!(change.field.path(), "from.opening.upstand.crest_m");
    assert_eq!((change.from, change.to), (1.6, 1.475));
}

#[test]
fn no_crest_is_lowered_through_the_floor() {
    let mut layout = two_tanks(vec![run(
        "drain",
        at("upper", upstand(1.6)),
        at("lower", submerged()),
    )]);
    layout.limits.freeboard_m = 1.2;
    let one = only(found(&layout), (Code::CrestAboveRim, Severity::Problem));
    assert!(one.cures.is_empty());
}

#[test]
fn a_return_may_pour_in_from_over_the_rim_but_a_hole_may_not_be_there() {
    assert!(into_upper(mouth(1.7)).is_empty());
    assert!(into_upper(upstand(1.7)).is_empty());
    only(
        from_upper(mouth(1.7)),
        (Code::CrestAboveRim, Severity::Problem),
    );
    let hole = Opening::SideHole {
        invert_m: 1.7,
        bore_m: None,
    };
    let one = only(into_upper(hole), (Code::CrestAboveRim, Severity::Problem));
    assert_eq!(
        one.cures[0].changes[0].field.path(),
        "to.opening.side_hole.invert_m"
    );
}

#[test]
fn which_end_pours_goes_by_the_pump() {
    let mut lifted = run("rise", at("upper", mouth(1.7)), at("lower", submerged()));
    lifted.pump = Some(pump(Direction::Backward));
    assert!(of(lifted).is_empty());
}

#[test]
fn an_opening_below_the_floor_is_a_warning() {
    assert!(from_upper(upstand(0.5)).is_empty());
    let one = only(
        from_upper(upstand(0.45)),
        (Code::OpeningBelowFloor, Severity::Warning),
    );
    assert_eq!((one.measured, one.limit), (Some(0.45), Some(0.5)));
    let raised = |intake_m| Opening::RaisedIntake {
        intake_m,
        crest_m: 1.3,
        crest: CrestKind::Tee,
        rise: Rise::default(),
        vent: Vent::Open,
    };
    assert!(from_upper(raised(0.5)).is_empty());
    only(
        from_upper(raised(0.3)),
        (Code::OpeningBelowFloor, Severity::Warning),
    );
}

/// The notes on a notch between the tanks.
fn of_notch(shape: NotchShape, weir: Option<f64>) -> Vec<Finding> {
    let opening = Opening::Notch {
        crest_m: 1.2,
        shape,
        weir,
    };
    let layout = two_tanks(vec![run(
        "spill",
        at("upper", opening),
        at("lower", submerged()),
    )]);
    let notes = findings_with_cures(&layout).into_iter();
    notes.filter(|one| one.code == Code::NotchRange).collect()
}

#[test]
fn a_notch_narrower_than_its_law_is_a_note() {
    let wide = |width_m| NotchShape::Rectangular {
        width_m,
        channel_m: None,
    };
    assert!(of_notch(wide(0.15), None).is_empty());
    assert!(of_notch(wide(0.149), Some(0.6)).is_empty());
    let one = only(
        of_notch(wide(0.149), None),
        (Code::NotchRange, Severity::Note),
    );
    assert_eq!((one.measured, one.limit), (Some(0.149), Some(0.15)));
    assert!(of_notch(NotchShape::Vee { angle_deg: 20.0 }, None).is_empty());
    let vee = of_notch(NotchShape::Vee { angle_deg: 19.0 }, None);
    let one = only(vee, (Code::NotchRange, Severity::Note));
    assert_eq!((one.measured, one.limit), (Some(19.0), Some(20.0)));
}

fn by_hazen_williams(bore_m: f64) -> Run {
    Run {
        friction: Some(Friction::HazenWilliams),
        pipe: Pipe::Own {
            bore_m,
            roughness_m: None,
            hazen_williams_c: None,
        },
        ..drain()
    }
}

#[test]
fn hazen_williams_in_a_narrow_pipe_is_a_warning() {
    assert!(of(by_hazen_williams(0.05)).is_empty());
    let narrow = of(by_hazen_williams(0.049));
    let one = only(narrow, (Code::HazenWilliamsRange, Severity::Warning));
    assert_eq!((one.measured, one.limit), (Some(0.049), Some(0.05)));
    let mut darcy = by_hazen_williams(0.049);
    darcy.friction = None;
    assert!(of(darcy.clone()).is_empty());
    darcy.friction = Some(Friction::HazenWilliams);
    darcy.friction_factor = Some(0.02);
    assert!(of(darcy).is_empty());
}

#[test]
fn hazen_williams_in_warm_or_cold_water_is_one_warning_for_all() {
    let at_temperature = |temperature_c| {
        let mut second = by_hazen_williams(BORE_M);
        second.id = "other".into();
        let mut darcy = drain();
        darcy.id = "third".into();
        let mut layout = two_tanks(vec![by_hazen_williams(BORE_M), second, darcy]);
        layout.water.temperature_c = temperature_c;
        found(&layout)
    };
    assert!(at_temperature(5.0).is_empty());
    assert!(at_temperature(25.0).is_empty());
    let warm = only(
        at_temperature(25.5),
        (Code::HazenWilliamsRange, Severity::Warning),
    );
    assert_eq!((warm.measured, warm.limit), (Some(25.5), Some(25.0)));
    assert_eq!(warm.about, ["drain".into(), "other".into()]);
    let cold = only(
        at_temperature(4.0),
        (Code::HazenWilliamsRange, Severity::Warning),
    );
    assert_eq!(cold.limit, Some(5.0));
}

/// The cure of the one word that the catalogue does not have.
fn cure_of(run: Run) -> String {
    let one = only(of(run), (Code::NotInCatalogue, Severity::Problem));
    assert!(one.measured.is_none());
    one.cures[0]
        .text
        .read(&|id| id.to_string(), Default::default())
}

#[test]
fn unknown_fittings_and_valves_are_told_with_the_nearest_word() {
    let mut odd = drain();
    odd.fittings.push(fitting("elbo-90"));
    assert!(cure_of(odd).contains("“elbow-90”"));
    let mut odd = drain();
    odd.valves.push(valve("gat", 1.0));
    assert!(cure_of(odd).contains("“gate”"));
    let mut odd = drain();
    odd.fittings.push(FittingUse {
        choice: Some("hearsay".to_owned()),
        ..fitting("elbow-90")
    });
    assert!(cure_of(odd).contains("“crane-tp-410”"));
    let mut odd = drain();
    odd.fittings.push(fitting("reducer"));
    assert!(cure_of(odd).contains("bore"));
}

#[test]
fn what_is_unknown_loses_nothing() {
    let mut odd = drain();
    odd.fittings.push(fitting("elbo-90"));
    odd.valves.push(valve("gat", 0.5));
    let law = crate::support::layouts::law_of(odd);
    let k: f64 = law.loss.minors.iter().map(|minor| minor.k).sum();
    assert_eq!(k, 1.5);
}

#[test]
fn every_finding_names_a_part_and_reads_as_a_sentence() {
    let mut odd = by_hazen_williams(0.02);
    odd.from = at("upper", upstand(1.6));
    odd.to = at("lower", upstand(-0.1));
    odd.fittings.push(fitting("elbo-90"));
    let mut layout = two_tanks(vec![odd]);
    layout.water.temperature_c = 35.0;
    let findings = found(&layout);
    assert_eq!(findings.len(), 5, "{findings:?}");
    for one in findings {
        assert!(!one.about.is_empty());
        let text = one.text.read(&|id| id.to_string(), Default::default());
        assert!(text.ends_with('.'), "{text}");
        assert!(!text.contains("  "), "{text}");
    }
}
