//! Assigns the items along a split run to the half in which they are.

use crate::layout::{Equipment, EquipmentOut, Id, Run, RunEnd, Way};

/// The new places of the valves and equipment of a split run.
pub(super) struct ItemsMoved {
    /// For each valve of the whole run: its half and its index there.
    valves: Vec<(Half, u32)>,
    /// Names of the equipment in the second half.
    moved: Vec<String>,
    /// Names of the equipment in the first half.
    stays: Vec<String>,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Half {
    First,
    Second,
}

/// Moves items beyond `before_m`, the length of the first half in metres, or at the far end, to the second half.
///
/// At the start, the first half has everything.
pub(super) fn share_placed(first: &mut Run, second: &mut Run, before_m: f64) -> ItemsMoved {
    let mut halves = Vec::new();
    for place in first.places_mut() {
        let beyond = place.at_m.is_some_and(|at_m| at_m > before_m);
        let is_second = beyond || *place.near == Some(RunEnd::To);
        if let Some(at_m) = place.at_m.as_mut().filter(|_| beyond) {
            *at_m -= before_m;
        }
        halves.push(if is_second { Half::Second } else { Half::First });
    }
    let mut halves = halves.into_iter();
    let mut next = || halves.next().unwrap_or(Half::First);
    let of_fittings: Vec<Half> = first.fittings.iter().map(|_| next()).collect();
    let of_valves: Vec<Half> = first.valves.iter().map(|_| next()).collect();
    let of_equipment: Vec<Half> = first.equipment.iter().map(|_| next()).collect();
    second
        .fittings
        .extend(taken(&mut first.fittings, &of_fittings));
    second.valves.extend(taken(&mut first.valves, &of_valves));
    let equipment = taken(&mut first.equipment, &of_equipment);
    let names = |list: &[Equipment]| list.iter().map(|one| one.name.clone()).collect();
    let moved = ItemsMoved {
        valves: counted(&of_valves),
        moved: names(&equipment),
        stays: names(&first.equipment),
    };
    second.equipment.extend(equipment);
    moved
}

/// Removes the items of the second half from a list of the first.
fn taken<T>(list: &mut Vec<T>, halves: &[Half]) -> Vec<T> {
    let all = std::mem::take(list);
    let mut second = Vec::new();
    for (one, half) in all.into_iter().zip(halves) {
        match half {
            Half::First => list.push(one),
            Half::Second => second.push(one),
        }
    }
    second
}

/// Each half with its index among those of the same half.
fn counted(halves: &[Half]) -> Vec<(Half, u32)> {
    let (mut first, mut second) = (0, 0);
    let number = |half: &Half| {
        let count = match half {
            Half::First => &mut first,
            Half::Second => &mut second,
        };
        let place = *count;
        *count += 1;
        (*half, place)
    };
    halves.iter().map(number).collect()
}

impl ItemsMoved {
    /// Updates operating modes to the new places of valves and equipment: those of the first run, of which some moved
    /// to the second.
    pub(super) fn renamed(&self, ways: &mut [Way], (first, second): (&Id, &Id)) {
        for way in ways {
            for set in way.valves.iter_mut().filter(|set| set.run == *first) {
                let index = usize::try_from(set.valve).unwrap_or(usize::MAX);
                let Some((half, place)) = self.valves.get(index) else {
                    continue;
                };
                set.valve = *place;
                if *half == Half::Second {
                    set.run = second.clone();
                }
            }
            let named =
                |out: &&EquipmentOut| out.run == *first && self.moved.contains(&out.equipment);
            let there: Vec<EquipmentOut> = way.out.iter().filter(named).cloned().collect();
            // A name may refer to two items, one in each half.
            way.out
                .retain(|out| !named(&out) || self.stays.contains(&out.equipment));
            way.out.extend(there.into_iter().map(|out| EquipmentOut {
                run: second.clone(),
                ..out
            }));
        }
    }
}
