//! Rims that spill.

use super::pipe::bare_loss;
use super::{LoweringContext, Origin, Walls, spills, vessel};
use crate::hydraulics::losses::friction::Wall;
use crate::hydraulics::losses::loss::Loss;
use crate::hydraulics::openings::inlet::Inlet;
use crate::hydraulics::openings::notch::Notch;
use crate::hydraulics::openings::submerged_weir::SubmergedWeir;
use crate::layout::{Layout, Vessel};
use crate::network::{Check, Link, Network, Node, Outlet, Port, RimLaw, RunLaw, Sill};
use petgraph::graph::NodeIndex;

/// Depth below everything else at which lost water is collected, metres: none ever comes back from there.
const LOST_BELOW_M: f64 = 100.0;

/// Adds the rims of the vessels, and the node that receives the water lost over them.
pub(super) fn add(context: &LoweringContext<'_>, network: &mut Network, origin: &mut Origin) {
    let mut lost = None;
    let astray = spills::astray(context.layout);
    for (vessel, source) in context.layout.vessels.iter().zip(&context.nodes.vessels) {
        let perimeter_m = vessel::rim_perimeter_m(vessel);
        let spills = context.situation.walls == Walls::AsBuilt && perimeter_m > 0.0;
        if !spills {
            origin.rims.push(None);
            continue;
        }
        let caught = receiver(context, vessel, *source).filter(|_| !astray.contains(&vessel.id));
        let may_stand_over_it = caught.is_some_and(|node| may_rise(context, node));
        let target = caught
            .unwrap_or_else(|| *lost.get_or_insert_with(|| add_lost(context.layout, network)));
        let law = RimLaw {
            rim_m: vessel.rim_m,
            perimeter_m,
            coefficient: context.coefficients.rim,
        };
        let link = if may_stand_over_it {
            Link::Run(Box::new(under_water(context, &law)))
        } else {
            Link::Rim(law)
        };
        let edge = network.add_edge(*source, target, link);
        origin.rims.push(Some(edge.index()));
    }
    origin.lost = lost.map(|node| node.index());
}

/// The node that receives a spill; none where it is lost.
fn receiver(context: &LoweringContext<'_>, vessel: &Vessel, own: NodeIndex) -> Option<NodeIndex> {
    let place = context.place(vessel.spills_to.as_ref()?)?;
    (place.node != own).then_some(place.node)
}

/// Whether the receiver is a vessel, whose level may rise above the rim that the water falls from: a fixed
/// level stands below it, or the spill counts as lost.
fn may_rise(context: &LoweringContext<'_>, node: NodeIndex) -> bool {
    context.nodes.vessels.contains(&node)
}

/// A rim as a weir that may be submerged by the water it spills into: the same law, and never back over it.
fn under_water(context: &LoweringContext<'_>, rim: &RimLaw) -> RunLaw {
    let notch = Notch::rim(rim.coefficient, rim.perimeter_m);
    let sill = Sill {
        crest_m: rim.rim_m,
        weir: SubmergedWeir::new(notch),
    };
    let port = |inlet| Port {
        lip_m: rim.rim_m,
        inlet,
        outlet: Outlet::Sill(sill),
        draws_from_m: None,
        screen: None,
    };
    RunLaw {
        ends: [port(Inlet::Notch(notch)), port(Inlet::Never)],
        loss: no_loss(context, rim.perimeter_m),
        loss_back: None,
        pump: None,
        check: Check::ForwardOnly,
        raised: None,
        grades: [None, None],
        primed_grades: [None, None],
        primed: false,
    }
}

/// A rim has no loss but that of its weir; a bore as wide as its length stands for it where one is required.
fn no_loss(context: &LoweringContext<'_>, length_m: f64) -> Loss {
    bare_loss(context, length_m, 0.0, Wall::Darcy { roughness_m: 0.0 })
}

fn add_lost(layout: &Layout, network: &mut Network) -> NodeIndex {
    let floors = layout.vessels.iter().map(|vessel| vessel.floor_m);
    let levels = layout.fixed.iter().map(|fixed| fixed.level_m);
    let lowest_m = floors.chain(levels).fold(0.0_f64, f64::min);
    network.add_node(Node::Fixed {
        level_m: lowest_m - LOST_BELOW_M,
    })
}
