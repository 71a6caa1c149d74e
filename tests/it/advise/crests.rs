//! Levels that stand too high.

use super::layouts::{beds, changed, cured, finding, problems, read, run_of};
use fallwright::edit;
use fallwright::finding::Code;
use fallwright::layout::Layout;
use fallwright::units::UnitSystem;

/// The first cure of the spill of the first bed, held to: made, no problem is left; 2 mm less, and it spills.
fn holds(layout: &Layout) -> fallwright::finding::Cure {
    let evaluation = cured(layout);
    let spill = finding(&evaluation, Code::Spills, "first").unwrap();
    let cure = spill.cures.first().unwrap().clone();
    assert_eq!(
        problems(&changed(layout, &cure, 0.0)),
        Vec::<String>::new(),
        "{}",
        read(&cure)
    );
    let less = problems(&changed(layout, &cure, 0.002));
    assert!(
        less.contains(&"spills:first".to_owned()),
        "{less:?}, {}",
        read(&cure)
    );
    cure
}

#[test]
fn the_crest_at_the_end_of_the_chain_is_lowered_just_enough() {
    let layout = beds(0.89);
    let cure = holds(&layout);
    assert_eq!(cure.changes.len(), 1);
    let change = &cure.changes[0];
    assert_eq!((change.part.as_str(), change.from), ("overflow", 0.89));
    assert_eq!(change.field.path(), "from.opening.upstand.crest_m");
    assert!(
        (change.to * 1000.0).fract().abs() < 1e-9,
        "whole millimetres: {}",
        change.to
    );
    assert!(
        read(&cure).starts_with("Lower the crest of overflow from 890 mm to 8"),
        "{}",
        read(&cure)
    );
}

#[test]
fn the_spill_names_the_crest() {
    let evaluation = cured(&beds(0.89));
    let spill = finding(&evaluation, Code::Spills, "first").unwrap();
    let text = spill.text.read(&|id| id.to_string(), UnitSystem::Metric);
    assert!(
        text.contains("held up by the crest of overflow in third at 890 mm"),
        "{text}"
    );
    assert_eq!(
        spill.about,
        ["first".into(), "overflow".into(), "third".into()]
    );
}

#[test]
fn in_us_units_the_crest_goes_down_by_sixteenths() {
    let mut layout = beds(0.89);
    layout.units = UnitSystem::Us;
    let cure = holds(&layout);
    let sixteenths = cure.changes[0].to / 0.0254 * 16.0;
    assert!(
        (sixteenths - sixteenths.round()).abs() < 1e-6,
        "{sixteenths}"
    );
}

#[test]
fn freeboard_is_won_back_the_same_way() {
    let layout = beds(0.87);
    let evaluation = cured(&layout);
    let close = finding(&evaluation, Code::LittleFreeboard, "first").unwrap();
    let cure = close.cures.first().unwrap();
    let after = cured(&changed(&layout, cure, 0.0));
    assert!(
        finding(&after, Code::LittleFreeboard, "first").is_none(),
        "{}",
        read(cure)
    );
    let less = cured(&changed(&layout, cure, 0.002));
    assert!(finding(&less, Code::LittleFreeboard, "first").is_some());
}

#[test]
fn where_the_drain_stands_already_the_rim_goes_up() {
    let mut layout = beds(0.89);
    run_of(&mut layout, "overflow").already_built = true;
    let evaluation = cured(&layout);
    let spill = finding(&evaluation, Code::Spills, "first").unwrap();
    let cure = spill.cures.first().unwrap();
    assert_eq!(cure.changes[0].field.path(), "rim_m");
    let after = problems(&changed(&layout, cure, 0.0));
    assert!(!after.contains(&"spills:first".to_owned()), "{after:?}");
    let less = problems(&changed(&layout, cure, -0.002));
    assert!(less.contains(&"spills:first".to_owned()), "{less:?}");
}

#[test]
fn where_everything_stands_already_less_water_is_sent() {
    let mut layout = beds(0.89);
    for run in &mut layout.runs {
        run.already_built = true;
    }
    for vessel in &mut layout.vessels {
        vessel.already_built = true;
    }
    let evaluation = cured(&layout);
    let spill = finding(&evaluation, Code::Spills, "first").unwrap();
    let cure = spill.cures.first().unwrap();
    assert!(cure.changes.is_empty());
    assert!(
        read(cure).starts_with("Send first at most "),
        "{}",
        read(cure)
    );
}

#[test]
fn a_narrow_link_is_blamed_and_widened() {
    let mut layout = beds(0.8);
    run_of(&mut layout, "link-1").pipe = fallwright::layout::Pipe::Own {
        bore_m: 0.04,
        roughness_m: None,
        hazen_williams_c: None,
    };
    let evaluation = cured(&layout);
    let spill = finding(&evaluation, Code::Spills, "first").unwrap();
    assert_eq!(spill.about[1].as_str(), "link-1");
    let cure = spill.cures.first().unwrap();
    assert_eq!(cure.changes[0].field.path(), "pipe.own.bore_m");
    assert!(!problems(&changed(&layout, cure, 0.0)).contains(&"spills:first".to_owned()));
}

#[test]
fn a_bought_pipe_is_widened_by_its_next_size() {
    let mut layout = beds(0.8);
    let catalogue = fallwright::catalogue::Catalogue::builtin();
    let family = catalogue
        .families()
        .find(|family| family.size("40").is_some())
        .unwrap();
    run_of(&mut layout, "link-1").pipe = fallwright::layout::Pipe::Bought {
        family: family.key.clone(),
        size: "40".to_owned(),
        roughness_m: None,
        hazen_williams_c: None,
    };
    let evaluation = cured(&layout);
    let spill = finding(&evaluation, Code::Spills, "first").unwrap();
    let text = read(spill.cures.first().unwrap());
    assert!(
        text.starts_with("Make the pipe of link-1 of size ") && text.contains(&family.words),
        "{text}"
    );
}

#[test]
fn cures_change_nothing_else() {
    let layout = beds(0.89);
    let evaluation = cured(&layout);
    let catalogue = fallwright::catalogue::Catalogue::builtin();
    let states = [
        fallwright::state::State::Rest,
        fallwright::state::State::Running,
    ];
    let plain = fallwright::evaluate::evaluate(&layout, catalogue, &states);
    assert_eq!(plain.states, evaluation.states);
    assert_eq!(plain.findings.len(), evaluation.findings.len());
    for (plain, cured) in plain.findings.iter().zip(&evaluation.findings) {
        assert_eq!((plain.code, &plain.text), (cured.code, &cured.text));
    }
}

#[test]
fn the_example_that_spills_is_cured_just_enough() {
    let text = include_str!("../../../examples/drain-too-high.ron");
    let layout = fallwright::file::parse(text, fallwright::file::Format::Ron).unwrap();
    let evaluation = cured(&layout);
    let spills = evaluation
        .findings
        .iter()
        .filter(|one| one.code == Code::Spills);
    let spills: Vec<_> = spills.collect();
    assert_eq!(spills.len(), 1, "{spills:?}");
    let cure = spills[0].cures.first().unwrap();
    assert_eq!(problems(&changed(&layout, cure, 0.0)), Vec::<String>::new());
    let spilt = format!("spills:{}", spills[0].about[0]);
    assert!(problems(&changed(&layout, cure, 0.002)).contains(&spilt));
}

#[test]
fn odd_layouts_are_cured_or_left_alone() {
    type Spoil = fn(&mut Layout);
    let spoils: [Spoil; 6] = [
        |layout| {
            run_of(layout, "overflow").from.opening = Some(crate::support::layouts::upstand(1.2))
        },
        |layout| layout.runs.retain(|run| run.id.as_str() != "overflow"),
        |layout| run_of(layout, "overflow").to.at = "nowhere".into(),
        |layout| layout.vessels[0].rim_m = layout.vessels[0].floor_m,
        |layout| layout.limits.freeboard_m = 50.0,
        |layout| run_of(layout, "rise").pump.as_mut().unwrap().speed = 0.0,
    ];
    for (place, spoil) in spoils.iter().enumerate() {
        let mut layout = beds(0.89);
        spoil(&mut layout);
        for one in cured(&layout).findings {
            for change in one.cures.iter().flat_map(|cure| &cure.changes) {
                assert!(
                    edit::changed(&layout, std::slice::from_ref(change)).is_ok(),
                    "{place}: {change:?}"
                );
                assert!(change.from.is_finite() && change.to.is_finite());
            }
        }
    }
}
