//! Where the water in runs drains when nothing drives it: along the path whose highest place is lowest.

use super::volume::Slice;
use crate::lower::Lowered;
use crate::network::{Link, Node, Sense};
use crate::states::SAME_HEIGHT_M;
use crate::states::highest::highest;

/// A run of a chain, with the water in it.
pub(super) struct Piece<'a> {
    /// Its index in the layout.
    pub run: usize,
    /// Its water, from `from` to `to`.
    pub slices: &'a [Slice],
}

/// Where the water of a chain drains.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Drained {
    /// Nodes of vessels and fixed levels, and the volume that each receives, m³.
    pub to: Vec<(usize, f64)>,
    /// Volume that stays in each run, m³, in the order of the pieces: in low points, below the levels at the ends, and
    /// behind check valves.
    pub stays_m3: Vec<f64>,
}

/// The best drain path from a place.
#[derive(Clone, Copy)]
struct DownwardPath {
    /// Its highest place, or the level at its end if that is higher, metres.
    over_m: f64,
    /// The level at its end, metres.
    level_m: f64,
    /// Node at its end.
    node: usize,
}

impl DownwardPath {
    /// The same path extended upstream past a place of this height.
    fn over(self, height_m: f64) -> DownwardPath {
        DownwardPath {
            over_m: self.over_m.max(height_m),
            ..self
        }
    }

    fn is_better(&self, other: &DownwardPath) -> bool {
        let apart_m = self.over_m - other.over_m;
        apart_m < -SAME_HEIGHT_M
            || (apart_m <= SAME_HEIGHT_M && self.level_m < other.level_m - SAME_HEIGHT_M)
    }
}

fn better(one: Option<DownwardPath>, other: Option<DownwardPath>) -> Option<DownwardPath> {
    match (one, other) {
        (Some(a), Some(b)) => Some(if b.is_better(&a) { b } else { a }),
        (a, b) => a.or(b),
    }
}

/// A run with the nodes at `from` and `to`, and whether water can reach each of them through it.
struct DrainLink<'a> {
    nodes: [usize; 2],
    passes: [bool; 2],
    highest_m: f64,
    slices: &'a [Slice],
}

/// Where the water in the runs of a chain drains, with the levels in `head_m`.
pub(super) fn drained(lowered: &Lowered, head_m: &[f64], pieces: &[Piece<'_>]) -> Drained {
    let pipes: Vec<DrainLink> = pieces
        .iter()
        .filter_map(|piece| pipe(lowered, piece))
        .collect();
    let mut ways: Vec<Option<DownwardPath>> = (0..head_m.len())
        .map(|node| {
            let holds = !matches!(
                lowered.network.node_weight((node as u32).into()),
                Some(Node::Joint { .. }) | None
            );
            let level_m = head_m.get(node).copied().filter(|_| holds)?;
            Some(DownwardPath {
                over_m: level_m,
                level_m,
                node,
            })
        })
        .collect();
    spread(&pipes, &mut ways, lowered);
    let mut drained = Drained::default();
    for pipe in &pipes {
        let stays_m3 = share_out(pipe, &ways, &mut drained.to);
        drained.stays_m3.push(stays_m3);
    }
    drained
}

fn pipe<'a>(lowered: &Lowered, piece: &Piece<'a>) -> Option<DrainLink<'a>> {
    let link = *lowered.origin.runs.get(piece.run)?;
    let facts = lowered.origin.run_facts.get(piece.run)?;
    let edge = (link as u32).into();
    let (source, target) = lowered.network.edge_endpoints(edge)?;
    let Some(Link::Run(law)) = lowered.network.edge_weight(edge) else {
        return None;
    };
    let mut nodes = [source.index(), target.index()];
    if facts.reversed {
        nodes.reverse();
    }
    // As drawn, water to `to` flows along the link unless that is reversed.
    let [along, against] = [Sense::Forward, Sense::Backward].map(|sense| !law.check.stops(sense));
    let heights = piece.slices.iter().flat_map(|slice| slice.ends_m);
    Some(DrainLink {
        nodes,
        passes: if facts.reversed {
            [along, against]
        } else {
            [against, along]
        },
        highest_m: heights.fold(f64::NEG_INFINITY, f64::max),
        slices: piece.slices,
    })
}

/// The best path from every joint: relaxed over the runs until none improves.
fn spread(pipes: &[DrainLink<'_>], ways: &mut [Option<DownwardPath>], lowered: &Lowered) {
    let is_joint = |node: usize| {
        matches!(
            lowered.network.node_weight((node as u32).into()),
            Some(Node::Joint { .. })
        )
    };
    for _ in 0..=pipes.len() {
        let mut moved = false;
        for pipe in pipes {
            for end in 0..2 {
                let (at, beyond) = (pipe.nodes[1 - end], pipe.nodes[end]);
                if !is_joint(at) || !pipe.passes[end] {
                    continue;
                }
                let through = ways[beyond].map(|way| way.over(pipe.highest_m));
                let is_new = match (through, ways[at]) {
                    (Some(through), Some(known)) => through.is_better(&known),
                    (through, known) => through.is_some() && known.is_none(),
                };
                if is_new {
                    ways[at] = through;
                    moved = true;
                }
            }
        }
        if !moved {
            break;
        }
    }
}

/// Adds what leaves a run to `to`; returns what stays, m³.
fn share_out(
    pipe: &DrainLink<'_>,
    ways: &[Option<DownwardPath>],
    to: &mut Vec<(usize, f64)>,
) -> f64 {
    let end = |end: usize| ways[pipe.nodes[end]].filter(|_| pipe.passes[end]);
    let to_from = highest(
        f64::NEG_INFINITY,
        pipe.slices.iter().map(|slice| slice.ends_m[0]),
    );
    let mut to_to = highest(
        f64::NEG_INFINITY,
        pipe.slices.iter().rev().map(|slice| slice.ends_m[1]),
    );
    to_to.reverse();
    let mut stays_m3 = 0.0;
    for ((slice, over_from_m), over_to_m) in pipe.slices.iter().zip(to_from).zip(to_to) {
        let back = end(0).map(|way| way.over(over_from_m.max(slice.invert_m())));
        let on = end(1).map(|way| way.over(over_to_m.max(slice.invert_m())));
        match better(back, on) {
            Some(way) if way.over_m <= slice.invert_m() + SAME_HEIGHT_M => {
                match to.iter_mut().find(|(node, _)| *node == way.node) {
                    Some((_, sum_m3)) => *sum_m3 += slice.water_m3,
                    None => to.push((way.node, slice.water_m3)),
                }
            }
            _ => stays_m3 += slice.water_m3,
        }
    }
    stays_m3
}
