//! The contents of runs: fittings, valves, equipment, pumps; and the pipe of many runs.

use super::fresh::{fresh_id, fresh_name};
use crate::catalogue::{Actuation, Catalogue};
use crate::edit::field::no_part;
use crate::edit::{Edit, EditError, replace};
use crate::finding::{Piece, Sentence};
use crate::layout::{
    CurveForm, Direction, Edge, Equipment, EquipmentLoss, FittingUse, Id, Layout, LossPoint,
    Opening, Pipe, Pump, Run, RunEnd, ValveUse,
};

/// An item to add to a run.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Item {
    /// A fitting, by the key of its kind in the catalogue.
    Fitting(String),
    /// A valve, by the key of its kind in the catalogue, fully open.
    Valve(String),
    /// A filter, heater, lamp or meter: its loss must be read from its data sheet.
    Equipment,
    /// A pump: its curve must be read from its data sheet.
    Pump,
}

/// Adds an item to a run. A second fitting of the same kind raises the count of the first.
///
/// # Errors
/// A missing run, a kind missing from the catalogue, or a second pump.
pub fn insert(layout: &Layout, run: &Id, item: &Item) -> Result<Edit, EditError> {
    let mut after = found(layout, run)?;
    let known = Catalogue::builtin();
    let words = match item {
        Item::Fitting(kind) => {
            let words = known.fitting(kind).map(|kind| kind.words.as_str());
            let words = words.ok_or_else(|| unknown(kind))?.to_owned();
            let plain = |one: &&mut FittingUse| {
                one.kind == *kind && one.k.is_none() && one.bore_m.is_none() && !one.is_placed()
            };
            match after.fittings.iter_mut().find(plain) {
                Some(one) => one.count = one.count.saturating_add(1),
                None => after.fittings.push(fitting(kind)),
            }
            words
        }
        Item::Valve(kind) => {
            let valve = known.valve(kind).ok_or_else(|| unknown(kind))?;
            after.valves.push(ValveUse {
                kind: kind.clone(),
                opening: 1.0,
                k: None,
                at_m: None,
                near: None,
            });
            if valve.acts == Actuation::Check && after.check_valve.is_none() {
                after.check_valve = Some(Direction::Forward);
            }
            valve.words.clone()
        }
        Item::Equipment => {
            let piece = equipment(&after);
            let words = piece.name.clone();
            after.equipment.push(piece);
            words
        }
        Item::Pump if after.pump.is_some() => {
            let what = "the run already has a pump";
            let cure = "add the second pump to another run beside it";
            return Err(EditError::new(what, cure).part(run));
        }
        Item::Pump => {
            after.pump = Some(some_pump(layout));
            "pump".to_owned()
        }
    };
    let name = vec![format!("Add {words} to ").into(), run.into()];
    replace(layout, after, Sentence(name))
}

/// Removes one fitting, valve or piece of equipment from a run, by its index in its list. Of several fittings of one
/// kind, one is removed.
///
/// # Errors
/// A missing run or item.
pub fn take_out(layout: &Layout, run: &Id, item: RemovedItem) -> Result<Edit, EditError> {
    let mut after = found(layout, run)?;
    let nothing =
        || EditError::new("the run has no such item", "choose an existing item").part(run);
    match item {
        RemovedItem::Fitting(index) => {
            let one = after.fittings.get_mut(index).ok_or_else(nothing)?;
            one.count = one.count.saturating_sub(1);
            after.fittings.retain(|one| one.count > 0);
        }
        RemovedItem::Valve(index) if index < after.valves.len() => {
            after.valves.remove(index);
        }
        RemovedItem::Equipment(index) if index < after.equipment.len() => {
            after.equipment.remove(index);
        }
        RemovedItem::Pump if after.pump.is_some() => after.pump = None,
        RemovedItem::Screen(end) if after.end(end).screen.is_some() => {
            after.end_mut(end).screen = None
        }
        _ => return Err(nothing()),
    }
    let named = valves_named(layout, run, item);
    let name = vec![
        format!("Remove a {} from ", item.words()).into(),
        run.into(),
    ];
    let mut whole = layout.clone();
    if let Some(slot) = whole.runs.iter_mut().find(|one| one.id == *run) {
        *slot = after;
    }
    whole.ways = named;
    Edit::between(Sentence(name), layout, &whole).tried_on(layout)
}

/// An item to remove from a run.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RemovedItem {
    /// A fitting.
    Fitting(usize),
    /// A valve.
    Valve(usize),
    /// A piece of equipment.
    Equipment(usize),
    /// The pump.
    Pump,
    /// The screen at an end.
    Screen(RunEnd),
}

impl RemovedItem {
    pub(super) fn words(self) -> &'static str {
        match self {
            RemovedItem::Fitting(_) => "fitting",
            RemovedItem::Valve(_) => "valve",
            RemovedItem::Equipment(_) => "piece of equipment",
            RemovedItem::Pump => "pump",
            RemovedItem::Screen(_) => "screen",
        }
    }
}

/// Operating modes refer to valves by index: those after the removed one move up.
fn valves_named(layout: &Layout, run: &Id, item: RemovedItem) -> Vec<crate::layout::Way> {
    let mut ways = layout.ways.clone();
    for way in &mut ways {
        match item {
            RemovedItem::Valve(index) => {
                let index = u32::try_from(index).unwrap_or(u32::MAX);
                way.valves
                    .retain(|set| set.run != *run || set.valve != index);
                for set in way.valves.iter_mut().filter(|set| set.run == *run) {
                    set.valve -= u32::from(set.valve > index);
                }
            }
            RemovedItem::Equipment(index) => {
                let gone = layout.run(run).and_then(|run| run.equipment.get(index));
                way.out.retain(|out| {
                    out.run != *run || Some(&out.equipment) != gone.map(|one| &one.name)
                });
            }
            RemovedItem::Pump => way.pumps_off.retain(|off| off != run),
            RemovedItem::Fitting(_) | RemovedItem::Screen(_) => {}
        }
    }
    ways
}

/// Sets the pipe of many runs, by family and size.
///
/// # Errors
/// No runs, or a missing one.
pub fn pipe_of_many(
    layout: &Layout,
    runs: &[Id],
    family: &str,
    size: &str,
) -> Result<Edit, EditError> {
    let mut after = layout.clone();
    for run in runs {
        let slot = after.runs.iter_mut().find(|one| one.id == *run);
        let slot = slot.ok_or_else(|| no_part(run))?;
        slot.pipe = Pipe::Bought {
            family: family.to_owned(),
            size: size.to_owned(),
            roughness_m: None,
            hazen_williams_c: None,
        };
    }
    if runs.is_empty() {
        return Err(EditError::new(
            "no run is selected",
            "select the runs to change",
        ));
    }
    let many = if runs.len() == 1 {
        "1 run".to_owned()
    } else {
        format!("{} runs", runs.len())
    };
    let words = Catalogue::builtin()
        .family(family)
        .map_or(family, |family| &family.words);
    let name: Vec<Piece> = vec![format!("Set the pipe of {many} to {words} {size}").into()];
    Edit::between(Sentence(name), layout, &after).tried_on(layout)
}

/// Changes the kind of opening at one end of a run, at the height of the old one where that has one.
///
/// # Errors
/// A missing run, or an opening that is invalid there.
pub fn opening(layout: &Layout, run: &Id, end: RunEnd, to: Opening) -> Result<Edit, EditError> {
    let mut after = found(layout, run)?;
    let words = format!("Set the opening to {}: ", kind_words(&to));
    let limits_nothing = matches!(to, Opening::Notch { .. } | Opening::Submerged { .. });
    let changed = after.end_mut(end);
    changed.opening = Some(to);
    if limits_nothing {
        // The edge of a mouth has no meaning there.
        changed.edge = Edge::Plain;
        (changed.orifice, changed.entrance_k) = (None, None);
    }
    let at = after.end(end).at.clone();
    let name = vec![words.into(), run.into(), " in ".into(), Piece::Part(at)];
    replace(layout, after, Sentence(name))
}

/// The name of this kind of opening.
pub fn kind_words(opening: &Opening) -> &'static str {
    match opening {
        Opening::Upstand { .. } => "standing pipe",
        Opening::SideHole { .. } => "hole in the wall",
        Opening::Floor { .. } => "floor outlet",
        Opening::Mouth { .. } => "open end",
        Opening::Submerged { .. } => "submerged opening",
        Opening::RaisedIntake { .. } => "raised-intake overflow",
        Opening::Notch { .. } => "notch",
    }
}

fn found(layout: &Layout, run: &Id) -> Result<Run, EditError> {
    layout.run(run).cloned().ok_or_else(|| no_part(run))
}

fn unknown(kind: &str) -> EditError {
    let what = format!("the catalogue has no {kind}");
    EditError::new(what, "choose another kind")
}

fn fitting(kind: &str) -> FittingUse {
    FittingUse {
        kind: kind.to_owned(),
        count: 1,
        k: None,
        choice: None,
        bore_m: None,
        at_m: None,
        near: None,
    }
}

/// Equipment that loses 0.1 m at 1 L/s, as a placeholder until its data sheet is read.
fn equipment(run: &Run) -> Equipment {
    let taken = |name: &str| run.equipment.iter().any(|one| one.name == name);
    let mut names = (1..).map(|number| format!("Equipment {number}, loss assumed"));
    let name = names.find(|name| !taken(name)).unwrap_or_default();
    Equipment {
        name,
        clean: EquipmentLoss::Points(vec![LossPoint {
            flow_m3_s: 0.001,
            head_m: 0.1,
        }]),
        dirty: None,
        at_wash: None,
        wash_head_m: None,
        out: false,
        at_m: None,
        near: None,
    }
}

/// A pump of 3 m and 50 L/min: a guess until its data sheet is read.
fn some_pump(layout: &Layout) -> Pump {
    Pump {
        id: fresh_id(layout, "pump"),
        name: fresh_name(layout, "Pump"),
        curve: CurveForm::Label {
            largest_head_m: 3.0,
            largest_flow_m3_s: 50.0 / 60_000.0,
        },
        pushes: Direction::Forward,
        speed: 1.0,
        stopped_k: 0.0,
        efficiency: Vec::new(),
        suction: None,
        wet: None,
        float: None,
        stops_when_dry: true,
        npsh_required: Vec::new(),
    }
}
