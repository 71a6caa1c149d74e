//! Lowering: layout in, network out. The only module that knows both.
//!
//! It never fails. What it cannot interpret becomes a problem and a harmless law, so that everything else can still
//! be computed.
//!
//! Invariant: does not solve; no level and no flow is known here.

mod chains;
mod edges;
mod ends;
mod fittings;
mod grade;
mod losses;
mod meant;
mod mouths;
mod nodes;
mod notch_range;
mod opening;
mod opening_problems;
mod origin;
mod overlaps;
mod pipe;
pub mod problem;
mod profile;
mod pump;
mod rims;
mod run;
mod screens;
mod sills;
mod spills;
mod valves;
mod vessel;
mod water;
mod wear;
mod weather;

pub use origin::{
    BreakFacts, FloatFacts, Item, ItemAt, ItemKind, Origin, RunFacts, ScreenFacts, SuctionFacts,
    item_heads,
};
pub use pump::read_curve;
pub use weather::evaporation_m3_s;

use crate::catalogue::Catalogue;
use crate::hydraulics::openings::coefficients;
use crate::hydraulics::openings::inlet::Inlet;
use crate::hydraulics::water::Water;
use crate::layout::{Id, Layout};
use crate::network::{Link, Network};
use chains::Chains;
use nodes::{Nodes, PlacedNode};
use problem::Problem;
use std::cell::RefCell;
use std::collections::HashMap;

/// Difference below which two heights are the same, metres: rounding of typed values and unit conversion.
const SAME_HEIGHT_M: f64 = 1e-6;

/// Whether the pumps run.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pumps {
    /// Every pump with a speed above 0 runs.
    On,
    /// Every pump is an open pipe with its own K.
    Off,
}

/// How high the walls are taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Walls {
    /// As high as necessary: nothing spills, and the level is that which the flow requires.
    Tall,
    /// Up to the rim: water spills over it.
    AsBuilt,
}

/// How long the layout has been in use.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Age {
    /// As built: clean.
    #[default]
    New,
    /// Film on the bore, rough walls, dirty filters, partly blinded screens.
    Fouled,
    /// As built, but with every filter so dirty that it needs washing.
    AtWash,
}

/// The situation in which the layout is computed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Situation {
    /// Whether the pumps run.
    pub pumps: Pumps,
    /// Whether rims spill.
    pub walls: Walls,
    /// How long it has been in use.
    pub age: Age,
}

/// A lowered layout: its numerical model.
#[derive(Clone, Debug)]
pub struct Lowered {
    /// Levels at nodes, laws on links.
    pub network: Network,
    /// The mapping of indices to parts.
    pub origin: Origin,
    /// The water in it.
    pub water: Water,
    /// Problems of the drawing met on the way.
    pub problems: Vec<Problem>,
}

/// Shared context for all parts of the lowering.
pub(crate) struct LoweringContext<'a> {
    layout: &'a Layout,
    catalogue: &'a Catalogue,
    situation: Situation,
    water: Water,
    coefficients: coefficients::Coefficients,
    nodes: Nodes<'a>,
    /// Cache of side holes by the bits of their bore and coefficients: a layout has few holes and many ends, and a
    /// hole is expensive to compute.
    holes: RefCell<HashMap<[u64; 3], Inlet>>,
}

/// Converts a layout to a network. Never fails; see [`Lowered::problems`].
///
/// A layout with faults gives harmless laws where the fault is, not an error.
pub fn lower(layout: &Layout, catalogue: &Catalogue, situation: Situation) -> Lowered {
    let mut network = Network::new();
    let mut problems = Vec::new();
    let nodes = Nodes::add(layout, &mut network);
    let mut origin = Origin {
        vessels: nodes.vessels.iter().map(|node| node.index()).collect(),
        joints: nodes.joints.iter().map(|node| node.index()).collect(),
        fixed: nodes.fixed.iter().map(|node| node.index()).collect(),
        ..Origin::default()
    };
    let mut context = LoweringContext {
        layout,
        catalogue,
        situation,
        water: water::water(&layout.water),
        coefficients: water::coefficients(&layout.coefficients),
        nodes,
        holes: RefCell::default(),
    };
    context.nodes.add_nowhere(layout, &mut network);
    nodes::not_reached(layout, &mut problems);
    spills::problems(layout, &mut problems);
    overlaps::problems(layout, &mut problems);
    let mut noticed: Vec<Vec<Problem>> = Vec::with_capacity(layout.runs.len());
    let mut pipes = Vec::with_capacity(layout.runs.len());
    for run in &layout.runs {
        let mut out = Vec::new();
        let bore = pipe::bore(&context, run, &mut out);
        pipes.push((bore, pump::drive(&context, run, &mut out)));
        noticed.push(out);
    }
    let chains = Chains::new(&context, &pipes);
    for (index, ((run, (bore, drive)), mut out)) in
        layout.runs.iter().zip(&pipes).zip(noticed).enumerate()
    {
        let drawn = run::Drawn {
            run,
            index,
            bore,
            drive,
            chains: &chains,
        };
        let lowered = run::lower_run(&context, &drawn, &mut out);
        problems.extend(out);
        let link = Link::Run(Box::new(lowered.law));
        let edge = network.add_edge(lowered.source, lowered.target, link);
        origin.runs.push(edge.index());
        origin.run_facts.push(lowered.facts);
    }
    pipe::warm_or_cold(layout, &mut problems);
    meant::problems(layout, &origin.run_facts, &mut problems);
    rims::add(&context, &mut network, &mut origin);
    Lowered {
        network,
        origin,
        water: context.water,
        problems,
    }
}

impl<'a> LoweringContext<'a> {
    fn place(&self, id: &Id) -> Option<PlacedNode<'a>> {
        self.nodes.place(id)
    }

    fn side_hole(&self, bore_m: f64, coefficients: &coefficients::Coefficients) -> Inlet {
        let mut holes = self.holes.borrow_mut();
        let made = || Inlet::side_hole(bore_m, coefficients);
        let key = [bore_m, coefficients.orifice, coefficients.entrance_k].map(f64::to_bits);
        *holes.entry(key).or_insert_with(made)
    }
}
