//! Paths: the way of the water, and the shortest where it takes none.

use super::{demo, running};
use crate::support::layouts::{at, run, submerged, tank, two_tanks, upstand};
use fallwright::catalogue::Catalogue;
use fallwright::evaluate::{NoPath, Paths, grade};
use fallwright::layout::{Id, Layout};

fn ids(names: &[&str]) -> Vec<Id> {
    names.iter().map(|name| Id::from(*name)).collect()
}

fn words(path: &[Id]) -> Vec<&str> {
    path.iter().map(Id::as_str).collect()
}

/// Every run of a path begins where the one before ended.
fn holds_together(layout: &Layout, path: &[Id]) -> bool {
    let report = running(layout);
    grade(layout, Catalogue::builtin(), &report, path).is_some()
}

#[test]
fn the_way_of_the_most_water_goes_from_the_pump_down_and_round() {
    let layout = demo();
    let report = running(&layout);
    let paths = Paths::of(&layout, Some(&report));
    let path = paths.main().unwrap();
    assert!(holds_together(&layout, &path));
    let first = layout.run(&path[0]).unwrap();
    let last = layout.run(path.last().unwrap()).unwrap();
    assert_eq!(first.from.at.as_str(), "header");
    assert!(last.pump.is_some() && last.to.at.as_str() == "header");
    // The terrace takes more water than one of three tanks.
    assert!(words(&path).contains(&"step-1"), "{path:?}");
}

#[test]
fn a_path_through_one_part_passes_it() {
    let layout = demo();
    let report = running(&layout);
    let paths = Paths::of(&layout, Some(&report));
    for vessel in &layout.vessels {
        let path = paths.through(&vessel.id).unwrap();
        let passes = path.iter().any(|id| {
            let run = layout.run(id).unwrap();
            run.from.at == vessel.id || run.to.at == vessel.id
        });
        assert!(
            passes && holds_together(&layout, &path),
            "{}: {path:?}",
            vessel.id
        );
    }
    for run in &layout.runs {
        let path = paths.through(&run.id).unwrap();
        assert!(
            path.contains(&run.id) && holds_together(&layout, &path),
            "{}: {path:?}",
            run.id
        );
    }
}

#[test]
fn between_two_parts_it_goes_with_the_water() {
    let layout = demo();
    let report = running(&layout);
    let paths = Paths::of(&layout, Some(&report));
    let down = paths.along(&ids(&["header", "cress-4"])).unwrap();
    assert!(holds_together(&layout, &down));
    assert!(down.iter().all(|id| layout.run(id).unwrap().pump.is_none()));
    // Against the water there is a way as well: on with it, and round through the pump.
    let round = paths.along(&ids(&["cress-4", "header"])).unwrap();
    assert!(layout.run(round.last().unwrap()).unwrap().pump.is_some());
}

#[test]
fn parts_are_passed_in_their_order() {
    let layout = demo();
    let report = running(&layout);
    let paths = Paths::of(&layout, Some(&report));
    for bed in ["cress-2", "cress-3"] {
        let path = paths.along(&ids(&["header", bed, "pit"])).unwrap();
        let reaches = |id: &&Id| layout.run(id).unwrap().to.at.as_str() == bed;
        assert!(path.iter().any(|id| reaches(&id)), "{bed}: {path:?}");
        assert!(holds_together(&layout, &path));
    }
    let by_run = paths.along(&ids(&["header", "step-3", "pit"])).unwrap();
    assert!(by_run.contains(&"step-3".into()));
    assert!(holds_together(&layout, &by_run));
}

#[test]
fn without_water_it_is_the_shortest() {
    let mut long = run("long", at("upper", submerged()), at("lower", submerged()));
    long.length_m = Some(9.0);
    let short = run("short", at("lower", submerged()), at("upper", upstand(1.4)));
    let layout = two_tanks(vec![long, short]);
    let paths = Paths::of(&layout, None);
    let path = paths.along(&ids(&["upper", "lower"])).unwrap();
    assert_eq!(words(&path), ["short"]);
    // A run that is named is passed whatever it costs, and as it leads.
    let path = paths.along(&ids(&["upper", "long"])).unwrap();
    assert_eq!(words(&path), ["long"]);
}

#[test]
fn what_is_not_there_and_what_is_not_joined_is_told_apart() {
    let mut layout = two_tanks(vec![run(
        "only",
        at("upper", submerged()),
        at("lower", submerged()),
    )]);
    layout.vessels.push(tank("alone", 0.0, 1.0));
    let paths = Paths::of(&layout, None);
    assert_eq!(
        paths.along(&ids(&["upper", "gone"])),
        Err(NoPath::Unknown("gone".into()))
    );
    assert_eq!(
        paths.along(&ids(&["upper", "alone"])),
        Err(NoPath::NotJoined("upper".into(), "alone".into()))
    );
    assert_eq!(paths.through(&"alone".into()), Err(NoPath::NoRun));
    assert_eq!(paths.along(&ids(&["upper", "upper"])), Err(NoPath::NoRun));
    let empty = Layout::default();
    assert_eq!(Paths::of(&empty, None).main(), Err(NoPath::NoRun));
}
