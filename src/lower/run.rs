//! Lowering of a run to a link.

use super::chains::{Beyond, Chains};
use super::ends::{self, LoweredEnd};
use super::grade::Grades;
use super::losses::{self, EndBores, Flow};
use super::nodes::Part;
use super::pipe::Bore;
use super::problem::Problem;
use super::pump::{self, Drive};
use super::{
    BreakFacts, Item, ItemAt, ItemKind, LoweringContext, RunFacts, grade, notch_range,
    opening_problems, screens, sills, valves,
};
use crate::geometry::Corner;
use crate::layout::{Direction, Pipe, Run, RunEnd};
use crate::network::{Check, PumpLaw, RunLaw, Sense};
use petgraph::graph::NodeIndex;

/// A run as a link.
pub(super) struct LoweredRun {
    pub source: NodeIndex,
    pub target: NodeIndex,
    pub law: RunLaw,
    pub facts: RunFacts,
}

/// A run of the layout with what is known of it before its link is made.
pub(super) struct Drawn<'a> {
    pub run: &'a Run,
    /// Its index in the layout.
    pub index: usize,
    pub bore: &'a Bore,
    pub drive: &'a Drive,
    pub chains: &'a Chains<'a>,
}

/// The link of a run, with the problems met on the way.
///
/// The link goes as the run was drawn, unless only its `to` end has a raised intake: that must be at the
/// source of a link, so the link is then reversed, as if the run had been drawn so.
pub(super) fn lower_run(
    context: &LoweringContext<'_>,
    drawn: &Drawn<'_>,
    out: &mut Vec<Problem>,
) -> LoweredRun {
    let (run, bore, drive) = (drawn.run, drawn.bore, drawn.drive);
    let pumped = drawn.chains.is_pumped(drawn.index);
    let [from, to] = ends::ends(context, run, (bore, drive.on, pumped), out);
    opening_problems::openings(context, run, out);
    notch_range::problems(run, out);
    let corners = route(run, &from, &to);
    let reversed = to.raised.is_some();
    let mut facts = facts(context, run, (&corners, [&from, &to]));
    let mut check = turn(valves::check(context, run), reversed);
    for (end, meeting) in [(&run.from, &from), (&run.to, &to)] {
        if !meeting.found {
            out.push(Problem::EndsNowhere {
                run: run.id.clone(),
                missing: end.at.clone(),
            });
            check = Check::Shut;
        }
    }
    if screens::is_shut(context, run) {
        check = Check::Shut;
    }
    let (source, target) = if reversed { (to, from) } else { (from, to) };
    let meetings = (bore, drive.on, &source, &target);
    let [along, back] = flows(reversed, facts.length_m);
    let items = items(context, run, meetings, along, out);
    // Problems of the items were reported the first time.
    let items_back = self::items(context, run, meetings, back, &mut Vec::new());
    facts.reversed = reversed;
    facts.chain = drawn.chains.of(drawn.index);
    facts.pumped = pumped;
    facts.one_way = valves::one_way(context, run);
    facts.suction = pump::suction(context, run, bore);
    facts.bore_m = bore.bore_m;
    facts.rise = source.raised.as_ref().map(|raised| raised.rise.clone());
    let loss = losses::sum(bore.loss(context, facts.length_m), &items);
    let loss_back = losses::sum(bore.loss(context, facts.length_m), &items_back);
    let route = grade::Route {
        context,
        corners: if reversed {
            corners.into_iter().rev().collect()
        } else {
            corners
        },
        given: !run.route.is_empty(),
        length_m: facts.length_m,
        pumped,
        beyond: beyond(context, drawn, reversed),
    };
    let grades = if run.pipe == Pipe::Open {
        Grades::none()
    } else {
        route.grades(
            [&source, &target],
            [(&items, &loss), (&items_back, &loss_back)],
        )
    };
    facts.corners = route.shares([&source, &target], &grades);
    if reversed {
        facts.corners.reverse();
        for (share, _) in &mut facts.corners {
            *share = 1.0 - *share;
        }
    }
    let law = RunLaw {
        ends: [source.port, target.port],
        loss,
        loss_back: Some(loss_back).filter(|_| items_back != items),
        pump: pump_law(run, drive, reversed),
        check,
        raised: source.raised,
        grades: grades.with_air,
        primed_grades: grades.primed,
        primed: false,
    };
    facts.items = items;
    facts.items_back = items_back;
    facts.screens = RunEnd::BOTH.map(|which| screens::facts(context, run.end(which)));
    facts.siphon_break = siphon_break(context, run);
    facts.float = pump::float(context, run);
    facts.pump_on = drive.on;
    facts.curve_rises = drive.rises;
    facts.pump_curve = drive.curve.clone();
    LoweredRun {
        source: source.node,
        target: target.node,
        law,
        facts,
    }
}

/// A flow along the link of a run and one back.
fn flows(reversed: bool, length_m: f64) -> [Flow; 2] {
    [Sense::Forward, Sense::Backward].map(|way| Flow {
        way,
        enters: if (way == Sense::Forward) != reversed {
            RunEnd::From
        } else {
            RunEnd::To
        },
        length_m,
    })
}

/// What lies beyond the joints at the source and the target of a link; none where it ends at a surface.
fn beyond(context: &LoweringContext<'_>, drawn: &Drawn<'_>, reversed: bool) -> [Option<Beyond>; 2] {
    let ends = if reversed {
        [RunEnd::To, RunEnd::From]
    } else {
        RunEnd::BOTH
    };
    ends.map(|end| {
        let joint = matches!(context.place(&drawn.run.end(end).at)?.part, Part::Joint(_));
        joint.then(|| drawn.chains.beyond(context.layout, drawn.index, end))
    })
}

fn siphon_break(context: &LoweringContext<'_>, run: &Run) -> Option<BreakFacts> {
    let given = run.siphon_break?;
    Some(BreakFacts {
        end: usize::from(given.near == RunEnd::To),
        height_m: given.height_m,
        bore_m: context.worn_m(given.bore_m),
        grown_over: context.is_grown_over(given.bore_m),
    })
}

fn route(run: &Run, from: &LoweredEnd, to: &LoweredEnd) -> Vec<Corner> {
    let mut corners = Vec::with_capacity(run.route.len() + 2);
    corners.push(from.corner);
    corners.extend(&run.route);
    corners.push(to.corner);
    corners
}

/// The data of a run that follow from the drawing alone; corners are inverts.
fn facts(
    context: &LoweringContext<'_>,
    run: &Run,
    (corners, ends): (&[Corner], [&LoweredEnd; 2]),
) -> RunFacts {
    let lip = |meeting: &LoweredEnd| Some(meeting.port.lip_m).filter(|lip_m| lip_m.is_finite());
    let heights = corners.iter().map(|corner| corner.z_m);
    RunFacts {
        reversed: false,
        bore_m: 0.0,
        length_m: match run.pipe {
            Pipe::Open => 0.0,
            _ => context.layout.length_of(run),
        },
        valve_open: valves::least_opening(run),
        one_way: None,
        items: Vec::new(),
        items_back: Vec::new(),
        rise: None,
        suction: None,
        pump_curve: None,
        pump_on: false,
        curve_rises: false,
        end_lips_m: ends.map(lip),
        corners: Vec::new(),
        end_elevations_m: ends.map(|meeting| meeting.corner.z_m),
        highest_m: heights.fold(f64::NEG_INFINITY, f64::max),
        screens: [None, None],
        siphon_break: None,
        float: None,
        chain: 0,
        pumped: false,
    }
}

fn items(
    context: &LoweringContext<'_>,
    run: &Run,
    (bore, pump_on, source, target): (&Bore, bool, &LoweredEnd, &LoweredEnd),
    flow: Flow,
    out: &mut Vec<Problem>,
) -> Vec<Item> {
    // The entrance of a raised intake belongs to its rising leg.
    let at_source = source.bore_m.filter(|_| source.raised.is_none());
    let over_sill = sills::is_crossed([source, target]);
    let ends = match flow.way {
        Sense::Forward => EndBores {
            entrance_m: at_source,
            exit_m: target.bore_m,
            over_sill,
        },
        Sense::Backward => EndBores {
            entrance_m: target.bore_m,
            exit_m: at_source,
            over_sill,
        },
    };
    let mut items = losses::items(context, run, (bore, ends), flow, out);
    if let Some(pump) = run.pump.as_ref().filter(|_| !pump_on) {
        items.push(losses::minor(
            "stopped pump",
            (pump.stopped_k, bore.bore_m),
            ItemAt::Full,
        ));
    }
    let at = match flow.enters {
        RunEnd::From if flow.way == Sense::Forward => RunEnd::BOTH,
        RunEnd::To if flow.way == Sense::Backward => RunEnd::BOTH,
        _ => [RunEnd::To, RunEnd::From],
    };
    let ports = [&source.port, &target.port];
    items.extend(screens::items(context, (run, at), ports, flow.way));
    if source.raised.is_some() {
        items.push(Item {
            what: "rising leg to the crest".to_owned(),
            kind: ItemKind::Rise,
            at: ItemAt::Entrance,
        });
    }
    items
}

fn pump_law(run: &Run, drive: &Drive, reversed: bool) -> Option<PumpLaw> {
    let pump = run.pump.as_ref().filter(|_| drive.on)?;
    Some(PumpLaw {
        curve: drive.curve.clone()?,
        backward: (pump.pushes == Direction::Backward) != reversed,
    })
}

/// The check valve as seen along the link.
fn turn(check: Check, reversed: bool) -> Check {
    match check {
        Check::ForwardOnly if reversed => Check::BackwardOnly,
        Check::BackwardOnly if reversed => Check::ForwardOnly,
        other => other,
    }
}
