//! Rims that spill.

use super::{Ground, Origin, Walls, spills, vessel};
use crate::layout::{Layout, Vessel};
use crate::network::{Link, Network, Node, RimLaw};
use petgraph::graph::NodeIndex;

/// How far under everything else lost water is caught, metres: nothing ever comes back from there.
const LOST_BELOW_M: f64 = 100.0;

/// Adds the rims of the vessels, and what catches the water that is lost over them.
pub(super) fn add(ground: &Ground<'_>, network: &mut Network, origin: &mut Origin) {
    let mut lost = None;
    let astray = spills::astray(ground.layout);
    for (vessel, source) in ground.layout.vessels.iter().zip(&ground.nodes.vessels) {
        let perimeter_m = vessel::rim_perimeter_m(vessel);
        let spills = ground.situation.walls == Walls::AsBuilt && perimeter_m > 0.0;
        if !spills {
            origin.rims.push(None);
            continue;
        }
        let caught = receiver(ground, vessel, *source).filter(|_| !astray.contains(&vessel.id));
        let target =
            caught.unwrap_or_else(|| *lost.get_or_insert_with(|| add_lost(ground.layout, network)));
        let law = RimLaw {
            rim_m: vessel.rim_m,
            perimeter_m,
            coefficient: ground.coefficients.rim,
        };
        let edge = network.add_edge(*source, target, Link::Rim(law));
        origin.rims.push(Some(edge.index()));
    }
    origin.lost = lost.map(|node| node.index());
}

/// The node that catches what spills; none where it is lost.
fn receiver(ground: &Ground<'_>, vessel: &Vessel, own: NodeIndex) -> Option<NodeIndex> {
    let place = ground.place(vessel.spills_to.as_ref()?)?;
    (place.node != own).then_some(place.node)
}

fn add_lost(layout: &Layout, network: &mut Network) -> NodeIndex {
    let floors = layout.vessels.iter().map(|vessel| vessel.floor_m);
    let levels = layout.fixed.iter().map(|fixed| fixed.level_m);
    let lowest_m = floors.chain(levels).fold(0.0_f64, f64::min);
    network.add_node(Node::Fixed {
        level_m: lowest_m - LOST_BELOW_M,
    })
}
