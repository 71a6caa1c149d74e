//! Every intent: what it changes and nothing else, what it is called, and that it can be taken back.

use super::{glasshouse, made, read};
use crate::file::everything::everything;
use fallwright::edit::{
    Edit, changes, crest, friction, number, pipe, pump_curve, rename, replace, setting, title,
    units, valve,
};
use fallwright::finding::{Change, Sentence};
use fallwright::layout::RunEnd;
use fallwright::layout::{CurveForm, CurvePoint, Friction, Id, Layout, Opening, Pipe, Role, Run};
use fallwright::layout::{SettingField, VesselField};
use fallwright::units::{Quantity, UnitSystem};

fn run<'l>(layout: &'l mut Layout, id: &str) -> &'l mut Run {
    let mut runs = layout.runs.iter_mut();
    runs.find(|run| run.id.as_str() == id).unwrap()
}

/// Made and taken back, the edit gives the glasshouse with `change`, is about `part` and reads so.
fn check(edit: &Edit, (about, words): (&[&str], &str), change: impl FnOnce(&mut Layout)) {
    let layout = glasshouse();
    let mut wanted = layout.clone();
    change(&mut wanted);
    assert_eq!(made(&layout, edit), wanted);
    let ids: Vec<Id> = about.iter().map(|id| Id::from(*id)).collect();
    assert_eq!(edit.about(), ids);
    assert_eq!(read(edit, &layout, UnitSystem::Metric), words);
    assert!(!edit.changes_nothing());
}

#[test]
fn a_crest_is_set() {
    let layout = glasshouse();
    let edit = crest(&layout, &"step-3".into(), RunEnd::From, 1.2).unwrap();
    let words = "Set the crest of Cress upstand 3 to 1200 mm";
    check(&edit, (&["step-3"], words), |layout| {
        match run(layout, "step-3").from.opening.as_mut().unwrap() {
            Opening::Upstand { crest_m, .. } => *crest_m = 1.2,
            other => panic!("{other:?}"),
        }
    });
    let in_us = read(&edit, &layout, UnitSystem::Us);
    assert_eq!(in_us, "Set the crest of Cress upstand 3 to 3 ft 11 1/4 in");
}

#[test]
fn every_kind_of_opening_has_a_crest_to_set() {
    let layout = everything();
    let mut kinds = std::collections::BTreeSet::new();
    for run in &layout.runs {
        for which in RunEnd::BOTH {
            let end = |run: &Run| match which {
                RunEnd::From => run.from.clone(),
                RunEnd::To => run.to.clone(),
            };
            let Some(opening) = end(run).opening else {
                let refused = crest(&layout, &run.id, which, 0.7).unwrap_err();
                assert_eq!(refused.what, "the run has no opening at this end");
                continue;
            };
            let edit = crest(&layout, &run.id, which, 0.71).unwrap();
            let after = end(made(&layout, &edit).run(&run.id).unwrap());
            let after = after.opening.unwrap();
            assert_eq!(after.crest_m(), Some(0.71));
            let kind = std::mem::discriminant(&opening);
            assert_eq!(kind, std::mem::discriminant(&after));
            assert_eq!(opening.bore_m(), after.bore_m());
            kinds.insert(format!("{kind:?}"));
        }
    }
    assert_eq!(kinds.len(), 7, "{kinds:?}");
}

#[test]
fn a_floor_outlet_without_a_lip_gets_one() {
    let mut layout = glasshouse();
    let floor = |lip_m| Opening::Floor {
        lip_m,
        bore_m: Some(0.08),
    };
    run(&mut layout, "step-3").from.opening = Some(floor(None));
    let edit = crest(&layout, &"step-3".into(), RunEnd::From, 1.0).unwrap();
    let after = made(&layout, &edit);
    let after = &after.run(&"step-3".into()).unwrap().from;
    assert_eq!(after.opening, Some(floor(Some(1.0))));
    assert!(read(&edit, &layout, UnitSystem::Metric).starts_with("Set the lip of "));
}

#[test]
fn a_number_is_set() {
    let layout = glasshouse();
    let edit = number(&layout, &"cress-3".into(), VesselField::Rim, 1.35).unwrap();
    let words = "Set the rim of Cress bed 3 to 1350 mm";
    check(&edit, (&["cress-3"], words), |layout| {
        let mut vessels = layout.vessels.iter_mut();
        let bed = vessels.find(|bed| bed.id.as_str() == "cress-3").unwrap();
        bed.rim_m = 1.35;
    });
}

#[test]
fn a_cure_is_one_edit() {
    let layout = glasshouse();
    let change = |part: &str, field: &str, to| Change {
        part: part.into(),
        field: layout.field(&part.into(), field).unwrap(),
        from: 0.0,
        to,
        quantity: Quantity::Height,
    };
    let all = [
        change("step-3", "from.opening.upstand.crest_m", 1.1),
        change("step-4", "from.opening.upstand.crest_m", 0.8),
        // Alone this would lift the floor over the filled level.
        change("cress-4", "floor_m", 0.95),
        change("cress-4", "fill_m", 1.0),
    ];
    let name = || Sentence(vec!["Cure it".into()]);
    let edit = changes(&layout, &all, name()).unwrap();
    check(&edit, (&["cress-4", "step-3", "step-4"], "Cure it"), |it| {
        for (id, to) in [("step-3", 1.1), ("step-4", 0.8)] {
            match run(it, id).from.opening.as_mut().unwrap() {
                Opening::Upstand { crest_m, .. } => *crest_m = to,
                other => panic!("{other:?}"),
            }
        }
        let bed = it
            .vessels
            .iter_mut()
            .find(|bed| bed.id.as_str() == "cress-4");
        let bed = bed.unwrap();
        (bed.floor_m, bed.fill_m) = (0.95, 1.0);
    });
    assert!(changes(&layout, &all[..3], name()).is_err());
    assert!(changes(&layout, &[], name()).unwrap().changes_nothing());
}

#[test]
fn parts_are_renamed() {
    let layout = glasshouse();
    let edit = rename(&layout, &"cress-3".into(), "  Mint bed ").unwrap();
    let words = "Rename Cress bed 3 to Mint bed";
    check(&edit, (&["cress-3"], words), |layout| {
        let mut vessels = layout.vessels.iter_mut();
        let bed = vessels.find(|bed| bed.id.as_str() == "cress-3").unwrap();
        bed.name = "Mint bed".to_owned();
    });
    let edit = rename(&layout, &"pump".into(), "Big pump").unwrap();
    let words = "Rename Circulation pump to Big pump";
    check(&edit, (&["lift"], words), |layout| {
        run(layout, "lift").pump.as_mut().unwrap().name = "Big pump".to_owned();
    });
    let edit = rename(&layout, &"lift".into(), "").unwrap();
    check(&edit, (&["lift"], "Remove the name of Lift"), |layout| {
        run(layout, "lift").name.clear();
    });
    let edit = rename(&layout, &"gather".into(), "Tee").unwrap();
    check(&edit, (&["gather"], "Rename Trench outlet to Tee"), |it| {
        it.joints[4].name = "Tee".to_owned();
    });
}

#[test]
fn what_holds_for_the_whole_layout_is_set() {
    let layout = glasshouse();
    let edit = title(&layout, "My house").unwrap();
    check(&edit, (&[], "Set the title to My house"), |layout| {
        layout.title = "My house".to_owned();
    });
    let edit = units(&layout, UnitSystem::Us).unwrap();
    check(&edit, (&[], "Show US units"), |layout| {
        layout.units = UnitSystem::Us;
    });
    let edit = friction(&layout, Friction::HazenWilliams).unwrap();
    check(&edit, (&[], "Use Hazen–Williams friction"), |layout| {
        layout.friction = Friction::HazenWilliams;
    });
    let edit = setting(&layout, SettingField::Temperature, 12.0).unwrap();
    let words = "Set the temperature of the water to 12.0 °C";
    check(&edit, (&[], words), |layout| {
        layout.water.temperature_c = 12.0;
    });
}

#[test]
fn a_valve_is_opened_and_shut() {
    let layout = glasshouse();
    for (opening, words) in [
        (0.0, "Shut the valve of Gallery feed"),
        (0.25, "Set the valve of Gallery feed to 0.250 of fully open"),
        (1.0, "Open the valve of Gallery feed fully"),
    ] {
        let edit = valve(&layout, &"feed-perch".into(), 0, opening).unwrap();
        check(&edit, (&["feed-perch"], words), |layout| {
            run(layout, "feed-perch").valves[0].opening = opening;
        });
    }
    let edit = valve(&layout, &"lift".into(), 2, 0.0).unwrap();
    check(&edit, (&["lift"], "Shut valve 3 of Lift"), |layout| {
        run(layout, "lift").valves[2].opening = 0.0;
    });
}

#[test]
fn another_pipe_is_taken() {
    let layout = glasshouse();
    let family = "pvcu-din8062-pn10";
    let edit = pipe(&layout, &"feed-perch-1".into(), family, "50").unwrap();
    let bought = |size: &str, roughness_m| Pipe::Bought {
        family: family.to_owned(),
        size: size.to_owned(),
        roughness_m,
        hazen_williams_c: None,
    };
    let name = read(&edit, &layout, UnitSystem::Metric);
    assert!(
        name.starts_with("Set the pipe of Perch feed 1 to "),
        "{name}"
    );
    assert!(name.contains(" 50 (50.0 mm outside, "), "{name}");
    check(&edit, (&["feed-perch-1"], &name), |layout| {
        run(layout, "feed-perch-1").pipe = bought("50", None);
    });
    let mut rough = glasshouse();
    run(&mut rough, "feed-perch-1").pipe = bought("40", Some(1e-4));
    let same = pipe(&rough, &"feed-perch-1".into(), family, "50").unwrap();
    let same = made(&rough, &same);
    assert_eq!(
        same.run(&"feed-perch-1".into()).unwrap().pipe,
        bought("50", Some(1e-4))
    );
    let other = pipe(&rough, &"feed-perch-1".into(), "our-own", "1 in").unwrap();
    let words = read(&other, &rough, UnitSystem::Metric);
    assert_eq!(words, "Set the pipe of Perch feed 1 to our-own 1 in");
    match &made(&rough, &other)
        .run(&"feed-perch-1".into())
        .unwrap()
        .pipe
    {
        Pipe::Bought { roughness_m, .. } => assert_eq!(*roughness_m, None),
        own => panic!("{own:?}"),
    }
}

#[test]
fn a_part_is_replaced_as_a_whole() {
    let layout = glasshouse();
    let mut bed = layout.vessel(&"cress-3".into()).unwrap().clone();
    bed.role = Role::Filter;
    let name = Sentence(vec!["Make a filter of it".into()]);
    let edit = replace(&layout, bed.clone(), name).unwrap();
    check(&edit, (&["cress-3"], "Make a filter of it"), |layout| {
        let mut vessels = layout.vessels.iter_mut();
        *vessels.find(|one| one.id == bed.id).unwrap() = bed.clone();
    });
    let mut joint = layout.joints[0].clone();
    joint.id = "cress-3".into();
    let refused = replace(&layout, joint, Sentence::default()).unwrap_err();
    assert_eq!(refused.what, "a change must keep the kind and id of a part");
}

#[test]
fn the_curve_of_a_pump_is_set_and_all_else_of_it_stays() {
    let layout = glasshouse();
    let mut pumps = layout
        .runs
        .iter()
        .filter_map(|run| run.pump.as_ref().map(|pump| (run, pump)));
    let (rise, pump) = pumps.next().unwrap();
    let (run_id, id) = (rise.id.as_str().to_owned(), pump.id.clone());
    let label = CurveForm::Label {
        largest_head_m: 6.0,
        largest_flow_m3_s: 0.005,
    };
    let edit = pump_curve(&layout, &id, label.clone()).unwrap();
    let words = "Guess the curve of Circulation pump from its label, 6.00 m and 18.0 m³/h";
    check(&edit, (&[&run_id], words), |layout| {
        run(layout, &run_id).pump.as_mut().unwrap().curve = label;
    });
    let points = |list: &[(f64, f64)]| {
        let point = |&(flow_m3_s, head_m)| CurvePoint { flow_m3_s, head_m };
        CurveForm::Points(list.iter().map(point).collect())
    };
    let edit = pump_curve(&layout, &id, points(&[(0.0, 6.0), (0.004, 2.0)])).unwrap();
    let words = "Set the curve of Circulation pump to 2 points";
    assert_eq!(read(&edit, &layout, UnitSystem::Metric), words);
    let refused = pump_curve(&layout, &id, points(&[(0.0, 6.0)])).unwrap_err();
    assert!(refused.what.contains("too few points"), "{refused}");
    let refused = pump_curve(&layout, &"no-pump".into(), points(&[])).unwrap_err();
    assert_eq!(refused.what, "the layout has no such pump");
}
