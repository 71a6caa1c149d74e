//! The mapping of indices to parts, and the data of runs.

use crate::hydraulics::losses::friction::Wall;
use crate::hydraulics::losses::loss::{Loss, Minor};
use crate::hydraulics::openings::screen::Cage;
use crate::hydraulics::pump::Curve;
use crate::layout::Direction;
use crate::network::{RunLaw, Sense};

/// Node and link indices of the parts, in the order of the layout.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Origin {
    /// Node of each vessel.
    pub vessels: Vec<usize>,
    /// Node of each joint.
    pub joints: Vec<usize>,
    /// Node of each fixed level.
    pub fixed: Vec<usize>,
    /// Link of each run.
    pub runs: Vec<usize>,
    /// Link of each vessel's rim; none with tall walls, or where the rim has no length.
    pub rims: Vec<Option<usize>>,
    /// Node that receives the water lost over rims; none where none can be lost.
    pub lost: Option<usize>,
    /// The data of each run.
    pub run_facts: Vec<RunFacts>,
}

/// The data of a run, as drawn: `[from, to]`, whichever way its link points.
#[derive(Clone, Debug, PartialEq)]
pub struct RunFacts {
    /// Its link goes from `to` to `from`.
    pub reversed: bool,
    /// Bore, metres.
    pub bore_m: f64,
    /// Length, metres; without the rising leg of a raised intake.
    pub length_m: f64,
    /// Opening of its most closed valve; none without a valve.
    pub valve_open: Option<f64>,
    /// The only direction, as drawn, in which its check valve passes water; none without one.
    pub one_way: Option<Direction>,
    /// All losses of a flow along its link.
    pub items: Vec<Item>,
    /// All losses of a flow against its link.
    pub items_back: Vec<Item>,
    /// The leg that rises to the crest of its raised intake, where it has one.
    pub rise: Option<Loss>,
    /// The suction side of its pump, where that is given.
    pub suction: Option<SuctionFacts>,
    /// The curve of its pump at its speed, running or not.
    pub pump_curve: Option<Curve>,
    /// Its pump runs.
    pub pump_on: bool,
    /// The curve of its pump rises somewhere as entered.
    pub curve_rises: bool,
    /// Height of the lip at each end (invert of a horizontal one), metres; none at a joint and where no
    /// lip matters. For a raised intake the lip of the intake, not the crest.
    pub end_lips_m: [Option<f64>; 2],
    /// Corners from `from` to `to` as drawn: fraction of the length up to there, and elevation, metres.
    pub corners: Vec<(f64, f64)>,
    /// Elevation of the pipe at each end, metres: the lip or crest, else the joint, the level or the floor.
    pub end_elevations_m: [f64; 2],
    /// Highest point of the pipe, metres.
    pub highest_m: f64,
    /// The screen before each end, where it has one.
    pub screens: [Option<ScreenFacts>; 2],
    /// The hole that breaks its siphon, where it has one.
    pub siphon_break: Option<BreakFacts>,
    /// The float switch of its pump, where it has one.
    pub float: Option<FloatFacts>,
    /// The chain that it is part of, through joints: one number for all its runs.
    pub chain: usize,
    /// A running pump pushes its water, itself or through joints.
    pub pumped: bool,
}

/// A screen before an end of a run.
#[derive(Clone, Debug, PartialEq)]
pub struct ScreenFacts {
    /// Its name; empty where none was given.
    pub name: String,
    /// Its gross area, m².
    pub area_m2: f64,
    /// Fraction of its openings that is blinded, 0 to 1.
    pub blinded: f64,
    /// Fraction of its gross area that water can pass, at most 1; 0 where it is shut.
    pub clear_share: f64,
    /// Its loss coefficient on the velocity over its gross area; infinite where it is shut.
    pub gross_k: f64,
    /// It lies on the lip itself.
    pub on_the_lip: bool,
    /// Its position, where only its wet part counts.
    pub cage: Option<Cage>,
}

impl ScreenFacts {
    /// Whether nothing passes it.
    pub fn is_shut(&self) -> bool {
        self.clear_share <= 0.0
    }
}

/// A siphon break hole.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BreakFacts {
    /// The end that it is near, as drawn: 0 `from`, 1 `to`.
    pub end: usize,
    /// Its height, metres.
    pub height_m: f64,
    /// Its bore, metres.
    pub bore_m: f64,
    /// Film has closed it: it neither breaks the siphon nor loses water.
    pub grown_over: bool,
}

/// A float switch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FloatFacts {
    /// Level at which the pump starts, metres.
    pub on_m: f64,
    /// Level at which it stops, metres; above `on_m` where the pump fills the vessel.
    pub off_m: f64,
    /// The vessel that it hangs in, as an index in the order of the layout.
    pub vessel: usize,
}

impl RunFacts {
    /// The flow as drawn from the flow of its link, m³/s, and the reverse.
    pub fn as_drawn(&self, link_flow_m3_s: f64) -> f64 {
        if self.reversed {
            -link_flow_m3_s
        } else {
            link_flow_m3_s
        }
    }
}

/// The suction side of a pump.
#[derive(Clone, Debug, PartialEq)]
pub struct SuctionFacts {
    /// Centre of the pump's inlet, metres.
    pub elevation_m: f64,
    /// The end that it draws from, as drawn: 0 `from`, 1 `to`.
    pub end: usize,
    /// Loss of the suction pipe: `loss.length_m` of it, with the K given for it.
    pub loss: Loss,
}

/// One loss along a run.
#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    /// Its description in words.
    pub what: String,
    /// Its law.
    pub kind: ItemKind,
    /// Its position along the run, which matters where the run is not full.
    pub at: ItemAt,
}

/// Position of the loss of an [`Item`] along a run; for a full run it does not matter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ItemAt {
    /// Where water enters: based on the velocity at the upper end.
    Entrance,
    /// Where it leaves; its velocity head is carried in the energy line up to the upper end.
    Exit,
    /// Spread evenly along the run.
    Spread,
    /// At this distance along the flow, metres; it runs full there.
    Along(f64),
    /// At the upper end, which runs full there.
    Full,
    /// The given total for all fittings: as much as plain ends at the ends, the rest along the run.
    Together,
}

/// The law of an [`Item`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ItemKind {
    /// Friction of the pipe.
    Pipe,
    /// A loss coefficient on the velocity in a bore; counts are multiplied in.
    Minor(Minor),
    /// h = a·Q + b·Q².
    Equipment {
        /// s/m².
        a: f64,
        /// s²/m⁵.
        b: f64,
    },
    /// The whole rising leg of a raised intake.
    Rise,
    /// The screen before an end of the link: 0 at its source, 1 at its target.
    Screen {
        /// The end.
        end: usize,
    },
}

/// Head loss of each item at a flow, metres, signed as the flow.
///
/// `flow_m3_s` is that of the link, of either sign, `levels` those at its source and its target. The heads sum to
/// `law.loss_at(flow)`, plus the rising leg of `law.raised` and the loss of its screens where there are any.
pub fn item_heads(
    facts: &RunFacts,
    law: &RunLaw,
    flow_m3_s: f64,
    levels: [f64; 2],
) -> Vec<(String, f64)> {
    let sense = if flow_m3_s < 0.0 {
        Sense::Backward
    } else {
        Sense::Forward
    };
    let [upstream, downstream] = sense.along(levels);
    let at_screen = |end: usize| {
        if (end == 0) == (sense == Sense::Forward) {
            law.lost_before_m(sense, flow_m3_s.abs(), upstream)
        } else {
            law.lost_behind_m(sense, flow_m3_s.abs(), downstream)
        }
    };
    let size = |kind: &ItemKind| match *kind {
        ItemKind::Pipe => law.loss.parts(flow_m3_s).friction_m,
        ItemKind::Minor(minor) => alone(&law.loss, minor).parts(flow_m3_s).minor_m,
        ItemKind::Equipment { a, b } => {
            let flow = flow_m3_s.abs();
            a * flow + b * flow * flow
        }
        ItemKind::Rise => law
            .raised
            .as_ref()
            .map_or(0.0, |raised| raised.rise.at(flow_m3_s).value.abs()),
        ItemKind::Screen { end } => at_screen(end),
    };
    let signed = |item: &Item| (item.what.clone(), size(&item.kind).copysign(flow_m3_s));
    let items = if flow_m3_s < 0.0 {
        &facts.items_back
    } else {
        &facts.items
    };
    items.iter().map(signed).collect()
}

fn alone(loss: &Loss, minor: Minor) -> Loss {
    Loss {
        minors: vec![minor],
        wall: Wall::FixedFactor(0.0),
        ..*loss
    }
}
