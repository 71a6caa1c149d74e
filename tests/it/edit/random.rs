//! Any edits in any order, on the glasshouse.

use super::{glasshouse, made};
use crate::support::fields::{clear, number, setting};
use fallwright::edit::{Edit, EditError, History, crest, pipe, rename, title, units, valve};
use fallwright::finding::Sentence;
use fallwright::layout::RunEnd;
use fallwright::layout::{Id, Layout};
use fallwright::units::UnitSystem;
use proptest::prelude::*;
use proptest::sample::{Index, select};

/// What somebody means to do, before it is known to which part.
#[derive(Clone, Debug)]
enum Wish {
    Crest(Index, RunEnd, f64),
    Number(Index, &'static str, f64),
    Clear(Index, &'static str),
    Rename(Index, String),
    Title(String),
    Units(UnitSystem),
    Setting(&'static str, f64),
    Valve(Index, usize, f64),
    Pipe(Index, &'static str),
    TakeAway(Index),
    Add(Index),
}

const FIELDS: &[&str] = &[
    "rim_m",
    "floor_m",
    "fill_m",
    "rim_perimeter_m",
    "wanted_turnover_per_h",
    "elevation_m",
    "place.along_m",
    "total_k",
    "length_m",
    "pump.speed",
    "from.opening.upstand.bore_m",
    "fittings.0.count",
];

fn wish() -> impl Strategy<Value = Wish> {
    let part = any::<Index>;
    let height = -2.0..3.0;
    let which = select(RunEnd::BOTH.to_vec());
    let systems = select(vec![UnitSystem::Metric, UnitSystem::Us]);
    let settings = select(vec!["limits.freeboard_m", "water.temperature_c"]);
    prop_oneof![
        (part(), which, height.clone()).prop_map(|(p, which, to)| Wish::Crest(p, which, to)),
        (part(), select(FIELDS), height).prop_map(|(p, field, to)| Wish::Number(p, field, to)),
        (part(), select(FIELDS)).prop_map(|(p, field)| Wish::Clear(p, field)),
        (part(), ".{0,8}").prop_map(|(p, name)| Wish::Rename(p, name)),
        ".{0,8}".prop_map(Wish::Title),
        systems.prop_map(Wish::Units),
        (settings, -1.0..50.0).prop_map(|(field, to)| Wish::Setting(field, to)),
        (part(), 0..3_usize, -0.2..1.2).prop_map(|(p, row, to)| Wish::Valve(p, row, to)),
        (part(), select(vec!["32", "40", "50", "63"])).prop_map(|(p, size)| Wish::Pipe(p, size)),
        part().prop_map(Wish::TakeAway),
        part().prop_map(Wish::Add),
    ]
}

fn part(layout: &Layout, index: &Index) -> Id {
    let vessels = layout.vessels.iter().map(|part| &part.id);
    let joints = layout.joints.iter().map(|part| &part.id);
    let ids = vessels
        .chain(joints)
        .chain(layout.runs.iter().map(|part| &part.id));
    let ids: Vec<&Id> = ids.collect();
    (*index.get(&ids)).clone()
}

fn run(layout: &Layout, index: &Index) -> Id {
    match layout.runs.len() {
        0 => "none".into(),
        count => layout.runs[index.index(count)].id.clone(),
    }
}

/// With one run less, or one more between the same ends.
fn with_runs(layout: &Layout, change: impl FnOnce(&mut Layout)) -> Result<Edit, EditError> {
    let mut after = layout.clone();
    change(&mut after);
    let edit = Edit::between(Sentence::default(), layout, &after);
    edit.apply(layout).map(|_| edit)
}

fn build(layout: &Layout, wish: &Wish) -> Result<Edit, EditError> {
    match wish {
        Wish::Crest(index, which, to_m) => crest(layout, &run(layout, index), *which, *to_m),
        Wish::Number(index, field, to) => number(layout, &part(layout, index), field, *to),
        Wish::Clear(index, field) => clear(layout, &part(layout, index), field),
        Wish::Rename(index, name) => rename(layout, &part(layout, index), name),
        Wish::Title(words) => title(layout, words),
        Wish::Units(system) => units(layout, *system),
        Wish::Setting(field, to) => setting(layout, field, *to),
        Wish::Valve(index, row, to) => valve(layout, &run(layout, index), *row, *to),
        Wish::Pipe(index, size) => pipe(layout, &run(layout, index), "pvcu-din8062-pn10", size),
        Wish::TakeAway(index) => with_runs(layout, |after| {
            let id = run(after, index);
            after.runs.retain(|run| run.id != id);
        }),
        Wish::Add(index) => with_runs(layout, |after| {
            let id = run(after, index);
            let copy = after.run(&id).cloned();
            if let Some(mut copy) = copy {
                copy.id = Id(format!("{id}-{}", after.runs.len()));
                copy.pump = None;
                after.runs.insert(index.index(after.runs.len()), copy);
            }
        }),
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn prop_any_edits_are_taken_back_and_made_again(wishes in prop::collection::vec(wish(), 1..40)) {
        let start = glasshouse();
        let mut history = History::default();
        let mut layout = start.clone();
        let mut steps = Vec::new();
        for wish in &wishes {
            // Refused wishes leave everything as it is; the built ones can be made.
            let Ok(edit) = build(&layout, wish) else { continue };
            prop_assert!(made(&layout, &edit).faults().is_empty());
            let before = layout.clone();
            layout = history.commit(&layout, edit).unwrap();
            if layout != before {
                steps.push(before);
            }
        }
        let last = layout.clone();
        for wanted in steps.iter().rev() {
            layout = history.undo(&layout).unwrap().unwrap();
            prop_assert_eq!(&layout, wanted);
        }
        prop_assert_eq!(history.undo(&layout), Ok(None));
        prop_assert_eq!(&layout, &start);
        while let Some(again) = history.redo(&layout).unwrap() {
            layout = again;
        }
        prop_assert_eq!(layout, last);
    }

    #[test]
    fn prop_most_wishes_are_granted(wishes in prop::collection::vec(wish(), 300)) {
        let layout = glasshouse();
        let granted = wishes.iter().filter(|wish| build(&layout, wish).is_ok()).count();
        prop_assert!(granted > 80, "{granted}");
    }
}
