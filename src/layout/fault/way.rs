//! Faults of operating modes.

use super::FaultList;
use crate::layout::range::{DURATION, SHARE};
use crate::layout::{EquipmentOut, Id, Layout, Run, ValveSet, Way};
use std::collections::HashMap;

type Runs<'a> = HashMap<&'a Id, &'a Run>;

pub(super) fn check(book: &mut FaultList, layout: &Layout) {
    if layout.ways.is_empty() {
        return;
    }
    let runs: Runs<'_> = layout.runs.iter().map(|run| (&run.id, run)).collect();
    for (index, part) in layout.ways.iter().enumerate() {
        book.begin(&part.id, format!("ways.{index}."));
        way(book, part, &runs);
    }
}

fn way(book: &mut FaultList, way: &Way, runs: &Runs<'_>) {
    book.words("name", &way.name);
    book.number_if_given("washing_s", way.washing_s, &DURATION);
    for (index, set) in way.valves.iter().enumerate() {
        valve(book, &format!("valves.{index}"), set, runs);
    }
    for (index, out) in way.out.iter().enumerate() {
        equipment(book, &format!("out.{index}"), out, runs);
    }
    for (index, run) in way.pumps_off.iter().enumerate() {
        if runs.get(run).is_none_or(|run| run.pump.is_none()) {
            book.add(
                format_args!("pumps_off.{index}"),
                format!(
                    "the operating mode stops the pump of {:?}, which is no run with a pump",
                    run.as_str()
                ),
                "name a run that has a pump, by its id".into(),
            );
        }
    }
}

fn valve(book: &mut FaultList, field: &str, set: &ValveSet, runs: &Runs<'_>) {
    book.number(format_args!("{field}.opening"), set.opening, &SHARE);
    let Some(run) = runs.get(&set.run) else {
        return no_run(book, field, &set.run);
    };
    let count = run.valves.len();
    if usize::try_from(set.valve).map_or(true, |index| index >= count) {
        book.add(
            format_args!("{field}.valve"),
            format!(
                "`{field}.valve` is {}, and `{}` has {}",
                set.valve,
                set.run,
                match count {
                    0 => "no valve".to_owned(),
                    1 => "1 valve".to_owned(),
                    many => format!("{many} valves"),
                }
            ),
            "count the valves of the run from 0".into(),
        );
    }
}

fn equipment(book: &mut FaultList, field: &str, out: &EquipmentOut, runs: &Runs<'_>) {
    let Some(run) = runs.get(&out.run) else {
        return no_run(book, field, &out.run);
    };
    if !run
        .equipment
        .iter()
        .any(|piece| piece.name == out.equipment)
    {
        book.add(
            format_args!("{field}.equipment"),
            format!("`{}` has no equipment called {:?}", out.run, out.equipment),
            "write the name as it stands in the run".into(),
        );
    }
}

fn no_run(book: &mut FaultList, field: &str, id: &Id) {
    book.add(
        format_args!("{field}.run"),
        format!("`{field}.run` names {:?}, which is no run", id.as_str()),
        "name a run that is in the layout, by its id".into(),
    );
}
