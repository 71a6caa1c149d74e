//! All losses along a run, item by item, and their sum as one law.

use super::pipe::Bore;
use super::problem::Problem;
use super::{Age, Item, ItemAt, ItemKind, LoweringContext, edges, fittings, valves};
use crate::catalogue::FittingPosition;
use crate::hydraulics::losses::equipment;
use crate::hydraulics::losses::equipment::{from_one_point, from_two_points};
use crate::hydraulics::losses::loss::{Loss, Minor};
use crate::hydraulics::openings::hole;
use crate::layout::RunEnd;
use crate::layout::{Equipment, EquipmentLoss, Pipe, Run};
use crate::network::Sense;

/// Bores at the two ends on which plain entrance and exit losses are based; none where there are none: at a
/// joint, and where the entrance belongs to a rising leg.
#[derive(Clone, Copy)]
pub(super) struct EndBores {
    pub entrance_m: Option<f64>,
    pub exit_m: Option<f64>,
    /// The run is a weir: its loss is that of the weir, without entrance, exit or a sum of them.
    pub over_sill: bool,
}

/// A flow along a run, to place items along it.
#[derive(Clone, Copy)]
pub(super) struct Flow {
    /// Direction along its link.
    pub way: Sense,
    /// The end as drawn at which it enters.
    pub enters: RunEnd,
    /// Length of the run, metres.
    pub length_m: f64,
}

impl Flow {
    /// Position of an item `at_m` from `from`, or `near` an end; `usual` where neither is given.
    pub fn place(&self, (at_m, near): (Option<f64>, Option<RunEnd>), usual: ItemAt) -> ItemAt {
        match (at_m, near) {
            (Some(at_m), _) if self.enters == RunEnd::From => ItemAt::Along(at_m),
            (Some(at_m), _) => ItemAt::Along(self.length_m - at_m),
            (None, Some(near)) if near == self.enters => ItemAt::Along(0.0),
            (None, Some(_)) => ItemAt::Along(self.length_m),
            (None, None) => usual,
        }
    }
}

/// The losses of a run, item by item.
///
/// Entrance and exit are counted once each, where this flow enters and leaves: `ends` are those of
/// this flow. An entrance or exit that was entered as a fitting counts in both directions.
pub(super) fn items(
    context: &LoweringContext<'_>,
    run: &Run,
    (bore, ends): (&Bore, EndBores),
    flow: Flow,
    out: &mut Vec<Problem>,
) -> Vec<Item> {
    let mut items = vec![Item {
        what: "pipe".to_owned(),
        kind: ItemKind::Pipe,
        at: ItemAt::Spread,
    }];
    if let Some(k) = run.total_k.filter(|_| !ends.over_sill) {
        let together = "entrance, fittings and exit together";
        items.push(minor(together, (k, bore.bore_m), ItemAt::Together));
    } else {
        let plain = |place| !ends.over_sill && !fittings::any_at(context, run, place);
        let has_mouth = ends.entrance_m.is_some() || ends.exit_m.is_some();
        let is_plain =
            has_mouth && plain(FittingPosition::Entrance) && plain(FittingPosition::Exit);
        let in_wall = in_wall(run, (bore, flow)).filter(|_| is_plain);
        items.extend(in_wall.clone());
        let plain = |place| in_wall.is_none() && plain(place);
        if let Some(hole_m) = ends.entrance_m.filter(|_| plain(FittingPosition::Entrance)) {
            let k = edges::coefficients(context, run, flow.enters).entrance_k;
            items.push(entrance(run, k, (hole_m, bore.bore_m)));
        }
        items.extend(fittings::items(context, run, bore, flow, out));
        if let Some(bore_m) = ends.exit_m.filter(|_| plain(FittingPosition::Exit)) {
            let k = context.layout.coefficients.exit_k;
            items.push(minor("exit", (k, bore_m), ItemAt::Exit));
        }
    }
    items.extend(valves::items(context, (run, flow), bore, out));
    for piece in run.equipment.iter().filter(|piece| !piece.out) {
        let law = equipment_law(loss_of(context, piece));
        items.push(Item {
            what: piece.name.clone(),
            kind: ItemKind::Equipment { a: law.a, b: law.b },
            at: flow.place((piece.at_m, piece.near), ItemAt::Full),
        });
    }
    items
}

/// The total loss of a hole in a common wall, in place of entrance and exit; none for a run with a pipe.
///
/// Where water falls out of it into air, the orifice law of the opening requires more than this.
fn in_wall(run: &Run, (bore, flow): (&Bore, Flow)) -> Option<Item> {
    let own = edges::own_orifice(run, flow.enters);
    let k = hole::in_wall_k(own.unwrap_or(hole::SUBMERGED_ORIFICE));
    let all = || minor("hole in the wall", (k, bore.bore_m), ItemAt::Entrance);
    (run.pipe == Pipe::Open).then(all)
}

/// The plain entrance: on the bore of its opening, or, where that is narrower than the pipe behind it, the expansion
/// loss of the jet in the pipe.
fn entrance(run: &Run, k: f64, (hole_m, pipe_m): (f64, f64)) -> Item {
    let on = if hole_m < pipe_m && run.pipe != Pipe::Open {
        (hole::entrance_k(hole_m, pipe_m).max(k), pipe_m)
    } else {
        (k, hole_m)
    };
    minor("entrance", on, ItemAt::Entrance)
}

/// The loss of a piece of equipment at its age.
fn loss_of<'e>(context: &LoweringContext<'_>, piece: &'e Equipment) -> &'e EquipmentLoss {
    let instead = match context.situation.age {
        Age::New => None,
        Age::Fouled => piece.dirty.as_ref(),
        Age::AtWash => piece.at_wash.as_ref(),
    };
    instead.unwrap_or(&piece.clean)
}

/// A loss coefficient by name.
pub(super) fn minor(what: &str, (k, bore_m): (f64, f64), at: ItemAt) -> Item {
    Item {
        what: what.to_owned(),
        kind: ItemKind::Minor(Minor {
            k: k.max(0.0),
            bore_m,
        }),
        at,
    }
}

/// Adds the items to the loss of the bare pipe: one K per distinct bore, since this is the innermost
/// loop of all.
pub(super) fn sum(bare: Loss, items: &[Item]) -> Loss {
    let mut loss = bare;
    for item in items {
        match item.kind {
            ItemKind::Pipe | ItemKind::Rise | ItemKind::Screen { .. } => {}
            ItemKind::Equipment { a, b } => {
                loss.equipment_a += a;
                loss.equipment_b += b;
            }
            ItemKind::Minor(minor) if minor.k > 0.0 => add(&mut loss.minors, minor),
            ItemKind::Minor(_) => {}
        }
    }
    loss
}

fn add(minors: &mut Vec<Minor>, minor: Minor) {
    match minors.iter_mut().find(|sum| sum.bore_m == minor.bore_m) {
        Some(sum) => sum.k += minor.k,
        None => minors.push(minor),
    }
}

/// h = a·Q + b·Q² of a piece of equipment; unreadable data has no loss.
fn equipment_law(loss: &EquipmentLoss) -> equipment::Equipment {
    let law = match loss {
        EquipmentLoss::Terms { a, b } => Some(equipment::Equipment { a: *a, b: *b }),
        EquipmentLoss::Points(points) => match points.as_slice() {
            [only] => from_one_point(only.flow_m3_s, only.head_m),
            [first, second, ..] => from_two_points(
                (first.flow_m3_s, first.head_m),
                (second.flow_m3_s, second.head_m),
            ),
            [] => None,
        },
    };
    let law = law.unwrap_or(equipment::Equipment { a: 0.0, b: 0.0 });
    equipment::Equipment {
        a: law.a.max(0.0),
        b: law.b.max(0.0),
    }
}
